"""Words from reasons-as-data: every fact has its sentences, and they say what the view says."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files

import pytest

from compare.scoring.facts import facts
from compare.scoring.tables import read_rows
from compare.units import System
from compare.views.customer import CustomerView, FlipLine, Number, ReasonLine
from proposal.words import (
    Figures,
    card_facts,
    card_sentence,
    choose,
    equals,
    everyday_sound,
    flip_sentences,
    gain,
    headline,
    how_sure,
    is_close,
    loss,
    option_lead,
    option_line,
    option_name,
    option_sentence,
    place,
    question,
    questions,
    room_group,
    settled,
    told_of,
    tried_sentence,
    turns,
    verdict,
    weak_point,
    weak_point_long,
    where_it_loses,
    why,
    why_not,
    why_reasons,
    words_of,
)
from proposal.words.language import Words
from tests.proposal.told_view import BEDROOMS, fact, told_ranch, told_two_storey

NB = "\u00a0"
FORMS = ("card", "loss", "gain", "why")


def answer(view: CustomerView, **changes: object) -> CustomerView:
    return view.model_copy(update={"answer": view.answer.model_copy(update=changes)})


def with_option(view: CustomerView, option_id: str, **changes: object) -> CustomerView:
    options = tuple(o.model_copy(update=changes) if o.id == option_id else o for o in view.options)
    return view.model_copy(update={"options": options})


def test_every_fact_of_the_scoring_has_all_its_sentences() -> None:
    """The list of facts is the scoring's own table, not one of this package."""
    told = told_of(told_ranch())
    for name in facts():
        made = fact(name, ("mix", "heaters"), (1.0, 3.0), rooms=BEDROOMS)
        for form, say in zip(FORMS, (card_sentence, loss, gain, why), strict=True):
            text = say(made, told)
            assert text, (name, form)
            assert "{" not in text, (name, form, text)
            assert text.endswith(".") is (form == "card"), (name, form, text)


def test_every_profile_of_the_scoring_has_a_wish() -> None:
    words = words_of()
    for row in read_rows("weights.csv"):
        assert words.has("turn_keys", row["profile"]), row["profile"]


def test_every_family_of_the_scoring_has_its_words() -> None:
    told = told_of(told_ranch())
    base = told.view.option("mix")
    for row in read_rows("families.csv"):
        option = base.model_copy(update={"family": row["family"], "heads": 2, "hidden": 1, "heaters": 2})
        view = with_option(told.view, "mix", family=row["family"], heads=2, hidden=1, heaters=2)
        for say in (option_name, option_line, option_sentence, option_lead, question):
            assert "{" not in say(view, option, told.words), row["family"]


def test_templates_use_only_fields_that_are_filled() -> None:
    """A field with a spelling mistake would be printed as it stands."""
    known = {"better", "worse", "gap", "other", "tag", "those", "room", "rooms", "hot", "better_count", "worse_count"}
    text = (files("proposal.words.en") / "reasons.toml").read_text(encoding="utf-8")
    for code, table in tomllib.loads(text)["reasons"].items():
        for form, template in table.items():
            assert set(re.findall(r"\{(\w+)\}", template)) <= known, (code, form)


