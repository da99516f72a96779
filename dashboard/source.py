"""Answers for the table page from a house file: compared once in the background, then asked as often as wanted.

Doors and insulation give another house, which is compared in the background before anybody asks, so that a switch
answers at once; whoever asks for something else goes first. The table gets customer views and nothing else; the
comparison itself goes to the desk alone.
"""

from __future__ import annotations

import logging
from collections import OrderedDict
from pathlib import Path
from threading import RLock, Thread

from compare.house.model import HouseFile
from compare.house.problems import HouseFileError, Problem
from compare.house.reading import read_house
from compare.offer import Progress
from compare.pipeline import Comparison, compare_house
from compare.scoring.weights import weights_from_priorities
from compare.views.customer import CustomerView
from compare.views.pair import PairView, pair_view
from dashboard.errands import Errands, Pace
from dashboard.house import PHYSICAL, House
from dashboard.pointing import PointedHouse
from dashboard.session import Empty, Failed, Fault, Pending, Question, Ready, Status, Working
from dashboard.trials import Compare, Stopped, Trials

MOST_VIEWS = 256
AROUND_LINES = 2
LEFT_OUT = "left out"
_log = logging.getLogger("hplayouts.source")


def _untold(_what: str, _done: int, _all: int) -> None:
    """Progress that nobody watches."""


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


class HouseSource:
    """A source of answers over one house file; `open` starts the work."""

    def __init__(self, path: Path, compare: Compare = _compare) -> None:
        self._path = path
        self._compare = compare
        self._pace = Pace()
        self._house: House | None = None
        self._trials: Trials | None = None
        self._failed: Failed | None = None
        self._failed_ns = 0
        self._views: OrderedDict[Question, CustomerView] = OrderedDict()
        self._errands = Errands(self._answer)
        self._state = RLock()
        self._opening: Thread | None = None
        self._first = False
        self.pointed = PointedHouse(self.found)

    def open(self) -> None:
        """Read the file and compare its layouts in the background."""
        with self._state:
            if self._opening is not None and self._opening.is_alive():
                return
            self._failed, self._house, self._pace, self._first = None, None, Pace(), False
            self._trials, self._views = None, OrderedDict()
            self.pointed = PointedHouse(self.found)
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
            house, trials, first = self._house, self._trials, self._first
        if house is None or trials is None or not first:
            return None
        return trials.compared(house.question.on & PHYSICAL, _untold)

    def file(self) -> tuple[Path, int] | None:
        """The house file and its time when it was read; None before that."""
        with self._state:
            return None if self._house is None else (self._path, self._house.changed_ns)

    def sleep(self) -> None:
        """Give up the comparisons to free their memory; the next question makes the one that it needs again."""
        with self._state:
            if self._first and self._trials is not None:
                self._trials.drop()
                self._views = OrderedDict()

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
        kept = self.kept(question)
        return self._answer(question, _untold) if kept is None else kept

    def ask(self, question: Question, who: str, patience_s: float) -> CustomerView | Pending:
        """The answer if it comes in time, else how far it is; raises as `view` does, `RuntimeError` where it failed."""
        kept = self.kept(question)
        if kept is not None:
            return kept
        self._checked(question)
        return self._errands.ask(question, who, patience_s)

    def pair(self, question: Question, first: str, second: str) -> PairView:
        """Where each of two options is better; raises `ValueError` as `view` does, and for an unknown option."""
        found = self._checked(question).found(question, _untold)
        if not {first, second} <= found.by_id.keys():
            raise ValueError("no such option")
        return pair_view(found.rank(weights_from_priorities(question.priorities)), first, second)

    def leave(self, question: Question, who: str) -> None:
        """Somebody no longer waits for an answer."""
        self._errands.leave(who, question)

    def known(self, question: Question) -> CustomerView | None:
        """The answer if the house need not be compared anew for it."""
        kept = self.kept(question)
        if kept is not None:
            return kept
        with self._state:
            trials = self._trials
        return self._answer(question, _untold) if trials is not None and trials.at_hand(question) else None

    def kept(self, question: Question) -> CustomerView | None:
        """The answer if it was given before."""
        with self._state:
            if question in self._views:
                self._views.move_to_end(question)
            return self._views.get(question)

    def found(self, question: Question) -> Comparison:
        """The comparison that answers a question, for what is pointed at on the plan, and for the paper."""
        return self._checked(question).found(question, _untold)

    def _checked(self, question: Question) -> Trials:
        with self._state:
            house, trials = self._house, self._trials
        if house is None or trials is None:
            raise ValueError("no house is open")
        house.check(question)
        return trials

    def _answer(self, question: Question, tell: Progress) -> CustomerView:
        trials = self._checked(question)
        view = among_shown(trials.found(question, tell).customer_view(question.priorities))
        with self._state:
            if self._trials is trials:
                view = self._views.setdefault(question, view)
                while len(self._views) > MOST_VIEWS:
                    self._views.popitem(last=False)
        return view

    def _run(self) -> None:
        stamp = self._stamp()
        try:
            house = House(read_house(self._path), self._path.resolve().parent, stamp)
            with self._state:
                self._house = house
                self._trials = trials = Trials(house, self._compare)
            first = self._compare(house.file, house.folder, self._pace.tell)
        except HouseFileError as error:
            self._fail(Failed(self._path.name, _faults(error, self._path)), stamp)
        except (ValueError, OSError) as error:
            self._fail(Failed(self._path.name, (Fault(0, "", str(error)),)), stamp)
        except Exception:
            _log.exception("the comparison failed")
            self._fail(Failed(self._path.name, (Fault(0, "", "The comparison failed. See the terminal."),)), stamp)
        else:
            trials.keep(house.question.on & PHYSICAL, first)
            with self._state:
                self._first = True
            self._prepare(trials)

    def _prepare(self, trials: Trials) -> None:
        """Answer the start and each switch turned over before anybody asks; gives way to whoever waits."""
        start = trials.house.question
        for question in (start, *(start.flipped(offer.what) for offer in trials.house.offers)):

            def tell(_what: str, _done: int, _all: int, question: Question = question) -> None:
                if self._trials is not trials or self._errands.urgent(question):
                    raise Stopped

            while self._trials is trials:
                self._errands.quiet.wait()
                try:
                    self._answer(question, tell)
                    break
                except Stopped:
                    continue
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
