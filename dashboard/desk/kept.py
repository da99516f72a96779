"""Answers that are made once and kept: one maker at a time for each, the latest ones stay."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class _Place(Generic[T]):
    __slots__ = ("found", "lock")

    def __init__(self) -> None:
        self.lock = Lock()
        self.found: list[T] = []


class Kept(Generic[T]):
    """Bounded; whoever asks for what another is making waits for it and gets the same."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Lock()
        self._places: OrderedDict[Hashable, _Place[T]] = OrderedDict()

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is kept under a key, made where it is not; an error of the maker is raised and nothing kept."""
        with self._lock:
            place = self._places.setdefault(key, _Place())
            self._places.move_to_end(key)
            while len(self._places) > self._most:
                self._places.popitem(last=False)
        with place.lock:
            if not place.found:
                place.found.append(make())
            return place.found[0]

    def clear(self) -> None:
        """Keep nothing of what was made so far."""
        with self._lock:
            self._places.clear()

    def __len__(self) -> int:
        with self._lock:
            return sum(bool(place.found) for place in self._places.values())
