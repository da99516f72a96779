"""The desk in a real browser: what a designer does; no console error and no outside request (fixture)."""

from __future__ import annotations

from typing import Any

import pytest

from compare.scoring.certainty import Certainty, Verdict
from dashboard.desk.study import Stage, Study, Trial
from tests.dashboard.conftest import settle

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SCREENS = ((1440, 900), (1280, 800), (1024, 1366), (390, 844))
READY = "#left .part"


@pytest.fixture
def desk(open_page: Any, desk_app: Any) -> Any:
    def open_desk(width: int = 1440, height: int = 900) -> Any:
        page = open_page(desk_app, width, height, wait=READY, path="desk/")
        page.wait_for_selector("#hours .main-svg")
        page.wait_for_selector("#set table")
        settle(page)
        return page

    return open_desk


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_nothing_runs_over_the_edge(desk: Any, width: int, height: int) -> None:
    page = desk(width, height)
    assert page.evaluate("() => document.documentElement.scrollWidth") == width
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, a[href], summary, .toggle')]
        .filter(p => p.offsetParent !== null)
        .map(p => [p.textContent, p.getBoundingClientRect().width, p.getBoundingClientRect().height])
        .filter(([, , h]) => h < 43.9)"""
    )
    assert small == []  # 44 CSS px: WCAG 2.2, success criterion 2.5.5


def test_first_screen_holds_sentence_plan_and_chart(desk: Any) -> None:
    page = desk()
    assert page.inner_text("h1").endswith("of 100 hours.")
    for part in ("#plan svg", "#need svg"):
        assert page.locator(part).first.bounding_box()["y"] < 700.0
    fonts = page.evaluate("() => [...document.fonts].filter(f => f.status === 'loaded').map(f => f.family)")
    assert {"Literata", "Figtree"} <= {name.strip('"') for name in fonts}


def test_another_layout_opens_from_the_row_and_from_the_table(desk: Any) -> None:
    page = desk()
    before = page.inner_text("h1")
    changed = "(old) => document.querySelector('h1').innerText !== old"
    page.locator("#options button[aria-pressed=false]").first.tap()
    page.wait_for_function(changed, arg=before)
    settle(page)
    second = page.inner_text("h1")
    page.locator("#set .open[aria-pressed=false]").last.tap()
    page.wait_for_function(changed, arg=second)
    settle(page)
    assert page.locator("#set .open[aria-pressed=true]").count() == 1


def test_a_tap_on_a_mark_of_the_chart_opens_its_layout(desk: Any) -> None:
    page = desk()
    before = page.inner_text("h1")
    spot = page.locator("#pareto .points path").last
    spot.scroll_into_view_if_needed()
    box = spot.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.wait_for_function("(old) => document.querySelector('h1').innerText !== old", arg=before)


def test_filter_order_and_those_left_out(desk: Any, ranch_study: Study) -> None:
    page = desk()
    rows = page.locator("#set tbody tr")
    alive = sum(bool(item.place) for item in ranch_study.ranking.ranked)
    assert rows.count() == alive
    page.locator("#all .toggle").tap()
    settle(page)
    assert rows.count() == len(ranch_study.ranking.ranked)
    page.get_by_label("Installed at most").fill("9000")
    page.wait_for_function("(n) => document.querySelectorAll('#set tbody tr').length < n", arg=alive)
    page.locator("#family").click()
    page.get_by_role("option", name="One", exact=False).first.click()
    settle(page)
    assert rows.count() < alive


def test_hours_of_another_room_and_week(desk: Any, ranch_study: Study) -> None:
    page = desk()
    name = ranch_study.found.case.plan.rooms[1].name
    page.locator("#room").click()
    page.get_by_role("option", name=name, exact=True).click()
    settle(page)
    page.locator("#week").click()
    page.get_by_role("option", name="Hottest week").click()
    settle(page)
    page.wait_for_function("(n) => document.querySelector('#week-words').innerText.includes(n)", arg=name)
    assert page.locator("#hours .main-svg").count() >= 1
    assert page.locator("#days tbody tr").count() == 7


def test_units_change_everywhere(desk: Any) -> None:
    page = desk()
    page.get_by_text("°C", exact=True).tap()
    settle(page)
    for part in ("#left", "#set", "#week-words", "#below"):
        told = page.inner_text(part)
        assert "°F" not in told
        assert "ft³/min" not in told


def test_how_sure_is_tested_on_request(desk: Any, ranch_study: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    first = ranch_study.first

    def run(self: Study) -> None:
        sure = Certainty(Verdict.LIKELY, 3.5, (first,), 200, 0.71, (), ((first, 70.0, 85.0),))
        self._put(Trial(Stage.DONE, sure))

    monkeypatch.setattr(Study, "_run", run)
    page = desk()
    try:
        page.get_by_text("Test how sure this is").tap()
        page.wait_for_function("() => document.querySelector('#sure').innerText.includes('71 of 100')")
        assert "No single change" in page.inner_text("#sure")
    finally:
        ranch_study._tested = Trial()


def test_keyboard_and_names(desk: Any) -> None:
    page = desk()
    page.locator("#options button").nth(1).focus()
    page.keyboard.press("Enter")
    settle(page)
    assert page.evaluate("() => document.activeElement.getAttribute('data-tap')").startswith("open:")
    assert page.locator("h1").count() == 1
    assert page.locator("#plan svg[role=img]").get_attribute("aria-label")
    assert page.evaluate("() => [...document.querySelectorAll('th')].every(th => th.scope)")


def test_the_way_between_table_and_desk(open_page: Any, desk_app: Any) -> None:
    page = open_page(desk_app)
    page.get_by_text("To the desk").tap()
    page.wait_for_selector(READY)
    page.get_by_text("To the table").tap()
    page.wait_for_selector(".card")
