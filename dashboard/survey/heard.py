"""What a browser may say: each event checked for shape and size before anything is done with it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dashboard.survey.draft.spans import Loc

MOST_EVENTS = 40
LONGEST = 600
_REF = re.compile(
    r"(room|door|window|opening|stair|bed|seat|unit_space|head_place|outdoor_spot|wall|level|control|bill|rate_period)\.(\d{1,3})"
)
_LOC = re.compile(r"[a-z_0-9]{1,24}(\.[a-z_0-9]{1,24}){0,4}")
TOOLS = ("choose", "room", "door", "opening", "window", "bed", "seat", "space", "head", "outdoor")
WHATS = frozenset(
    {
        "open",
        "start",
        "leave",
        "again",
        "tool",
        "choose",
        "level",
        "together",
        "draw",
        "tap",
        "move",
        "push",
        "set",
        "remove",
        "split",
        "add",
        "undo",
        "redo",
        "save",
        "compare",
        "width",
        "kind",
        "discard",
    }
)


class NotHeardError(ValueError):
    """Something that no page of ours says."""


@dataclass(frozen=True, slots=True)
class Event:
    """One thing said: what, and its parts as they came, each read through a checking method."""

    number: int
    what: str
    seen: int
    """Version of the draft that the browser showed."""
    parts: Mapping[str, Any]

    @property
    def here(self) -> str:
        """The file that the browser shows."""
        return self.text("here", 80)

    def text(self, key: str, longest: int = LONGEST) -> str:
        """A text; raises `NotHeardError`."""
        value = self.parts.get(key, "")
        if not isinstance(value, str) or len(value) > longest:
            raise NotHeardError(f"{key} is no text of this page")
        return value

    def number_at(self, key: str) -> float:
        """A finite number of bearable size; raises `NotHeardError`."""
        return _number(self.parts.get(key), key)

    def point(self, key: str) -> tuple[float, float]:
        """A point; raises `NotHeardError`."""
        value = self.parts.get(key)
        if not isinstance(value, list) or len(value) != 2:
            raise NotHeardError(f"{key} is no point")
        return _number(value[0], key), _number(value[1], key)

    def flag(self, key: str) -> bool:
        """Yes or no; raises `NotHeardError`."""
        value = self.parts.get(key)
        if not isinstance(value, bool):
            raise NotHeardError(f"{key} is neither yes nor no")
        return value

    def ref(self) -> tuple[str, int]:
        """A thing of a list; raises `NotHeardError`."""
        match = _REF.fullmatch(self.text("ref", 40))
        if match is None:
            raise NotHeardError("no such thing")
        return match[1], int(match[2])

    def loc(self) -> Loc:
        """A place of the file; raises `NotHeardError`."""
        text = self.text("loc", 130)
        if not _LOC.fullmatch(text):
            raise NotHeardError("no such field")
        return tuple(int(step) if step.isdecimal() else step for step in text.split("."))

    def values(self) -> dict[str, str]:
        """The fields of a form; raises `NotHeardError`."""
        value = self.parts.get("values")
        if not isinstance(value, dict) or len(value) > 20:
            raise NotHeardError("no such form")
        if not all(
            isinstance(key, str) and isinstance(text, str) and len(text) <= LONGEST for key, text in value.items()
        ):
            raise NotHeardError("no such form")
        return value


def _number(value: object, key: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or abs(value) > 1e4:
        raise NotHeardError(f"{key} is no number of this page")
    return float(value)


def events_of(said: object) -> tuple[Event, ...]:
    """The events of a call, in their order; nothing at the first call of a page.

    Raises
    ------
    NotHeardError
        For anything that the page does not say.
    """
    if said is None:
        return ()
    found = said.get("events") if isinstance(said, dict) else None
    if not isinstance(found, list) or len(found) > MOST_EVENTS:
        raise NotHeardError("no events")
    return tuple(_event(item) for item in found)


def _event(item: object) -> Event:
    if not isinstance(item, dict):
        raise NotHeardError("no event")
    number, what, seen = item.get("number"), item.get("what"), item.get("seen", -1)
    whole = all(isinstance(value, int) and not isinstance(value, bool) for value in (number, seen))
    if not whole or not isinstance(what, str) or what not in WHATS:
        raise NotHeardError("no event")
    return Event(int(number), what, int(seen), item)  # type: ignore[arg-type]