@pytest.mark.parametrize(
    ("reason", "card", "long"),
    [
        (
            fact("price", ("heaters", "mix"), (6800.0, 15800.0)),
            "Costs $9,000 more than room heaters.",
            "it costs $9,000 more than a wall unit with room heaters",
        ),
        (
            fact("bill", ("mix", "heaters"), (710.0, 1190.0)),
            "Costs $480 a year more to run.",
            "it costs $480 a year more to run than the mix",
        ),
        (
            fact("bed_noise", ("mix", "hidden"), (24.0, 33.0), rooms=("Bedroom 1",)),
            "Louder in bed than the 30 advised.",
            f"the pillow in Bedroom 1 gets 33{NB}dB(A), and health advice is 30 at most",
        ),
        (
            fact("bed_noise", ("mix", "hidden"), (24.0, 30.4), rooms=("Bedroom 1",)),
            f"30{NB}dB(A) at the pillow in Bedroom 1.",
            f"the pillow in Bedroom 1 gets 30{NB}dB(A); with the mix, 24{NB}dB(A)",
        ),
        (
            fact("no_cooling", ("mix", "heaters"), (0.0, 3.0), rooms=BEDROOMS),
            f"Bedroom 3 is 83{NB}°F on hot days.",
            f"nothing cools the bedrooms, so Bedroom 3 is 83{NB}°F on hot days",
        ),
        (
            fact("outdoor_units", ("mix", "each"), (2.0, 4.0)),
            "Needs four outdoor units.",
            "it needs four outdoor units; with the mix, two",
        ),
        (
            fact("below_minimum", ("mix", "each"), (0.4, 0.87)),
            f"On and off in 87{NB}of{NB}100 running hours.",
            f"its least steady unit goes on and off in 87{NB}of{NB}100 running hours; with the mix, 40{NB}of{NB}100",
        ),
    ],
)
def test_weak_points_in_words(reason: ReasonLine, card: str, long: str) -> None:
    """Sentences of the language sheet of this project, with the figures of the sample."""
    told = told_of(told_ranch())
    assert card_sentence(reason, told) == card
    assert loss(reason, told) == long


def test_numbers_of_a_reason_are_found_by_the_end_of_their_role() -> None:
    numbers = (
        Number(role="installed price.better", value=6800.0, kind="money"),
        Number(role="installed price.worse", value=15800.0, kind="money"),
        Number(role="low end.better", value=1.0, kind="money"),
        Number(role="low end.worse", value=2.0, kind="money"),
    )
    made = ReasonLine(code="price", criterion="rough cost", better="heaters", worse="mix", numbers=numbers)
    assert card_sentence(made, told_of(told_ranch())) == "Costs $9,000 more than room heaters."


def test_reason_without_its_number_or_without_words_is_told() -> None:
    told = told_of(told_ranch())
    bare = ReasonLine(code="price", criterion="", better="heaters", worse="mix", numbers=())
    with pytest.raises(ValueError, match="reason 'price' of mix lacks gap"):
        card_sentence(bare, told)
    with pytest.raises(KeyError, match="no words for"):
        card_sentence(bare.model_copy(update={"code": "colour"}), told)


def test_differences_are_those_of_the_shown_figures() -> None:
    """A reader who subtracts what is printed finds the printed difference."""
    figures = Figures(System.US)
    assert (figures.usd(15840.0), figures.usd(6760.0)) == ("$15,800", "$6,800")
    assert figures.usd_gap(15840.0, 6760.0) == "$9,000"
    assert figures.temperature_gap(20.0, 15.0) == f"9{NB}°F"
    assert (figures.temperature(20.0), figures.temperature(15.0)) == (f"68{NB}°F", f"59{NB}°F")


def test_figures_follow_the_units_of_the_house() -> None:
    """0 °F is -17.8 °C and 12,000 Btu/h are 3.517 kW by definition (NIST SP 811)."""
    us, si = Figures(System.US), Figures(System.SI)
    assert us.temperature(-160.0 / 9.0) == f"0{NB}°F"
    assert si.temperature(-160.0 / 9.0) == f"\u221217.8{NB}°C"
    assert us.power(3516.85) == f"12.0{NB}kBtu/h"
    assert si.power(3516.85) == f"3.5{NB}kW"
    assert (us.kwh(4303.0), us.kwh(437.0), us.level(24.4), us.of_hundred(0.871)) == (
        f"4,300{NB}kWh",
        f"440{NB}kWh",
        f"24{NB}dB(A)",
        f"87{NB}of{NB}100",
    )


def test_verdicts() -> None:
    view = told_ranch()
    assert verdict(told_of(view)) == "Our recommendation, likely."
    assert verdict(told_of(answer(view, verdict="clear", tries_won=94))) == "Our recommendation, clear."
    sure = how_sure(told_of(view))
    assert sure.lead == "How sure: likely the best for you."
    assert sure.text.endswith(f"The mix stayed first in 71{NB}of{NB}100 tries and leads by 4 points.")


