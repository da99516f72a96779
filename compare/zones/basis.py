"""What the design of every zone of one house rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.air.contest import USUAL, ContestWeights
from compare.equipment.catalogue import Catalogue
from compare.house.plan import Plan

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DesignBasis:
    """Plan, design loads, design temperatures and catalogue. R rooms in canonical order.

    `cool_load_w` is the total cooling load (sensible and latent) of each hour of the design day, so that rooms are
    added at their common hour and not at their own peaks.
    """

    plan: Plan
    heat_load_w: FloatArray
    """(R,) at the 99 % outdoor temperature."""
    cool_load_w: FloatArray
    """(24, R)."""
    heat_outdoor_c: float
    cool_outdoor_c: float
    units: Catalogue
    plan_north_deg: float = 0.0
    duct_policy: str = "normal"
    contest: ContestWeights = USUAL
    """How much the house minds draught, noise, price and sight when types of room unit compete."""

    def heat_w(self, rooms: Iterable[int]) -> float:
        """Design heating load of some rooms together."""
        return float(self.heat_load_w[list(rooms)].sum())

    def cool_w(self, rooms: Iterable[int]) -> float:
        """Coincident design cooling load of some rooms together, never below 0."""
        return max(0.0, float(self.cool_load_w[:, list(rooms)].sum(axis=1).max(initial=0.0)))
