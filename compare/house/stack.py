"""What lies over and under each part of each room."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compare.house.areas import SLIVER_M2, shared_m2, uncovered_m2
from compare.house.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Stack:
    """Floors between rooms, and ceilings and floors with no room behind them."""

    between_m2: Mapping[tuple[int, int], float]
    """Area of the floor between a lower and an upper room."""
    open_above_m2: Sequence[float]
    open_below_m2: Sequence[float]


def find_stack(drawing: Drawing) -> Stack:
    """Areas over and under every room, from the footprints of the levels."""
    between: dict[tuple[int, int], float] = {}
    for lower in drawing.rooms:
        for upper in drawing.rooms:
            if upper.level == lower.top + 1 and lower.near(upper, 0.0):
                area = shared_m2(lower.shape, upper.shape)
                if area > SLIVER_M2:
                    between[lower.index, upper.index] = area
    above, below = [], []
    for drawn in drawing.rooms:
        over = drawn.top + 1 < len(drawing.covers)
        above.append(uncovered_m2(drawn.shape, drawing.covers[drawn.top + 1]) if over else drawn.area_m2)
        under = drawn.level > 0
        below.append(uncovered_m2(drawn.shape, drawing.covers[drawn.level - 1]) if under else drawn.area_m2)
    return Stack(between, above, below)
