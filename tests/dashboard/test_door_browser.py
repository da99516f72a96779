"""The door in a real browser: let in, be refused, sign in, sign out, issue a proposal, choose a house.

The browser runs on this computer; a wrapper tells the door the address of a neighbour, as a tablet would have it.
No console error but the refusals that are asked for, and no outside request.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from werkzeug.serving import make_server

from compare.jobs.proposal import FOLDER
from compare.jobs.record import RECORD
from dashboard.desk.study import Study
from dashboard.door import Door, Site
from dashboard.front.pages import Front
from dashboard.front.shelf import Shelf
from dashboard.front.site import ManyHouses
from dashboard.pairing import LIFE_S
from dashboard.table.app import make_app
from tests.dashboard.conftest import OWN, settle
from tests.dashboard.desk_double import FixedDesk
from tests.dashboard.double import SampleSource
from tests.dashboard.site_double import NEAR, PASSWORD, Given, Served, served_site
from tests.jobs.small import small_comparison, write_house

pytestmark = [pytest.mark.browser, pytest.mark.slow]
REFUSALS = ("400", "401", "403", "404", "429")
SCREENS = ((1280, 800), (1024, 1366), (390, 844), (320, 700))
Browse = Callable[..., Any]


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Study:
    return Study(small_comparison(tmp_path_factory.mktemp("small")))


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return write_house(tmp_path)


@pytest.fixture
def site(study: Study, house: Path) -> Served:
    desk = FixedDesk(study, house=(house, house.stat().st_mtime_ns))
    return served_site(make_app(SampleSource(), None, desk).server, house.parent)


@pytest.fixture
def browse(chromium: Any) -> Iterator[Browse]:
    """Serve something from an address and open a path of it."""
    running, contexts, errors = [], [], []

    def open_it(wsgi: Any, path: str = "/", address: str = NEAR, width: int = 1024, height: int = 1366) -> Any:
        def from_address(environ: dict[str, Any], start_response: Any) -> Any:
            return wsgi({**environ, "REMOTE_ADDR": address}, start_response)

        server = make_server("127.0.0.1", 0, from_address, threaded=True)
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        running.append((server, thread))
        context = chromium.new_context(
            viewport={"width": width, "height": height}, has_touch=True,
            base_url=f"http://127.0.0.1:{server.server_port}",
        )  # fmt: skip
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on(
            "console",
            lambda said: (
                errors.append(said.text)
                if said.type == "error" and not any(code in said.text for code in REFUSALS)
                else None
            ),
        )
        page.on("request", lambda asked: None if asked.url.startswith(OWN) else errors.append(asked.url))
        page.goto(path)
        return page

    yield open_it
    for context in contexts:
        context.close()
    for server, thread in running:
        server.shutdown()
        thread.join(5.0)
        server.server_close()
    assert errors == []


def give_code(page: Any, code: str) -> None:
    page.get_by_label("Code").fill(code)
    with page.expect_navigation():
        page.get_by_role("button", name="Let this device in").tap()


def give_password(page: Any, password: str) -> None:
    page.get_by_label("Password of the desk").fill(password)
    with page.expect_navigation():
        page.get_by_role("button", name="Open the desk").tap()


def test_a_tablet_is_refused_then_let_in(site: Served, browse: Browse) -> None:
    page = browse(site.door)
    assert page.url.endswith("/pair")
    assert "others on the same network" in page.inner_text(".caution")
    code = site.keys.codes.new()
    give_code(page, f"{(int(code) + 1) % 10**8:08d}")
    assert "does not hold" in page.get_by_role("alert").inner_text()
    give_code(page, f"{code[:4]} {code[4:]}")
    page.wait_for_selector(".card")
    settle(page)
    assert page.get_by_text("To the desk").count() == 0
    assert "tablet" not in page.evaluate("document.cookie")  # scripts see no way in
    page.locator(".card").nth(1).tap()
    settle(page)
    assert page.goto("/desk/").status == 404


def test_an_old_code_is_refused(site: Served, browse: Browse) -> None:
    page, code = browse(site.door), site.keys.codes.new()
    site.clock.now_s += LIFE_S + 1.0
    give_code(page, code)
    assert "does not hold" in page.get_by_role("alert").inner_text()
    assert page.goto("/desk/").status == 401


def test_a_neighbour_gets_nothing(site: Served, browse: Browse) -> None:
    page = browse(site.door)
    for path in ("/desk/", "/_dash-layout", "/enter", "/desk/files/x/crew.pdf"):
        assert page.goto(path).status == 401
        assert page.inner_text("body").strip() == "Pair this device first."


def test_a_designer_signs_in_works_and_signs_out(site: Served, browse: Browse) -> None:
    page = browse(site.door)
    give_code(page, site.keys.codes.new())
    page.goto("/enter")
    give_password(page, "not the password")
    assert page.get_by_role("alert").inner_text() == "That is not the password."
    give_password(page, PASSWORD)
    page.wait_for_selector("#left .part")
    settle(page)
    before = page.inner_text("h1")
    page.locator("#options button[aria-pressed=false]").first.tap()
    page.wait_for_function("(old) => document.querySelector('h1').innerText !== old", arg=before)
    page.goto("/enter")
    with page.expect_navigation():
        page.get_by_role("button", name="Sign out of the desk").tap()
    assert page.goto("/desk/").status == 404


def test_a_proposal_is_issued_from_the_desk(site: Served, browse: Browse, house: Path) -> None:
    page = browse(site.door, "/desk/", "127.0.0.1", 1280, 800)
    page.wait_for_selector("#left .part")
    settle(page)
    page.get_by_label("Job", exact=True).fill("Baker Street 7")
    page.get_by_role("button", name="Issue the proposal").tap()
    page.wait_for_function("() => document.querySelector('#issued').innerText.includes('is issued')")
    assert len(list((house.parent / "jobs" / "Baker Street 7").glob(f"{FOLDER}*/{RECORD}"))) == 1


def test_the_desk_follows_the_device_and_the_button(site: Served, browse: Browse) -> None:
    page = browse(site.door, "/desk/", "127.0.0.1", 1280, 800)
    page.wait_for_selector("#left .part")
    paper = "getComputedStyle(document.body).backgroundColor"
    light = page.evaluate(paper)
    page.get_by_role("button", name="Evening look").tap()
    page.wait_for_function(f"(old) => {paper} !== old", arg=light)
    assert page.get_by_role("button", name="Day look").is_visible()
    wall = page.locator("#plan svg [stroke='var(--ink)']").first
    assert wall.evaluate("p => getComputedStyle(p).stroke") == page.evaluate("getComputedStyle(document.body).color")


@pytest.mark.parametrize(("width", "height"), SCREENS)
def test_front_pages_fit(site: Served, browse: Browse, scenarios: Path, width: int, height: int) -> None:
    shelf = Shelf(scenarios, lambda _path, _key: Given(site.house))
    here = Site(port=1)
    houses = Door(ManyHouses(Front(here, None, shelf), shelf), here)
    pages = [browse(site.door, "/pair", NEAR, width, height), browse(houses, "/", "127.0.0.1", width, height)]
    for page in pages:
        page.evaluate("document.fonts.ready")
        assert page.evaluate("document.documentElement.scrollWidth") == width  # WCAG 2.2, 1.4.10
        small = page.evaluate(
            "[...document.querySelectorAll('a, button, input:not([type=hidden])')]"
            ".map(p => [p.textContent, p.getBoundingClientRect()])"
            ".filter(([, r]) => r.height < 43.9).map(([t]) => t)"
        )
        assert small == []  # WCAG 2.2, 2.5.5
        assert page.locator("h1").count() == 1
