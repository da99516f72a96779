"""Trying things at the table in a browser with a touch screen: compare, undo, numbers, photo, stop, looks, paper."""

from __future__ import annotations

import struct
import zlib
from typing import Any

import pytest

from dashboard.session import Pending
from tests.dashboard.conftest import settle
from tests.dashboard.double import SampleSource

pytestmark = pytest.mark.browser
WIDE, HIGH = 400, 300
DOOR_TOP, DOOR_FOOT = 0.2, 0.9
TARGET_PX = 44.0
"""WCAG 2.2, 2.5.5 (target size, enhanced)."""


def picture() -> bytes:
    """A grey PNG (ISO/IEC 15948), written by hand."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + b"\xc8\xbe\xb4" * WIDE for _ in range(HIGH))
    head = struct.pack(">IIBBBBB", WIDE, HIGH, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def tap(page: Any, what: str) -> None:
    page.locator(f"[data-tap='{what}']").first.tap()
    settle(page)


def tap_photo(page: Any, x: float, y: float) -> None:
    box = page.locator(".wall-top").bounding_box()
    page.touchscreen.tap(box["x"] + x * box["width"], box["y"] + y * box["height"])
    page.wait_for_timeout(80)


def with_photo(page: Any) -> None:
    tap(page, "panel:wall")
    page.set_input_files(".wall input[type=file]", {"name": "wall.png", "mimeType": "image/png", "buffer": picture()})
    page.wait_for_selector(".wall-top")
    page.evaluate("() => document.querySelector('.wall-sheet').scrollIntoView({block: 'center'})")


def rectangle(page: Any) -> dict[str, float]:
    names = ("x", "y", "width", "height")
    return {name: float(page.locator(".wall-unit rect").get_attribute(name)) for name in names}


@pytest.mark.parametrize(("width", "height"), [(1024, 1366), (390, 844)])
def test_two_cards_are_compared_side_by_side(open_page: Any, app: Any, width: int, height: int) -> None:
    page = open_page(app, width, height)
    for name in ("The mix", "Wall unit and room heaters"):
        page.locator(".card", has_text=name).first.locator(".pick").tap()
        settle(page)
    assert page.locator(".beside-table thead svg").count() == 2
    assert "Where the mix is better" in page.inner_text(".betters")
    assert "It costs $9,000 less than the mix." in page.inner_text(".betters")
    assert page.evaluate("() => document.documentElement.scrollWidth") == width
    box = page.locator(".panel-inside").bounding_box()
    assert -1.0 <= box["y"] < height
    small = page.evaluate(
        "() => [...document.querySelectorAll('.panel button, .pick')].map(b => b.getBoundingClientRect())"
        ".filter(r => r.width && (r.width < 43.9 || r.height < 43.9)).length"
    )
    assert small == 0
    page.locator(".panel-head .button").tap()
    settle(page)
    assert page.locator(".panel-inside").count() == 0


def test_undo_takes_back_a_priority_and_moves_its_control(open_page: Any, app: Any) -> None:
    page = open_page(app)
    before = page.inner_text("h1")
    row = page.locator(".stops", has_text="Lower price")
    word = row.locator(".stops-word").inner_text()
    row.locator(".stop").nth(4).tap()
    settle(page)
    assert page.inner_text("h1") != before
    undo = page.locator("[data-tap='undo:now']")
    assert undo.inner_text().split("\n") == ["Undo", "lower price, most of all"]
    undo.tap()
    settle(page)
    page.wait_for_function("word => document.querySelectorAll('.stops-word')[2].textContent === word", arg=word)
    assert page.inner_text("h1") == before
    settle(page)
    assert page.locator("[data-tap='undo:now']").count() == 0
    tap(page, "redo:now")
    assert page.inner_text("h1") != before
    assert row.locator(".stops-word").inner_text() == "most of all"


def test_numbers_are_stepped_typed_and_refused_in_words(open_page: Any, app: Any) -> None:
    page = open_page(app)
    tap(page, "panel:numbers")
    page.get_by_role("button", name="Heat to: less").tap()
    settle(page)
    assert "69\u00a0°F" in page.locator(".habits").inner_text()
    field = page.get_by_role("textbox", name="Price of electricity, ¢")
    field.fill("31.5")
    field.press("Enter")
    settle(page)
    assert "31.5¢" in page.locator(".habits").inner_text()
    assert "electricity costs 31.5¢" in page.inner_text(".change")
    field.fill("4000")
    field.press("Enter")
    settle(page)
    assert "From 3 to 95 ¢." in page.locator(".steppers").inner_text()
    assert "31.5¢" in page.locator(".habits").inner_text()


def test_a_photo_shows_the_unit_to_scale_and_never_leaves_the_browser(open_page: Any, app: Any) -> None:
    page = open_page(app)
    sent: list[int] = []
    page.on("request", lambda request: sent.append(len(request.post_data_buffer or b"")))
    with_photo(page)
    tap_photo(page, 0.3, DOOR_TOP)
    tap_photo(page, 0.3, DOOR_FOOT)
    # 80 in. between the marks and a unit of 32 x 11 in., so the rectangle is in these parts of the marked height
    marked_px = (DOOR_FOOT - DOOR_TOP) * HIGH
    drawn = rectangle(page)
    assert drawn["width"] == pytest.approx(marked_px * 32.0 / 80.0, rel=0.02)
    assert drawn["height"] == pytest.approx(marked_px * 11.0 / 80.0, rel=0.02)
    page.get_by_label("Height between the marks").fill("160")
    assert rectangle(page)["width"] == pytest.approx(0.5 * drawn["width"], rel=0.01)
    page.get_by_label("Height between the marks").fill("4")
    assert "Give a height from 6 to 240 in." in page.inner_text(".wall-told")
    page.get_by_label("Height between the marks").fill("80")
    assert "stays on this device" in page.inner_text(".wall")
    assert max(sent, default=0) < 8000
    assert open_page.watched.outside == []


def test_the_unit_on_the_photo_is_dragged_and_moved_by_keys(open_page: Any, app: Any) -> None:
    page = open_page(app)
    with_photo(page)
    page.get_by_role("button", name="Set the marks with the keys").tap()
    first = rectangle(page)
    box = page.locator(".wall-unit rect").bounding_box()
    page.mouse.move(box["x"] + 8, box["y"] + 8)
    page.mouse.down()
    page.mouse.move(box["x"] + 48, box["y"] + 38, steps=4)
    page.mouse.up()
    dragged = rectangle(page)
    assert dragged["x"] > first["x"]
    assert dragged["y"] > first["y"]
    page.locator(".wall-unit").focus()
    page.keyboard.press("ArrowLeft")
    assert rectangle(page)["x"] < dragged["x"]
    page.locator(".wall-mark").first.focus()
    page.keyboard.press("Shift+ArrowDown")
    assert rectangle(page)["width"] < dragged["width"]
    tap(page, "show:each")
    assert page.locator(".wall-top").count() == 1  # the photo stays while another layout is looked at
    tap(page, "panel:")
    tap(page, "panel:wall")
    assert page.locator(".wall-unit rect").count() == 1


def test_what_is_no_picture_is_told(open_page: Any, app: Any) -> None:
    page = open_page(app)
    tap(page, "panel:wall")
    page.set_input_files(".wall input[type=file]", {"name": "a.png", "mimeType": "image/png", "buffer": b"no picture"})
    page.wait_for_function("() => document.querySelector('.wall-told').textContent.startsWith('This file')")


def test_a_long_answer_can_be_stopped(open_page: Any, app: Any, source: SampleSource) -> None:
    page = open_page(app)
    before = page.inner_text("h1")
    source.slow = Pending(11, 24, 3.0)
    page.locator(".toggle", has_text="Bedroom doors shut").tap()
    page.wait_for_selector(".work-told")
    assert "11 of 24 done. About 3 seconds left." in page.inner_text(".work")
    assert page.inner_text("h1") == before
    page.locator("[data-tap='stop:now']").tap()
    page.wait_for_selector(".work-told", state="detached")
    page.wait_for_function("() => document.querySelector('.toggle input').checked")
    source.slow = None
    settle(page)
    assert page.inner_text("h1") == before
    assert page.locator("[data-tap='undo:now']").count() == 0


def test_a_long_answer_comes_by_itself(open_page: Any, app: Any, source: SampleSource) -> None:
    page = open_page(app)
    source.slow = Pending(11, 24, 3.0)
    page.locator(".toggle", has_text="Bedroom doors shut").tap()
    page.wait_for_selector(".work-told")
    source.slow = None
    page.wait_for_selector(".work-told", state="detached")
    assert "doors stand open" in page.inner_text(".change")


def test_the_page_follows_the_device_until_a_look_is_chosen_and_paper_is_light(open_page: Any, app: Any) -> None:
    page = open_page(app)
    ground = "() => getComputedStyle(document.body).backgroundColor"
    wall = "() => getComputedStyle(document.querySelector(\"#plan .house [stroke^='var(--wall']\")).stroke"
    light = page.evaluate(ground), page.evaluate(wall)
    page.emulate_media(color_scheme="dark")
    page.wait_for_selector("html[data-mantine-color-scheme=dark]")
    dark = page.evaluate(ground), page.evaluate(wall)
    assert dark[0] != light[0]
    assert dark[1] != light[1]  # the picture follows without being drawn again
    tap(page, "look:light")
    assert (page.evaluate(ground), page.evaluate(wall)) == light
    tap(page, "look:dark")
    page.emulate_media(color_scheme="light")
    settle(page)
    assert (page.evaluate(ground), page.evaluate(wall)) == dark
    page.emulate_media(media="print")
    assert page.evaluate(wall) == light[1]
    hidden = page.evaluate(
        "() => ['#buttons', '.units', '.scenes-place', '.pick', '.show', '.row-button']"
        ".filter(one => [...document.querySelectorAll(one)].some(part => part.getClientRects().length))"
    )
    assert hidden == []
    assert page.locator(".card .loss").first.is_visible()


@pytest.mark.parametrize("open_it", ["", "panel:numbers", "panel:wall", "compare"])
def test_nothing_runs_over_the_edge_at_320_px(open_page: Any, app: Any, open_it: str) -> None:
    # WCAG 2.2, 1.4.10 (reflow): no scrolling in two directions at a width of 320 CSS px
    page = open_page(app, 320, 800)
    if open_it == "compare":
        tap(page, "beside:mix")
        tap(page, "beside:heaters")
    elif open_it:
        tap(page, open_it)
    assert page.evaluate("() => document.documentElement.scrollWidth") == 320
