"""Set points and the price of electricity as a family tries them: limits, steps, and values as a page shows them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from math import ceil, floor

from compare.units import Kind, System, from_si, to_si

SAME, SHOWN_SAME = 1e-6, 1e-2
"""Within these, values and tenths of shown ones are the same."""


class Habit(StrEnum):
    """One number that can be tried."""

    HEATING = "heating"
    COOLING = "cooling"
    RATE = "rate"


@dataclass(frozen=True, slots=True)
class Habits:
    """Set points and the price of a kWh."""

    heating_c: float
    cooling_c: float
    electricity_usd_kwh: float

    def held_as(self, other: Habits) -> bool:
        """Whether both hold the house at the same temperatures."""
        return abs(self.heating_c - other.heating_c) < SAME and abs(self.cooling_c - other.cooling_c) < SAME


@dataclass(frozen=True, slots=True)
class Scale:
    """What a number may be on a page: least, most, step of the buttons, unit."""

    least: float
    most: float
    step: float
    unit: str


SCALES = {
    (Habit.HEATING, System.US): Scale(60.0, 76.0, 1.0, "°F"),
    (Habit.COOLING, System.US): Scale(70.0, 84.0, 1.0, "°F"),
    (Habit.HEATING, System.SI): Scale(16.0, 24.0, 0.5, "°C"),
    (Habit.COOLING, System.SI): Scale(21.0, 29.0, 0.5, "°C"),
    (Habit.RATE, System.US): Scale(3.0, 95.0, 1.0, "¢"),
    (Habit.RATE, System.SI): Scale(3.0, 95.0, 1.0, "¢"),
}
"""Limits of what people live with and pay (our judgement)."""
GAP = {System.US: 2.0, System.SI: 1.0}
"""Least distance from heating to cooling, as in the house file."""
CENTS = 100.0


def _shown(value_c: float, units: System) -> float:
    return round(from_si(value_c, Kind.TEMPERATURE, units), 1)


def shown(habits: Habits, habit: Habit, units: System) -> float:
    """A number as a page shows it, to one decimal."""
    if habit is Habit.RATE:
        return round(CENTS * habits.electricity_usd_kwh, 1)
    return _shown(habits.heating_c if habit is Habit.HEATING else habits.cooling_c, units)


def scale_of(habits: Habits, habit: Habit, units: System) -> Scale:
    """What a number may be beside the others: cooling stays above heating. A house's own number is always allowed."""
    scale, now = SCALES[habit, units], shown(habits, habit, units)
    least, most = min(scale.least, now), max(scale.most, now)
    if habit is Habit.HEATING:
        above = from_si(habits.cooling_c, Kind.TEMPERATURE, units) - GAP[units]
        most = min(most, floor(10.0 * above + SHOWN_SAME) / 10.0)
    if habit is Habit.COOLING:
        below = from_si(habits.heating_c, Kind.TEMPERATURE, units) + GAP[units]
        least = max(least, ceil(10.0 * below - SHOWN_SAME) / 10.0)
    return replace(scale, least=round(least, 1), most=round(most, 1))


def with_value(habits: Habits, habit: Habit, value: float, units: System) -> Habits:
    """The same with one number changed to what a page sent.

    Raises
    ------
    ValueError
        For a number outside its limits.
    """
    scale = scale_of(habits, habit, units)
    if not scale.least - SAME <= value <= scale.most + SAME:
        raise ValueError(f"{habit.value} must be from {scale.least:g} to {scale.most:g} {scale.unit}")
    value = round(value, 1)
    if habit is Habit.RATE:
        return replace(habits, electricity_usd_kwh=round(value / CENTS, 4))
    value_c = round(to_si(value, Kind.TEMPERATURE, units), 4)
    if habit is Habit.HEATING:
        return replace(habits, heating_c=value_c)
    return replace(habits, cooling_c=value_c)


def stepped(habits: Habits, habit: Habit, steps: int, units: System) -> float | None:
    """The next round value up or down; None where there is none within the limits."""
    scale, now = scale_of(habits, habit, units), shown(habits, habit, units)
    on_grid = round(now / scale.step)
    if abs(on_grid * scale.step - now) > 0.05:
        on_grid = int(now // scale.step) + (0 if steps > 0 else 1)
    value = round((on_grid + steps) * scale.step, 1)
    return value if scale.least <= value <= scale.most else None


def nearest(habits: Habits, own: Habits) -> Habits:
    """Numbers that differ from the house's own by rounding alone are the house's own."""

    def same(one: float, other: float, within: float) -> float:
        return other if abs(one - other) < within else one

    return Habits(
        same(habits.heating_c, own.heating_c, 0.03),
        same(habits.cooling_c, own.cooling_c, 0.03),
        same(habits.electricity_usd_kwh, own.electricity_usd_kwh, 0.0005),
    )
