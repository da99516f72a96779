"""Fixtures of the page tests: the app over the sample source, a client of bytes, a touch browser."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from dash import Dash
from werkzeug.serving import make_server

from compare.house.reading import read_house
from compare.pipeline import compare_house
from dashboard.desk.study import Study
from dashboard.session import Ready
from dashboard.table.app import make_app
from tests.dashboard.client import Client, default_values
from tests.dashboard.desk_double import DeskClient, FixedDesk, desk_values
from tests.dashboard.double import SampleSource

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
OWN = ("http://127.0.0.1:", "data:", "blob:")


@pytest.fixture
def source() -> SampleSource:
    """The test double of a source."""
    return SampleSource()


@pytest.fixture
def app(source: SampleSource) -> Dash:
    """The table page over it, with a proposal of a few bytes."""
    return make_app(source, lambda view, _found: f"%PDF-1.7 {view.answer.winner}".encode())


@pytest.fixture
def client(app: Dash, source: SampleSource) -> Client:
    """A session of bytes."""
    assert isinstance(source.now, Ready)
    return Client(app, default_values(source.now))


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """One headless browser for the run; a missing one is an error where CI=true."""
    where = shutil.which("chromium")
    if where is None:
        if os.environ.get("CI") == "true":
            pytest.fail("no chromium on this machine")
        pytest.skip("no chromium on this machine")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=where, args=list(FLAGS))
        yield browser
        browser.close()


@pytest.fixture
def served() -> Iterator[Callable[[Dash], str]]:
    """Serve apps on free ports of this computer until the test ends."""
    running = []

    def serve(app: Dash) -> str:
        server = make_server("127.0.0.1", 0, app.server, threaded=True)
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        running.append((server, thread))
        return f"http://127.0.0.1:{server.server_port}/"

    yield serve
    for server, thread in running:
        server.shutdown()
        thread.join(5.0)
        server.server_close()


@dataclass
class Watched:
    """What a page said and asked for beside what it showed."""

    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)


@pytest.fixture
def open_page(chromium: Any, served: Callable[[Dash], str]) -> Iterator[Callable[..., Any]]:
    """Open an app in a touch context; at the end no console error and no outside request may have happened."""
    watched, contexts = Watched(), []

    def open_it(app: Dash, width: int = 1024, height: int = 1366, wait: str = ".card", path: str = "") -> Any:
        context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=True)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: watched.errors.append(str(error)))
        page.on("console", lambda said: watched.errors.append(said.text) if said.type == "error" else None)
        page.on("request", lambda asked: None if asked.url.startswith(OWN) else watched.outside.append(asked.url))
        page.goto(served(app) + path)
        page.wait_for_selector(wait)
        settle(page)
        return page

    open_it.watched = watched  # type: ignore[attr-defined]
    yield open_it
    for context in contexts:
        context.close()
    assert watched.errors == []
    assert watched.outside == []


def settle(page: Any) -> None:
    """Wait until no answer is pending and the fades are over."""
    page.wait_for_timeout(60)
    page.wait_for_function("() => !document.querySelector('[data-dash-is-loading=true]')")
    page.wait_for_timeout(200)


@pytest.fixture(scope="session")
def ranch_study(scenarios: Path) -> Study:
    """A demo house compared for real, once for all tests of the desk."""
    folder = scenarios
    return Study(compare_house(read_house(folder / "ranch.toml"), folder))


@pytest.fixture
def desk_app(ranch_study: Study) -> Dash:
    """Table and desk on one server; the table over the sample source, so that it is fast."""
    return make_app(SampleSource(), lambda _view, _found: b"%PDF-1.7", FixedDesk(ranch_study))


@pytest.fixture
def desk_client(desk_app: Dash, ranch_study: Study) -> DeskClient:
    """The desk from this computer."""
    return DeskClient(desk_app, desk_values(ranch_study))
