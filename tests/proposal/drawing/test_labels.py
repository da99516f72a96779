"""Labels never collide: measured with shapely on two sample houses and on random ones, and by a browser's own boxes."""

from __future__ import annotations

import shutil
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import box as rectangle

from compare.units import System
from compare.views.customer import CustomerView
from proposal.drawing.geometry import Box
from proposal.drawing.labels import UNIT
from proposal.drawing.look import Look, Scene
from proposal.drawing.placing import Block, Ground, Line, with_leader
from proposal.drawing.plan import PlanPicture, plan_picture
from proposal.fonts import embedded_css
from tests.proposal.drawing.houses import houses
from tests.proposal.sample_view import ranch_view, two_storey_view

CASES = [
    (view, option.id, scene) for view in (ranch_view(), two_storey_view()) for option in view.options for scene in Scene
]


def _area(one: Box, other: Box) -> float:
    """Shared area by shapely [px²]."""
    first = rectangle(one.x0, one.y0, one.x1, one.y1)
    return float(first.intersection(rectangle(other.x0, other.y0, other.x1, other.y1)).area)


def _check(picture: PlanPicture, view: CustomerView) -> None:
    for one, other in combinations(picture.labels, 2):
        assert _area(one.box, other.box) == 0.0, (one, other)
    for label in picture.labels:
        assert label.box.x0 >= 0.0
        assert label.box.y0 >= 0.0
        assert label.box.x1 <= picture.width_px
        assert label.box.y1 <= picture.height_px
        for other in picture.kept_clear:
            assert _area(label.box, other) == 0.0, (label, other)
    told = " ".join([label.text.replace(" / ", " ") for label in picture.labels] + list(picture.notes))
    for room in view.plan.rooms:
        assert room.name in told, room.name


@pytest.mark.parametrize("width_px", [320.0, 640.0, 702.0, 960.0])
@pytest.mark.parametrize(("view", "option_id", "scene"), CASES)
def test_sample_houses(view: CustomerView, option_id: str, scene: Scene, width_px: float) -> None:
    _check(plan_picture(view, option_id, scene, Look(width_px=width_px)), view)


def test_celsius_with_decimals_fits_too() -> None:
    view = ranch_view()
    for option in view.options:
        _check(plan_picture(view, option.id, Scene.MORNING, Look(units=System.SI)), view)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(houses(), st.sampled_from([360.0, 640.0]))
def test_random_houses(view: CustomerView, width_px: float) -> None:
    _check(plan_picture(view, "mix", Scene.MORNING, Look(width_px=width_px)), view)


@pytest.mark.browser
def test_the_browsers_own_text_boxes_do_not_meet() -> None:
    """Outside check: chromium's getBBox of each text, less the empty space above capitals and below the base line."""
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("no chromium")
    from playwright.sync_api import sync_playwright

    script = """() => [...document.querySelectorAll('svg > text, svg > g:not([transform]) text')].map(t => {
        const b = t.getBoundingClientRect(), s = parseFloat(t.getAttribute('font-size'));
        const y = t.ownerSVGElement.getBoundingClientRect().top + parseFloat(t.getAttribute('y'));
        return [t.textContent, b.left, y - 0.70 * s, b.right, y]})"""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page()
        for view, option_id, scene in CASES[::3]:
            picture = plan_picture(view, option_id, scene, Look())
            style = f"{embedded_css()} svg {{font-variant-numeric: tabular-nums}} text {{stroke: none}}"
            page.set_content(f"<style>{style}</style>{picture.svg}")
            page.evaluate("() => document.fonts.ready.then(() => 1)")
            boxes = page.evaluate(script)
            assert len(boxes) >= len(picture.labels)
            for one, other in combinations(boxes, 2):
                assert _area(Box(*one[1:]), Box(*other[1:])) < 1.0, (one, other)
        browser.close()


@given(st.floats(-40.0, 40.0), st.floats(-40.0, 40.0), st.floats(20.0, 90.0))
def test_a_leader_crosses_no_label_even_one_that_touches_its_thing(dx: float, dy: float, wide: float) -> None:
    """Crossing by shapely, the inside of the label's box only."""
    target = Box(195.0, 195.0, 205.0, 205.0)
    label = Box(200.0 + dx - wide / 2.0, 200.0 + dy - 8.0, 200.0 + dx + wide / 2.0, 200.0 + dy + 8.0)
    ground = Ground(Box(0.0, 0.0, 400.0, 400.0))
    ground.take(label)
    led = with_leader(Block((Line("8 × 4 in.", UNIT, "#000000"),)), target, ground, 250.0, None)
    if led is not None:
        inside = rectangle(label.x0, label.y0, label.x1, label.y1).buffer(-1e-6)
        assert not LineString([led.start, led.end]).intersects(inside)
        assert _area(led.found.box, label) == 0.0
