"""Windows and outside doors where they stand in their walls: spread along the wall, since the file does not place them.

Doors stand at the end of the wall that is nearer to the middle of the house, then windows, widest first, all with equal
gaps. That order depends on geometry alone (our judgement; the surveyor corrects it on site).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from compare.house.areas import PointM
from compare.house.drawing import Drawing, Drawn
from compare.house.outline import snapped
from compare.house.plan import WallOpening
from compare.house.rooms import Door, Side, Window
from compare.house.stretches import Stretch, stretches_of

WINDOW_HEIGHT_M = 1.2
"""Height taken for the width of a window that is given by its area alone (our judgement)."""
DOOR_HEIGHT_M = 2.03
"""Height of an outside door that is given by its area, and of the heads of windows: 80 in. (common practice)."""
MOST_OF_WALL_FRAC = 0.9


@dataclass(frozen=True, slots=True)
class _Piece:
    width_m: float
    height_m: float
    door: bool


def wall_openings_of(drawing: Drawing) -> tuple[WallOpening, ...]:
    """Every window and outside door of the house, by room; walls too short for theirs narrow them together."""
    wanted: dict[tuple[int, Side], list[_Piece]] = defaultdict(list)
    for window in drawing.house.windows:
        wanted[drawing.at(window.room).index, window.wall] += [_window(window)] * window.count
    for door in drawing.house.doors:
        if door.room is not None and door.wall is not None:
            wanted[drawing.at(door.room).index, door.wall].append(_door(door))
    found: list[WallOpening] = []
    for (room, side), pieces in wanted.items():
        drawn = drawing.rooms[room]
        outer = [s for s in stretches_of(drawing, drawn, drawn.level) if s.other is None and s.edge.side is side]
        if outer:
            found += _spread(drawing, drawn, _longest(outer), pieces)
    return tuple(sorted(found, key=lambda one: (one.room, one.start_m, one.end_m, one.door)))


def _longest(stretches: list[Stretch]) -> Stretch:
    return max(stretches, key=lambda s: (round(s.length_m, 6), *s.middle_m))


def _window(window: Window) -> _Piece:
    if window.width_m is not None and window.written_height_m is not None:
        return _Piece(window.width_m, window.written_height_m, door=False)
    return _Piece(window.area_m2 / window.count / WINDOW_HEIGHT_M, WINDOW_HEIGHT_M, door=False)


def _door(door: Door) -> _Piece:
    if door.written_area_m2 is not None:
        return _Piece(door.written_area_m2 / DOOR_HEIGHT_M, DOOR_HEIGHT_M, door=True)
    return _Piece(door.width_m, door.height_m, door=True)


def _spread(drawing: Drawing, drawn: Drawn, wall: Stretch, pieces: list[_Piece]) -> Iterator[WallOpening]:
    total = math.fsum(piece.width_m for piece in pieces)
    scale = min(1.0, MOST_OF_WALL_FRAC * wall.length_m / total)
    gap = (wall.length_m - total * scale) / (len(pieces) + 1)
    ordered = sorted(pieces, key=lambda piece: (not piece.door, -piece.width_m, -piece.height_m))
    if _ends_nearer(drawing, drawn, wall):
        ordered.reverse()
    along = wall.low_m + gap
    for piece in ordered:
        end = along + piece.width_m * scale
        head = min(max(DOOR_HEIGHT_M, piece.height_m), drawn.height_m)
        yield WallOpening(
            room=drawn.index,
            start_m=snapped(wall.edge.point(along)),
            end_m=snapped(wall.edge.point(end)),
            door=piece.door,
            sill_m=max(head - piece.height_m, 0.0) if not piece.door else 0.0,
            head_m=head,
        )
        along = end + gap


def _ends_nearer(drawing: Drawing, drawn: Drawn, wall: Stretch) -> bool:
    """Whether the end of a stretch lies nearer to the middle of its level than its start."""
    corners = [corner for other in drawing.on(drawn.level) for corner in other.corners_m]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    middle: PointM = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
    start, end = (math.dist(wall.edge.point(at), middle) for at in (wall.low_m, wall.high_m))
    return end < start - 1e-6
