"""The six criteria, the seventh on request, and the kinds of number that a measure can be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Final

from compare.scoring.tables import read_rows


class Criterion(StrEnum):
    """What an option is scored on."""

    MATCH = "load match"
    CYCLING = "cycling"
    NOISE = "noise"
    COMFORT = "comfort"
    COST = "rough cost"
    ENERGY = "energy"
    SIGHT = "few units in sight"


CRITERIA: Final[tuple[Criterion, ...]] = tuple(Criterion)
SIX: Final[tuple[Criterion, ...]] = CRITERIA[:6]


class Kind(StrEnum):
    """How a number is shown. The SI value is in brackets."""

    TEMPERATURE = "temperature"
    """[degC]"""
    DIFFERENCE = "difference"
    """[K]"""
    SHARE = "share"
    """[fraction]"""
    RATIO = "ratio"
    LEVEL = "level"
    """[dB(A)]"""
    STARTS = "starts"
    """[a year]"""
    STARTS_H = "starts_h"
    """[an hour]"""
    MONEY = "money"
    """[USD]"""
    ENERGY = "energy"
    """[kWh a year]"""
    COUNT = "count"
    ROOMS = "rooms"
    """A number of rooms."""
    UNITS = "units"
    """A number of units."""
    POWER = "power"
    """[W]"""


@dataclass(frozen=True, slots=True)
class MeasureInfo:
    """What a measure is, in words."""

    measure: str
    name: str
    definition: str
    criterion: Criterion
    kind: Kind
    scored: bool


@cache
def measure_infos() -> dict[str, MeasureInfo]:
    """Every measure by its short name, in printing order."""
    return {
        row["measure"]: MeasureInfo(
            measure=row["measure"],
            name=row["name"],
            definition=row["definition"],
            criterion=Criterion(row["criterion"]),
            kind=Kind(row["kind"]),
            scored=row["scored"] != "no",
        )
        for row in read_rows("measures.csv")
    }
