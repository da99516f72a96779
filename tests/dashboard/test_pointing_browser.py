"""Pointing at the plan in a real browser with touch: a unit on a wall, a sofa tapped and dragged, keys alone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house
from compare.pipeline import compare_house
from dashboard.table.app import make_app
from tests.dashboard.conftest import settle
from tests.dashboard.real import real_source

pytestmark = pytest.mark.browser

HOUSE = "accessory_unit.toml"
TARGET_PX = 44.0
"""WCAG 2.2, success criterion 2.5.5 (target size, enhanced): 44 by 44 CSS px."""
SCREENS = ((1024, 1366), (1280, 800), (390, 844))
TOOLS = "() => [...document.querySelectorAll('.tools button, .pointed button, .chooser select')]"
SIZES = TOOLS + ".map(part => [part.getBoundingClientRect().width, part.getBoundingClientRect().height])"
OVER_PICTURE = """() => {
  const glass = document.querySelector('.glass svg').getBoundingClientRect();
  const picture = document.querySelector('.house-place .drawing svg').getBoundingClientRect();
  return ['left', 'top', 'right', 'bottom'].map(side => Math.abs(glass[side] - picture[side]));
}"""


@pytest.fixture(scope="module")
def pointed_app(scenarios: Path) -> Any:
    return make_app(real_source(scenarios / HOUSE, compare_house(read_house(scenarios / HOUSE), scenarios)))


def waited(page: Any) -> None:
    """Wait until nothing is worked out any more."""
    settle(page)
    page.wait_for_function("() => !document.querySelector('#work').children.length")
    settle(page)


def tap(page: Any, what: str) -> None:
    page.locator(f"[data-tap='{what}']").first.tap()
    waited(page)


def tap_plan(page: Any, across: float, down: float) -> None:
    box = page.locator(".house-place").bounding_box()
    page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + down * box["height"])
    waited(page)


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_a_unit_is_hung_where_the_plan_is_tapped(open_page: Any, pointed_app: Any, width: int, height: int) -> None:
    page = open_page(pointed_app, width, height)
    advice = page.inner_text("h1")
    tap(page, "tool:wall")
    assert "Tap a wall" in page.inner_text(".pointed .says")
    assert max(page.evaluate(OVER_PICTURE)) < 1.5
    tap_plan(page, 0.08, 0.5)
    assert "wall of" in page.inner_text("#plan h2")
    first = page.inner_text(".pointed .stroke")
    assert "Installed, about $" in first or "Not on this wall" in first
    assert page.inner_text("h1") == advice
    tap_plan(page, 0.9, 0.5)
    assert page.inner_text(".pointed .stroke") != first
    small = [size for size in page.evaluate(SIZES) if min(size) < TARGET_PX - 0.01]
    assert small == []
    assert page.evaluate("() => document.documentElement.scrollWidth") == width
    tap(page, "tool:off")
    assert page.locator(".glass").count() == 0


def test_a_sofa_is_tapped_to_another_place_and_put_back(open_page: Any, pointed_app: Any) -> None:
    page = open_page(pointed_app)
    cards = page.inner_text("#cards")
    tap(page, "tool:seat")
    piece = page.locator(".glass-piece").first.bounding_box()
    page.touchscreen.tap(piece["x"] + piece["width"] / 2, piece["y"] + piece["height"] / 2)
    waited(page)
    assert "Now tap where it should stand" in page.inner_text(".pointed .says")
    tap_plan(page, 0.16, 0.8)
    assert "stands" in page.inner_text(".change")
    assert page.locator(".moved-row").count() == 1
    stood = page.locator(".glass-piece").first.bounding_box()
    assert abs(stood["x"] - piece["x"]) + abs(stood["y"] - piece["y"]) > 5.0
    page.locator(".moved-row button").tap()
    waited(page)
    assert page.locator(".moved-row").count() == 0
    assert page.inner_text("#cards") == cards


def test_a_sofa_is_dragged_with_its_ghost(open_page: Any, pointed_app: Any) -> None:
    page = open_page(pointed_app)
    tap(page, "tool:seat")
    box = page.locator(".glass-piece").first.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y + 30, steps=4)
    ghost = page.locator(".glass-piece").first.bounding_box()
    assert abs(ghost["x"] - box["x"] - 40) < 2.0
    page.mouse.up()
    waited(page)
    assert "stands" in page.inner_text(".change")
    stood = page.locator(".glass-piece").first.bounding_box()
    assert abs(stood["x"] - box["x"]) + abs(stood["y"] - box["y"]) > 5.0


def test_keys_alone_try_a_wall_and_move_a_bed(open_page: Any, pointed_app: Any) -> None:
    page = open_page(pointed_app, 1280, 800)
    page.locator("[data-tap='tool:wall']").focus()
    page.keyboard.press("Enter")
    waited(page)
    page.get_by_label("Or choose a wall").focus()
    page.keyboard.press("ArrowDown")
    waited(page)
    first = page.inner_text("#plan h2")
    assert "wall of" in first
    page.keyboard.press("ArrowDown")
    waited(page)
    assert "wall of" in page.inner_text("#plan h2") != first
    assert page.evaluate("() => document.activeElement.tagName") == "SELECT"
    page.locator("[data-tap='tool:seat']").focus()
    page.keyboard.press("Enter")
    waited(page)
    pieces = page.get_by_label("Bed or seat")
    pieces.focus()
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    waited(page)
    page.get_by_label("Place").focus()
    page.keyboard.press("ArrowDown")
    waited(page)
    assert page.locator(".moved-row").count() == 1
    assert page.locator(".pointed [role=status]").count() == 1
