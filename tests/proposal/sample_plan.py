"""Invented floor plans for tests: rectangles of rooms, from which walls follow. No house like these exists."""

from __future__ import annotations

import itertools
from collections import defaultdict

from compare.views.plan_view import (
    DoorLine,
    FurniturePiece,
    LevelView,
    PlanView,
    Point,
    RoomShape,
    WallLine,
    WindowLine,
)

Rect = tuple[str, str, int, float, float, float, float]
"""Name, use, level, x0, y0, x1, y1 in metres."""
Edge = tuple[int, bool, float]
"""Level, whether it runs upward, and where it crosses the other axis."""


def _edges(rect: Rect) -> list[tuple[Edge, float, float]]:
    _, _, level, x0, y0, x1, y1 = rect
    return [
        ((level, False, y0), x0, x1),
        ((level, False, y1), x0, x1),
        ((level, True, x0), y0, y1),
        ((level, True, x1), y0, y1),
    ]


def _point(edge: Edge, along_m: float) -> Point:
    _, upward, cross_m = edge
    return (cross_m, along_m) if upward else (along_m, cross_m)


def walls_of(rects: list[Rect]) -> tuple[WallLine, ...]:
    """Pieces of wall of rectangular rooms; a piece with a room on one side only is an outside wall."""
    lines: dict[Edge, list[tuple[float, float]]] = defaultdict(list)
    for rect in rects:
        for edge, start, end in _edges(rect):
            lines[edge].append((start, end))
    found = []
    for edge, spans in lines.items():
        marks = sorted({mark for span in spans for mark in span})
        for start, end in itertools.pairwise(marks):
            count = sum(low <= start and end <= high for low, high in spans)
            if count:
                found.append(
                    WallLine(
                        level=edge[0],
                        start_m=_point(edge, start),
                        end_m=_point(edge, end),
                        outside=count == 1,
                    )
                )
    return tuple(found)


