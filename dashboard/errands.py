"""Answers that take a while: worked out aside, told how far they are, and called off when nobody waits any more."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event, Lock, Thread

from compare.offer import Progress
from compare.views.customer import CustomerView
from dashboard.session import Pending, Question
from dashboard.trials import Stopped

SHORTEST_RATE_S = 0.5
MOST_UNFETCHED = 16
Work = Callable[[Question, Progress], CustomerView]
_log = logging.getLogger("hplayouts.source")


@dataclass
class Pace:
    """How fast a piece of work goes, for the line under its bar."""

    what: str = ""
    done: int = 0
    total: int = 0
    since_s: float = field(default_factory=time.monotonic)

    def tell(self, what: str, done: int, total: int) -> None:
        """Hear how far the work is."""
        if what != self.what:
            self.what, self.since_s = what, time.monotonic()
        self.done, self.total = done, total

    @property
    def seconds_left(self) -> float | None:
        """How long it will take; None before anybody can say."""
        passed_s = time.monotonic() - self.since_s
        if not self.done or passed_s < SHORTEST_RATE_S:
            return None
        return passed_s / self.done * (self.total - self.done)


@dataclass(eq=False)
class Errand:
    """One question that is being worked out, and who waits for it."""

    question: Question
    waiting: set[str]
    pace: Pace = field(default_factory=Pace)
    over: Event = field(default_factory=Event)
    view: CustomerView | None = None
    failed: bool = False

    def tell(self, what: str, done: int, total: int) -> None:
        """Progress of the work; ends it when nobody waits any more."""
        if not self.waiting:
            raise Stopped
        self.pace.tell(what, done, total)


class Errands:
    """All errands of a source."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._now: dict[Question, Errand] = {}
        self._lock = Lock()
        self.quiet = Event()
        self.quiet.set()

    def ask(self, question: Question, who: str, patience_s: float) -> CustomerView | Pending:
        """The answer if it comes in time, else how far it is; ask again for it.

        Raises
        ------
        RuntimeError
            When it could not be worked out.
        """
        with self._lock:
            errand = self._now.get(question)
            if errand is None or (errand.over.is_set() and errand.view is None and not errand.failed):
                errand = self._now[question] = Errand(question, {who})
                self.quiet.clear()
                Thread(target=self._run, args=(errand,), name="errand", daemon=True).start()
            errand.waiting.add(who)
        if not errand.over.wait(patience_s):
            pace = errand.pace
            return Pending(pace.done, pace.total, pace.seconds_left)
        self.leave(who, question)
        if errand.view is None:
            raise RuntimeError("could not be worked out")
        return errand.view

    def leave(self, who: str, question: Question) -> None:
        """Somebody waits no more; the work stops when nobody else does."""
        with self._lock:
            errand = self._now.get(question)
            if errand is None:
                return
            errand.waiting.discard(who)
            if errand.over.is_set() and not errand.waiting:
                del self._now[question]

    def urgent(self, question: Question) -> bool:
        """Whether somebody waits for another question than this one."""
        with self._lock:
            return any(key.on != question.on and not errand.over.is_set() for key, errand in self._now.items())

    def _run(self, errand: Errand) -> None:
        try:
            errand.view = self._work(errand.question, errand.tell)
        except Stopped:
            pass
        except Exception:
            errand.failed = True
            _log.exception("a question could not be worked out")
        finally:
            errand.over.set()
            with self._lock:
                if not errand.waiting and self._now.get(errand.question) is errand:
                    del self._now[errand.question]
                over = [key for key, other in self._now.items() if other.over.is_set()]
                for key in over[:-MOST_UNFETCHED]:
                    del self._now[key]
                if all(other.over.is_set() for other in self._now.values()):
                    self.quiet.set()
