"""Heat from people, appliances and lights, hour by hour and room by room.

Two sets stand apart and must not be mixed: the *year's* gains, what a family gives off on an ordinary day, and the
*design* gains of a cooling load calculation (people at 230 + 200 Btu/h, appliances in the kitchen). The load factor
method has a third set of its own in `compare.loads.load_factors`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.data.loads import rows
from compare.house.plan import HABITABLE, RoomPlan, Use
from compare.physics.door_states import night_mask

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

_FAMILY_USES = (
    frozenset({Use.LIVING, Use.KITCHEN}),
    frozenset({Use.DINING}),
    HABITABLE - {Use.BEDROOM},
    frozenset(Use),
)
_LIVED_IN = frozenset({Use.LIVING, Use.KITCHEN, Use.DINING})
_EVENING = (17, 22)


@dataclass(frozen=True, slots=True, eq=False)
class Gains:
    """Gains of every room; each array has shape (hours, rooms), W."""

    people_w: FloatArray
    """Sensible heat of people."""
    appliances_w: FloatArray
    """Appliances and lights."""
    latent_w: FloatArray
    """Moisture of people as heat of evaporation."""
    to_air_frac: float
    """Share of the sensible heat that enters the air at once; the rest is radiant."""

    @property
    def sensible_w(self) -> FloatArray:
        """People, appliances and lights together."""
        return self.people_w + self.appliances_w

    @property
    def convective_w(self) -> FloatArray:
        """Part that enters the air at once."""
        return self.to_air_frac * self.sensible_w

    @property
    def radiant_w(self) -> FloatArray:
        """Part that reaches the surfaces first."""
        return (1.0 - self.to_air_frac) * self.sensible_w


def year_gains(rooms: Sequence[RoomPlan], hours: int, people: float | None = None, step_s: float = 3600.0) -> Gains:
    """Gains of an ordinary day, repeated over a series that starts at midnight.

    `people` is the household; left out, it is the number of regular sleepers. At night its members lie in the
    regular beds (spread over the bedrooms where the house has too few), by day and evening they are where the family
    lives.
    """
    table = _values("hourly_gains")
    night, evening = night_mask(hours, step_s), _evening_mask(hours, step_s)
    sleepers = _sleepers(rooms, people)
    household = float(sleepers.sum())
    family = _family_share(rooms)
    day = ~night & ~evening
    asleep = np.outer(night, sleepers)
    evening_person_w = table["person where the family lives evening"]
    awake_w = (evening * evening_person_w + day * table["person where the family lives day"]) * household
    present = (evening + day * table["person where the family lives day"] / evening_person_w) * household
    appliances_w = (
        evening * table["appliances where the family lives evening"]
        + day * table["appliances where the family lives day"]
    )
    return Gains(
        people_w=asleep * table["sleeper in the bedroom"] + np.outer(awake_w, family),
        appliances_w=_base_w(rooms, table)[None, :] + np.outer(appliances_w, family),
        latent_w=(asleep + np.outer(present, family)) * table["latent per person"],
        to_air_frac=table["share to air"],
    )


def design_gains(rooms: Sequence[RoomPlan], hours: int, step_s: float = 3600.0) -> Gains:
    """Gains of a cooling design day: bedrooms plus one people, up where the family lives or asleep in the bedrooms.

    Appliances run from 07 to 22 in the kitchen (or where the family lives, in a house without one).
    """
    table = _values("design_gains")
    night = night_mask(hours, step_s)
    bedrooms = np.array([room.use is Use.BEDROOM for room in rooms], dtype=np.float64)
    people = float(bedrooms.sum()) + 1.0
    family = _family_share(rooms)
    asleep = _sleepers(rooms, people) if bedrooms.any() else people * family
    present = np.outer(night, asleep) + np.outer(~night, family * people)
    kitchens = np.array([room.use is Use.KITCHEN for room in rooms], dtype=np.float64)
    cooking = kitchens / kitchens.sum() if kitchens.any() else family
    return Gains(
        people_w=present * table["person sensible"],
        appliances_w=np.outer(~night, cooking * table["kitchen appliances"]),
        latent_w=present * table["person latent"],
        to_air_frac=table["share to air"],
    )


def family_rooms(rooms: Sequence[RoomPlan]) -> tuple[int, ...]:
    """Indices of the rooms where the family lives by day: living rooms and kitchens, else the next best."""
    for uses in _FAMILY_USES:
        found = tuple(index for index, room in enumerate(rooms) if room.use in uses)
        if found:
            return found
    raise ValueError("a house needs at least one room")


@cache
def _values(name: str) -> dict[str, float]:
    return {row["item"]: float(row["value"]) for row in rows(name)}


def _evening_mask(hours: int, step_s: float) -> BoolArray:
    clock_h = np.arange(hours) * step_s / 3600.0 % 24.0
    return np.asarray((clock_h >= _EVENING[0]) & (clock_h < _EVENING[1]))


def _base_w(rooms: Sequence[RoomPlan], table: dict[str, float]) -> FloatArray:
    lived_w_m2, other_w_m2 = table["base in living kitchen and dining rooms"], table["base elsewhere"]
    return np.array([room.area_m2 * (lived_w_m2 if room.use in _LIVED_IN else other_w_m2) for room in rooms])


def _sleepers(rooms: Sequence[RoomPlan], people: float | None) -> FloatArray:
    """People asleep per room, summing to the household where one is given.

    By regular beds; without any, evenly over regular bedrooms, any bedrooms, or where the family lives.
    """
    beds = np.array([sum(bed.sleepers for bed in room.beds if bed.regular) * room.regular for room in rooms])
    total = float(beds.sum())
    if total > 0.0:
        return beds if people is None else beds * (people / total)
    bedrooms = np.array([float(room.use is Use.BEDROOM) for room in rooms])
    regular = bedrooms * np.array([float(room.regular) for room in rooms])
    weights = regular if regular.any() else bedrooms if bedrooms.any() else _family_share(rooms)
    return np.asarray((people or 0.0) * weights / weights.sum())


def _family_share(rooms: Sequence[RoomPlan]) -> FloatArray:
    chosen = family_rooms(rooms)
    share = np.zeros(len(rooms))
    share[list(chosen)] = 1.0 / len(chosen)
    return share
