"""Drawings of the air side: well-formed, ink only, labels that neither meet nor leave the page."""

from __future__ import annotations

import re
import shutil
from functools import cache
from itertools import combinations
from xml.etree import ElementTree

import pytest
from shapely.geometry import box as rectangle

from compare.commands.air import designer_view_of
from compare.units import System
from compare.views.designer import DesignerView
from proposal.drawing.air_set import air_drawings
from proposal.drawing.airpath import air_path, columns
from proposal.drawing.desk import DeskPicture, desk_plan
from proposal.drawing.elevation import elevations_picture
from proposal.drawing.geometry import Box, segments_cross
from proposal.drawing.words import words_for
from proposal.fonts import embedded_css
from tests.houses import compared
from tests.proposal.drawing.boxes import boxes

SPACE = "{http://www.w3.org/2000/svg}"
NAMES = ["ranch", "colonial", "cabin", "accessory_unit"]


@cache
def view_of(name: str) -> DesignerView:
    return designer_view_of(compared(name))


def _area(one: Box, other: Box) -> float:
    first = rectangle(one.x0, one.y0, one.x1, one.y1)
    return float(first.intersection(rectangle(other.x0, other.y0, other.x1, other.y1)).area)


def _check(picture: DeskPicture) -> None:
    for one, other in combinations(picture.labels, 2):
        assert _area(one.box, other.box) == 0.0, (one, other)
    for label in picture.labels:
        assert label.box.x0 >= 0.0
        assert label.box.x1 <= picture.width_px
        assert label.box.y0 >= 0.0
        assert label.box.y1 <= picture.height_px
        for other in picture.kept_clear:
            assert _area(label.box, other) == 0.0, (label, other)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width_px", [760.0, 1000.0, 1400.0])
def test_labels_of_plans_and_walls_never_meet(name: str, width_px: float) -> None:
    _check(desk_plan(view_of(name), width_px))
    _check(elevations_picture(view_of(name), width_px))


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_is_well_formed_and_in_ink_only(name: str) -> None:
    """Every colour is a grey: red, green and blue alike."""
    for svg in air_drawings(view_of(name)).values():
        root = ElementTree.fromstring(svg)
        assert root.find(f"{SPACE}title") is not None
        for colour in re.findall(r'="#([0-9A-Fa-f]{6})"', svg):
            assert colour[0:2] == colour[2:4] == colour[4:6], colour
        ids = [element.get("id") for element in root.iter() if element.get("id")]
        assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", ["ranch", "colonial", "cabin"])
def test_every_branch_stands_on_the_plan_with_its_size_or_in_the_list(name: str) -> None:
    view = view_of(name)
    picture = desk_plan(view)
    told = " ".join([label.text for label in picture.labels] + list(picture.notes)).replace("\u00a0", " ")
    for zone in view.zones:
        for row in zone.branches:
            size = row.diameter_m / 0.0254 if view.units == System.US.value else row.diameter_m * 1000
            assert re.search(rf"{row.tag} (\d+ × )?{size:.0f}", told), row.tag
    for room in view.plan.rooms:
        assert room.name in told.replace(" / ", " ")


def test_the_path_ends_at_what_is_spare_and_at_the_pillow() -> None:
    for zone in view_of("ranch").zones:
        sheet = next(one for one in zone.sound if one.speed == "high")
        found = columns(zone, sheet)
        assert sum(column.pressure_pa for column in found) == pytest.approx(zone.static_pa - _branch_total(zone))
        assert found[-1].after_dba == pytest.approx(sheet.level_dba)
        words = "".join(element.text or "" for element in ElementTree.fromstring(_path(zone)).iter(f"{SPACE}text"))
        assert "spare" in words
        assert "advice 30" in words


def _branch_total(zone: object) -> float:
    """The longest branch is drawn by its parts, so the sum of columns is the static itself."""
    parts = {part.part: part.pressure_pa for part in (*zone.static, *zone.branch_parts)}  # type: ignore[attr-defined]
    known = sum(parts[part.part] for part in zone.branch_parts)  # type: ignore[attr-defined]
    return parts["longest branch"] - known


def _path(zone: object) -> str:
    return air_path(view_of("ranch"), zone).svg  # type: ignore[arg-type]


def test_a_short_static_hangs_below_zero() -> None:
    zone = view_of("ranch").zones[0]
    short = zone.model_copy(update={"available_pa": 0.8 * zone.static_pa})
    words = "".join(element.text or "" for element in ElementTree.fromstring(_path(short)).iter(f"{SPACE}text"))
    assert "short" in words
    assert "too little" in words


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("width_px", [640.0, 760.0, 880.0, 1000.0])
def test_names_along_the_air_path_keep_apart_at_every_width(width_px: float, language: str) -> None:
    for zone in view_of("ranch").zones:
        places = boxes(air_path(view_of("ranch"), zone, width_px, words_for(language)))
        for (one, first), (other, second) in combinations(places, 2):
            assert not first.meets(second), (one, other)
        assert all(box.x0 >= -0.5 and box.x1 <= width_px + 0.5 for _, box in places)


def test_si_drawings_are_in_millimetres_and_pascals() -> None:
    view = view_of("ranch").model_copy(update={"units": System.SI.value})
    picture = desk_plan(view)
    told = " ".join(label.text for label in picture.labels)
    assert " in." not in told.replace("\u00a0", " ")
    assert "mm" in told
    _check(picture)


@pytest.mark.parametrize(
    ("one", "other", "cross"),
    [
        (((0, 0), (2, 2)), ((0, 2), (2, 0)), True),
        (((0, 0), (1, 1)), ((2, 0), (3, 1)), False),
        (((0, 0), (1, 0)), ((0.5, 0), (0.5, 1)), False),
    ],
)
def test_crossing_lines(one: tuple[object, object], other: tuple[object, object], cross: bool) -> None:
    """By hand: two diagonals cross, two parallels do not, a touch is none."""
    assert segments_cross(one, other) is cross  # type: ignore[arg-type]


@pytest.mark.browser
@pytest.mark.parametrize("name", NAMES)
def test_the_browser_clips_no_text_and_lets_none_meet(name: str) -> None:
    """Outside check: chromium's own boxes of every text, less the empty space above capitals and below the line."""
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("no chromium")
    from playwright.sync_api import sync_playwright

    script = """() => [...document.querySelectorAll('svg text')].map(t => {
        const b = t.getBoundingClientRect(), s = parseFloat(t.getAttribute('font-size'));
        const o = t.ownerSVGElement.getBoundingClientRect();
        const y = o.top + parseFloat(t.getAttribute('y'));
        const left = b.left - o.left, top = y - o.top - 0.70 * s;
        return [t.textContent, left, top, b.right - o.left, y - o.top, o.width, o.height]})"""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1100, "height": 900})
        for svg in air_drawings(view_of(name)).values():
            page.set_content(f"<style>{embedded_css()} text {{stroke: none}}</style>{svg}")
            page.evaluate("() => document.fonts.ready.then(() => 1)")
            found = page.evaluate(script)
            for text, x0, _, x1, y, width, height in found:
                assert x0 >= -0.5, text
                assert x1 <= width + 0.5, text
                assert y <= height, text
            for one, other in combinations(found, 2):
                assert _area(Box(*one[1:5]), Box(*other[1:5])) < 1.0, (one, other)
        browser.close()
