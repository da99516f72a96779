"""The survey in a real browser with touch: a type adapted, rooms drawn, doors and windows tapped, habits set, saved.

No console error and no outside request may happen (fixture of the page tests).
"""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from compare.house.geometry import plan_of
from compare.house.reading import read_house
from dashboard.survey.app import SURVEY, SurveyPages
from dashboard.survey.work import Survey
from tests.dashboard.conftest import settle

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SCREENS = ((1280, 800), (1024, 1366), (390, 844), (320, 700))


@pytest.fixture
def folder(tmp_path: Path, scenarios: Path) -> Path:
    shutil.copy(scenarios / "ranch.toml", tmp_path)
    shutil.copy(scenarios / "colonial.toml", tmp_path)
    return tmp_path


class Page:
    """What a surveyor does on the page."""

    def __init__(self, page: Any, compared: list[Path]) -> None:
        self.page, self.compared = page, compared

    def settle(self) -> None:
        settle(self.page)
        self.page.wait_for_function("() => !document.querySelector('#head')?.innerText.includes('…')")
        settle(self.page)

    def tap(self, name: str, *, exact: bool = True) -> None:
        self.page.get_by_role("button", name=name, exact=exact).first.tap()
        self.settle()

    def at(self, x_u: float, y_u: float) -> tuple[float, float]:
        """A point of the plan on the screen, by the corners of two rooms that are drawn."""
        box = self.page.locator(".board-picture").bounding_box()
        frame = self.page.evaluate(
            """() => [...document.querySelectorAll('.room')].map(n => [n.getBBox(), n.getAttribute('aria-label')])
            .map(([b, l]) => [b.x, b.y, b.width, b.height, l])"""
        )
        x, y, wide, high, label = frame[0]
        size = [float(part) for part in label.split(", ")[-1].replace(" ft", "").split(" by ")]
        name = label.split(", ")[0]
        corner = next(room["at"] for room in self.draft()["room"] if room["name"] == name)
        px = wide / size[0]
        return box["x"] + x + (x_u - corner[0]) * px, box["y"] + y + high - (y_u - corner[1]) * px

    def draft(self) -> dict[str, Any]:
        return tomllib.loads(self.text())

    text: Callable[[], str]

    def touch(self, x_u: float, y_u: float) -> None:
        self.page.touchscreen.tap(*self.at(x_u, y_u))
        self.settle()

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        a, b = self.at(*start), self.at(*end)
        self.page.mouse.move(*a)
        self.page.mouse.down()
        self.page.mouse.move((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        self.page.mouse.move(*b)
        self.page.mouse.up()
        self.settle()

    def fill(self, label: str, value: str) -> None:
        box = self.page.get_by_label(label, exact=True).first
        box.fill(value)
        box.blur()
        self.settle()


@pytest.fixture
def survey(open_page: Any, folder: Path) -> Callable[..., Page]:
    def open_it(path: str = "", width: int = 1280, height: int = 800) -> Page:
        compared: list[Path] = []

        def compare(file: Path) -> str:
            compared.append(file)
            return "/desk/"

        pages = SurveyPages(Survey(folder, compare))
        _with_looks(pages)
        wait = ".board svg" if path else ".house-row"
        page = open_page(pages.app, width, height, wait=wait, path=f"{SURVEY.lstrip('/')}/{path}")
        found = Page(page, compared)
        survey_ = pages.survey

        def text() -> str:
            return next(iter(survey_._open.values())).draft.text

        found.text = text  # type: ignore[method-assign]
        return found

    return open_it


def _with_looks(pages: SurveyPages) -> None:
    """Fonts, colours and shared scripts, which the site serves beside the survey."""
    import flask

    from dashboard import tokens

    server = pages.app.server
    server.add_url_rule("/look/tokens.css", "colours", lambda: flask.Response(tokens.tokens_css(), mimetype="text/css"))
    server.add_url_rule("/look/fonts.css", "fonts", lambda: flask.Response("", mimetype="text/css"))
    server.add_url_rule("/assets/<path:name>", "asset", lambda name: flask.send_from_directory("../assets", name))


def test_a_type_is_adapted_drawn_on_and_saved(survey: Any, folder: Path) -> None:
    one = survey()
    page = one.page
    page.get_by_label("One floor, three bedrooms, 1,248 ft²").tap()
    page.get_by_label("Begin this house: Name of the house").fill("Smith house")
    page.get_by_label("Begin this house: ZIP code").fill("27401")
    page.get_by_label("Begin this house: Year built").fill("1962")
    page.get_by_role("button", name="Begin this house").tap()
    page.wait_for_selector(".board svg")
    one.settle()
    assert "1,248" in page.inner_text("h1")
    before = page.inner_text("h1")

    page.get_by_role("button", name="Bedroom 3, 15 by 11 ft").focus()
    page.keyboard.press("Enter")
    one.settle()
    page.locator("#card").get_by_label("Name", exact=True).fill("Nursery")
    page.keyboard.press("Enter")
    one.settle()
    assert [room["name"] for room in one.draft()["room"]].count("Nursery") == 1
    assert ["Hall", "Nursery"] in [door.get("between") for door in one.draft()["door"]]

    one.tap("Draw a room")
    page.get_by_label("What it is").select_option("work")
    one.settle()
    one.drag((20.1, 26.2), (26.0, 35.9))
    study = one.draft()["room"][-1]
    assert (study["use"], study["at"], study["size"]) == ("work", [20, 26], [6, 10])
    assert page.inner_text("h1") != before

    one.tap("Window")
    one.touch(26.0, 31.0)
    assert one.draft()["window"][-1] == {"room": "Office", "wall": "E", "width": 3, "height": 4}
    one.tap("Door")
    one.touch(23.0, 26.0)
    door = one.draft()["door"][-1]
    assert door["between"] in (["Laundry", "Office"], ["Office", "Laundry"])
    page.locator("#card").get_by_role("radiogroup", name="At night").get_by_text("open", exact=True).tap()
    one.settle()
    assert one.draft()["door"][-1]["night"] == "open"

    one.tap("Draw a room")
    one.drag((40.0, 20.0), (55.0, 24.0))
    assert "to mend" in page.inner_text("h1")
    assert "verlaps" in page.inner_text("#mend")
    one.tap("Undo")
    assert "to mend" not in page.inner_text("h1"), page.inner_text("#mend") + page.inner_text("#head")

    one.tap("Save the house")
    plan = plan_of(read_house(folder / "smith_house.toml"))
    assert {"Nursery", "Office"} <= {room.name for room in plan.rooms}
    one.tap("Compare layouts for this house")
    assert one.compared == [folder / "smith_house.toml"]
    assert page.get_by_role("link", name="See the comparison").get_attribute("href") == "/desk/"


def test_a_wall_is_pulled_by_its_handle_and_the_load_follows(survey: Any) -> None:
    one = survey("#ranch.toml")
    one.settle()
    before = one.page.inner_text("h1")
    one.touch(43.0, 16.0)
    assert one.page.locator(".handle").count() == 4
    one.drag((40.0, 26.0), (40.0, 29.1))
    rooms = {room["name"]: room for room in one.draft()["room"]}
    assert rooms["Bedroom 1"]["size"] == [12, 14.5]
    assert one.page.inner_text("h1") != before
    one.drag((41.5, 24.0), (43.0, 24.0))
    rooms = {room["name"]: room for room in one.draft()["room"]}
    assert rooms["Bedroom 1"]["at"] == [35.5, 14.5]
    assert one.page.get_by_text("not saved", exact=True).count() == 1


def test_things_are_dragged_to_other_walls_and_rooms_and_arrows_move_a_room(survey: Any) -> None:
    one = survey("#ranch.toml")
    window = next(k for k, item in enumerate(one.draft()["window"]) if (item["room"], item["wall"]) == ("Bath", "N"))
    one.touch(30.5, 26.0)
    assert one.page.locator("#card h2").inner_text() == "Window in Bath, top wall"
    one.drag((30.5, 26.0), (46.0, 17.0))
    assert (one.draft()["window"][window]["room"], one.draft()["window"][window]["wall"]) == ("Bedroom 1", "E")
    one.touch(24.5, 5.0)
    assert one.page.locator("#card h2").inner_text() == "Bed in Bedroom 2"
    one.drag((24.5, 5.0), (38.0, 4.0))
    assert one.draft()["bed"][1]["room"] == "Bedroom 3"
    room = one.page.locator('.room[data-ref="room.6"]')
    room.focus()
    one.page.keyboard.press("Enter")
    one.settle()
    one.page.keyboard.press("ArrowDown")
    one.settle()
    assert one.draft()["room"][6]["at"] == [34, -0.5]
    one.page.keyboard.press("Control+z")
    one.settle()
    assert one.draft()["room"][6]["at"] == [34, 0]


def test_keyboard_alone_enters_a_house(survey: Any, folder: Path) -> None:
    one = survey()
    page, keys = one.page, one.page.keyboard

    def to(label: str) -> None:
        for _ in range(400):
            keys.press("Tab")
            here = page.evaluate(
                "() => document.activeElement.getAttribute('aria-label') || document.activeElement.innerText"
            )
            if here == label:
                return
        raise AssertionError(label)

    to("Small unit behind a house, 624 ft²")
    keys.press("ArrowUp")
    to("Begin this house: Name of the house")
    keys.type("Hut")
    to("Begin this house: ZIP code")
    keys.type("27401")
    to("Begin this house")
    keys.press("Enter")
    page.wait_for_selector(".board svg")
    one.settle()
    to("Rooms")
    keys.press("Enter")
    for use, wide, deep in (("Living", "16", "14"), ("Bedroom", "12 ft 6 in", "14")):
        to("Add the room: Used as")
        keys.type(use)
        to("Add the room: Width, ft")
        keys.type(wide)
        to("Add the room: Depth, ft")
        keys.type(deep)
        keys.press("Enter")
        one.settle()
    assert [room["size"] for room in one.draft()["room"]] == [[16, 14], [12.5, 14]]
    keys.press("Control+Home")
    page.evaluate("() => document.activeElement.blur()")
    to("Save the house")
    keys.press("Enter")
    one.settle()
    assert (folder / "hut.toml").exists()


def test_faults_stand_beside_their_fields_and_lead_there(survey: Any) -> None:
    one = survey("#ranch.toml")
    one.page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true; })")
    box = one.page.locator('[data-field="window.0.area"]')
    box.fill("9000")
    box.blur()
    one.settle()
    assert "One thing to mend" in one.page.inner_text("#mend")
    fault = one.page.locator(".field.faulty .field-fault")
    assert "between 0.5 ft² and 400 ft²" in fault.inner_text()
    assert box.get_attribute("aria-invalid") == "true"
    assert box.get_attribute("aria-describedby") == fault.get_attribute("id")
    one.page.locator("#mend .mend").tap()
    assert one.page.evaluate("() => document.activeElement.getAttribute('data-field')") == "window.0.area"


