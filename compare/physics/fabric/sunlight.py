"""Where transmitted sun is absorbed inside a room: floor first, then other surfaces, a little out again by glass."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from compare.house.plan import SurfaceKind
from compare.physics.fabric.glass import Glazing
from compare.physics.fabric.parts import Part

FloatArray = npt.NDArray[np.float64]


def sun_shares(parts: Sequence[Part]) -> tuple[FloatArray, FloatArray]:
    """Share of one watt of transmitted sun absorbed at each part's inner face, and in outer panes.

    The first strike is on the floor (all surfaces by area where there is none), which absorbs its absorptance. What it
    reflects falls on the other surfaces by area; what those reflect spreads evenly over the whole room until nothing is
    left. Glass lets its diffuse share out again. The two arrays sum to 1 less what leaves through the glass.
    """
    area_m2 = np.array([part.area_m2 for part in parts])
    optics = np.array([_from_inside(part) for part in parts])
    reflected_frac = 1.0 - optics.sum(axis=1)
    floor = np.array([part.kind is SurfaceKind.FLOOR for part in parts])
    first = np.where(floor, area_m2, 0.0) if floor.any() else area_m2
    first = first / first.sum()
    others = np.where(floor, 0.0, area_m2) if floor.any() and not floor.all() else area_m2
    second = (first * reflected_frac).sum() * others / others.sum()
    left = (second * reflected_frac).sum()
    kept_m2 = (area_m2 * (1.0 - reflected_frac)).sum()
    even = left * area_m2 / kept_m2 if kept_m2 > 0.0 else np.zeros_like(area_m2)
    struck = first + second + even
    return struck * optics[:, 0], struck * optics[:, 1]


def _from_inside(part: Part) -> tuple[float, float, float]:
    """Absorbed at the inner face, absorbed in the outer pane, let out, of diffuse light from the room."""
    if not isinstance(part.make, Glazing):
        return part.inside_absorptance_frac, 0.0, 0.0
    through, near, far = part.make.optics.diffuse_frac
    if through <= 0.0:
        return part.inside_absorptance_frac, 0.0, 0.0
    return near, far, through
