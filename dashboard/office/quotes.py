"""What the page is about: every proposal of the jobs with its figures, and the layouts that its house could have."""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from compare.jobs.proposal import FOLDER
from compare.jobs.record import DIGEST, RECORD, read_record
from compare.office.alternatives import AlternativesError, read_view, view_path
from compare.office.figures import OPEN, JobFigures, job_figures
from compare.office.view import OfficeOption, OfficeView
from dashboard.office.place import Place

LAYOUTS = {
    "mix": "The mix",
    "heads_and_heaters": "Wall unit and room heaters",
    "ducted_all": "One hidden unit",
    "head_each": "A wall unit in each room",
    "single_head": "One wall unit",
    "few_heads": "Two wall units",
}
_OPEN = frozenset(status.value for status in OPEN)
Stamp = tuple[dt.date, frozenset[tuple[str, int, int]]]


@dataclass(frozen=True, slots=True)
class Quote:
    """One proposal; `option` and `view` None where the office has not worked its costs out."""

    job: JobFigures
    label: str
    record: Path
    view: OfficeView | None
    error: str = ""

    @property
    def id(self) -> str:
        """What its page is called."""
        return self.job.proposal

    @property
    def option(self) -> OfficeOption | None:
        """The layout that was offered, in the office's figures."""
        return self.job.entry.figures if self.job.entry is not None else None

    @property
    def is_open(self) -> bool:
        """Whether the customer has not decided yet."""
        return self.job.status in _OPEN

    @property
    def is_complete(self) -> bool:
        """Whether costs and other layouts are there."""
        return self.option is not None and self.view is not None

    @property
    def layout(self) -> str:
        """The kind of layout in the words of all pages."""
        return LAYOUTS.get(self.job.kind, self.job.kind)

    @property
    def place(self) -> int:
        """Place of the offered layout among those of its house; 0 when it is left out or not worked out."""
        option = self.option
        return option.place if option is not None else 0

    def days_left(self, on: dt.date) -> int:
        """Days until the customer decides, or until the offer ends where no such day is known."""
        decision = self.job.entry.decision_on if self.job.entry is not None else None
        return ((decision or self.job.valid_to) - on).days


def layout_name(option: OfficeOption) -> str:
    """The kind of an option in the words of all pages."""
    return LAYOUTS.get(option.family, option.family)


class Quotes:
    """All proposals of a place, read again only when a file has changed."""

    def __init__(self, place: Place) -> None:
        self._place = place
        self._lock = threading.Lock()
        self._stamp: Stamp | None = None
        self._found: tuple[Quote, ...] = ()

    def on(self, day: dt.date) -> tuple[Quote, ...]:
        """Every proposal as it stands on a day."""
        with self._lock:
            stamp = (day, frozenset(_stamps(self._place)))
            if stamp != self._stamp:
                self._found = read_quotes(self._place, day)
                self._stamp = stamp
            return self._found


def _stamps(place: Place) -> Iterator[tuple[str, int, int]]:
    patterns = (f"*/{FOLDER}*/{RECORD}", "*/status.json", "*/readings-*.csv", "*/changes/*.json")
    paths = [path for pattern in patterns for path in place.jobs.glob(pattern)]
    for path in (*paths, *place.office.glob("*.json"), *place.office.glob("*/*.json")):
        try:
            told = path.stat()
        except OSError:
            continue
        yield str(path), told.st_mtime_ns, told.st_size


def read_quotes(place: Place, day: dt.date) -> tuple[Quote, ...]:
    """Read every proposal; one that cannot be read is there too, with its error."""
    figures = job_figures(place.jobs, place.office, day)
    several = {one.job for one in figures if sum(other.job == one.job for other in figures) > 1}
    return tuple(_quote(place, one, several) for one in figures)


def _quote(place: Place, one: JobFigures, several: set[str]) -> Quote:
    record = place.jobs / one.job / f"{FOLDER}{one.proposal}" / RECORD
    label = f"{one.job} {one.proposal[:4]}" if one.job in several else one.job
    if one.error:
        return Quote(one, label, record, None, _without_paths(one.error, place))
    digest = one.entry.record_sha256 if one.entry is not None else str(read_record(record)[DIGEST])
    try:
        view = read_view(view_path(place.office, digest), digest)
    except AlternativesError as error:
        return Quote(one, label, record, None, _without_paths(str(error), place))
    if view is not None and one.entry is not None and all(o.id != one.entry.figures.id for o in view.options):
        view = None
    return Quote(one, label, record, view)


def _without_paths(text: str, place: Place) -> str:
    """An error without the folders of this computer."""
    return text.replace(f"{place.jobs}/", "").replace(f"{place.office}/", "office/")
