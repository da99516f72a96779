"""The hill of a unit: how often its rooms need each load, as a smooth line of equal height for every unit."""

from __future__ import annotations

from itertools import pairwise

from compare.views.customer import UnitBand
from proposal.drawing import svg
from proposal.drawing.chart import Axis, capacity
from proposal.drawing.geometry import Point
from proposal.drawing.look import Look

HILL_PX = 44.0


def hill_points(band: UnitBand, axis: Axis, foot_px: float, look: Look) -> list[Point]:
    """Outline of the hill from its first edge to its last, as densities through the middles of the classes."""
    density = [
        hours / max(high - low, 1e-9) for hours, (low, high) in zip(band.hours, pairwise(band.edges_w), strict=True)
    ]
    peak = max(density, default=0.0)
    if peak <= 0.0:
        return []
    middles = [(low + high) / 2.0 for low, high in pairwise(band.edges_w)]

    def at(value_w: float, share: float) -> Point:
        return axis.at(capacity(value_w, look)), foot_px - HILL_PX * share

    top = [at(middle, value / peak) for middle, value in zip(middles, density, strict=True)]
    rise = density[1] - density[0] if len(density) > 1 else 0.0
    first = min(max(density[0] - rise / 2.0, 0.0), peak)
    return [at(band.edges_w[0], first / peak), *top, at(band.edges_w[-1], 0.0)]


def curve(points: list[Point]) -> str:
    """A smooth line through points that never rises above a local top (monotone cubic, Fritsch and Carlson 1980)."""
    if len(points) < 3:
        return svg.points_path(points, closed=False)
    slopes = [(y1 - y0) / (x1 - x0) if x1 > x0 else 0.0 for (x0, y0), (x1, y1) in pairwise(points)]
    tangents = [slopes[0]]
    for before, after in pairwise(slopes):
        tangents.append(0.0 if before * after <= 0.0 else 2.0 * before * after / (before + after))
    tangents.append(slopes[-1])
    n, data = svg.number, f"M{svg.number(points[0][0])} {svg.number(points[0][1])}"
    for index, ((x0, y0), (x1, y1)) in enumerate(pairwise(points)):
        third = (x1 - x0) / 3.0
        data += (
            f"C{n(x0 + third)} {n(y0 + third * tangents[index])} "
            f"{n(x1 - third)} {n(y1 - third * tangents[index + 1])} {n(x1)} {n(y1)}"
        )
    return data
