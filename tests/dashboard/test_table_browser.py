"""The table page in a real browser with touch: what a family does, and what every screen must hold."""

from __future__ import annotations

from typing import Any

import pytest

from dashboard.session import Empty, Failed, Fault, Working
from dashboard.table.app import make_app
from tests.dashboard.conftest import settle

pytestmark = pytest.mark.browser

TARGET_PX = 44.0
"""WCAG 2.2, success criterion 2.5.5 (target size, enhanced): 44 by 44 CSS px."""
SCREENS = ((1024, 1366), (1280, 800), (390, 844))

CARD_ORDER = "() => [...document.querySelectorAll('.card h3')].map(name => name.textContent)"
TARGETS = """() => [...document.querySelectorAll('button, a[href], label, .stop input, [role=switch]')]
  .filter(part => part.offsetParent !== null)
  .map(part => [part.className || part.tagName, part.textContent, part.closest('label') || part])
  .map(([kind, text, part]) => [kind, text, part.getBoundingClientRect().width, part.getBoundingClientRect().height])"""


def sentence(page: Any) -> str:
    return page.inner_text("h1")


def test_page_shows_answer_plan_and_five_cards(open_page: Any, app: Any) -> None:
    page = open_page(app)
    assert sentence(page) == "One wall unit for the open space, a hidden one for the bedrooms."
    assert page.locator(".card").count() == 5
    assert page.locator(".card.recommended h3").inner_text() == "The mix"
    assert "Wall unit and room heaters" in page.evaluate(CARD_ORDER)
    left_out = page.locator(".card.left-out")
    assert left_out.locator(".place").inner_text() == "Not enough here"
    assert "48" in left_out.locator(".loss").inner_text()
    assert page.locator("#plan .house svg[role=img]").get_attribute("aria-label")
    fonts = page.evaluate("() => [...document.fonts].filter(face => face.status === 'loaded').map(face => face.family)")
    assert {"Literata", "Figtree"} <= {name.strip('"') for name in fonts}


def test_everything_is_on_one_screen_in_portrait_and_landscape(open_page: Any, app: Any) -> None:
    for width, height in SCREENS[:2]:
        page = open_page(app, width, height)
        bottoms = page.evaluate(
            "() => [...document.querySelectorAll('.head, .sheet, .what-if, .cards, .matters, .ask')]"
            ".map(part => part.getBoundingClientRect().bottom)"
        )
        assert max(bottoms) <= height


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_every_target_is_large_and_nothing_runs_over_the_edge(
    open_page: Any, app: Any, width: int, height: int
) -> None:
    page = open_page(app, width, height)
    small = [
        target for target in page.evaluate(TARGETS) if target[2] < TARGET_PX - 0.01 or target[3] < TARGET_PX - 0.01
    ]
    assert small == []
    assert page.evaluate("() => document.documentElement.scrollWidth") == width


def test_a_priority_changes_ranking_and_sentence_and_says_so(open_page: Any, app: Any) -> None:
    page = open_page(app)
    before, order = sentence(page), page.evaluate(CARD_ORDER)
    page.locator(".stops", has_text="Lower price").locator(".stop").nth(4).tap()
    settle(page)
    assert page.evaluate(CARD_ORDER) != order
    assert sentence(page) != before
    assert page.inner_text(".change").startswith("New advice")
    assert "Lower price" in page.inner_text(".change")


def test_the_door_switch_changes_ranking_and_sentence(open_page: Any, app: Any) -> None:
    page = open_page(app)
    before, order = sentence(page), page.evaluate(CARD_ORDER)
    page.locator(".toggle", has_text="Bedroom doors shut").tap()
    settle(page)
    assert page.evaluate(CARD_ORDER) != order
    assert sentence(page) != before
    assert "doors stand open" in page.inner_text(".change")
    page.locator(".toggle", has_text="Bedroom doors shut").tap()
    settle(page)
    assert sentence(page) == before


def test_choosing_a_card_changes_the_plan_and_never_the_sentence(open_page: Any, app: Any) -> None:
    page = open_page(app)
    before, drawn = sentence(page), page.locator("#plan .house svg").inner_html()
    page.locator(".card.left-out .show").tap()
    settle(page)
    assert sentence(page) == before
    assert page.locator("#plan .house svg").inner_html() != drawn
    assert page.inner_text("#plan h2") == "One wall unit: not enough here"
    assert page.locator(".card.on-plan").count() == 1


