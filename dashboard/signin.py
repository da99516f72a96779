"""Who is signed in: random ids in memory, for eight hours at most, ended by a new password; and how often one may try.

After OWASP ASVS 5.0.0: 7.2.3 (random ids), 7.3.2 (absolute lifetime), 7.4.1 (ended on sign-out), 6.3.1 (guessing).
"""

from __future__ import annotations

import hmac
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256

LIFE_S = 8 * 3600.0
MOST_SESSIONS = 32
FREE_TRIES = 5
FIRST_WAIT_S, LONGEST_WAIT_S = 30.0, 900.0

Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Session:
    """One browser that is signed in."""

    csrf: str
    ends_s: float
    password_hash: str


class Sessions:
    """Sessions by the digest of their id, oldest out first when there are too many."""

    def __init__(self, clock: Clock = time.monotonic, life_s: float = LIFE_S) -> None:
        self._clock, self._life_s = clock, life_s
        self._lock = threading.Lock()
        self._open: dict[str, Session] = {}

    def __len__(self) -> int:
        with self._lock:
            self._drop_old()
            return len(self._open)

    def begin(self, password_hash: str) -> str:
        """A new session; returns the id that the browser keeps."""
        name = secrets.token_urlsafe(32)
        session = Session(secrets.token_urlsafe(32), self._clock() + self._life_s, password_hash)
        with self._lock:
            self._drop_old()
            while len(self._open) >= MOST_SESSIONS:
                del self._open[next(iter(self._open))]
            self._open[_digest(name)] = session
        return name

    def find(self, name: str, password_hash: str) -> Session | None:
        """The session of an id; None when there is none, it has run out, or the password was changed since."""
        with self._lock:
            self._drop_old()
            session = self._open.get(_digest(name))
        return session if session is not None and same(session.password_hash, password_hash) else None

    def end(self, name: str) -> None:
        """Sign out."""
        with self._lock:
            self._open.pop(_digest(name), None)

    def _drop_old(self) -> None:
        now = self._clock()
        for key in [key for key, session in self._open.items() if session.ends_s <= now]:
            del self._open[key]


class Tries:
    """Wrong passwords in a row over all clients: five are free, then each doubles the wait, up to a quarter of an hour.

    One count for everybody: behind a proxy all clients look alike, and addresses are cheap to change.
    """

    def __init__(self, clock: Clock = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._wrong = 0
        self._until_s = float("-inf")

    def begin(self) -> float:
        """Begin a try, which counts as wrong until `right` is told. Returns seconds to wait; 0 when it may go on."""
        with self._lock:
            left_s = self._until_s - self._clock()
            if left_s > 0.0:
                return left_s
            self._wrong += 1
            if self._wrong >= FREE_TRIES:
                wait_s = min(LONGEST_WAIT_S, FIRST_WAIT_S * 2.0 ** min(16, self._wrong - FREE_TRIES))
                self._until_s = self._clock() + wait_s
            return 0.0

    def right(self) -> None:
        """The password was right: the count begins anew."""
        with self._lock:
            self._wrong, self._until_s = 0, float("-inf")


def _digest(name: str) -> str:
    return sha256(name.encode("utf-8", "replace")).hexdigest()


def same(one: str, other: str) -> bool:
    """Whether two texts are equal, in a time that tells nothing of where they differ."""
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode("utf-8", "replace"))


class FormSeal:
    """Seal of the sign-in form, before there is a session: the form and a cookie must belong together."""

    def __init__(self) -> None:
        self._secret = secrets.token_bytes(32)

    def seal(self, cookie: str) -> str:
        """What the form carries beside a cookie."""
        return hmac.new(self._secret, cookie.encode("utf-8", "replace"), sha256).hexdigest()

    def fits(self, cookie: str, sealed: str) -> bool:
        """Whether form and cookie belong together."""
        return bool(cookie) and same(self.seal(cookie), sealed)