def test_another_hand_on_the_file_is_told(survey: Any, folder: Path) -> None:
    one = survey("#ranch.toml")
    one.page.locator("summary", has_text="House and place").tap()
    one.fill("People", "3")
    (folder / "ranch.toml").write_text((folder / "ranch.toml").read_text() + "# by hand\n")
    one.tap("Save the house")
    assert "changed by somebody else" in one.page.inner_text("#head")
    one.page.get_by_label("Save under this name: File name").fill("ranch visit")
    one.page.get_by_role("button", name="Save under this name").tap()
    one.settle()
    assert (folder / "ranch visit.toml").exists()
    assert (folder / "ranch.toml").read_text().endswith("# by hand\n")


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_nothing_runs_over_the_edge_and_targets_are_large(survey: Any, width: int, height: int) -> None:
    one = survey("#colonial.toml", width, height)
    one.page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true; })")
    one.page.locator(".room").first.focus()
    one.page.keyboard.press("Enter")
    one.settle()
    assert one.page.evaluate("() => document.documentElement.scrollWidth") == width
    small = one.page.evaluate(
        """() => [...document.querySelectorAll(
            'button, a[href], summary, select, input:not([type=radio]), textarea, .stop-cell')]
        .filter(p => p.offsetParent !== null)
        .map(p => [p.textContent.slice(0, 30), p.getBoundingClientRect().height])
        .filter(([, h]) => h < 43.9)"""
    )
    assert small == []  # 44 CSS px: WCAG 2.2, success criterion 2.5.5
    unnamed = one.page.evaluate(
        """() => [...document.querySelectorAll('input:not([type=radio]), select, textarea, .hit[role=button]')]
        .filter(p => !p.getAttribute('aria-label')).length"""
    )
    assert unnamed == 0  # WCAG 2.2, success criterion 4.1.2
