"""What stands in a paper, and when."""

from __future__ import annotations

import pytest

from compare.views.customer import AssumptionLine, CustomerView
from proposal.document.blocks import (
    Answer,
    Beside,
    Bullets,
    Columns,
    Document,
    Heading,
    Pair,
    Paragraph,
    Signing,
    Table,
    Ways,
)
from proposal.document.build import build, record_of
from proposal.document.closing import applies, rows
from proposal.markdown import markdown_of
from tests.proposal.told_view import told_ranch, told_two_storey


def house(view: CustomerView, **changes: object) -> CustomerView:
    return view.model_copy(update={"house": view.house.model_copy(update=changes)})


def answer(view: CustomerView, **changes: object) -> CustomerView:
    return view.model_copy(update={"answer": view.answer.model_copy(update=changes)})


def headings(document: Document) -> list[str]:
    return [block.text for block in document.blocks if isinstance(block, Heading)]


def every(document: Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def test_estimate_is_headed_so_and_cannot_be_signed() -> None:
    document = build(told_ranch())
    assert document.title == "Estimate for The sample ranch"
    assert document.header_left == "Estimate, not an offer"
    assert isinstance(document.blocks[0], Paragraph)
    assert document.blocks[0].lead == "Estimate."
    assert every(document, Signing) == []


def test_offer_can_be_signed_with_a_place_for_the_statement_of_the_law() -> None:
    document = build(house(told_ranch(), estimate=False))
    assert document.title == "Proposal for The sample ranch"
    (signing,) = every(document, Signing)
    assert "right to cancel" in signing.statement
    assert "estimate" not in markdown_of(document).lower()


def test_demo_is_marked_on_every_page_and_nothing_else_is() -> None:
    assert build(told_ranch()).footer.startswith("Demo: all figures invented.")
    plain = build(house(told_ranch(), demo=False))
    assert "Demo" not in plain.footer
    assert "invented" not in markdown_of(plain).replace("Invented town", "").replace(
        "An invented weather year", ""
    ).replace("Invented; a real", "")


def test_record_follows_the_view() -> None:
    view = told_ranch()
    assert record_of(view) == record_of(told_ranch())
    assert record_of(view) != record_of(view, "each")
    assert record_of(view) != record_of(house(view, people=3.0))


def test_order_of_the_paper() -> None:
    assert headings(build(told_ranch())) == [
        "One wall unit for the open space, a hidden one for the bedrooms.",
        "Your home on a winter morning",
        "The five ways we compared",
        "Why not another way?",
        "What would change our advice",
        "How each does on what counts for you",
        "Does each unit fit what its rooms need?",
        "What you will feel and hear",
        "Doors shut or open at night",
        "How loud is it in bed?",
        "Price, and what it covers",
        "What the price covers",
        "Payment and dates",
        "What we assumed",
        "Care and cleaning",
        "Please take care",
        "Your rights",
        "Words we use",
        "Who we are",
    ]


def test_every_card_has_a_row_with_its_weak_point_and_its_house() -> None:
    view = told_ranch()
    (ways,) = every(build(view), Ways)
    assert [row.name for row in ways.rows] == [
        "The mix",
        "Wall unit and room heaters",
        "One hidden unit",
        "Four wall units",
        "One wall unit",
    ]
    assert [row.note.split(" Price: ")[0].removesuffix(".") for row in ways.rows] == [
        "Costs $9,000 more than room heaters",
        "Bedroom 3 is 83\u00a0°F on hot days",
        "Louder in bed than the 30 advised",
        "On and off in 87\u00a0of\u00a0100 running hours",
        "Not enough: Bedroom 3 is 48\u00a0°F at 6\u00a0a.m",
    ]
    facts = view.option("mix").facts
    low, high = (f"${round(value, -2):,.0f}" for value in (facts.price_low_usd, facts.price_high_usd))
    assert ways.rows[0].note.endswith(f" Price: {low} to {high}")
    assert [row.ours for row in ways.rows] == [True, False, False, False, False]
    assert ways.rows[-1].cells[-1] == "left out"
    assert all("<svg" in row.figure.svg for row in ways.rows)


def test_advice_is_plum_only_where_there_is_one() -> None:
    assert [block.advice for block in every(build(told_ranch()), Answer)] == [True, True, True]
    close = build(told_two_storey())
    assert {block.advice for block in every(close, Answer)} == {False}
    assert not any(row.ours for row in every(close, Ways)[0].rows)
    assert "#5E2750" not in every(close, Pair)[0].items[0][1].svg


def test_too_close_to_call_shows_equals_side_by_side_by_price() -> None:
    document = build(told_two_storey())
    assert document.headline == "Two layouts suit you equally."
    (pair,) = every(document, Pair)
    assert [item[0] for item in pair.items] == ["Six room units", "The mix"]
    assert "How sure: too close to call." in [block.lead for block in every(document, Paragraph)]
    assert "What would decide it" in headings(document)
    assert "What would change our advice" not in headings(document)


def test_a_layout_that_was_asked_for_says_what_we_advise() -> None:
    document = build(told_ranch(), "heaters")
    assert document.headline == "One wall unit for the open space, room heaters for the bedrooms."
    lead = next(block.text for block in every(document, Paragraph) if block.style == "lead")
    assert lead.endswith("You asked about this layout. Our advice is the mix.")
    assert every(document, Answer)[0].advice is False
    marks = {row.name: row.mark for row in every(document, Ways)[0].rows}
    assert marks["The mix"] == "We recommend it"
    assert marks["Wall unit and heaters"] == "This paper"


def test_layout_that_is_not_there_is_told_with_those_that_are() -> None:
    with pytest.raises(ValueError, match="'zoo' is not in this comparison; choose one of: mix, heaters"):
        build(told_ranch(), "zoo")


def test_no_layout_good_enough_is_told_and_each_can_still_be_written_up() -> None:
    view = answer(told_ranch(), winner="", runner_up=None, verdict="none", equals=(), tries=None, tries_won=None)
    with pytest.raises(ValueError, match="no layout of this house is good enough"):
        build(view)
    document = build(view, "one")
    assert "No layout we tried is good enough here yet." in markdown_of(document)


@pytest.mark.parametrize(
    ("built", "said"),
    [(1974, True), (1977, True), (1978, False), (2010, False)],
)
def test_lead_paint_follows_the_year_of_the_rule(built: int, said: bool) -> None:
    """40 CFR 745 subpart E: housing built before 1978."""
    text = markdown_of(build(house(told_ranch(), built=built)))
    assert ("Homes built before 1978 may hold lead paint" in text) is said
    assert "We do not know when your home was built" not in text


def test_unknown_year_of_the_house_is_cautious() -> None:
    assert "We do not know when your home was built" in markdown_of(build(house(told_ranch(), built=None)))


def test_cautions_of_every_danger_are_there_with_a_source() -> None:
    topics = {
        "refrigerant",
        "electricity",
        "combustion",
        "structure",
        "heights",
        "lead",
        "condensate",
        "permits",
        "no heat",
    }
    assert topics <= {row["topic"] for row in rows("cautions")}
    assert all(row["source"].strip() for table in ("cautions", "scope", "assumed", "banned") for row in rows(table))
    text = markdown_of(build(told_ranch()))
    assert "Local codes and licensed people decide, not this paper." in text
    assert "carbon monoxide" in text


def test_rows_follow_the_layout() -> None:
    view = told_ranch()
    assert applies("hidden", view, view.option("mix"))
    assert not applies("hidden", view, view.option("heaters"))
    assert "Keep beds and curtains well away from heaters" in markdown_of(build(view, "heaters"))
    assert "Keep beds and curtains" not in markdown_of(build(view))
    with pytest.raises(ValueError, match="condition 'often' is not known"):
        applies("often", view, view.option("mix"))


def test_price_and_scope_name_the_units_of_this_house() -> None:
    document = build(told_ranch())
    (beside,) = every(document, Beside)
    inside = [item.text for item in beside.lists[0].items]
    assert inside[:3] == [
        "One wall unit for the open space",
        "One hidden unit (Hall ceiling) for the bedrooms and the bath",
        "Two outdoor units",
    ]
    prices = next(block.text for block in every(document, Paragraph) if block.text.startswith("About"))
    assert prices.startswith("About $15,800 installed, from $14,400 to $17,400. This is an estimate, not an offer.")


def test_assumptions_are_plain_and_the_rest_is_counted() -> None:
    view = told_ranch().model_copy(
        update={
            "assumptions": (
                AssumptionLine(subject="window.shade (9 of 9)", value="100 %", reason="x"),
                AssumptionLine(subject="fabric.age", value="1940-1979", reason="x"),
                AssumptionLine(subject="fabric.roof_u", value="0.06", reason="x"),
                AssumptionLine(subject="rates.carbon", value="0.37", reason="x"),
            )
        }
    )
    lists = [block for block in every(build(view), Bullets) if block.items[0].lead == "Weather."]
    assert [item.text for item in lists[0].items[1:]] == [
        "Walls, roof and windows are as usual in homes of 1940-1979.",
        "No blinds or curtains are counted.",
        "Two more values are assumed. Ask us for the full list.",
    ]


def test_stop_of_an_abbreviation_stays_in_a_table() -> None:
    (ways,) = every(build(told_two_storey()), Ways)
    assert ways.rows[-1].note == "The guest bedroom is about 54\u00a0°F at 6 a.m. Price: $5,800 to $7,000"


def test_equal_layouts_have_their_rooms_side_by_side() -> None:
    view = told_two_storey()
    (table,) = every(build(view), Table)
    assert table.head == ("Room", "Own target", "Six room units", "The mix")
    wanted = [room.room for room in view.option("mix").rooms if room.morning_target_c is not None]
    names = {room.index: room.name for room in view.plan.rooms}
    assert [row[0] for row in table.rows] == [names[index] for index in wanted]
    assert {row[0]: row[2:] for row in table.rows}["Guest bedroom"] == ("59\u00a0°F", "63\u00a0°F")


def test_why_not_answers_every_other_card() -> None:
    document = build(told_ranch())
    asked = [item.lead for block in every(document, Columns) for item in block.items if item.lead.startswith("Why")]
    assert asked == [
        "Why not room heaters?",
        "Why not one hidden unit for all rooms?",
        "Why not a unit in each room?",
        "Why not just one wall unit?",
    ]
