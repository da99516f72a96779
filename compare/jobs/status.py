"""Where a job stands: draft, shown, accepted or declined, installed; each with its date, none taken back."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from pathlib import Path

from compare.jobs.canonical import canonical_text
from compare.jobs.disk import DISK, Disk, write_whole

STATUS = "status.json"
LONGEST_NOTE = 500


class Status(StrEnum):
    """State of one proposal."""

    DRAFT = "draft"
    SHOWN = "shown"
    ACCEPTED = "accepted"
    DECLINED = "declined"
    INSTALLED = "installed"


NEXT = {
    Status.DRAFT: frozenset({Status.SHOWN, Status.DECLINED}),
    Status.SHOWN: frozenset({Status.ACCEPTED, Status.DECLINED}),
    Status.ACCEPTED: frozenset({Status.INSTALLED, Status.DECLINED}),
    Status.DECLINED: frozenset(),
    Status.INSTALLED: frozenset(),
}
"""What may follow; an accepted job can still be cancelled by the customer within the legal period."""


class StatusError(ValueError):
    """A status that cannot follow, or a file that cannot be read; the text names the cure."""


@dataclass(frozen=True, slots=True)
class Event:
    """A proposal came to a status on a day."""

    status: Status
    on: dt.date
    proposal: str
    note: str = ""


def events(job: Path) -> tuple[Event, ...]:
    """All events of a job, oldest first; none where nothing was written yet.

    Raises
    ------
    StatusError
        A file that cannot be read, or events that cannot follow each other.
    """
    path = job / STATUS
    if not path.exists():
        return ()
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))["events"]
        found = tuple(
            Event(Status(row["status"]), dt.date.fromisoformat(row["on"]), str(row["proposal"]), str(row["note"]))
            for row in rows
        )
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise StatusError(f"{path}: cannot be read ({error}); restore it from a copy") from None
    for proposal in {event.proposal for event in found}:
        for one, other in pairwise(event for event in found if event.proposal == proposal):
            _check(one, other)
    return found


def status_of(job: Path, proposal: str) -> Event | None:
    """The latest event of one proposal."""
    return next((event for event in reversed(events(job)) if event.proposal == proposal), None)


def add_status(job: Path, status: Status, on: dt.date, proposal: str, note: str = "", *, disk: Disk = DISK) -> Event:
    """Write that a proposal came to a status; a draft that is a draft already stays one.

    Raises
    ------
    StatusError
        A status that cannot follow the present one, a date before it, a proposal that was never drawn up, or a note
        that is too long.
    """
    if len(note) > LONGEST_NOTE:
        raise StatusError(f"note: longer than {LONGEST_NOTE} signs; shorten it")
    done = events(job)
    event = Event(status, on, proposal, note)
    last = next((one for one in reversed(done) if one.proposal == proposal), None)
    if last is None and status is not Status.DRAFT:
        known = ", ".join(dict.fromkeys(one.proposal for one in done)) or "none"
        raise StatusError(f"proposal {proposal!r} is not in {job}; proposals there: {known}")
    if last is not None:
        if status is Status.DRAFT:
            return last
        _check(last, event)
    rows = [{"status": e.status, "on": e.on, "proposal": e.proposal, "note": e.note} for e in (*done, event)]
    write_whole(job / STATUS, canonical_text({"events": rows}), disk)
    return event


def _check(one: Event, other: Event) -> None:
    if other.status not in NEXT[one.status]:
        able = ", ".join(sorted(NEXT[one.status])) or "nothing"
        raise StatusError(f"{other.status} cannot follow {one.status}; what can: {able}")
    if other.on < one.on:
        raise StatusError(f"{other.status} on {other.on} lies before {one.status} on {one.on}; correct the date")
