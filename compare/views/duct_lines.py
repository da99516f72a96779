"""Ducts of a designed zone as lines on the plan: side by side along the space, then to their outlets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from compare.air.ducts.result import Branch, DuctDesign
from compare.air.geometry import Point, unit_vector

LANE_GAP_M = 0.06
NEAR_M = 0.35


def plenum_line(ducts: DuctDesign) -> tuple[Point, Point]:
    """Plenum along its axis, from the unit's outlet to its end."""
    east, north = unit_vector(ducts.stand.flow_deg)
    half = ducts.plenum_length_m / 2
    start = (ducts.start_x_m, ducts.start_y_m)
    return (start[0] - half * east, start[1] - half * north), (start[0] + half * east, start[1] + half * north)


def return_line(ducts: DuctDesign) -> tuple[Point, ...]:
    """From the unit to the return grille, along the axes of the plan."""
    stand = ducts.stand
    unit, grille = (stand.unit_x_m, stand.unit_y_m), (stand.return_x_m, stand.return_y_m)
    east, _ = unit_vector(stand.flow_deg)
    turn = (grille[0], unit[1]) if abs(east) > 0.5 else (unit[0], grille[1])
    return tuple(dict.fromkeys((unit, turn, grille)))


def branch_lines(ducts: DuctDesign, unit_width_m: float = 0.0) -> Iterator[tuple[Branch, tuple[Point, ...]]]:
    """Each branch from its take-off at the plenum; branches that go the same way keep a lane each.

    A branch that goes back past the unit keeps beside it.
    """
    east, north = unit_vector(ducts.stand.flow_deg)
    along_x = abs(east) > 0.5
    lanes = _lanes(ducts, along_x, (east if along_x else north) > 0.0, unit_width_m / 2)
    for index, branch in enumerate(ducts.branches):
        start, end = (ducts.start_x_m, ducts.start_y_m), (branch.x_m, branch.y_m)
        lane = lanes[index]
        if along_x:
            points = (start, (start[0], start[1] + lane), (end[0], start[1] + lane), end)
        else:
            points = (start, (start[0] + lane, start[1]), (start[0] + lane, end[1]), end)
        yield branch, tuple(dict.fromkeys(points))


def _lanes(ducts: DuctDesign, along_x: bool, positive_flow: bool, beside_unit_m: float) -> list[float]:
    """Offset of each branch from the axis: away from it on its outlet's side, the farther runs nearer to the axis."""
    start = (ducts.start_x_m, ducts.start_y_m)
    sides: dict[tuple[bool, bool], list[tuple[float, int]]] = defaultdict(list)
    for index, branch in enumerate(ducts.branches):
        ahead = branch.x_m - start[0] if along_x else branch.y_m - start[1]
        aside = branch.y_m - start[1] if along_x else branch.x_m - start[0]
        sides[(ahead > 0) == positive_flow, aside > 0].append((abs(ahead), index))
    out = [0.0] * len(ducts.branches)
    for (forward, positive), members in sides.items():
        passes = not forward and max(ahead for ahead, _ in members) > ducts.plenum_length_m / 2 + NEAR_M
        free = beside_unit_m + LANE_GAP_M / 2 if passes else LANE_GAP_M / 2
        for _, index in sorted(members, reverse=True):
            width = ducts.branches[index].diameter_m
            out[index] = (free + width / 2) * (1.0 if positive else -1.0)
            free += width + LANE_GAP_M
    return out
