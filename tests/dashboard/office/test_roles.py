"""Who may do what: every route and every call of each program, by raw requests of each role.

OWASP ASVS 5.0.0, 8.2.1, 8.2.3, 8.3.1: rights are enforced on the server, for functions and for fields. Routes and calls
are asked of the servers themselves, so that one added later is tried too. The house is priced by a list whose costs
are odd, and no answer to anybody who is not the manager may hold one of them.
"""

from __future__ import annotations

import json
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from compare.jobs.given import Given
from compare.office.compile import compile_price_list
from compare.office.view_build import OfficeBasis, office_view
from compare.prices.price_list import write_text
from dashboard.desk.files import FILES
from dashboard.desk.study import HouseDesk
from dashboard.session import Ready
from dashboard.source import HouseSource
from dashboard.store import new_name
from dashboard.survey.app import SurveyPages
from dashboard.survey.work import Survey
from dashboard.table.app import make_app
from tests.dashboard.calls import METHODS, UPDATE, bodies, prefixes, routes
from tests.dashboard.office.conftest import COOKIE, Desk
from tests.dashboard.site_double import LAN_HOST, Browser, Served, served_site
from tests.jobs.small import DAY, write_house
from tests.office.odd import derived, leaks, odd_book, planted

ROLES = ("here", "designer", "tablet", "stranger")
DESIGNERS = frozenset({"here", "designer"})
FORMS = ("/pair", "/enter", "/leave")
OPEN_TO_ALL = ("/look/", "/front/")


@dataclass(frozen=True)
class House:
    """The whole site of a house with odd prices."""

    site: Served
    survey: SurveyPages
    source: HouseSource
    desk: HouseDesk
    secret: frozenset[Decimal]

    @property
    def first(self) -> str:
        study = self.desk.study()
        assert study is not None
        return study.first

    @property
    def servers(self) -> tuple[Flask, ...]:
        """Every server behind the door but the front pages."""
        return self.site.house, self.survey.app.server

    @property
    def pages(self) -> list[str]:
        """Where the calls of each page are."""
        return [prefix for server in self.servers for prefix in prefixes(server)]

    def values(self) -> dict[str, str]:
        """Parts of routes that exist."""
        return {"option_id": self.first, "name": "crew.pdf", "file_name": "table.css", "path": "x", "session": "x" * 24}

    def given(self) -> dict[str, Any]:
        """Values of controls that a page which has just opened has not got yet."""
        return {"taps.tap": None, "screen.form": "portrait", "name.data": new_name(), "open.data": self.first,
                "units.value": "US"}  # fmt: skip


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> House:
    folder, book = tmp_path_factory.mktemp("odd"), odd_book()
    path = write_house(folder)
    prices = folder / "own_prices.csv"
    prices.write_text(write_text(compile_price_list(book)), encoding="utf-8")
    found = Given.at(path, prices).worked_out()
    view = office_view(found, OfficeBasis(DAY, book=book))
    public = {Decimal(str(round(option.price_usd, 2))) for option in view.options}
    source = HouseSource(path, compare=lambda _file, _folder, _tell: found)
    source.open()
    desk = HouseDesk(source)
    app = make_app(source, lambda seen, _found: f"%PDF-1.7 {seen.answer.winner}".encode(), desk)
    for _ in range(200):
        if isinstance(source.status(), Ready):
            break
        time.sleep(0.05)
    survey = SurveyPages(Survey(folder, lambda _file: "/desk/"))
    site = served_site(app.server, folder, survey=survey)
    return House(site, survey, source, desk, frozenset((planted(book) | derived(view)) - public))


@pytest.fixture
def browsers(house: House) -> dict[str, Browser]:
    site = house.site
    return {"here": site.here(), "designer": site.designer(), "tablet": site.paired(), "stranger": site.browser()}


def is_desk(path: str) -> bool:
    return path.lower() == "/desk" or path.lower().startswith("/desk/")


def refusal(role: str, path: str, method: str) -> set[int] | None:
    """The codes that a role must get; None where it may come in."""
    if method in {"PUT", "DELETE", "PATCH"}:
        return {405}
    if role == "stranger":
        free = path == "/pair" or (method == "GET" and path.startswith(OPEN_TO_ALL))
        # a forged post is refused before anybody looks who sent it
        return (
            None if free else ({303} if (path, method) == ("/", "GET") else {400, 401} if method == "POST" else {401})
        )
    return {404} if role == "tablet" and is_desk(path) and method != "POST" else None


def every_route(house: House) -> Iterator[tuple[str, str]]:
    for server in (house.site.front.server, *house.servers):
        for path, _ in routes(server, house.values()):
            for method in METHODS:
                yield path, method


