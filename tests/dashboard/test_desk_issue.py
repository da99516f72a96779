"""Issuing a proposal from the desk: the same frozen folder as the command's, and no other place can be written."""

from __future__ import annotations

import datetime as dt
import json
import os
from pathlib import Path
from typing import Any

import pytest

from compare.jobs.proposal import FOLDER
from compare.jobs.record import RECORD, read_record
from compare.jobs.reproduce import Answer, reproduce
from compare.jobs.status import Status, events
from dashboard.desk.issue import IssueError, Issuer, checked_job
from dashboard.desk.study import Study
from dashboard.table.app import make_app
from tests.dashboard.client import words_in
from tests.dashboard.desk_double import DeskClient, FixedDesk, calls_of, desk_values
from tests.dashboard.double import SampleSource
from tests.jobs.small import NOW, small_comparison, write_house


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return write_house(tmp_path, "Baker Street 7.toml")


@pytest.fixture
def study(tmp_path_factory: pytest.TempPathFactory) -> Study:
    return Study(small_comparison(tmp_path_factory.mktemp("small")))


@pytest.fixture
def issuer(house: Path) -> Issuer:
    return Issuer(house, house.stat().st_mtime_ns, lambda: NOW)


def test_a_proposal_is_frozen_beside_the_house(study: Study, issuer: Issuer, house: Path) -> None:
    found = issuer.issue(study, study.first, issuer.usual_job)
    folder = house.parent / "jobs" / "Baker-Street-7" / f"{FOLDER}{found.proposal}"
    record = read_record(folder / RECORD)
    assert found.until == NOW.date() + dt.timedelta(days=30)
    assert record["record_sha256"].startswith(found.proposal)  # type: ignore[union-attr]
    assert [event.status for event in events(folder.parent)] == [Status.DRAFT]
    again = issuer.issue(study, study.first, issuer.usual_job)
    assert again == found
    assert len(list(folder.parent.glob(f"{FOLDER}*"))) == 1


@pytest.mark.slow
def test_what_was_issued_at_the_desk_can_be_reproduced(study: Study, issuer: Issuer, house: Path) -> None:
    found = issuer.issue(study, study.first, "x")
    report = reproduce(house.parent / "jobs" / "x" / f"{FOLDER}{found.proposal}" / RECORD)
    assert report.answer is Answer.IDENTICAL


@pytest.mark.parametrize("name", ["", " ", ".", "..", "../x", "a/b", "a\\b", "/etc", "a" * 61, "x\x00", "a..b", "-x",
                                  "x.", "ü", None, 5, ["x"]])  # fmt: skip
def test_a_job_name_cannot_lead_elsewhere(name: Any) -> None:
    with pytest.raises(IssueError, match="Give the job a name"):
        checked_job(name)


@pytest.mark.parametrize("name", ["Baker-Street-7", "7 Elm St.  2nd", "a", "A.b_c-d"])
def test_plain_names_will_do(name: str) -> None:
    assert checked_job(f" {name} ") == name


def test_a_house_that_changed_is_not_issued(study: Study, issuer: Issuer, house: Path) -> None:
    os.utime(house, (1, 1))
    with pytest.raises(IssueError, match="changed since"):
        issuer.issue(study, study.first, "x")
    house.unlink()
    with pytest.raises(IssueError):
        issuer.issue(study, study.first, "x")
    assert not (house.parent / "jobs").exists()


def test_only_offered_layouts_can_be_issued(study: Study, issuer: Issuer) -> None:
    shown = {option.id for option in study.customer.options if option.status == "offered"}
    hidden = [key for key in study.found.by_id if key not in shown]
    assert hidden
    for key in hidden:
        with pytest.raises(IssueError, match="can be offered"):
            issuer.issue(study, key, "x")


def test_a_folder_that_cannot_be_written_is_told(study: Study, issuer: Issuer, house: Path) -> None:
    (house.parent / "jobs").write_text("in the way")
    with pytest.raises(IssueError, match="cannot be written"):
        issuer.issue(study, study.first, "x")


def test_the_page_issues_and_says_so(study: Study, house: Path) -> None:
    desk = FixedDesk(study, house=(house, house.stat().st_mtime_ns))
    client = DeskClient(make_app(SampleSource(), None, desk), desk_values(study))
    assert "Issue the proposal" in client.get("/desk/_dash-layout").get_data(as_text=True)
    body = next(b for name, b in client.bodies(calls_of(client)).items() if name.startswith("issued"))
    told = client.post(body)
    assert told.status_code == 200
    assert "is issued into jobs/Baker 7" in words_in(json.loads(told.data)["response"]["issued"]["children"])
    assert list((house.parent / "jobs" / "Baker 7").glob(f"{FOLDER}*/{RECORD}"))
    body["state"][0]["value"] = "../../elsewhere"
    refused = client.post(body)
    assert "Give the job a name" in refused.get_data(as_text=True)
    assert json.loads(refused.data)
    body["inputs"][0]["value"] = 0
    assert client.post(body).status_code == 400
