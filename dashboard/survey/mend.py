"""What stands in the way of a house, in a surveyor's words: where it is, what is wrong, and what to do.

The faults are those of `compare.house.reading` and of the geometry, all at once; only the words of the file's own
notation are put into those of the page.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.house.problems import HouseFileError, Problem
from compare.house.reading import read_house_text
from compare.house.source import Loc
from dashboard.survey.draft.joints import SIDE_WORDS, THINGS
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import Raw
from dashboard.survey.words import label_of
from proposal.words import capital

_SWAPS = (
    (re.compile(r'write "all" or a list of room names'), "choose its rooms"),
    (
        re.compile(r'write between = \["room", "room"\] for an inside door, or room and wall for an outside door'),
        "say which rooms it joins, or which outside wall it is in",
    ),
    (re.compile(r"draw the room either by at = .*"), "give its place and its size"),
    (re.compile(r"write the five figures in quotes"), "write the five figures of the ZIP code"),
    (re.compile(r"write text in quotes, "), "write "),
    (re.compile(r", without quotes"), ""),
    (re.compile(r"write spans of whole hours in quotes, such as \"09-17\""), "write hours such as 09-17"),
    (
        re.compile(r"; draw it as a room, with use = \"storage\" for instance"),
        "; draw it as a room, as storage for instance",
    ),
    (re.compile(r"needs below = one of (.*)"), r"say what lies below: \1"),
    (
        re.compile(r"no outside wall on this side; its outside walls face (.*)"),
        r"no outside wall on this side; it has some at: \1",
    ),
    (re.compile(r"at most (\d+) of \[\[(\w+)\]\] are read, the file has (\d+)"), r"at most \1 are read, there are \3"),
    (re.compile(r' or "open" or "shut"'), ", or say open or shut"),
    (re.compile(r"\bundercut\b"), "gap under the door"),
    (re.compile(r"heating_99"), "the coldest-night temperature"),
    (re.compile(r"cooling_1\b"), "the hot-day temperature"),
    (re.compile(r"cooling_wet_bulb"), "the wet bulb"),
    (re.compile(r" \(line \d+\)"), ""),
    (re.compile(r"ventilation_kind = "), "the kind of ventilation "),
    (re.compile(r"heat_recovery"), "heat recovery"),
    (re.compile(r"setback\."), "the setback of "),
)


_QUOTED = re.compile(r'"([^"]*)"')


@dataclass(frozen=True, slots=True)
class Mend:
    """One thing to mend: where, as words and as the place of its field, what is wrong and the cure."""

    loc: Loc
    where: str
    words: str
    suggestion: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """A draft as the program reads it: a house with its plan, or everything to mend."""

    house: HouseFile | None
    plan: Plan | None
    mends: tuple[Mend, ...]


def judged(text: str, raw: Raw, name: str, folder: Any = None) -> Judged:  # noqa: ANN401 - a path or None
    """Read a draft and look at its geometry."""
    try:
        house = read_house_text(text, name, folder)
        return Judged(house, plan_of(house), ())
    except HouseFileError as error:
        return Judged(None, None, _without_place(tuple(_mend(problem, raw) for problem in error.problems)))


_PLACE = frozenset({("site",), ("site", "place"), ("site", "latitude"), ("site", "longitude")})


def _without_place(mends: tuple[Mend, ...]) -> tuple[Mend, ...]:
    """A place that is missing altogether is one thing to mend: its ZIP code brings the rest."""
    absent = [mend for mend in mends if mend.loc in _PLACE and mend.words.endswith("is still missing.")]
    if len(absent) < 2 and not any(mend.loc == ("site",) for mend in absent):
        return mends
    asked = Mend(("site", "zip"), "The place", "Where does the house stand? Type its ZIP code.")
    return (asked, *(mend for mend in mends if mend not in absent))


def _mend(problem: Problem, raw: Raw) -> Mend:
    loc = problem.loc
    words = problem.message
    for pattern, instead in _SWAPS:
        words = pattern.sub(instead, words)
    words = _QUOTED.sub(r"“\1”", _sides(words, loc))
    if words == "is missing":
        words = "is still missing"
    label = _label(loc)
    said = f"{label} {words}" if label and words.startswith(("must", "is ", "needs", "has ")) else words
    return Mend(loc, place_words(loc, raw), f"{capital(said).rstrip('.')}.", problem.suggestion)


def _sides(words: str, loc: Loc) -> str:
    """Sides of the plan by their words."""
    if loc[:1] not in {("window",), ("door",)} or "it has some at: " not in words:
        return words
    lead, listed = words.split("it has some at: ")
    return lead + "it has some at the " + ", ".join(SIDE_WORDS.get(side, side) for side in listed.split(", "))


def _label(loc: Loc) -> str:
    keys = [step for step in loc if isinstance(step, str)]
    return label_of(keys[0], keys[-1]) if len(keys) > 1 else ""


def _item(raw: Raw, loc: Loc) -> Raw | None:
    found = raw.get(str(loc[0])) if loc else None
    if len(loc) > 1 and isinstance(loc[1], int) and isinstance(found, list) and loc[1] < len(found):
        item = found[loc[1]]
        return item if isinstance(item, dict) else None
    return None


_TABLES = {
    "house": "The house",
    "site": "The place",
    "fabric": "Walls and windows",
    "air": "Air",
    "comfort": "Temperatures",
    "existing_heat": "The old heat",
    "panel": "The electric panel",
    "rates": "Prices",
    "priorities": "What matters",
    "room": "Rooms",
    "level": "Storeys",
}


_NUMBERED = frozenset({"bill", "rate_period", "control"})


def place_words(loc: Loc, raw: Raw) -> str:
    """The place of a fault as people say it: `Bedroom 1`, `Window in Bath`, `Door Hall – Bath`."""
    item = _item(raw, loc)
    if item is None:
        return _TABLES.get(str(loc[0]), capital(str(loc[0]).replace("_", " "))) if loc else "The file"
    if loc[0] in _NUMBERED and isinstance(loc[1], int):
        return f"{capital(THINGS[str(loc[0])])} {loc[1] + 1}"
    return item_words(str(loc[0]), item)


def item_words(table: str, item: Raw) -> str:
    """One thing of a list in a few words."""
    what = capital(THINGS.get(table, table.replace("_", " ")))
    pair = item.get("between")
    if isinstance(pair, list) and len(pair) == 2:
        return f"{what} {same(pair[0]) or '?'} – {same(pair[1]) or '?'}"
    if table == "stair":
        return f"Stair {same(item.get('lower')) or '?'} – {same(item.get('upper')) or '?'}"
    if name := same(item.get("name")):
        return name if table == "room" else f"{what} “{name}”"
    if room := same(item.get("room")):
        side = SIDE_WORDS.get(str(item.get("wall") or item.get("side")), "")
        return f"{'Outside door' if table == 'door' else what} in {room}{f', {side} wall' if side else ''}"
    return f"A {what.lower()} without a name" if table != "room" else "A room without a name"
