"""The sound part of a faulty house file, so that its geometry can still be checked in the same run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from compare.house.problems import Problem
from compare.house.source import Loc, Source

Raw = dict[str, Any]

_NEEDED = frozenset({"units", "level", "room"})
"""Parts without which a plan means nothing."""
_LINKS = frozenset({"door", "opening", "stair"})
_STAND_IN: Raw = {
    "house": {"name": "house", "built": 1970},
    "site": {"place": "site", "latitude": 45, "longitude": 0},
}
"""What takes the place of a faulty table that the geometry does not look at."""


@dataclass(frozen=True, slots=True)
class SoundPart:
    """Raw tables less what is at fault, and where the remaining list items stood before."""

    raw: Raw
    kept: dict[str, list[int]]
    links_lost: bool

    def renumbered(self, problem: Problem, source: Source) -> Problem:
        """A problem of the sound part, pointing at its place in the whole file."""
        table, *rest = problem.loc
        if table not in self.kept or not rest or not isinstance(rest[0], int):
            return problem
        loc: Loc = (table, self.kept[str(table)][rest[0]], *rest[1:])
        moved = source.problem(loc, problem.message, None, problem.suggestion)
        return Problem(moved.file, moved.line, moved.path, problem.value, problem.message, problem.suggestion, loc)


def sound_part(raw: Raw, faults: Sequence[Loc]) -> SoundPart | None:
    """What is left when everything at fault is taken out; None when rooms, levels or units are at fault."""
    spoiled: dict[str, set[int]] = {}
    tables: set[str] = set()
    for loc in faults:
        if not loc or loc[0] in _NEEDED:
            return None
        if len(loc) > 1 and isinstance(loc[1], int):
            spoiled.setdefault(str(loc[0]), set()).add(loc[1])
        else:
            tables.add(str(loc[0]))
    rest = {key: value for key, value in raw.items() if key not in tables}
    rest.update({key: _STAND_IN[key] for key in tables if key in _STAND_IN})
    kept: dict[str, list[int]] = {}
    for key, positions in spoiled.items():
        kept[key] = [position for position in range(len(raw[key])) if position not in positions]
        rest[key] = [raw[key][position] for position in kept[key]]
    return SoundPart(rest, kept, bool(_LINKS & (spoiled.keys() | tables)))
