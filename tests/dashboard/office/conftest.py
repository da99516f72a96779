"""A place with three jobs of the small house: one completed with odd costs, one open without, one installed."""

from __future__ import annotations

import datetime as dt
import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from compare.jobs.given import Given
from compare.jobs.proposal import freeze
from compare.jobs.record import Offer
from compare.jobs.status import Status, add_status
from compare.office.ledger import Callback, complete, read_entry, write_entry
from compare.office.view_build import OfficeBasis
from compare.pipeline import Comparison
from dashboard.office.app import Office, make_server
from dashboard.office.place import Place
from dashboard.password import set_password
from dashboard.signin import Sessions, Tries
from tests.jobs.small import DAY, NOW, small_comparison, write_house
from tests.office.odd import odd_book

PASSWORD = "nine blue kettles sing"
WRONG = "ten grey kettles hum"
HOME = "http://127.0.0.1:8051"
COOKIE = "hplayouts_office"
BOOK = odd_book()
SMITH = "smith & <b>sons<!--"


class Clock:
    """A clock that tests move."""

    def __init__(self) -> None:
        self.now_s = 1000.0

    def __call__(self) -> float:
        return self.now_s


@dataclass
class Desk:
    """A server with its parts and a browser of bytes."""

    office: Office
    server: Flask
    clock: Clock
    client: FlaskClient
    csrf: str = ""

    def get(self, path: str, **more: Any) -> TestResponse:
        return self.client.get(path, base_url=HOME, **more)

    def post(self, path: str, data: Any = None, **more: Any) -> TestResponse:
        return self.client.post(path, base_url=HOME, data=data, **more)

    def enter(self, password: str = PASSWORD) -> TestResponse:
        """Fill in the form and send it."""
        form = self.get("/enter").get_data(as_text=True)
        seal = re.search(r'name="seal" value="([^"]+)"', form)
        assert seal is not None
        answer = self.post("/enter", {"seal": seal[1], "password": password})
        if answer.status_code == 303:
            found = re.search(r'name="csrf" value="([^"]+)"', self.get("/").get_data(as_text=True))
            assert found is not None
            self.csrf = found[1]
        return answer

    def stranger(self) -> FlaskClient:
        """Another browser."""
        return self.server.test_client()


def _freeze(found: Comparison, folder: Path, option: str, days: int) -> tuple[Path, str]:
    given = Given.at(write_house(folder))
    path, _ = freeze(found, given, Offer(option, NOW - dt.timedelta(days=days)), folder / "job")
    return path, path.name.removeprefix("proposal-")


def _job(found: Comparison, root: Path, name: str, option: str, days: int) -> tuple[Path, str]:
    folder = root / "making" / name
    folder.mkdir(parents=True)
    path, proposal = _freeze(found, folder, option, days)
    shutil.move(folder / "job", root / "jobs" / name)
    return root / "jobs" / name / path.name / "record.json", proposal


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("place")
    (root / "jobs").mkdir()
    found = small_comparison(tmp_path_factory.mktemp("house"))
    offered = [card.id for card in found.customer_view().options if card.status == "offered"]
    basis = OfficeBasis(DAY, book=BOOK)
    record, proposal = _job(found, root, SMITH, offered[-1], 12)
    complete(record, root / "office", basis)
    add_status(record.parents[1], Status.SHOWN, DAY, proposal)
    _job(found, root, "jones", offered[0], 3)
    record, proposal = _job(found, root, "adams", offered[0], 40)
    path, entry = complete(record, root / "office", basis)
    for status in (Status.SHOWN, Status.ACCEPTED, Status.INSTALLED):
        add_status(record.parents[1], status, DAY, proposal)
    visit = Callback(DAY, "noise", Decimal(2), Decimal(311), "hums")
    hours = {"other": sum(entry.planned_h.values(), Decimal(0)) * Decimal("1.25")}
    write_entry(path, replace(read_entry(path), actual_h=hours, callbacks=(visit,)))
    set_password(root / "office" / ".password", PASSWORD)
    shutil.rmtree(root / "making")
    return root


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "company"))


@pytest.fixture
def make_desk(folder: Path) -> Callable[..., Desk]:
    def make(**more: Any) -> Desk:
        clock = Clock()
        office = Office(
            Place.at(folder),
            lambda on: OfficeBasis(on, book=BOOK),
            today=lambda: DAY,
            sessions=Sessions(clock),
            tries=Tries(clock),
            **more,
        )
        server = make_server(office)
        return Desk(office, server, clock, server.test_client())

    return make


@pytest.fixture
def desk(make_desk: Callable[..., Desk]) -> Desk:
    return make_desk()


@pytest.fixture
def inside(desk: Desk) -> Desk:
    """A desk whose browser is signed in."""
    assert desk.enter().status_code == 303
    return desk


def proposals(folder: Path) -> dict[str, str]:
    """Proposal by job."""
    return {path.parents[0].name: path.name.removeprefix("proposal-") for path in folder.glob("jobs/*/proposal-*")}
