"""Flammable (A2L) refrigerant: the charge of a circuit against the smallest room that it serves.

Relation of UL/IEC 60335-2-40 annex GG and ASHRAE 15.2, as quoted in installation manuals:
m_max = 2.5 LFL^1.25 h0 sqrt(A). The adopted code and the unit's listing govern; a licensed technician decides.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from compare.equipment.rules import rule
from compare.equipment.unit import UnitKind

CLAUSE: Final = "UL/IEC 60335-2-40 annex GG and ASHRAE 15.2: largest charge by floor area and release height"
CONFIRM: Final = "confirm with the adopted code and the unit's listing"
M1_TIGHT_M3: Final = 6.0
"""No area rule up to this times LFL for circuits of enhanced tightness (UL 60335-2-40, 4th edition)."""
M1_BASE_M3: Final = 4.0
"""The same without enhanced tightness (base IEC text, from memory)."""
M2_CEILING_M3: Final = 52.0
"""Largest charge at all: this times LFL (UL 60335-2-40, 4th edition, from the printed 35.1 lb of R-32)."""


class Refrigerant(StrEnum):
    """Mildly flammable refrigerants with their limits in the rules file."""

    R32 = "r32"
    R454B = "r454b"

    @property
    def lfl_kg_m3(self) -> float:
        """Lower flammability limit [kg/m3]."""
        return rule(f"flammable.{self}", "lfl_kg_m3")


class Verdict(StrEnum):
    """Result of a charge check."""

    CLEAR = "clear"
    CAUTION = "caution"
    REJECTED = "rejected"


@dataclass(frozen=True, slots=True)
class ServedRoom:
    """A room (or open space) in which refrigerant of a circuit could leak."""

    name: str
    area_m2: float
    kind: UnitKind
    lowest_opening_m: float | None = None
    """Height of the lowest opening above 5 cm2 of a ducted unit in the room; None: the kind's usual height."""


@dataclass(frozen=True, slots=True)
class ChargeCheck:
    """Whether a circuit's whole charge may serve its rooms. `room` is the one with the least margin."""

    verdict: Verdict
    room: str
    charge_kg: float
    limit_kg: float
    least_area_m2: float
    reason: str
    clause: str = CLAUSE
    confirm: str = CONFIRM


def release_height_m(kind: UnitKind, lowest_opening_m: float | None = None) -> float:
    """Release height h0 [m]: floor 0.6, wall 1.8, ceiling or register 2.2; a lower opening counts, never below 0.6."""
    usual = rule("release_height_m", str(kind))
    height = usual if lowest_opening_m is None else min(usual, lowest_opening_m)
    return max(height, rule("release_height_m", "least"))


def largest_charge_kg(area_m2: float, height_m: float, lfl_kg_m3: float) -> float:
    """Largest charge [kg] for a floor area [m2] and release height [m]: 2.5 LFL^1.25 h0 sqrt(A)."""
    return 2.5 * math.pow(lfl_kg_m3, 1.25) * height_m * math.sqrt(area_m2)


def least_area_m2(charge_kg: float, height_m: float, lfl_kg_m3: float) -> float:
    """Smallest floor area [m2] for a charge [kg] and release height [m]: (m / (2.5 LFL^1.25 h0))^2."""
    return math.pow(charge_kg / (2.5 * math.pow(lfl_kg_m3, 1.25) * height_m), 2.0)


def unlimited_charge_kg(lfl_kg_m3: float, tight: bool = True) -> float:
    """Charge up to which no floor area is asked for [kg]."""
    return (M1_TIGHT_M3 if tight else M1_BASE_M3) * lfl_kg_m3


def line_charge_kg(size_kbtuh: float, line_m: float) -> float:
    """Charge added for pipe beyond the factory-charged length [kg]; from memory, the unit's own table decides."""
    beyond = max(0.0, line_m - rule("charge", "factory_line_m"))
    small = size_kbtuh <= rule("charge", "small_up_to_kbtuh")
    return beyond * rule("charge", "small_line_kg_m" if small else "large_line_kg_m")


def check_charge(
    charge_kg: float, rooms: Sequence[ServedRoom], refrigerant: Refrigerant = Refrigerant.R32
) -> ChargeCheck:
    """Check the whole charge of one circuit, factory and line charge together, against every room it serves.

    Rejected: more than the limit without area rule and a room too small, or more than the ceiling. Caution: below
    that limit only thanks to enhanced tightness, and a room too small by the area rule. Otherwise clear.

    Raises
    ------
    ValueError
        Without rooms, or with an area or charge that is not above 0.
    """
    if not rooms:
        raise ValueError("rooms: give at least one room that the circuit serves")
    if charge_kg <= 0.0 or any(room.area_m2 <= 0.0 for room in rooms):
        raise ValueError("charge_kg and every room's area_m2 must be above 0")
    lfl = refrigerant.lfl_kg_m3
    heights = [release_height_m(room.kind, room.lowest_opening_m) for room in rooms]
    limits = [largest_charge_kg(room.area_m2, height, lfl) for room, height in zip(rooms, heights, strict=True)]
    tightest = min(range(len(rooms)), key=lambda place: (limits[place], rooms[place].name))
    room, limit = rooms[tightest], limits[tightest]
    area = least_area_m2(charge_kg, heights[tightest], lfl)
    verdict, reason = _verdict(charge_kg, limit, room, area, lfl)
    return ChargeCheck(verdict, room.name, charge_kg, limit, area, reason)


def _verdict(charge_kg: float, limit_kg: float, room: ServedRoom, area_m2: float, lfl: float) -> tuple[Verdict, str]:
    small = f"{room.name} has {room.area_m2:.1f} m2; {charge_kg:.2f} kg on a {room.kind} ask for {area_m2:.1f} m2"
    if charge_kg > M2_CEILING_M3 * lfl:
        return Verdict.REJECTED, f"{charge_kg:.2f} kg is more than the {M2_CEILING_M3 * lfl:.1f} kg allowed at all"
    if charge_kg > limit_kg and charge_kg > unlimited_charge_kg(lfl):
        return Verdict.REJECTED, small
    if charge_kg > limit_kg and charge_kg > unlimited_charge_kg(lfl, tight=False):
        return Verdict.CAUTION, f"{small}, unless the circuit is listed for enhanced tightness"
    return Verdict.CLEAR, f"{charge_kg:.2f} kg is within the limits for {room.name}"
