"""Answers for the table page from a house file: compared once in the background, then asked as often as wanted.

Priorities and cooling only score anew. Doors and insulation give another house, which is compared in the background
before anybody asks, so that a switch answers at once. The table gets customer views and nothing else; the comparison
itself goes to the desk alone.
"""

from __future__ import annotations

import logging
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock, RLock, Thread

from compare.house.model import HouseFile
from compare.house.problems import HouseFileError, Problem
from compare.house.reading import read_house
from compare.offer import Progress
from compare.pipeline import Comparison, compare_house
from compare.views.customer import CustomerView
from compare.whatif import bedroom_doors_shut, bedrooms_not_cooled, doors_at_night, insulated_first
from dashboard.session import (
    Empty,
    Failed,
    Fault,
    Offer,
    Question,
    Ready,
    Status,
    WhatIf,
    Working,
    start_question,
)

MOST_VIEWS = 256
MOST_COMPARISONS = 3
AROUND_LINES = 2
SHORTEST_RATE_S = 0.5
PHYSICAL = frozenset({WhatIf.DOORS_SHUT, WhatIf.INSULATE_FIRST})
"""What-ifs that change the house itself."""
OFFERS = {
    WhatIf.DOORS_SHUT: Offer(WhatIf.DOORS_SHUT, "Bedroom doors shut", "at night"),
    WhatIf.COOL_BEDROOMS: Offer(WhatIf.COOL_BEDROOMS, "Cool the bedrooms", "on hot days and nights"),
    WhatIf.INSULATE_FIRST: Offer(WhatIf.INSULATE_FIRST, "Insulate attic first", "and seal its air leaks"),
}
LEFT_OUT = "left out"
_log = logging.getLogger("hplayouts.source")
Compare = Callable[[HouseFile, Path, Progress], Comparison]


def _compare(house: HouseFile, folder: Path, tell: Progress) -> Comparison:
    return compare_house(house, folder, progress=tell)


def among_shown(view: CustomerView) -> CustomerView:
    """The same view speaking only of options that it shows: equals and winners that differ from a shown one in the
    place of a duct, say, have no card of their own.
    """
    ids = {option.id for option in view.options}
    answer = view.answer
    others = (option.id for option in view.options if option.id != answer.winner and option.status != LEFT_OUT)
    rival = answer.runner_up if answer.runner_up in ids else next(others, None)
    equals = tuple(item for item in answer.equals if item in ids)
    winners = {name: item for name, item in view.profile_winners.items() if item in ids}
    return view.model_copy(
        update={
            "answer": answer.model_copy(update={"runner_up": rival, "equals": equals}),
            "profile_winners": winners,
        }
    )


@dataclass(frozen=True, slots=True)
class House:
    """A house file that was read, and what can be tried with it."""

    file: HouseFile
    folder: Path
    changed_ns: int

    @property
    def offers(self) -> tuple[Offer, ...]:
        """Switches that mean something in this house."""
        found = [OFFERS[WhatIf.COOL_BEDROOMS]]
        if bedroom_doors_shut(self.file) is not None:
            found.insert(0, OFFERS[WhatIf.DOORS_SHUT])
        if insulated_first(self.file) != self.file:
            found.append(OFFERS[WhatIf.INSULATE_FIRST])
        return tuple(found)

    @property
    def question(self) -> Question:
        """The question as the house file asks it."""
        on = {WhatIf.COOL_BEDROOMS}
        if bedroom_doors_shut(self.file):
            on.add(WhatIf.DOORS_SHUT)
        return start_question(self.file.priorities.model_dump(), frozenset(on))

    def changed(self, on: frozenset[WhatIf]) -> HouseFile:
        """The house under the physical what-ifs."""
        file = self.file
        if (WhatIf.DOORS_SHUT in on) != (WhatIf.DOORS_SHUT in self.question.on):
            file = doors_at_night(file, shut=WhatIf.DOORS_SHUT in on)
        return insulated_first(file) if WhatIf.INSULATE_FIRST in on else file


