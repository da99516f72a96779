"""What families ask: every question has its answer, none is false of the numbers, none claims less than its error."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.scoring.judgements import rulebook
from compare.scoring.option_facts import price_differs
from compare.scoring.phrases import SI, US, templates
from compare.scoring.reasons import reasons_for
from compare.scoring.scores import OptionScore, score_measures
from compare.scoring.weights import balanced
from compare.scoring.worries import Around, Asked, WorryAnswer, answer_sentence, answers, known_rules, worries
from tests.scoring.draws import number, options

NUMBERS = rulebook().numbers


@st.composite
def arounds(draw) -> Around:
    def maybe(low: float, high: float) -> float:
        return draw(st.one_of(st.just(math.nan), number(low, high)))

    left = draw(st.integers(0, 6))
    return Around(
        heat_load_w=draw(number(1000.0, 15000.0)),
        cool_load_w=draw(number(500.0, 9000.0)),
        heat_outdoor_c=draw(number(-25.0, 5.0)),
        heat_set_c=21.1,
        cool_set_c=23.9,
        setback=draw(st.booleans()),
        doors_shut=draw(st.sampled_from([True, False, None])),
        doors=draw(st.booleans()),
        least_cover=maybe(0.4, 3.0),
        duct_loss_frac=maybe(0.02, 0.3),
        ducts_outside=draw(st.booleans()),
        high_units=draw(st.integers(0, 5)),
        cleaning_usd=draw(number(500.0, 9000.0)),
        cleaning_each_usd=maybe(500.0, 9000.0),
        rooms_left=left,
        rooms_all=left + draw(st.integers(1, 5)),
        units=draw(st.integers(1, 6)),
        units_each=draw(st.integers(1, 8)),
    )


@st.composite
def askeds(draw) -> Asked:
    found = draw(options(4, 4))
    return Asked(
        winner=found[0],
        single=draw(st.sampled_from([found[1], None])),
        each=draw(st.sampled_from([found[2], found[0], None])),
        shown=(found[0], found[2], found[3]),
        hidden=draw(st.sampled_from([found[3], None])),
        weights=balanced(),
        around=draw(arounds()),
    )


def by_worry(asked: Asked) -> dict[str, WorryAnswer]:
    return {answer.worry: answer for answer in answers(asked)}


def test_every_worry_has_a_rule_and_every_sentence_a_worry() -> None:
    ids = [item.worry for item in worries()]
    assert ids == list(known_rules())
    assert len(set(ids)) == len(ids)
    assert {key.split("_")[0] for key in templates()["worries"]} == set(ids)


@settings(max_examples=40, deadline=None)
@given(askeds())
def test_one_answer_for_each_in_both_unit_systems(asked: Asked) -> None:
    found = answers(asked)
    assert [answer.worry for answer in found] == [item.worry for item in worries()]
    for answer, worry in zip(found, worries(), strict=True):
        assert answer.form.startswith(worry.worry)
        assert {key for key, _, _ in answer.numbers} <= set(worry.facts)
        for units in (US, SI):
            text = answer_sentence(answer, asked, ("The mix", "A unit in every room"), units)
            assert text.strip()
            assert "nan" not in text
            assert "{" not in text
        if answer.applies:
            assert answer.numbers or answer.why or answer.form == "each_out"


@settings(max_examples=40, deadline=None)
@given(askeds())
def test_no_answer_is_false_of_its_numbers(asked: Asked) -> None:
    found, around, winner = by_worry(asked), asked.around, asked.winner.measures
    reach = found["reach"]
    if reach.applies:
        beds = [room for room in asked.single.measures.rooms if room.regular_bedroom]
        worst = max(room.room.target_c - room.morning_c for room in beds)
        assert (reach.form == "reach_warm") is (worst <= 0.0)
        assert (reach.form == "reach_cold") is (worst > 1.0)
        told = {key: value for key, value, _ in reach.numbers}
        room = next(room for room in beds if room.room.name == reach.room)
        assert told == {"morning_single": room.morning_c, "target": room.room.target_c}
    if found["doors"].applies:
        assert found["doors"].form == {True: "doors_shut", False: "doors_open", None: "doors_some"}[around.doors_shut]
    below = max(unit.below_min_frac for unit in winner.units)
    assert (found["cycling"].form == "cycling_much") is (below >= 0.5)
    assert (found["looks"].form == "looks_hidden") is (winner.visible_units == 0)
    assert found["attic"].applies is not math.isnan(around.duct_loss_frac)
    assert found["sensor"].applies is (around.high_units > 0)
    assert (found["failure"].form == "failure_all") is (around.rooms_left == 0)
    covers = found["cold"].form == "cold_covers"
    assert covers is (around.least_cover >= NUMBERS.amber_cover)
    prices = {key: value for key, value, _ in found["price"].numbers}
    assert prices["price_least"] <= asked.winner.price_usd <= prices["price_most"]


@settings(max_examples=40, deadline=None)
@given(askeds())
def test_no_comparison_within_its_error(asked: Asked) -> None:
    found = by_worry(asked)
    if found["cleaning"].form == "cleaning_less":
        own, each = asked.around.cleaning_usd, asked.around.cleaning_each_usd
        assert own < each
        assert price_differs(own, each, NUMBERS)
    if found["damp"].form == "damp_known":
        numbers = {key: value for key, value, _ in found["damp"].numbers}
        assert numbers["damp_worst"] - numbers["damp_frac"] > 0.03
    if found["each"].form == "each_less":
        true = {reason.fact for reason in reasons_for(asked.winner, asked.each, asked.weights)}
        assert found["each"].why
        assert set(found["each"].why) <= true


@settings(max_examples=25, deadline=None)
@given(askeds())
def test_an_answer_goes_with_the_number_that_makes_it(asked: Asked) -> None:
    """A unit in every room that does as well as the winner is not spoken against."""
    twin: OptionScore = score_measures(replace(asked.winner.measures, option_id="each"))
    answer = by_worry(replace(asked, each=twin))["each"]
    assert answer.form == ("each_out" if twin.rejected else "each_even")
    cheap = replace(asked.around, cleaning_usd=asked.around.cleaning_each_usd)
    assert by_worry(replace(asked, around=cheap))["cleaning"].form != "cleaning_less"


@pytest.mark.parametrize(("doors", "beds"), [(False, True), (True, False)])
def test_a_house_without_doors_or_sleepers_says_so(doors: bool, beds: bool) -> None:
    from tests.scoring.test_reasons import rooms, scored

    first = scored("a", rooms=rooms(regular=beds))
    around = Around(
        heat_load_w=5000.0,
        cool_load_w=4000.0,
        heat_outdoor_c=-8.0,
        heat_set_c=21.1,
        cool_set_c=23.9,
        setback=False,
        doors_shut=None,
        doors=doors,
        least_cover=1.1,
        duct_loss_frac=math.nan,
        ducts_outside=False,
        high_units=1,
        cleaning_usd=1000.0,
        cleaning_each_usd=math.nan,
        rooms_left=0,
        rooms_all=3,
        units=1,
        units_each=0,
    )
    found = by_worry(Asked(first, first, None, (first,), None, balanced(), around))
    assert not found["doors"].applies
    assert found["reach"].applies is beds
    assert not found["each"].applies
    assert not found["attic"].applies
