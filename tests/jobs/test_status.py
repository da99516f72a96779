from __future__ import annotations

import datetime as dt
import itertools

import pytest

from compare.jobs.status import NEXT, STATUS, Status, StatusError, add_status, events, status_of
from tests.jobs.small import DAY


def walk(job, *states, proposal="p", day=DAY):
    for step, state in enumerate(states):
        add_status(job, state, day + dt.timedelta(days=step), proposal)


def test_the_usual_way(job):
    walk(job, Status.DRAFT, Status.SHOWN, Status.ACCEPTED, Status.INSTALLED)
    assert [event.on.day for event in events(job)] == [25, 26, 27, 28]
    assert status_of(job, "p").status is Status.INSTALLED


PATHS = {
    Status.DRAFT: (Status.DRAFT,),
    Status.SHOWN: (Status.DRAFT, Status.SHOWN),
    Status.ACCEPTED: (Status.DRAFT, Status.SHOWN, Status.ACCEPTED),
    Status.DECLINED: (Status.DRAFT, Status.DECLINED),
    Status.INSTALLED: (Status.DRAFT, Status.SHOWN, Status.ACCEPTED, Status.INSTALLED),
}


@pytest.mark.parametrize(("one", "other"), list(itertools.product(Status, sorted(set(Status) - {Status.DRAFT}))))
def test_only_what_may_follow_follows(one, other, job):
    walk(job, *PATHS[one])
    later = DAY + dt.timedelta(days=9)
    if other in NEXT[one]:
        assert add_status(job, other, later, "p").status is other
    else:
        with pytest.raises(StatusError, match=f"{other} cannot follow {one}"):
            add_status(job, other, later, "p")
        assert status_of(job, "p").status is one


def test_no_date_before_the_last(job):
    walk(job, Status.DRAFT)
    with pytest.raises(StatusError, match="lies before draft"):
        add_status(job, Status.SHOWN, DAY - dt.timedelta(days=1), "p")
    assert add_status(job, Status.SHOWN, DAY, "p")


def test_proposals_of_one_job_go_their_own_ways(job):
    walk(job, Status.DRAFT, Status.SHOWN, proposal="a")
    walk(job, Status.DRAFT, Status.DECLINED, proposal="b")
    assert (status_of(job, "a").status, status_of(job, "b").status) == (Status.SHOWN, Status.DECLINED)
    assert status_of(job, "c") is None
    with pytest.raises(StatusError, match=r"'c' is not in .*; proposals there: a, b"):
        add_status(job, Status.SHOWN, DAY, "c")


def test_a_note_is_kept_and_a_long_one_refused(job):
    walk(job, Status.DRAFT)
    add_status(job, Status.SHOWN, DAY, "p", "wants a quieter bedroom")
    assert events(job)[-1].note == "wants a quieter bedroom"
    with pytest.raises(StatusError, match="note: longer than 500"):
        add_status(job, Status.ACCEPTED, DAY, "p", "x" * 501)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{}",
        "[]",
        '{"events": [{}]}',
        '{"events": [{"status": "sold", "on": "2026-11-25", "proposal": "p", "note": ""}]}',
        '{"events": [{"status": "draft", "on": "25/11", "proposal": "p", "note": ""}]}',
    ],
)
def test_a_broken_file_is_told(text, job):
    job.mkdir()
    (job / STATUS).write_text(text, encoding="utf-8")
    with pytest.raises(StatusError, match="cannot be read"):
        events(job)


def test_a_file_made_up_by_hand_is_told(job):
    job.mkdir()
    row = '{{"status": "{}", "on": "2026-11-25", "proposal": "p", "note": ""}}'
    text = f'{{"events": [{row.format("draft")}, {row.format("installed")}]}}'
    (job / STATUS).write_text(text, encoding="utf-8")
    with pytest.raises(StatusError, match="installed cannot follow draft"):
        events(job)
