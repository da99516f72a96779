"""Sessions on the server: bounded, under random names, oldest dropped first. A browser holds its name and no more."""

from __future__ import annotations

import re
import secrets
from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")
NAME_BYTES = 18
_NAME = re.compile(r"[A-Za-z0-9_-]{24}")
MOST_SESSIONS = 200


def new_name() -> str:
    """A session name that cannot be guessed: 144 random bits."""
    return secrets.token_urlsafe(NAME_BYTES)


class Sessions(Generic[T]):
    """A bounded store; the session that was used longest ago goes first."""

    def __init__(self, most: int = MOST_SESSIONS) -> None:
        self._kept: OrderedDict[str, T] = OrderedDict()
        self._most = most
        self._lock = Lock()

    def find(self, name: object) -> T | None:
        """The session of that name, None where it was dropped or never there.

        Raises
        ------
        ValueError
            For a name that this program does not give out.
        """
        key = _checked(name)
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def get(self, name: object, otherwise: Callable[[], T]) -> T:
        """The session of that name, a fresh one where there is none; raises `ValueError` as `find` does."""
        found = self.find(name)
        return otherwise() if found is None else found

    def put(self, name: object, session: T) -> None:
        """Keep a session; the oldest ones give way. Raises `ValueError` as `find` does."""
        key = _checked(name)
        with self._lock:
            self._kept[key] = session
            self._kept.move_to_end(key)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)

    def __len__(self) -> int:
        with self._lock:
            return len(self._kept)


def _checked(name: object) -> str:
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        raise ValueError("no such session name")
    return name
