"""Each edge of each room cut into stretches: shared with which room, open to outdoors, or along a shaft.

Plain arithmetic along each edge, so that lengths are exact and do not depend on the order of rooms.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from compare.house.areas import GAP_M, OVERLAP_M, holds
from compare.house.drawing import Drawing, Drawn
from compare.house.outline import Edge

_PARALLEL = 0.01
"""Sine of the angle under which two edges count as one wall."""
_SHORTEST_M = 0.02
_PROBE_M = 0.01


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a room's edge; `other` is the room behind it, None for outdoors."""

    room: int
    edge: Edge
    low_m: float
    high_m: float
    other: int | None

    @property
    def length_m(self) -> float:
        """Length of the piece."""
        return self.high_m - self.low_m

    @property
    def middle_m(self) -> tuple[float, float]:
        """Middle of the piece on the plan."""
        return self.edge.point(0.5 * (self.low_m + self.high_m))

    def distance_m(self, point_m: tuple[float, float]) -> float:
        """Distance of a point from the piece."""
        along, outward = self.edge.place(point_m)
        beyond = max(self.low_m - along, along - self.high_m, 0.0)
        return float((beyond**2 + outward**2) ** 0.5)


@dataclass(frozen=True, slots=True)
class _Cover:
    low_m: float
    high_m: float
    away_m: float
    other: int


def _faced(edge: Edge, other: Edge) -> tuple[float, float, float] | None:
    """Where another room's edge runs along this one: from, to, and how far away; None where it does not."""
    (ax, ay), (bx, by) = edge.along, other.along
    if ax * bx + ay * by > 0.0 or abs(ax * by - ay * bx) > _PARALLEL:
        return None
    (first, away), (last, away_last) = edge.place(other.end_m), edge.place(other.start_m)
    low, high = max(first, 0.0), min(last, edge.length_m)
    if high - low < _SHORTEST_M or not all(-OVERLAP_M <= gap <= GAP_M for gap in (away, away_last)):
        return None
    return low, high, abs(away + away_last)


def _covers(edge: Edge, others: Iterable[Drawn]) -> list[_Cover]:
    found: list[_Cover] = []
    for other in others:
        spans = (_faced(edge, facing) for facing in other.edges)
        found += [_Cover(*span, other.index) for span in spans if span]
    return found


def _pieces(edge: Edge, covers: list[_Cover]) -> list[tuple[float, float, int | None]]:
    """The edge cut at every end of a cover; each piece goes to the nearest room that covers it."""
    length = edge.length_m
    marks = sorted({0.0, length, *(cover.low_m for cover in covers), *(cover.high_m for cover in covers)})
    pieces: list[tuple[float, float, int | None]] = []
    for low, high in pairwise(marks):
        middle = 0.5 * (low + high)
        behind = [cover for cover in covers if cover.low_m <= middle <= cover.high_m]
        nearest = min(behind, key=lambda cover: (cover.away_m, cover.other), default=None)
        other = None if nearest is None else nearest.other
        if pieces and pieces[-1][2] == other:
            pieces[-1] = (pieces[-1][0], high, other)
        else:
            pieces.append((low, high, other))
    return pieces


def _is_outdoors(drawing: Drawing, edge: Edge, low_m: float, high_m: float, level: int) -> bool:
    """Whether an open piece of an edge looks out of the house: not into a partition's thickness, not into a shaft."""
    if high_m - low_m < _SHORTEST_M:
        return False
    just_outside = edge.point(0.5 * (low_m + high_m), _PROBE_M)
    if holds(drawing.covers[level], just_outside, 0.0):
        return False
    return not any(holds(shaft, just_outside, 0.0) for shaft in drawing.shafts[level])


def stretches_of(drawing: Drawing, drawn: Drawn, level: int) -> list[Stretch]:
    """The edges of a room against the rooms that stand in a level; shafts and ends of partitions left out."""
    near = [other for other in drawing.on(level) if other.index != drawn.index and drawn.near(other, GAP_M)]
    found: list[Stretch] = []
    for edge in drawn.edges:
        for low, high, other in _pieces(edge, _covers(edge, near)):
            if other is not None or _is_outdoors(drawing, edge, low, high, level):
                found.append(Stretch(drawn.index, edge, low, high, other))
    return found