def test_too_close_to_call_names_one_layout_of_each_kind_by_price() -> None:
    told = told_of(told_two_storey())
    assert headline(told) == "Two layouts suit you equally."
    assert [option.id for option in equals(told.view)] == ["each", "mix"]
    assert how_sure(told).lead == "How sure: too close to call."
    assert [lead.plain for lead in choose(told)] == [
        "Weak points of six room units beside the mix. Its busiest unit starts 4,800 times a year, not 2,100.",
        "Weak points of the mix beside six room units. It costs $2,400 more.",
    ]


def _with_form_of_the_mix(total: float) -> CustomerView:
    view = told_ranch()
    mix = view.option("mix")
    facts = mix.facts.model_copy(update={"outdoor_units": 1})
    form = mix.model_copy(update={"id": "mix-2", "total": total, "facts": facts})
    options = (view.options[0], form, *view.options[1:])
    return answer(
        view.model_copy(update={"options": options}),
        verdict="too close to call",
        equals=("mix", "mix-2"),
        runner_up="mix-2",
        lead_points=mix.total - total,
        tries=None,
        tries_won=None,
    )


def test_other_forms_of_one_layout_do_not_make_it_too_close() -> None:
    view = _with_form_of_the_mix(85.0)
    told = told_of(view)
    assert not is_close(view)
    assert verdict(told) == "Our recommendation, likely."
    assert "leads the next kind of layout by 4 points of 100" in how_sure(told).text
    assert settled(view).answer.verdict == "likely"
    names = [option_name(view, option, told.words) for option in view.options]
    assert names[:2] == ["The mix", "The mix, one outdoor unit"]
    assert len(set(names)) == len(names)


def test_tries_alone_can_make_it_too_close() -> None:
    view = answer(told_ranch(), verdict="too close to call", equals=("mix",), tries_won=52)
    assert is_close(view)
    assert {option.id for option in equals(view)} == {"mix", "heaters"}


def test_no_layout_good_enough() -> None:
    told = told_of(answer(told_ranch(), winner="", runner_up=None, verdict="none", equals=()))
    assert headline(told) == "No layout we tried is good enough here yet."
    assert verdict(told) == "Not enough here."
    assert equals(told.view) == ()
    assert where_it_loses(told) == ()


def test_places_share_what_is_within_three_points() -> None:
    view = told_ranch()
    words = words_of()
    said = {option.id: place(view, option, words) for option in view.options}
    assert said == {
        "mix": "We recommend, likely",
        "heaters": "Equal second",
        "hidden": "Equal second",
        "each": "Equal second",
        "one": "Not enough here",
    }
    spread = with_option(with_option(view, "each", total=70.0), "heaters", total=83.5)
    assert [place(spread, spread.option(item), words) for item in ("heaters", "hidden", "each")] == [
        "Second",
        "Third",
        "Fourth",
    ]


def test_reasons_are_at_most_five_and_of_different_kinds() -> None:
    told = told_of(told_ranch())
    said = why_reasons(told)
    assert len(said) == 5
    assert said[0] == f"With room heaters, nothing cools the bedrooms: on hot days Bedroom 3 would be 83{NB}°F."
    assert all(re.search(r"\d", text) for text in said)
    assert len(why_reasons(told, most=2)) == 2


def test_where_it_loses() -> None:
    told = told_of(told_ranch())
    assert where_it_loses(told) == ("Where the mix loses: it costs $9,000 more than a wall unit with room heaters.",)
    assert weak_point_long(told.view.option("each"), told).startswith("Where this layout loses: its least steady")
    fine = with_option(told.view, "mix", weak_point=None)
    assert weak_point(fine.option("mix"), told_of(fine)) == ""


def test_yearly_bill_stands_for_the_energy_where_both_are_known() -> None:
    told = told_of(told_ranch())
    text = why_not(told.view.option("heaters"), told).text
    assert "$480 a year more" in text
    assert "kWh" not in text


