"""What is wrong with a house file, said so that it can be put right at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches

_LONGEST_VALUE = 60


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault in a house file.

    `path` names the place with items counted from 1, as in `room[3].size`; `line` is 1-based, 0 when no line applies.
    """

    file: str
    line: int
    path: str
    value: str
    message: str
    """What is wrong and what to write."""
    suggestion: str = ""
    """The nearest valid word, if one is near."""
    loc: tuple[str | int, ...] = field(default=(), repr=False, compare=False)
    """The same place as keys and 0-based positions."""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        what = f"{self.path} = {self.value}" if self.value else self.path
        hint = f'; did you mean "{self.suggestion}"?' if self.suggestion else ""
        return f"{place}: {what}: {self.message}{hint}" if what else f"{place}: {self.message}{hint}"


class HouseFileError(Exception):
    """A house file that cannot be used; holds every problem found, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems), key=lambda problem: (problem.line, problem.path, problem.message)))
        super().__init__("\n".join(map(str, self.problems)))


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word closest to what was written, or an empty text when none is close that can be printed."""
    by_lower = {candidate.lower(): candidate for candidate in allowed if candidate.isprintable()}
    found = get_close_matches(word.lower()[:80], by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else ""


def shown(value: object) -> str:
    """A value of the file in one short printable line, as a person would write it."""
    if isinstance(value, dict):
        return "{...}"
    if isinstance(value, list):
        return f"[{len(value)} items]" if len(value) > 3 else f"[{', '.join(shown(item) for item in value)}]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int) and abs(value) > 10**18:
        return "a very large number"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    safe = "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in text[: _LONGEST_VALUE + 1])
    return safe if len(text) <= _LONGEST_VALUE else f"{safe[:_LONGEST_VALUE]}..."
