"""The job in plain words: what is hung where, how far the lines run, and what else the house needs."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

LEAST_SHARED = 2
LONGEST_RUN_M = 100.0
"""Longer lines are taken for a slip of the pen: few units allow more than 30 m (from memory)."""
MOST_CHARGE_KG = 20.0


class IndoorKind(StrEnum):
    """Kind of room unit."""

    WALL = "wall head"
    FLOOR = "floor console"
    CEILING = "ceiling cassette"


class StaticClass(StrEnum):
    """How much duct resistance a concealed unit can overcome."""

    LOW = "low static"
    MID = "mid static"


class Base(StrEnum):
    """What an outdoor unit stands or hangs on."""

    PAD = "pad"
    BRACKET = "wall bracket"


@dataclass(frozen=True, slots=True)
class IndoorItem:
    """A room unit.

    Parameters
    ----------
    name : as on the drawing; unique among all units.
    kind, size : kind and nominal size class (thousands of Btu/h as in the catalogue: 6, 9, 12, ...).
    outdoor : name of the outdoor unit it hangs on.
    line_length_m, line_cover_m : run to the outdoor unit, and how much of it is covered outside.
    """

    name: str
    kind: IndoorKind
    size: int
    outdoor: str
    line_length_m: float
    line_cover_m: float = 0.0
    condensate_pump: bool = False
    masonry_wall: bool = False


@dataclass(frozen=True, slots=True)
class DuctRun:
    """The branch of one room as designed: `runs` equal runs, each with its own register; lengths are of one run."""

    room: str
    diameter_in: int
    runs: int
    rigid_m: float
    flex_m: float
    elbows: int


@dataclass(frozen=True, slots=True)
class DuctParts:
    """The ducts of a designed unit, to be counted piece by piece.

    `filter_in` is width, height and depth of the return filter; `undercuts` names the rooms whose door is cut shorter.
    """

    runs: tuple[DuctRun, ...]
    filter_in: tuple[int, int, int]
    undercuts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DuctedItem:
    """A concealed ducted unit with its ducts; the fields of `IndoorItem` have the same meaning here.

    `branches` counts supply branches, `returns` return grilles with filters, `trunks` sets of trunk, plenum and
    return box. `soffit` is true when a ceiling is dropped by carpentry to hide unit and ducts. With `parts` the ducts
    are counted by size and length; without, as before a design, each branch at a usual price.
    """

    name: str
    static: StaticClass
    size: int
    outdoor: str
    branches: int
    line_length_m: float
    line_cover_m: float = 0.0
    returns: int = 1
    trunks: int = 1
    soffit: bool = False
    secondary_pan: bool = True
    float_switch: bool = True
    condensate_pump: bool = False
    masonry_wall: bool = False
    parts: DuctParts | None = None


@dataclass(frozen=True, slots=True)
class OutdoorItem:
    """An outdoor unit: half of a pair (its price is in the indoor unit's), or shared by several indoor units.

    `snow_stand` stands on the pad, so it is counted beside it. `added_charge_kg` is refrigerant beyond the factory
    charge for long lines.
    """

    name: str
    size: int
    shared: bool = False
    base: Base = Base.PAD
    snow_stand: bool = False
    added_charge_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class JobDescription:
    """All that is to be priced.

    `room_heaters` and `transfer_grilles` name the room of each; `old_units` are pieces of old equipment to take away;
    `further_electrical` counts further electrical works beyond one circuit per outdoor unit.
    """

    indoor: tuple[IndoorItem, ...] = ()
    outdoor: tuple[OutdoorItem, ...] = ()
    ducted: tuple[DuctedItem, ...] = ()
    room_heaters: tuple[str, ...] = ()
    transfer_grilles: tuple[str, ...] = ()
    old_units: int = 0
    further_electrical: int = 0
    service_upgrade: bool = False

    @property
    def units(self) -> tuple[IndoorItem | DuctedItem, ...]:
        """Room units and ducted units together."""
        return (*self.indoor, *self.ducted)


def check_job(job: JobDescription) -> None:
    """Raise `ValueError` with every fault of a description, one a line, each naming the field and the cure."""
    problems = [*_names(job), *_joins(job), *_figures(job)]
    if problems:
        raise ValueError("\n".join(problems))


def _names(job: JobDescription) -> Iterator[str]:
    counts = Counter(unit.name for unit in (*job.units, *job.outdoor))
    for name, count in counts.items():
        if not name.strip():
            yield "name: a unit has no name; give it the one on the drawing"
        elif count > 1:
            yield f"name: {count} units are called '{name}'; give each its own name"


def _joins(job: JobDescription) -> Iterator[str]:
    outdoor = {unit.name: unit for unit in job.outdoor}
    served: dict[str, list[int]] = {name: [] for name in outdoor}
    for unit in job.units:
        if unit.outdoor in served:
            served[unit.outdoor].append(unit.size)
        else:
            yield f"{unit.name}: outdoor = '{unit.outdoor}' is not among the outdoor units; add it or correct the name"
    for name, sizes in served.items():
        if outdoor[name].shared and len(sizes) < LEAST_SHARED:
            yield f"{name}: a shared outdoor unit serves two or more indoor units, has {len(sizes)}; set shared = False"
        elif not outdoor[name].shared and len(sizes) != 1:
            yield f"{name}: one of a pair serves one indoor unit, has {len(sizes)}; set shared = True or add a unit"
        elif not outdoor[name].shared and sizes != [outdoor[name].size]:
            yield f"{name}: size {outdoor[name].size} is paired with an indoor unit of size {sizes[0]}; make them equal"
    for unit in job.ducted:
        if unit.outdoor in outdoor and outdoor[unit.outdoor].shared and unit.static is not StaticClass.LOW:
            yield f"{unit.name}: only low static ducted units hang on a shared outdoor unit; use a pair"


def _figures(job: JobDescription) -> Iterator[str]:
    for unit in job.units:
        for field in ("line_length_m", "line_cover_m"):
            yield from _within(f"{unit.name}: {field}", getattr(unit, field), LONGEST_RUN_M)
        if unit.line_length_m == 0:
            yield f"{unit.name}: line_length_m is 0; measure the run to the outdoor unit"
        if unit.line_cover_m > unit.line_length_m:
            yield f"{unit.name}: line_cover_m is longer than the line; correct one of them"
    for outdoor in job.outdoor:
        yield from _within(f"{outdoor.name}: added_charge_kg", outdoor.added_charge_kg, MOST_CHARGE_KG)
    counts: list[tuple[str, int, int]] = [
        ("old_units", job.old_units, 0),
        ("further_electrical", job.further_electrical, 0),
    ]
    for ducted in job.ducted:
        counts += [(f"{ducted.name}: {f}", getattr(ducted, f), 1) for f in ("branches", "returns", "trunks")]
        yield from _duct_figures(ducted)
    for name, count, least in counts:
        if count < least:
            yield f"{name} = {count}; give {least} or more"


def _duct_figures(unit: DuctedItem) -> Iterator[str]:
    runs = unit.parts.runs if unit.parts is not None else ()
    for run in runs:
        for field in ("rigid_m", "flex_m"):
            yield from _within(f"{unit.name} to {run.room}: {field}", getattr(run, field), LONGEST_RUN_M)
        if run.runs < 1 or run.elbows < 0:
            yield f"{unit.name} to {run.room}: give 1 run or more and 0 elbows or more"
    if runs and sum(run.runs for run in runs) != unit.branches:
        yield f"{unit.name}: branches = {unit.branches} but the runs come to another number; make them equal"


def _within(name: str, value: float, most: float) -> Iterator[str]:
    if not (math.isfinite(value) and 0.0 <= value <= most):
        yield f"{name} = {value}; give a figure from 0 to {most:g}"