def test_questions_say_what_the_other_layout_does_better_first() -> None:
    told = told_of(told_ranch())
    asked = questions(told)
    assert [lead.lead for lead in asked] == [
        "Why not room heaters?",
        "Why not one hidden unit for all rooms?",
        "Why not a unit in each room?",
        "Why not just one wall unit?",
    ]
    assert asked[0].text.startswith("It costs $9,000 less than the mix. But with room heaters,")
    assert asked[3].text.startswith("It costs $9,800 less than the mix. It is not enough here. ")
    assert asked[3].text.endswith(f" At 6{NB}a.m. on the coldest mornings Bedroom 3 is at 48{NB}°F.")


def test_equal_layouts_are_not_argued_against() -> None:
    told = told_of(told_two_storey())
    assert why_not(told.view.option("each"), told).text.startswith("It suits you equally well.")


def test_turns_name_the_wishes_and_what_follows() -> None:
    said = [lead.plain for lead in turns(told_of(told_ranch()))]
    assert said == [
        (
            "If price comes first, take a wall unit with room heaters. It costs $9,000 less than the mix. In return, "
            f"nothing cools the bedrooms, so Bedroom 3 is 83{NB}°F on hot days."
        ),
        "If quiet, low bills or long life comes first, we still advise the mix.",
    ]
    every = told_ranch().model_copy(update={"profile_winners": dict.fromkeys(told_ranch().profile_winners, "mix")})
    assert [lead.plain for lead in turns(told_of(every))] == ["If any one wish comes first, we still advise the mix."]


def test_winner_of_a_profile_that_is_not_shown_is_passed_over() -> None:
    view = told_ranch().model_copy(update={"profile_winners": {"Low bills": "gone", "Quiet and even": "mix"}})
    assert [lead.plain for lead in turns(told_of(view))] == ["If quiet comes first, we still advise the mix."]


@pytest.mark.parametrize(
    ("option_id", "changes", "said"),
    [
        ("mix", {}, "One wall unit for the open space, a hidden one for the bedrooms."),
        ("mix", {"hidden": 2}, "One wall unit for the open space, two hidden ones for the bedrooms."),
        ("heaters", {"heaters": 0, "old_heat": True}, "One wall unit for the open space, the old heat for the rest."),
        ("hidden", {"hidden": 2}, "Two hidden units with small vents in every room."),
        ("each", {}, "A wall unit in each room: four in all."),
        ("one", {}, "One wall unit for the whole home."),
    ],
)
def test_page_sentences(option_id: str, changes: dict[str, object], said: str) -> None:
    view = with_option(told_ranch(), option_id, **changes)
    assert option_sentence(view, view.option(option_id), words_of()) == said


def test_single_unit_that_wins_is_enough() -> None:
    view = answer(told_ranch(), winner="one", equals=("one",))
    assert option_sentence(view, view.option("one"), words_of()) == "One wall unit is enough here."


def test_names_follow_the_kind_of_unit() -> None:
    view = told_two_storey()
    words = words_of()
    mix = view.option("mix")
    assert {unit.kind for unit in mix.drawing.units} >= {"wall head", "floor console"}
    assert option_sentence(view, mix, words).startswith("Two room units for the living space and the office")
    floor = [unit.model_copy(update={"kind": "floor console"}) for unit in view.option("one").drawing.units]
    drawing = view.option("one").drawing.model_copy(update={"units": tuple(floor)})
    changed = with_option(view, "one", drawing=drawing)
    assert option_name(changed, changed.option("one"), words) == "One floor unit"


def test_rooms_in_words() -> None:
    view, words = told_ranch(), words_of()
    assert room_group(view, ("Bedroom 1", "Bath"), words) == "Bedroom 1 and the bath"
    assert room_group(view, ("Bedroom 1", "Bedroom 2", "Bath"), words) == "two bedrooms and the bath"
    assert room_group(view, tuple(room.name for room in view.plan.rooms), words) == (
        "the open space, the bedrooms and three more rooms"
    )
    upper = told_two_storey()
    assert room_group(upper, ("Living room", "Kitchen and dining"), words) == "the open space"
    assert room_group(upper, ("Living room",), words) == "the living space"


