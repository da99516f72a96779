"""Charts: well-formed, right places on their axes, hatch and plum by the rules, the same values as their tables."""

from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.units import System
from proposal.drawing.chart import dollars, round_step
from proposal.drawing.look import Look, Scene, Table
from proposal.drawing.need import NeedRow, need_chart
from proposal.drawing.ranges import RangeRow, fit_bar, noise_chart, range_chart, score_chart
from proposal.drawing.strip import strip_chart
from proposal.drawing.theme import LIGHT
from tests.proposal.drawing.boxes import SPACE, boxes, texts
from tests.proposal.sample_view import band, ranch_view, two_storey_view

VIEW = ranch_view()
NAMES = {"mix": "The mix", "heaters": "Wall unit and room heaters", "hidden": "One hidden unit"}
ROWS = [NeedRow(one) for one in VIEW.option("mix").bands]
RIVAL = NeedRow(VIEW.option("each").bands[1], ours=False, heading="For comparison:")


CHARTS = {
    "need": lambda look: need_chart([*ROWS, RIVAL], look),
    "score": lambda look: score_chart(VIEW, ["mix", "heaters"], NAMES, look),
    "noise": lambda look: noise_chart(VIEW, NAMES, look),
    "strip": lambda look: strip_chart(VIEW, "one", Scene.MORNING, look),
    "fit": lambda look: fit_bar(86.0, look, ours=True),
}


@pytest.mark.parametrize("width_px", [320.0, 640.0, 800.0])
@pytest.mark.parametrize("key", list(CHARTS))
def test_each_chart_is_well_formed_told_and_has_its_table(key: str, width_px: float) -> None:
    chart = CHARTS[key](Look(width_px=width_px))
    root = ElementTree.fromstring(chart.svg)
    assert root.findtext(f"{SPACE}title")
    assert root.findtext(f"{SPACE}desc")
    assert chart.table.rows
    assert all(len(row) == len(chart.table.head) for row in chart.table.rows)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]+)\)", chart.svg)) <= set(ids)


@pytest.mark.parametrize("units", [System.US, System.SI])
@pytest.mark.parametrize("width_px_", [320.0, 480.0, 640.0, 800.0])
@pytest.mark.parametrize("key", list(CHARTS))
def test_words_of_a_chart_keep_apart_and_stay_inside(key: str, width_px_: float, units: System) -> None:
    chart = CHARTS[key](Look(width_px=width_px_, units=units))
    places = boxes(chart)
    for (one, first), (other, second) in combinations(places, 2):
        assert not first.meets(second), (one, other)
    for text, box in places:
        assert box.x0 >= -0.5, text
        assert box.x1 <= width_px_ + 0.5, text
        assert 0.0 <= box.y0 <= box.y1 <= chart.height_px, text


def test_need_bar_begins_where_the_hatched_hill_ends() -> None:
    chart = need_chart([ROWS[0]], Look())
    root = ElementTree.fromstring(chart.svg)
    clip = next(root.iter(f"{SPACE}clipPath")).find(f"{SPACE}rect")
    bar = next(rect for rect in root.iter(f"{SPACE}rect") if rect.get("fill") == LIGHT.plum)
    assert clip is not None
    end = float(clip.get("x", "nan")) + float(clip.get("width", "nan"))
    assert float(bar.get("x", "nan")) == pytest.approx(end, abs=0.02)


def test_need_places_are_in_proportion() -> None:
    """Bar ends and the axis marks lie on one straight scale from zero."""
    chart = need_chart([ROWS[0]], Look())
    root = ElementTree.fromstring(chart.svg)
    marks = {
        element.text: float(element.get("x", "nan"))
        for element in root.iter(f"{SPACE}text")
        if element.text in {"0", "5", "10"} and element.get("text-anchor") == "middle"
    }
    bar = next(rect for rect in root.iter(f"{SPACE}rect") if rect.get("fill") == LIGHT.plum)
    px_per_unit = (marks["10"] - marks["0"]) / 10.0
    start, width = float(bar.get("x", "nan")), float(bar.get("width", "nan"))
    assert (start - marks["0"]) / px_per_unit == pytest.approx(3.0, abs=0.02)
    assert width / px_per_unit == pytest.approx(12.6 - 3.0, abs=0.02)


