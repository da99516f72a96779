"""Short names of units on drawings, price lines and sheets: W1 a wall unit, H1 a hidden one, O1 outdoors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from compare.equipment.unit import UnitKind
from compare.zones.served import ServedZone

LETTERS = {
    UnitKind.WALL: "W",
    UnitKind.FLOOR: "F",
    UnitKind.CEILING: "K",
    UnitKind.DUCTED_LOW: "H",
    UnitKind.DUCTED_MID: "H",
}


def zone_tags(zones: Sequence[ServedZone]) -> tuple[str, ...]:
    """One tag per zone, numbered by letter in the order of the zones."""
    count: Counter[str] = Counter()
    tags = []
    for zone in zones:
        letter = LETTERS[zone.pair.kind]
        count[letter] += 1
        tags.append(f"{letter}{count[letter]}")
    return tuple(tags)


def outdoor_tag(index: int) -> str:
    """Tag of the outdoor unit with that index."""
    return f"O{index + 1}"
