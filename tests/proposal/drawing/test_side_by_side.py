"""Layouts side by side: points by what counts, money, doors. Places in proportion, the same values as the tables."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.units import System
from compare.views.customer import CustomerView, DoorsOutcome, RoomDoors
from proposal.drawing.chart import Chart
from proposal.drawing.doors_strip import DoorsWords, doors_chart
from proposal.drawing.look import Look
from proposal.drawing.money import MoneyWords, money_chart
from proposal.drawing.profile import ProfileWords, criteria_of, profile_chart, to_step
from proposal.drawing.theme import LIGHT
from proposal.words.figures import Figures
from tests.proposal.drawing.boxes import SPACE, boxes, texts
from tests.proposal.sample_view import celsius, ranch_view, two_storey_view

VIEW = ranch_view()
NAMES = {
    "mix": "The mix",
    "heaters": "Wall unit and room heaters",
    "hidden": "One hidden unit",
    "each": "Four wall units",
    "one": "One wall unit",
}
PROFILE = ProfileWords("Points", "Fit of 100", "left out")
MONEY = MoneyWords(
    "Money", "Installed price", "Energy a year", "Layout", "Low", "About", "High", Figures(System.US).usd
)
DOORS = DoorsWords("Doors", "Room", "Layout", "doors shut", "doors open", "what you want", "shut {shut}, open {open}")
BEDS = [shape.index for shape in VIEW.plan.rooms if shape.use == "bedroom"]
OUTCOMES = (
    DoorsOutcome(
        option="mix", rooms=tuple(RoomDoors(room=i, shut_c=celsius(69.0), open_c=celsius(68.0)) for i in BEDS)
    ),
    DoorsOutcome(
        option="one", rooms=tuple(RoomDoors(room=i, shut_c=celsius(43.0), open_c=celsius(55.0)) for i in BEDS)
    ),
)


def profile(look: Look, view: CustomerView = VIEW) -> Chart:
    return profile_chart(view, view.cards, NAMES, PROFILE, look)


CHARTS = {
    "profile": profile,
    "money": lambda look: money_chart(VIEW, NAMES, MONEY, look),
    "doors": lambda look: doors_chart(VIEW, OUTCOMES, NAMES, DOORS, look),
}


@pytest.mark.parametrize("units", [System.US, System.SI])
@pytest.mark.parametrize("width_px", [600.0, 640.0, 800.0])
@pytest.mark.parametrize("key", list(CHARTS))
def test_words_keep_apart_and_stay_inside(key: str, width_px: float, units: System) -> None:
    chart = CHARTS[key](Look(width_px=width_px, units=units))
    places = boxes(chart)
    for (one, first), (other, second) in combinations(places, 2):
        assert not first.meets(second), (one, other)
    for text, box in places:
        assert box.x0 >= -0.5, text
        assert box.x1 <= width_px + 0.5, text
        assert 0.0 <= box.y0 <= box.y1 <= chart.height_px, text
    assert all(len(row) == len(chart.table.head) for row in chart.table.rows)


@given(st.floats(0.0, 100.0))
def test_points_are_shown_to_the_nearest_five(points: float) -> None:
    shown = to_step(points)
    assert shown % 5.0 == 0.0
    assert abs(shown - points) <= 2.5 + 1e-9


def test_profile_has_what_counts_in_the_order_of_its_weight() -> None:
    keys = criteria_of(VIEW, [VIEW.option(item) for item in VIEW.cards])
    weights = [VIEW.weights[key] for key in keys]
    assert weights == sorted(weights, reverse=True)
    assert min(weights) > 0.0


def test_profile_rows_are_the_scores_of_the_view() -> None:
    chart = profile(Look())
    keys = criteria_of(VIEW, [VIEW.option(item) for item in VIEW.cards])
    for key, row in zip(keys, chart.table.rows, strict=False):
        for item, cell in zip(VIEW.cards, row[1:], strict=True):
            assert abs(float(cell) - VIEW.option(item).criteria[key]) <= 2.5
    last = dict(zip(VIEW.cards, chart.table.rows[-1][1:], strict=True))
    assert last["mix"] == "86"
    assert last["one"] == "left out"


def test_profile_bars_are_as_long_as_their_points() -> None:
    """Every plum bar stands for the mix; its length over the whole bed is its figure of 100."""
    root = ElementTree.fromstring(profile(Look()).svg)
    rects = list(root.iter(f"{SPACE}rect"))
    bed = next(float(rect.get("width", "nan")) for rect in rects if rect.get("stroke") == LIGHT.line)
    ours = [float(rect.get("width", "nan")) / bed * 100.0 for rect in rects if rect.get("fill") == LIGHT.plum]
    chart = profile(Look())
    column = chart.table.head.index("The mix")
    assert ours == pytest.approx([float(row[column]) for row in chart.table.rows[:-1]], abs=0.2)


def test_best_of_a_row_is_bold_and_no_other() -> None:
    chart = profile(Look())
    figures = [
        (element.text, element.get("font-weight") == "600")
        for element in ElementTree.fromstring(chart.svg).iter(f"{SPACE}text")
        if element.get("text-anchor") == "end"
    ]
    width = len(VIEW.cards)
    offered = [VIEW.option(card).status != "left out" for card in VIEW.cards]
    assert not all(offered)
    for row in range(len(chart.table.rows) - 1):
        cells = figures[row * width : (row + 1) * width]
        best = max(float(text or "nan") for (text, _), may in zip(cells, offered, strict=True) if may)
        for (text, bold), may in zip(cells, offered, strict=True):
            assert bold == (may and float(text or "nan") == best)


def test_too_close_to_call_has_no_plum() -> None:
    view = two_storey_view()
    for chart in (profile_chart(view, view.cards, {}, PROFILE, Look()), money_chart(view, {}, MONEY, Look())):
        assert LIGHT.plum not in chart.svg


def test_profile_too_narrow_or_without_anything_is_told() -> None:
    with pytest.raises(ValueError, match="do not fit"):
        profile(Look(width_px=300.0))
    nothing = VIEW.model_copy(update={"weights": dict.fromkeys(VIEW.weights, 0.0)})
    with pytest.raises(ValueError, match="nothing to show"):
        profile(Look(), nothing)


def test_money_is_that_of_the_view_by_the_rounding_of_the_words() -> None:
    chart = CHARTS["money"](Look())
    facts = VIEW.option("mix").facts
    wanted = (
        facts.price_low_usd, facts.price_usd, facts.price_high_usd,
        facts.bill_low_usd, facts.bill_usd, facts.bill_high_usd,
    )  # fmt: skip
    row = next(row for row in chart.table.rows if row[0] == "The mix")
    assert row[1:] == tuple(Figures(System.US).usd(value) for value in wanted)
    assert {row[2], row[5]} <= set(texts(chart))


def test_money_bars_run_from_low_to_high_on_a_scale_from_nothing() -> None:
    root = ElementTree.fromstring(CHARTS["money"](Look()).svg)
    price, bill = (rect for rect in root.iter(f"{SPACE}rect") if rect.get("fill") == LIGHT.plum)
    marks = {
        element.text: float(element.get("x", "nan"))
        for element in root.iter(f"{SPACE}text")
        if element.get("font-weight") == "400" and (element.text or "").startswith("$")
    }
    facts = VIEW.option("mix").facts
    x0 = float(price.get("x", "nan"))
    width = float(price.get("width", "nan"))
    ten = next(value for text, value in marks.items() if text == "$10,000")
    px_per_usd = width / (facts.price_high_usd - facts.price_low_usd)
    assert x0 + (10000.0 - facts.price_low_usd) * px_per_usd == pytest.approx(ten, abs=0.1)
    assert ten < float(bill.get("x", "nan"))


def test_doors_marks_stand_at_their_degrees() -> None:
    """Dot, ring and target of a room lie on the scale that the figures below the chart give."""
    chart = CHARTS["doors"](Look())
    root = ElementTree.fromstring(chart.svg)
    scale = {
        int((element.text or "").split("\u00a0")[0]): float(element.get("x", "nan"))
        for element in root.iter(f"{SPACE}text")
        if element.get("text-anchor") == "middle"
    }
    low, high = min(scale), max(scale)

    def at(value_f: float) -> float:
        return scale[low] + (value_f - low) / (high - low) * (scale[high] - scale[low])

    marks = [round(float(circle.get("cx", "nan")), 1) for circle in root.iter(f"{SPACE}circle")][2:]
    wanted = [round(at(value), 1) for value in (68.0, 69.0) * 3 + (55.0, 43.0) * 3]
    assert marks == pytest.approx(wanted, abs=0.2)


def test_doors_table_has_every_bedroom_of_every_layout() -> None:
    chart = CHARTS["doors"](Look())
    assert len(chart.table.rows) == 2 * len(BEDS)
    assert chart.table.rows[-1][2:] == ("43\u00a0°F", "55\u00a0°F", "66\u00a0°F")
    with pytest.raises(ValueError, match="leave the picture out"):
        doors_chart(VIEW, (), NAMES, DOORS, Look())