def test_need_words_and_table_agree_in_both_unit_systems() -> None:
    us, si = need_chart(ROWS, Look()), need_chart(ROWS, Look(units=System.SI))
    assert us.table.rows[0] == ("Wall unit", "9.7", "3.0", "12.6", "32")
    assert "on and off in 32 of 100 heating hours" in texts(us)
    # 1 kBtu/h = 0.29307107 kW (ISO 31-4 international table Btu)
    assert si.table.rows[0][1:4] == tuple(f"{value * 0.29307107:.1f}" for value in (9.7, 3.0, 12.6))


def test_cooling_is_blue_heating_is_rust_and_a_rival_has_no_plum() -> None:
    cooling = need_chart([NeedRow(band("Wall unit", ("Bath",), (2.0, 8.0), (2.0, 9.0), 0.4, mode="cooling"))], Look())
    heating = need_chart([RIVAL], Look())
    assert LIGHT.blue in cooling.svg
    assert LIGHT.rust not in cooling.svg
    assert LIGHT.rust in heating.svg
    assert LIGHT.plum not in heating.svg


def test_a_unit_that_never_runs_has_no_hill_but_keeps_its_bar() -> None:
    still = ROWS[0].band.model_copy(update={"hours": tuple(0.0 for _ in ROWS[0].band.hours)})
    chart = need_chart([NeedRow(still)], Look())
    assert "12.6" in texts(chart)
    assert "clipPath" not in chart.svg


def test_charts_without_rows_say_what_is_missing() -> None:
    with pytest.raises(ValueError, match="at least one unit"):
        need_chart([], Look())
    with pytest.raises(ValueError, match="at least one layout"):
        range_chart([], None, Table("", (), ()), Look())
    with pytest.raises(ValueError, match="noise_chart"):
        strip_chart(VIEW, "mix", Scene.SOUND, Look())
    empty = VIEW.options[0].model_copy(update={"rooms": ()})
    with pytest.raises(ValueError, match="mix has no room outcomes"):
        strip_chart(VIEW.model_copy(update={"options": (empty,)}), "mix", Scene.MORNING, Look())


def test_no_plum_in_a_comparison_that_is_too_close() -> None:
    view = two_storey_view()
    chart = noise_chart(view, {}, Look())
    assert LIGHT.plum not in chart.svg
    assert chart.table.rows[0][0] == "mix"


def test_range_runs_from_low_to_high() -> None:
    rows = [RangeRow("One", 10.0, 15.0, 20.0, "15", ours=True), RangeRow("Two", 0.0, 5.0, 10.0, "5", ours=False)]
    chart = range_chart(rows, None, Table("Title", ("a", "b"), (("One", "15"), ("Two", "5"))), Look())
    root = ElementTree.fromstring(chart.svg)
    first = next(rect for rect in root.iter(f"{SPACE}rect") if rect.get("fill") == LIGHT.plum)
    second = next(rect for rect in root.iter(f"{SPACE}rect") if "url" in rect.get("fill", ""))
    assert float(first.get("x", "nan")) == pytest.approx(
        float(second.get("x", "nan")) + float(second.get("width", "nan")), abs=0.02
    )


@given(st.floats(0.01, 1e6), st.integers(2, 8))
def test_axis_steps_are_round_and_few(span: float, most: int) -> None:
    step = round_step(span, most)
    assert span / step <= most + 1e-6
    lead = float(f"{step:.6e}".split("e", maxsplit=1)[0])
    assert any(lead == pytest.approx(value) for value in (1.0, 2.0, 2.5, 5.0, 10.0))


def test_dollars() -> None:
    assert dollars(15800.4) == "$15,800"
    assert dollars(-480.0) == "−$480"
