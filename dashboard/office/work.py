"""Working out quotes that have no costs yet, one after the other behind the page; a bad one stops nothing."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from compare.office.ledger import complete
from compare.office.view_build import OfficeBasis
from dashboard.office.quotes import Quote

Completer = Callable[[Path, Path, OfficeBasis], object]
_log = logging.getLogger("hplayouts.office")


@dataclass(frozen=True, slots=True)
class Progress:
    """How far it is; `failed` names the quotes that could not be worked out, with the reason."""

    running: bool = False
    done: int = 0
    total: int = 0
    label: str = ""
    failed: tuple[tuple[str, str], ...] = ()


class Work:
    """At most one run at a time."""

    def __init__(self, office: Path, basis: Callable[[], OfficeBasis], completer: Completer = complete) -> None:
        self._office, self._basis, self._completer = office, basis, completer
        self._lock = threading.Lock()
        self._now = Progress()

    def now(self) -> Progress:
        """How far the present run is, or how the last one ended."""
        with self._lock:
            return self._now

    def start(self, quotes: Sequence[Quote]) -> bool:
        """Begin to work these quotes out; False when a run is under way or there is nothing to do."""
        with self._lock:
            if self._now.running or not quotes:
                return False
            self._now = Progress(running=True, total=len(quotes), label=quotes[0].label)
        threading.Thread(target=self._run, args=(tuple(quotes),), daemon=True).start()
        return True

    def _run(self, quotes: tuple[Quote, ...]) -> None:
        failed: list[tuple[str, str]] = []
        for done, quote in enumerate(quotes):
            self._tell(done=done, label=quote.label, failed=tuple(failed))
            try:
                self._completer(quote.record, self._office, self._basis())
            except (ValueError, OSError) as error:
                failed.append((quote.label, str(error).replace(f"{quote.record.parents[2]}/", "")))
            except Exception as error:
                _log.error("working out %r failed", quote.label, exc_info=error)
                failed.append((quote.label, "could not be worked out; the log of this program says why"))
        self._tell(running=False, done=len(quotes), label="", failed=tuple(failed))

    def _tell(self, **changed: object) -> None:
        with self._lock:
            self._now = replace(self._now, **changed)  # type: ignore[arg-type]


def missing(quotes: Sequence[Quote]) -> tuple[Quote, ...]:
    """Open quotes that can be read and have no costs or no other layouts yet."""
    return tuple(quote for quote in quotes if quote.is_open and not quote.is_complete and not quote.job.error)
