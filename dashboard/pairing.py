"""Codes that let a tablet in: shown on this computer, typed once, good for ten minutes.

After NIST SP 800-63B-4, 3.1.3.2 (a code of at least six figures, used once, good for at most ten minutes, guesses
limited) and OWASP ASVS 5.0.0, 6.5.1 to 6.5.5. A code is in no address and in no log.
"""

from __future__ import annotations

import secrets
import threading
import time
from collections.abc import Callable

from dashboard.signin import same

FIGURES = 8
LIFE_S = 600.0
MOST_WRONG = 10
"""Wrong codes after which the code itself is void (our judgement)."""
_SPACE = str.maketrans("", "", " -\u00a0")


class Codes:
    """At most one code at a time; a new one ends the old one."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._code, self._ends_s, self._wrong = "", 0.0, 0

    def new(self) -> str:
        """A new code, as eight figures."""
        code = f"{secrets.randbelow(10**FIGURES):0{FIGURES}d}"
        with self._lock:
            self._code, self._ends_s, self._wrong = code, self._clock() + LIFE_S, 0
        return code

    def take(self, given: str) -> bool:
        """Whether the given figures are the code; it is then used up, as it is after too many wrong ones."""
        typed = given.translate(_SPACE)
        with self._lock:
            live = bool(self._code) and self._clock() < self._ends_s
            right = same(typed, self._code) and live and len(typed) == FIGURES
            self._wrong += not right
            if right or not live or self._wrong >= MOST_WRONG:
                self._code = ""
        return right


def spaced(code: str) -> str:
    """The figures in two groups, easier to read."""
    return f"{code[:4]} {code[4:]}"