@dataclass
class _Pace:
    """How fast the work goes, for the line under the bar."""

    what: str = ""
    done: int = 0
    total: int = 0
    since_s: float = field(default_factory=time.monotonic)

    def tell(self, what: str, done: int, total: int) -> None:
        if what != self.what:
            self.what, self.since_s = what, time.monotonic()
        self.done, self.total = done, total

    @property
    def seconds_left(self) -> float | None:
        passed_s = time.monotonic() - self.since_s
        if not self.done or passed_s < SHORTEST_RATE_S:
            return None
        return passed_s / self.done * (self.total - self.done)


class HouseSource:
    """A source of answers over one house file; `open` starts the work."""

    def __init__(self, path: Path, compare: Compare = _compare) -> None:
        self._path = path
        self._compare = compare
        self._pace = _Pace()
        self._house: House | None = None
        self._failed: Failed | None = None
        self._failed_ns = 0
        self._found: dict[frozenset[WhatIf], Comparison] = {}
        self._views: OrderedDict[Question, CustomerView] = OrderedDict()
        self._uncooled: dict[frozenset[WhatIf], Comparison] = {}
        self._state, self._work, self._judging = RLock(), Lock(), Lock()
        self._opening: Thread | None = None
        self._first = False

    def open(self) -> None:
        """Read the file and compare its layouts in the background."""
        with self._state:
            if self._opening is not None and self._opening.is_alive():
                return
            self._failed, self._house, self._pace, self._first = None, None, _Pace(), False
            self._found, self._uncooled, self._views = {}, {}, OrderedDict()
            self._opening = Thread(target=self._run, name="compare", daemon=True)
            self._opening.start()

    def status(self) -> Status:
        """How far the work is; a file that was mended since it failed is read again."""
        with self._state:
            failed, house, first = self._failed, self._house, self._first
            started = self._opening is not None
        if failed is not None:
            if self._stamp() == self._failed_ns:
                return failed
            self.open()
            return Working(0, 0)
        if house is not None and first:
            return Ready(house.question, house.offers, outdated=self._stamp() != house.changed_ns)
        if not started:
            return Empty()
        pace = self._pace
        return Working(pace.done, pace.total, pace.seconds_left, house.file.house.name if house else "", pace.what)

    def comparison(self) -> Comparison | None:
        """The comparison of the house as its file was read, for the desk; None before there is one.

        After `sleep` it is made anew.
        """
        with self._state:
            house, first = self._house, self._first
            found = self._found.get(house.question.on & PHYSICAL) if house is not None else None
        if found is None and house is not None and first:
            return self._comparison(house.question.on & PHYSICAL, house)
        return found

    def sleep(self) -> None:
        """Give up the comparisons to free their memory; the next question makes the one that it needs again."""
        with self._state:
            if self._first:
                self._found, self._uncooled, self._views = {}, {}, OrderedDict()

    def forget(self) -> None:
        """Drop kept answers: a comparison that has been tested by draws since tells how sure it is."""
        with self._state:
            self._views = OrderedDict()

    def view(self, question: Question) -> CustomerView:
        """The answer to a question; compares the house anew where nobody did before.

        Raises
        ------
        ValueError
            Before the first comparison, and for a what-if that this house does not offer.
        """
        with self._state:
            house = self._house
        if house is None:
            raise ValueError("no house is open")
        kept = self.known(question)
        if kept is not None:
            return kept
        self._check(question, house)
        return self._told(self._comparison(question.on & PHYSICAL, house), question)

    def known(self, question: Question) -> CustomerView | None:
        """The answer if the house need not be compared anew for it."""
        kept = self.kept(question)
        if kept is not None:
            return kept
        with self._state:
            found = self._found.get(question.on & PHYSICAL)
        return None if found is None else self._told(found, question)

    def kept(self, question: Question) -> CustomerView | None:
        """The answer if it was given before."""
        with self._state:
            if question in self._views:
                self._views.move_to_end(question)
            return self._views.get(question)

    def _judged(self, found: Comparison, question: Question) -> Comparison:
        """The comparison as a family judges it that does or does not want cool bedrooms; each judged once."""
        if question.cool_bedrooms:
            return found
        key = question.on & PHYSICAL
        with self._judging:
            if key not in self._uncooled:
                self._uncooled[key] = bedrooms_not_cooled(found)
            return self._uncooled[key]

    def _told(self, found: Comparison, question: Question) -> CustomerView:
        judged = self._judged(found, question)
        view = among_shown(judged.customer_view(question.priorities))
        with self._state:
            self._views[question] = view
            while len(self._views) > MOST_VIEWS:
                self._views.popitem(last=False)
        return view

    def _check(self, question: Question, house: House) -> None:
        offered = {offer.what for offer in house.offers} | house.question.on | {WhatIf.FEW_IN_SIGHT}
        if not question.on <= offered:
            raise ValueError("this house does not offer that what-if")

    def _comparison(self, on: frozenset[WhatIf], house: House) -> Comparison:
        with self._work:
            with self._state:
                if on in self._found:
                    return self._found[on]
            found = self._compare(house.changed(on), house.folder, lambda *_told: None)
            with self._state:
                if self._house is house:
                    self._keep(on, found, house)
        return found

    def _keep(self, on: frozenset[WhatIf], found: Comparison, house: House) -> None:
        """Keep a comparison; it holds every hour of every option, so only the house as it is and the latest stay."""
        self._found[on] = found
        start = house.question.on & PHYSICAL
        too_many = max(0, len(self._found) - MOST_COMPARISONS)
        for old in [key for key in self._found if key not in (start, on)][:too_many]:
            del self._found[old]
            self._uncooled.pop(old, None)

    def _run(self) -> None:
        stamp = self._stamp()
        try:
            house = House(read_house(self._path), self._path.resolve().parent, stamp)
            with self._state:
                self._house = house
            first = self._compare(house.file, house.folder, self._pace.tell)
        except HouseFileError as error:
            self._fail(Failed(self._path.name, _faults(error, self._path)), stamp)
        except (ValueError, OSError) as error:
            self._fail(Failed(self._path.name, (Fault(0, "", str(error)),)), stamp)
        except Exception:
            _log.exception("the comparison failed")
            self._fail(Failed(self._path.name, (Fault(0, "", "The comparison failed. See the terminal."),)), stamp)
        else:
            with self._state:
                self._found[house.question.on & PHYSICAL] = first
                self._first = True
            self._prepare(house)

    def _prepare(self, house: House) -> None:
        """Answer the start and each switch turned over before anybody asks."""
        for question in (house.question, *(house.question.flipped(offer.what) for offer in house.offers)):
            if self._house is not house or not self._found:
                return
            try:
                self._told(self._comparison(question.on & PHYSICAL, house), question)
            except Exception:
                _log.exception("the house could not be compared with a switch turned over")
                return

    def _fail(self, failed: Failed, stamp_ns: int) -> None:
        with self._state:
            self._failed, self._failed_ns = failed, stamp_ns

    def _stamp(self) -> int:
        try:
            return self._path.stat().st_mtime_ns
        except OSError:
            return 0


def _faults(error: HouseFileError, path: Path) -> tuple[Fault, ...]:
    try:
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        lines = []
    return tuple(_fault(problem, lines) for problem in error.problems)


def _fault(problem: Problem, lines: list[str]) -> Fault:
    first, last = max(1, problem.line - AROUND_LINES), min(len(lines), problem.line + 1)
    excerpt = tuple((number, lines[number - 1]) for number in range(first, last + 1)) if problem.line else ()
    return Fault(problem.line, problem.path, problem.message, problem.suggestion, excerpt)