def test_facts_of_a_home_without_bedrooms() -> None:
    view = told_ranch()
    facts = view.option("mix").facts.model_copy(
        update={"coldest_bedroom": None, "coldest_bedroom_c": None, "pillow_dba": None}
    )
    view = with_option(view, "mix", facts=facts)
    found = card_facts(view.option("mix"), told_of(view))
    assert [item.value for item in found][:2] == ["–", "–"]
    assert found[0].note == "no bedroom in this home"


def test_facts_of_a_layout_left_out_and_of_old_fuel() -> None:
    told = told_of(told_ranch())
    assert card_facts(told.view.option("one"), told)[3].note == "energy in a usual year, rooms cold"
    facts = told.view.option("mix").facts.model_copy(update={"old_fuel_kwh": 9040.0})
    view = with_option(told.view, "mix", facts=facts)
    note = card_facts(view.option("mix"), told_of(view))[3].note
    assert note == f"energy in a usual year: 4,300{NB}kWh and 9,000{NB}kWh of old fuel"


@pytest.mark.parametrize(
    ("level", "sound"), [(18.0, "rustling leaves"), (26.0, "a whisper"), (41.0, "a quiet library")]
)
def test_everyday_sounds(level: float, sound: str) -> None:
    """Everyday levels of 20, 30 and 40 dB(A): common practice."""
    assert everyday_sound(level, told_of(told_ranch())) == sound


def test_text_from_a_house_is_never_read_as_a_template() -> None:
    words = Words("en-US", {"t": {"a": "{x} and {y}"}})
    assert words.say("t", "a", x="{y}", y="{x}") == "{y} and {x}"
    assert words.say("t", "a", x="1") == "1 and {y}"


def test_unknown_language_is_told() -> None:
    with pytest.raises(ValueError, match="language 'tlh' is not known; choose one of: en"):
        words_of("tlh")


def _flip(kind: str, subject: str, values: tuple[float, float], family: str) -> FlipLine:
    numbers = tuple(
        Number(role=role, value=value, kind="") for role, value in zip(("before", "after"), values, strict=True)
    )
    return FlipLine(kind=kind, subject=subject, numbers=numbers, winner="", family=family)


def test_changes_of_weight_and_price_are_told_with_a_number_that_is_enough() -> None:
    """A share is rounded away from today's, so that the figure in print does put the other layout first."""
    flips = (
        _flip("weight", "rough cost", (0.2, 0.3572), "heads_and_heaters"),
        _flip("price", "mix", (15800.0, 19900.0), "heads_and_heaters"),
    )
    tried = {"flips": flips, "flips_tried": ("weight", "price", "credit", "rate")}
    told = told_of(told_ranch().model_copy(update=tried))
    assert flip_sentences(told) == (
        f"With 36{NB}of{NB}100 points for a low price (now 20), room heaters would come first.",
        "If the mix cost $4,100 more, at $19,900, we would advise a wall unit with room heaters.",
    )
    assert tried_sentence(told).startswith("We tried more, one thing at a time. Plain heaters ")


def test_where_nothing_changes_the_advice_it_says_what_was_tried() -> None:
    nothing = told_of(told_ranch().model_copy(update={"flips_tried": ("weight", "price", "credit", "rate")}))
    assert flip_sentences(nothing) == ()
    text = tried_sentence(nothing)
    assert text.startswith("We changed one thing at a time. Each wish counted from nothing to all. Each price")
    assert text.endswith("None of this changes our advice.")
    assert tried_sentence(told_of(told_ranch())) == ""


def test_noise_within_the_health_advice_never_leads() -> None:
    quiet = fact("bed_noise", ("mix", "each"), (19.0, 29.0), rooms=("Bedroom 1",), points=9.0)
    price = fact("price", ("mix", "each"), (15800.0, 20900.0), points=1.0)
    told = told_of(with_option(told_ranch(), "each", worse_than_winner=(quiet, price), better_than_winner=()))
    text = why_not(told.view.option("each"), told).text
    assert text.startswith("Four wall units would cost $5,100 more than the mix. ")
    assert "within the health advice, but about twice as loud as the 19" in text