def shapes_of(rects: list[Rect], sleepers: dict[str, float]) -> tuple[RoomShape, ...]:
    """Room shapes in the order given."""
    return tuple(
        RoomShape(
            index=index,
            name=name,
            use=use,
            level=level,
            outline_m=((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
            area_m2=(x1 - x0) * (y1 - y0),
            sleepers=sleepers.get(name, 0.0),
        )
        for index, (name, use, level, x0, y0, x1, y1) in enumerate(rects)
    )


RANCH: list[Rect] = [
    ("Living, dining, kitchen", "living", 0, 0.0, 0.0, 6.7, 8.0),
    ("Bedroom 2", "bedroom", 0, 6.7, 0.0, 10.35, 3.4),
    ("Hall", "hall", 0, 6.7, 3.4, 14.0, 4.6),
    ("Laundry", "laundry", 0, 6.7, 4.6, 8.2, 8.0),
    ("Bath", "bath", 0, 8.2, 4.6, 10.35, 8.0),
    ("Bedroom 3", "bedroom", 0, 10.35, 0.0, 14.0, 3.4),
    ("Bedroom 1", "bedroom", 0, 10.35, 4.6, 14.0, 8.0),
]
RANCH_BEDS = {"Bedroom 1": 2.0, "Bedroom 2": 1.0, "Bedroom 3": 1.0}


def _window(level: int, start: Point, end: Point, *, door: bool = False) -> WindowLine:
    return WindowLine(level=level, start_m=start, end_m=end, door=door)


def _door(level: int, rooms: tuple[int, int], gap: tuple[Point, Point], *, night: bool) -> DoorLine:
    return DoorLine(
        level=level, kind="door", rooms=rooms, start_m=gap[0], end_m=gap[1], open_by_night=night, open_by_day=True
    )


def ranch_plan() -> PlanView:
    """One storey, an open living space, three bedrooms along a hall."""
    return PlanView(
        levels=(LevelView(level=0, name="Ground floor"),),
        rooms=shapes_of(RANCH, RANCH_BEDS),
        walls=walls_of(RANCH),
        windows=(
            _window(0, (0.9, 8.0), (2.7, 8.0)),
            _window(0, (0.0, 4.1), (0.0, 5.5)),
            _window(0, (0.7, 0.0), (2.5, 0.0)),
            _window(0, (3.1, 0.0), (4.9, 0.0)),
            _window(0, (5.4, 0.0), (6.3, 0.0), door=True),
            _window(0, (7.9, 0.0), (9.1, 0.0)),
            _window(0, (11.6, 0.0), (12.8, 0.0)),
            _window(0, (14.0, 1.2), (14.0, 2.2)),
            _window(0, (14.0, 5.6), (14.0, 6.8)),
            _window(0, (11.6, 8.0), (12.8, 8.0)),
            _window(0, (9.0, 8.0), (9.6, 8.0)),
        ),
        doors=(
            DoorLine(
                level=0,
                kind="opening",
                rooms=(0, 2),
                start_m=(6.7, 3.5),
                end_m=(6.7, 4.5),
                open_by_night=True,
                open_by_day=True,
            ),
            _door(0, (2, 3), ((7.1, 4.6), (7.9, 4.6)), night=True),
            _door(0, (2, 4), ((8.4, 4.6), (9.2, 4.6)), night=True),
            _door(0, (2, 6), ((10.6, 4.6), (11.4, 4.6)), night=False),
            _door(0, (1, 2), ((9.35, 3.4), (10.15, 3.4)), night=False),
            _door(0, (2, 5), ((10.55, 3.4), (11.35, 3.4)), night=False),
        ),
        furniture=(
            FurniturePiece(level=0, room=6, kind="bed", at_m=(13.5, 7.1), sleepers=2.0),
            FurniturePiece(level=0, room=1, kind="bed", at_m=(7.0, 0.7), sleepers=1.0),
            FurniturePiece(level=0, room=5, kind="bed", at_m=(13.7, 0.6), sleepers=1.0),
            FurniturePiece(level=0, room=0, kind="sofa", at_m=(1.9, 0.75)),
            FurniturePiece(level=0, room=0, kind="table", at_m=(2.4, 6.0)),
        ),
        north_deg=0.0,
    )


TWO_STOREY: list[Rect] = [
    ("Living room", "living", 0, 0.0, 0.0, 5.2, 4.6),
    ("Kitchen and dining", "kitchen", 0, 0.0, 4.6, 5.2, 8.4),
    ("Entry", "entry", 0, 5.2, 0.0, 7.4, 4.6),
    ("Study", "work", 0, 7.4, 0.0, 10.4, 4.6),
    ("Utility", "laundry", 0, 5.2, 4.6, 7.4, 8.4),
    ("Guest bedroom", "bedroom", 0, 7.4, 4.6, 10.4, 8.4),
    ("Main bedroom", "bedroom", 1, 0.0, 0.0, 5.2, 4.6),
    ("Child's room", "bedroom", 1, 0.0, 4.6, 4.0, 8.4),
    ("Bath", "bath", 1, 4.0, 5.9, 6.6, 8.4),
    ("Landing", "hall", 1, 5.2, 1.1, 6.6, 4.6),
    ("Closet", "storage", 1, 5.2, 0.0, 6.6, 1.1),
    ("Passage", "hall", 1, 4.0, 4.6, 6.6, 5.9),
    ("Sewing room", "hobby", 1, 6.6, 0.0, 10.4, 3.8),
    ("Teenager's room", "bedroom", 1, 6.6, 3.8, 10.4, 8.4),
]
TWO_STOREY_BEDS = {"Guest bedroom": 1.0, "Main bedroom": 2.0, "Child's room": 1.0, "Teenager's room": 1.0}


def two_storey_plan() -> PlanView:
    """Two storeys with a stair between entry and landing, and a closet too small for words."""
    return PlanView(
        levels=(LevelView(level=0, name="Ground floor"), LevelView(level=1, name="Upper floor")),
        rooms=shapes_of(TWO_STOREY, TWO_STOREY_BEDS),
        walls=walls_of(TWO_STOREY),
        windows=(
            _window(0, (1.2, 0.0), (3.4, 0.0)),
            _window(0, (0.0, 1.4), (0.0, 3.2)),
            _window(0, (0.0, 5.8), (0.0, 7.2)),
            _window(0, (1.6, 8.4), (3.4, 8.4)),
            _window(0, (5.8, 0.0), (6.8, 0.0), door=True),
            _window(0, (10.4, 1.4), (10.4, 2.8)),
            _window(0, (10.4, 5.8), (10.4, 7.0)),
            _window(1, (1.6, 0.0), (3.4, 0.0)),
            _window(1, (0.0, 6.0), (0.0, 7.2)),
            _window(1, (5.0, 8.4), (5.8, 8.4)),
            _window(1, (10.4, 1.2), (10.4, 2.4)),
            _window(1, (10.4, 5.6), (10.4, 7.0)),
            _window(1, (7.8, 8.4), (9.2, 8.4)),
        ),
        doors=(
            DoorLine(
                level=0,
                kind="opening",
                rooms=(0, 1),
                start_m=(1.6, 4.6),
                end_m=(3.6, 4.6),
                open_by_night=True,
                open_by_day=True,
            ),
            _door(0, (0, 2), ((5.2, 1.6), (5.2, 2.4)), night=True),
            _door(0, (2, 3), ((7.4, 1.6), (7.4, 2.4)), night=False),
            _door(0, (2, 4), ((6.3, 4.6), (7.1, 4.6)), night=False),
            _door(0, (4, 5), ((7.4, 5.0), (7.4, 5.8)), night=False),
            DoorLine(
                level=0,
                kind="stair",
                rooms=(2, 9),
                start_m=(5.4, 3.6),
                end_m=(6.3, 3.6),
                open_by_night=True,
                open_by_day=True,
            ),
            _door(1, (6, 9), ((5.2, 3.6), (5.2, 4.4)), night=False),
            _door(1, (7, 11), ((4.0, 4.9), (4.0, 5.6)), night=False),
            _door(1, (9, 10), ((5.5, 1.1), (6.2, 1.1)), night=False),
            _door(1, (8, 11), ((5.4, 5.9), (6.2, 5.9)), night=False),
            DoorLine(
                level=1,
                kind="opening",
                rooms=(9, 11),
                start_m=(5.3, 4.6),
                end_m=(6.5, 4.6),
                open_by_night=True,
                open_by_day=True,
            ),
            _door(1, (9, 12), ((6.6, 2.6), (6.6, 3.4)), night=True),
            _door(1, (11, 13), ((6.6, 4.8), (6.6, 5.6)), night=False),
        ),
        furniture=(
            FurniturePiece(level=0, room=0, kind="sofa", at_m=(0.8, 2.3)),
            FurniturePiece(level=0, room=1, kind="table", at_m=(2.2, 6.6)),
            FurniturePiece(level=0, room=3, kind="desk", at_m=(9.8, 3.9)),
            FurniturePiece(level=0, room=5, kind="bed", at_m=(10.0, 7.9), sleepers=1.0),
            FurniturePiece(level=1, room=6, kind="bed", at_m=(2.4, 0.4), sleepers=2.0),
            FurniturePiece(level=1, room=7, kind="bed", at_m=(0.5, 8.0), sleepers=1.0),
            FurniturePiece(level=1, room=12, kind="table", at_m=(8.8, 1.4)),
            FurniturePiece(level=1, room=13, kind="bed", at_m=(10.0, 4.5), sleepers=1.0),
        ),
        north_deg=35.0,
    )