def test_every_route_as_each_role(house: House, browsers: Mapping[str, Browser]) -> None:
    tried = set(every_route(house))
    assert {("/desk/files/" + house.first + "/crew.pdf", "GET"), ("/enter", "POST"), ("/_dash-layout", "GET")} <= tried
    for role, browser in browsers.items():
        for path, method in sorted(tried):
            if (role, path, method) == ("designer", "/leave", "POST"):
                continue
            answer = browser.open(path, method)
            wanted = refusal(role, path, method)
            if wanted is not None:
                assert answer.status_code in wanted, (role, method, path, answer.status_code)
                assert len(answer.data) < 60, (role, method, path)
            else:
                assert answer.status_code not in {401, 403, 421} or path in FORMS, (role, method, path)
                assert answer.status_code < 500, (role, method, path)
            assert b"Traceback" not in answer.data


def test_every_call_as_each_role(house: House, browsers: Mapping[str, Browser]) -> None:
    here = browsers["here"]
    assert {"/", "/desk/", "/desk/survey/"} <= set(house.pages)
    for prefix in house.pages:
        calls = bodies(here.open, prefix, house.given())
        assert calls, prefix
        answered = []
        for output, body in calls.items():
            told = {role: browser.call(f"{prefix}{UPDATE}", body) for role, browser in browsers.items()}
            codes = {role: answer.status_code for role, answer in told.items()}
            desk = is_desk(prefix)
            assert codes["stranger"] in {400, 401}, (prefix, output, codes)  # 400: it has no token either
            assert codes["tablet"] == 404 if desk else codes["tablet"] == codes["here"], (prefix, output, codes)
            assert codes["designer"] == codes["here"], (prefix, output, codes)
            assert codes["here"] in {200, 204, 400}, (prefix, output, codes)
            refused = ["stranger", "tablet"] if desk else ["stranger"]
            assert all(len(told[role].data) < 60 for role in refused), (prefix, output)
            answered += [output] if codes["here"] == 200 else []
            for role in set(told) - set(refused):
                assert leaks(told[role].data, house.secret) == set(), (prefix, output, role)
        assert answered, prefix


def test_a_stranger_with_a_token_is_still_a_stranger(house: House, browsers: Mapping[str, Browser]) -> None:
    here, stranger = browsers["here"], browsers["stranger"]
    stranger.open("/pair")
    for prefix in house.pages:
        for output, body in bodies(here.open, prefix, house.given()).items():
            assert stranger.call(f"{prefix}{UPDATE}", body).status_code == 401, output


def test_a_planted_cost_would_be_found(house: House) -> None:
    one = next(iter(house.secret))
    assert leaks(json.dumps({"x": float(one)}), house.secret)


@pytest.mark.slow
def test_no_file_of_the_desk_holds_a_cost(house: House, browsers: Mapping[str, Browser]) -> None:
    for name in FILES:
        answer = browsers["designer"].open(f"/desk/files/{house.first}/{name}")
        assert answer.status_code == 200, name
        assert leaks(answer.data, house.secret) == set(), name
        assert browsers["tablet"].open(f"/desk/files/{house.first}/{name}").status_code == 404, name
        assert browsers["stranger"].open(f"/desk/files/{house.first}/{name}").status_code == 401, name


def test_the_office_knows_nobody_but_the_manager(desk: Desk, browsers: Mapping[str, Browser]) -> None:
    """Cookies of table and desk open nothing in the office."""
    shut = {(path, method) for path, _ in routes(desk.server, {}) for method in METHODS
            if not path.startswith(("/look/", "/enter"))}  # fmt: skip
    assert ("/", "GET") in shut
    for role in ("tablet", "designer"):
        other = desk.stranger()
        for name in ("tablet", "desk"):
            cookie = f"hplayouts_{name}_{browsers[role].served.site.port}"
            other.set_cookie(cookie, browsers[role].cookie(cookie), domain="127.0.0.1")
        for path, method in sorted(shut):
            answer = other.open(path, method=method, base_url="http://127.0.0.1:8051")
            assert answer.status_code in {401, 403, 404, 405}, (role, method, path, answer.status_code)


def test_the_manager_is_a_stranger_at_the_table(inside: Desk, house: House) -> None:
    found = inside.client.get_cookie(COOKIE, domain="127.0.0.1")
    assert found is not None
    manager = house.site.browser()
    manager.client.set_cookie(COOKIE, found.value, domain=LAN_HOST)
    for prefix in house.pages:
        assert manager.open(prefix).status_code in {303, 401}
        assert manager.call(f"{prefix}{UPDATE}", {}).status_code in {400, 401}


def test_a_broken_call_of_any_page_gets_400(house: House, browsers: Mapping[str, Browser], tmp_path: Path) -> None:
    # ASVS 16.5.1: whatever is sent, a short answer and no trace
    here = browsers["here"]
    for prefix in house.pages:
        for output, body in bodies(here.open, prefix, house.given()).items():
            for broken in ({}, [], None, {**body, "inputs": []}, {**body, "outputs": "x"}, {**body, "output": "x"},
                           {**body, "changedPropIds": 1}):  # fmt: skip
                if broken == body:
                    continue
                answer = here.call(f"{prefix}{UPDATE}", broken)
                assert answer.status_code == 400, (prefix, output, broken)
                assert len(answer.data) < 60
