"""Issuing a proposal from the desk: the open layout is frozen into a job's folder beside the house file."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import dash_mantine_components as dmc
from dash import html
from dash.development.base_component import Component

from compare.jobs.given import Given
from compare.jobs.proposal import freeze
from compare.jobs.record import Offer, offered_card, short_id
from dashboard.desk.parts import section
from dashboard.desk.study import Study

JOBS = "jobs"
LONGEST = 60
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]*")


class IssueError(ValueError):
    """A proposal that cannot be issued; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class Issued:
    """A proposal that was issued."""

    proposal: str
    job: str
    until: dt.date


def checked_job(name: object) -> str:
    """A job's name as it came from a browser, which becomes that of a folder; `IssueError` for one that will not do."""
    text = name.strip() if isinstance(name, str) else ""
    if len(text) > LONGEST or not _NAME.fullmatch(text) or text.endswith(".") or ".." in text:
        raise IssueError(
            f"Give the job a name of letters, figures, spaces, dots or dashes, {LONGEST} at most, as in Baker-Street-7."
        )
    return text


def _now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


@dataclass(frozen=True, slots=True)
class Issuer:
    """Issues from a house file into the folder `jobs` beside it; `stamp_ns` is the file's time when it was compared."""

    path: Path
    stamp_ns: int
    now: Callable[[], dt.datetime] = _now

    @property
    def usual_job(self) -> str:
        """A job's name to begin with: that of the house file."""
        return re.sub(r"[^A-Za-z0-9._-]+", "-", self.path.stem).strip("-.")[:LONGEST] or "house"

    def issue(self, study: Study, option_id: str, job: object) -> Issued:
        """Freeze a layout as it was compared.

        Raises
        ------
        IssueError
            For a name that will not do, a layout that is not offered, a house file that changed since, and a folder
            that cannot be written.
        """
        name = checked_job(job)
        try:
            offered_card(study.customer, option_id)
        except ValueError:
            raise IssueError("Only a layout that the table shows can be offered. Open one of those first.") from None
        try:
            if self.path.stat().st_mtime_ns != self.stamp_ns:
                raise IssueError("The house file changed since. Work the house out again at the table, then issue it.")
            given, offer = Given.at(self.path), Offer(option_id, self.now(), role="designer")
            _, record = freeze(study.found, given, offer, self.path.resolve().parent / JOBS / name)
        except OSError as error:
            raise IssueError(f"The folder {JOBS}/{name} cannot be written: {error.strerror}.") from None
        except ValueError as error:
            raise error if isinstance(error, IssueError) else IssueError(str(error)) from None
        return Issued(short_id(record), name, offer.valid_to)


def issue_part(issuer: Issuer) -> Component:
    """The section: a name for the job, the button, and a place for what came of it."""
    return section(
        "issue",
        "Issue a proposal",
        f"The open layout is kept as it is now, with its inputs and checks, in {JOBS} beside the house file. "
        "The office adds its figures later.",
        html.Div(
            [
                dmc.TextInput(id="job", label="Job", value=issuer.usual_job, size="md", w=300),
                html.Button("Issue the proposal", id="issue-now", className="button", n_clicks=0),
            ],
            className="controls",
        ),
        html.Div(id="issued", role="status"),
    )


def issued_words(found: Issued) -> list[Component]:
    """What came of it."""
    return [html.P(f"Proposal {found.proposal} is issued into {JOBS}/{found.job}. It holds until {found.until:%B} "
                   f"{found.until.day}, {found.until.year}.", className="says")]  # fmt: skip
