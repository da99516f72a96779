"""How far a room is from its own target, in the whole degrees that people are shown.

Winter: US steps by shown whole degrees Fahrenheit (at most 1, 3, 7 below, then more); SI by shown tenths of a degree
(at most 0.5, 1.5, 4 below). Summer is the mirror against the cooling set point. Limits: our judgement.
"""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import Kind, System, from_si

US_LIMITS = (1.0, 3.0, 7.0)
SI_LIMITS = (0.5, 1.5, 4.0)
WINTER_WORDS = ("as_wanted", "little_cool", "cold", "very_cold")
SUMMER_WORDS = ("as_wanted", "little_warm", "hot", "very_hot")
BEYOND_SET_POINT = {System.US: 2.0, System.SI: 1.0}
"""A room is *too warm* (in summer *too cool*) only if it is further than this beyond the set point."""


def shown(value_c: float, units: System) -> float:
    """A temperature as it is shown: whole °F, or °C to one decimal."""
    return round(from_si(value_c, Kind.TEMPERATURE, units), 0 if units is System.US else 1) + 0.0


def limits(units: System) -> tuple[float, float, float]:
    """Largest shown shortfall of steps 0, 1 and 2."""
    return US_LIMITS if units is System.US else SI_LIMITS


def room_step(temp_c: float, target_c: float | None, units: System, *, summer: bool = False) -> int | None:
    """Step 0 to 3 of a room against its own target; None without a target.

    Parameters
    ----------
    temp_c, target_c
        Temperature of the room and its own target at that hour [°C].
    units
        System in which degrees are shown; the step follows the shown figures.
    summer
        True to count degrees above the target instead of below.
    """
    if target_c is None:
        return None
    short = round(shown(target_c, units) - shown(temp_c, units), 6)
    short = -short if summer else short
    return sum(short > limit for limit in limits(units))


@dataclass(frozen=True, slots=True)
class Verdict:
    """Step of a room and the key of its word; both empty for a room without a target."""

    step: int | None
    word: str


def judge(temp_c: float, target_c: float | None, set_point_c: float, units: System, *, summer: bool = False) -> Verdict:
    """Step and word of a room.

    Parameters
    ----------
    temp_c, target_c, set_point_c
        Room, its own target, and the set point of the house [°C].
    """
    step = room_step(temp_c, target_c, units, summer=summer)
    if step is None:
        return Verdict(None, "")
    beyond = shown(temp_c, units) - shown(set_point_c, units)
    if (-beyond if summer else beyond) > BEYOND_SET_POINT[units] and step == 0:
        return Verdict(step, "too_cool" if summer else "too_warm")
    return Verdict(step, (SUMMER_WORDS if summer else WINTER_WORDS)[step])
