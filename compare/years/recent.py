"""Hours of options on demand: run again for whoever asks, the latest few remembered."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from compare.years.gather import OptionRun
from compare.years.kept import KeptYear

MOST_RECENT = 8
"""Options whose hours are remembered: as many as a page compares (about 6 MB each)."""


class RecentHours:
    """The hours that were asked for last; any number of callers."""

    def __init__(self, most: int = MOST_RECENT) -> None:
        self._most = most
        self._held: OrderedDict[KeptYear, OptionRun] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        """How many options' hours are held."""
        return len(self._held)

    def of(self, year: KeptYear) -> OptionRun:
        """A year by the hour."""
        with self._lock:
            if year in self._held:
                self._held.move_to_end(year)
                return self._held[year]
        found = year.again()
        with self._lock:
            found = self._held.setdefault(year, found)
            self._held.move_to_end(year)
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return found
