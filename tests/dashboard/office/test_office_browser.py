"""The office's page in a real browser: sign in, be refused, look at a quote, give a discount, sign out."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from werkzeug.serving import make_server

from tests.dashboard.conftest import OWN
from tests.dashboard.office.conftest import PASSWORD, WRONG, Desk

pytestmark = pytest.mark.browser
SCREENS = ((1440, 900), (1280, 800), (390, 844), (320, 700))


@pytest.fixture
def browse(chromium: Any, desk: Desk) -> Iterator[Callable[..., Any]]:
    """Open a path; at the end no script error and no outside request may have happened."""
    server = make_server("127.0.0.1", 0, desk.server, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    errors: list[str] = []
    contexts = []

    def open_it(path: str = "/enter", width: int = 1280, height: int = 800, **more: Any) -> Any:
        context = chromium.new_context(
            viewport={"width": width, "height": height}, base_url=f"http://127.0.0.1:{server.server_port}", **more
        )
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("console", lambda said: errors.append(said.text) if said.type == "error" and "401" not in said.text
                and "429" not in said.text else None)  # fmt: skip
        page.on("request", lambda asked: None if asked.url.startswith(OWN) else errors.append(asked.url))
        page.goto(path)
        return page

    yield open_it
    for context in contexts:
        context.close()
    server.shutdown()
    thread.join(5.0)
    server.server_close()
    assert errors == []


def sign_in(page: Any, password: str = PASSWORD) -> None:
    page.get_by_label("Password of the office").fill(password)
    page.get_by_role("button", name="Open the office").click()
    page.wait_for_load_state()


def test_refused_then_let_in_then_out(browse: Callable[..., Any]) -> None:
    page = browse("/")
    assert page.get_by_role("heading", level=1).inner_text() == "Sign in to see costs and margins."
    sign_in(page, WRONG)
    assert page.get_by_role("alert").inner_text() == "That is not the password."
    assert page.locator("table").count() == 0
    sign_in(page)
    assert "Not for customers." in page.locator(".band").inner_text()
    assert page.locator(".chart svg[role=img]").count() == 1
    assert page.evaluate("document.cookie") == ""  # scripts see no cookie
    assert page.evaluate("localStorage.length + sessionStorage.length") == 0
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/enter")
    assert page.goto("/").status == 401


def test_too_many_tries_are_told(browse: Callable[..., Any]) -> None:
    page = browse()
    for _ in range(6):
        sign_in(page, WRONG)
    assert "Too many tries. Wait" in page.get_by_role("alert").inner_text()


@pytest.mark.parametrize("script", [True, False])
def test_a_discount_shows_its_effect_and_its_floor(script: bool, browse: Callable[..., Any]) -> None:
    page = browse(java_script_enabled=script)
    sign_in(page)
    page.locator("tbody a", has_text="smith").first.click()
    page.wait_for_selector(".give")
    before = page.locator("#effect dd").first.inner_text()
    page.get_by_role("button", name="5 %", exact=True).click()
    page.wait_for_selector(".step[value='5'][aria-pressed=true]")
    assert page.locator("#effect dd").first.inner_text() != before
    page.get_by_label("Discount in percent").fill("49")
    page.get_by_role("button", name="Show it").click()
    page.wait_for_selector(".verdict.refused")
    assert "Needs approval" in page.locator(".verdict").inner_text()
    page.locator("tbody th a").nth(1).click()
    page.wait_for_selector("tr[aria-current=true]")
    assert page.locator(".tag").count() >= 1


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_nothing_runs_over_the_edge_and_buttons_are_large(width: int, height: int, browse: Callable[..., Any]) -> None:
    page = browse(width=width, height=height)
    sign_in(page)
    for path in ("/", "quote"):
        if path == "quote":
            page.locator("tbody a", has_text="smith").first.click()
            page.wait_for_selector(".give")
        page.evaluate("document.fonts.ready")
        assert page.evaluate("document.documentElement.scrollWidth") == width  # WCAG 2.2, 1.4.10 at 320 px
        # WCAG 2.2, 2.5.5 for buttons, 2.5.8 (24 px) for links in tables
        small = page.evaluate(
            "[...document.querySelectorAll('button, .button, tbody a')].filter(p => p.offsetParent !== null)"
            ".map(p => [p.textContent, p.getBoundingClientRect(), p.matches('tbody a') ? 24 : 44])"
            ".filter(([t, r, least]) => r.height < least - .01).map(([t]) => t)"
        )
        assert small == []


def test_first_screen_shows_sentence_and_chart(browse: Callable[..., Any]) -> None:
    page = browse(width=1440, height=900)
    sign_in(page)
    assert page.locator(".chart").bounding_box()["y"] + page.locator(".chart").bounding_box()["height"] <= 900
    fonts = page.evaluate(
        "document.fonts.ready.then(all => [...all].filter(f => f.status === 'loaded').map(f => f.family))"
    )
    assert {"Literata", "Figtree"} <= {name.strip('"') for name in fonts}
    page.get_by_role("button", name="Evening look").click()
    page.wait_for_selector("html[data-mantine-color-scheme=dark]")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(27, 24, 21)"
