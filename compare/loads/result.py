"""Loads as results: by room with their parts, by any group of rooms, with coincident peaks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

PARTS = ("walls", "glass", "doors", "roof", "floor", "air", "sun", "people", "appliances")
"""Names of the parts of a load, in the order in which they are shown."""


@dataclass(frozen=True, slots=True)
class RoomLoad:
    """Design loads of one room [W]; cooling is positive heat to be taken out at the room's own peak hour."""

    name: str
    heat_w: float
    heat_parts_w: Mapping[str, float]
    cool_sensible_w: float
    cool_latent_w: float
    cool_parts_w: Mapping[str, float]
    """Parts of the sensible load at the peak hour."""
    peak_hour_h: int | None
    """Clock hour of the sensible peak (14 means 14 to 15, standard time); None where the method has no hours."""

    @property
    def cool_total_w(self) -> float:
        """Sensible and latent together at the room's peak hour."""
        return self.cool_sensible_w + self.cool_latent_w


@dataclass(frozen=True, slots=True)
class GroupLoad:
    """Design loads of rooms taken together: the sum of heating, the coincident peak of cooling [W]."""

    heat_w: float
    cool_sensible_w: float
    cool_total_w: float
    peak_hour_h: int | None
    """Clock hour of the peak of sensible and latent together."""


@dataclass(frozen=True, slots=True, eq=False)
class HouseLoads:
    """Loads of every room in the order of the plan.

    `sensible_w` and `latent_w` have shape (hours, rooms), one design day after the other, each of 24 hours from
    midnight; both are None for a method without hours, whose group peaks are plain sums.
    """

    rooms: tuple[RoomLoad, ...]
    method: str
    sensible_w: FloatArray | None = None
    latent_w: FloatArray | None = None

    def group(self, rooms: Iterable[int] | None = None) -> GroupLoad:
        """Loads of some rooms together, of the whole house when none are named."""
        chosen = list(range(len(self.rooms)) if rooms is None else rooms)
        heat_w = sum(self.rooms[index].heat_w for index in chosen)
        if self.sensible_w is None or self.latent_w is None:
            sensible_w = sum(self.rooms[index].cool_sensible_w for index in chosen)
            return GroupLoad(heat_w, sensible_w, sum(self.rooms[index].cool_total_w for index in chosen), None)
        sensible = self.sensible_w[:, chosen].sum(axis=1)
        total = sensible + self.latent_w[:, chosen].sum(axis=1)
        hour = int(total.argmax())
        return GroupLoad(heat_w, max(float(sensible.max()), 0.0), max(float(total[hour]), 0.0), hour % 24)

    @property
    def house(self) -> GroupLoad:
        """Loads of the whole house."""
        return self.group()
