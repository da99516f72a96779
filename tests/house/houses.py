"""Small invented houses whose geometry can be worked out by hand, as house-file text and as raw tables."""

from __future__ import annotations

import dataclasses
import math
import tomllib
from pathlib import Path
from typing import Any

from compare.house.plan import Plan

RANCH = (Path(__file__).parent / "ranch_in_full.toml").read_text(encoding="utf-8")
"""A house file in US units that uses nearly every table; stays as it is when the scenarios change."""

HEAD = """units = "SI"
[house]
name = "test house"
built = 1990
[site]
place = "somewhere"
latitude = 45
longitude = -100
"""

TWO_STOREYS = (
    HEAD
    + """
[[level]]
name = "down"
height = 2.5
below = "slab on ground"
[[level]]
name = "up"
height = 2.4
above = "roof"

[[room]]
name = "Living"
level = "down"
use = "living"
at = [0, 0]
size = [6, 8]
[[room]]
name = "Hall"
level = "down"
use = "hall"
at = [6, 0]
size = [2, 8]
[[room]]
name = "Kitchen"
level = "down"
use = "kitchen"
outline = [[8, 0], [12, 0], [12, 4], [10, 4], [10, 8], [8, 8]]
[[room]]
name = "Bed A"
level = "up"
use = "bedroom"
at = [0, 0]
size = [6, 4]
[[room]]
name = "Bed B"
level = "up"
use = "bedroom"
at = [0, 4]
size = [6, 4.5]
[[room]]
name = "Landing"
level = "up"
use = "hall"
at = [6, 0]
size = [2, 6]

[[window]]
room = "Living"
wall = "W"
area = 4
[[window]]
room = "Kitchen"
wall = "E"
width = 1.2
height = 1.1
count = 2
overhang = 0.6
[[door]]
room = "Hall"
wall = "S"
width = 0.9
height = 2.0
[[door]]
between = ["Hall", "Living"]
night = "open"
[[door]]
between = ["Landing", "Bed A"]
[[door]]
between = ["Landing", "Bed B"]
[[opening]]
between = ["Hall", "Kitchen"]
width = 1.2
height = 2.1
[[stair]]
lower = "Hall"
upper = "Landing"
width = 0.9
height = 2.2
[[bed]]
room = "Bed A"
at = [1, 1]
sleepers = 2
"""
)


def tables(text: str) -> dict[str, Any]:
    """The raw tables of a text."""
    return tomllib.loads(text)


def anonymous(plan: Plan) -> Plan:
    """A plan without the names that people gave, to compare what physics sees."""
    return dataclasses.replace(
        plan,
        rooms=tuple(dataclasses.replace(room, name="") for room in plan.rooms),
        links=tuple(dataclasses.replace(link, label="") for link in plan.links),
        unit_spaces=tuple(dataclasses.replace(space, name="") for space in plan.unit_spaces),
        outdoor_spots=tuple(dataclasses.replace(spot, name="") for spot in plan.outdoor_spots),
        level_names=(),
    )


def leaves(value: object) -> list[object]:
    """Every number and word of nested dataclasses and tuples, in order."""
    if dataclasses.is_dataclass(value):
        return [leaf for field in dataclasses.fields(value) for leaf in leaves(getattr(value, field.name))]
    if isinstance(value, tuple | list):
        return [leaf for item in value for leaf in leaves(item)]
    if isinstance(value, frozenset):
        return sorted(value)
    return [value]


def all_finite(value: object) -> bool:
    """Whether every float within is finite."""
    return all(math.isfinite(leaf) for leaf in leaves(value) if isinstance(leaf, float))