def test_why_not_this_one_answers_on_every_card(open_page: Any, app: Any) -> None:
    page = open_page(app)
    answers = set()
    for place in range(5):
        page.locator(".card .why").nth(place).tap()
        settle(page)
        answers.add(page.inner_text(".answer .says"))
        assert page.locator(".card .why[aria-pressed=true]").count() == 1
    assert len(answers) == 5


def test_keyboard_reaches_everything_and_arrows_move_the_stops(open_page: Any, app: Any) -> None:
    page = open_page(app)
    reached: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        at = page.evaluate(
            "() => { const part = document.activeElement; return part === document.body ? '' :"
            " part.getAttribute('data-tap') || part.getAttribute('name') || part.getAttribute('role') || part.tagName }"
        )
        if not at:
            break
        reached.append(at)
    assert {"show:mix", "show:one", "ask:why:heaters", "scene:sound", "look:dark", "switch", "stop-quiet"} <= set(
        reached
    )
    page.locator("input[name='stop-quiet']:checked").focus()
    page.keyboard.press("ArrowRight")
    settle(page)
    row = page.locator(".stops", has_text="Quiet at night")
    assert row.locator(".stops-word").inner_text() == "most of all"
    page.locator("[data-tap='show:one']").focus()
    page.keyboard.press("Enter")
    settle(page)
    assert page.evaluate("() => document.activeElement.getAttribute('data-tap')") == "show:one"


def test_evening_look_celsius_and_scenes(open_page: Any, app: Any) -> None:
    page = open_page(app)
    light = page.evaluate("() => getComputedStyle(document.body).backgroundColor")
    page.locator("[data-tap='look:dark']").tap()
    settle(page)
    assert page.evaluate("() => getComputedStyle(document.body).backgroundColor") != light
    page.get_by_text("°C", exact=True).tap()
    settle(page)
    assert "20.6\u00a0°C" in page.inner_text(".card.recommended")
    page.locator("[data-tap='scene:afternoon']").tap()
    settle(page)
    assert page.inner_text("#plan h2") == "A hot summer afternoon"


def test_reading_tree_names_every_control(open_page: Any, app: Any) -> None:
    page = open_page(app)
    assert page.get_by_role("radiogroup").count() == 6  # five priorities and the units
    assert page.get_by_role("switch", name="Bedroom doors shut").count() == 1
    assert page.get_by_role("radio", name="Quiet at night: a lot").is_checked()
    assert page.get_by_role("button", name="Show on the plan: The mix").count() == 1
    assert page.locator("html").get_attribute("lang") == "en-US"
    assert page.locator("#plan table caption").count() == 1


def test_a_picture_cannot_bring_anything_but_drawing_elements(open_page: Any, app: Any) -> None:
    page = open_page(app)
    hostile = (
        "<svg xmlns='http://www.w3.org/2000/svg' onload='window.hit=1'><script>window.hit=1</script>"
        "<foreignObject><b>x</b></foreignObject><image href='http://192.0.2.1/x'/>"
        "<rect width='1' height='1' onclick='window.hit=1' fill='url(http://192.0.2.1/y)'/></svg>"
    )
    found = page.evaluate(
        """(svg) => new Promise(done => {
          const box = document.body.appendChild(document.createElement('div'));
          ReactDOM.render(React.createElement(window.hplayouts_page.Drawing, {svg}), box,
            () => setTimeout(() => done([box.innerHTML, window.hit || 0]), 100));
        })""",
        hostile,
    )
    assert found[1] == 0
    assert "rect" in found[0]
    for word in ("script", "foreignObject", "image", "onload", "onclick", "192.0.2.1"):
        assert word not in found[0]
    assert all("Content Security Policy" in error for error in open_page.watched.errors)
    open_page.watched.errors.clear()


def test_states_without_an_answer(open_page: Any, source: Any) -> None:
    ready = source.now
    source.now = Working(11, 24, 3.0, "The sample ranch")
    page = open_page(make_app(source), wait=".progress")
    assert "11 of 24 done. About 3 seconds left." in page.inner_text(".state")
    source.now = Failed("house.toml", (Fault(2, "window 1", "a width must be above 0", "3 ft", ((1, "a"), (2, "b"))),))
    page.wait_for_selector(".faults")
    assert page.locator(".faulty").inner_text().split() == ["2", "b"]
    source.now = ready
    page.wait_for_selector(".card")
    source.now = Empty()
    assert open_page(make_app(source), wait=".state").inner_text("h1") == "Start with the house"
