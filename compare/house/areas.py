"""Areas of the plan, by shapely: overlaps, footprints, what a room covers, points inside it.

The only module of the house that imports shapely, and only when a plan is derived.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

PointM = tuple[float, float]

GAP_M = 0.15
"""Rooms drawn to their inside faces may stand this far apart and still share a wall: a stud wall and some slack."""

OVERLAP_M = 0.02
"""Depth by which rooms may overlap through rounding of tape readings."""

SLIVER_M2 = 0.05
"""Smaller remainders of floor or ceiling come from drawing and are dropped."""


def polygon(corners_m: Sequence[PointM]) -> Polygon:
    """The room as a polygon."""
    import shapely

    return shapely.Polygon(corners_m)


def outline_fault(corners_m: Sequence[PointM]) -> str:
    """Why corners do not enclose a room, or an empty text when they do."""
    shape = polygon(corners_m)
    if not shape.is_valid:
        return "the outline crosses or touches itself; list the corners in order around the room"
    return "" if shape.area > 0.0 else "the outline encloses no area"


def overlap_m2(one: Polygon, other: Polygon) -> float:
    """Shared area of two rooms, 0 when they share only a strip that rounding explains."""
    if not one.intersects(other):
        return 0.0
    shared = one.intersection(other)
    return 0.0 if shared.buffer(-0.5 * OVERLAP_M).is_empty else float(shared.area)


def shared_m2(one: Polygon, other: Polygon) -> float:
    """Area of one room that lies over another."""
    return float(one.intersection(other).area)


def footprint(rooms: Iterable[Polygon]) -> BaseGeometry:
    """Everything that rooms cover, gaps of the width of a partition closed."""
    import shapely

    half = 0.5 * GAP_M
    grown = shapely.union_all([room.buffer(half, join_style="mitre") for room in rooms])
    return grown.buffer(-half, join_style="mitre")


def uncovered_m2(room: Polygon, cover: BaseGeometry) -> float:
    """Area of a room that a footprint does not cover; slivers count as nothing."""
    rest = float(room.difference(cover).area)
    return rest if rest > SLIVER_M2 else 0.0


def holes(cover: BaseGeometry) -> list[Polygon]:
    """Spaces that a footprint encloses but no room fills, largest first."""
    import shapely

    parts = cover.geoms if hasattr(cover, "geoms") else [cover]
    rings = [shapely.Polygon(ring) for part in parts for ring in part.interiors]
    return sorted(rings, key=lambda ring: (-ring.area, ring.bounds))


def holds(shape: BaseGeometry, point_m: PointM, slack_m: float) -> bool:
    """Whether a point lies in a shape or within `slack_m` of it."""
    import shapely

    return bool(shape.distance(shapely.Point(point_m)) <= slack_m)


def distance_m(one: BaseGeometry, other: BaseGeometry) -> float:
    """Smallest distance between two shapes."""
    return float(one.distance(other))


def middle(shape: BaseGeometry) -> PointM:
    """The centroid where it lies inside the shape, else some point inside."""
    point = shape.centroid if shape.covers(shape.centroid) else shape.representative_point()
    return float(point.x), float(point.y)


def meeting_point(one: Polygon, other: Polygon) -> PointM:
    """Middle of what two shapes share, or between their nearest points when they share nothing."""
    shared = one.intersection(other)
    if not shared.is_empty:
        return middle(shared)
    from shapely.ops import nearest_points

    near, far = nearest_points(one, other)
    return 0.5 * (near.x + far.x), 0.5 * (near.y + far.y)
