"""What the invented options add to the invented plans: units, ducts, outdoor units."""

from __future__ import annotations

from compare.views.plan_view import DuctRun, OptionDrawing, OutdoorMark, Point, UnitMark


def head(tag: str, room: int, at: Point, blows_deg: float, *, level: int = 0) -> UnitMark:
    """A wall head of generic size."""
    return UnitMark(
        kind="wall head",
        tag=tag,
        level=level,
        room=room,
        at_m=at,
        blows_deg=blows_deg,
        width_m=0.81,
        depth_m=0.24,
        height_m=0.29,
    )


def heater(tag: str, room: int, at: Point, blows_deg: float, *, level: int = 0) -> UnitMark:
    """A room heater of generic size."""
    return UnitMark(
        kind="room heater",
        tag=tag,
        level=level,
        room=room,
        at_m=at,
        blows_deg=blows_deg,
        width_m=0.97,
        depth_m=0.15,
        height_m=0.4,
    )


def _hidden(tag: str, at: Point, blows_deg: float) -> UnitMark:
    return UnitMark(
        kind="concealed unit",
        tag=tag,
        level=0,
        room=2,
        at_m=at,
        blows_deg=blows_deg,
        width_m=0.8,
        depth_m=1.1,
        above_ceiling=True,
    )


def _duct(points: tuple[Point, ...], width_m: float, room: int = -1, *, back: bool = False, level: int = 0) -> DuctRun:
    return DuctRun(level=level, points_m=points, width_m=width_m, room=room, is_return=back)


BEDROOM_DUCTS = (
    _duct(((8.75, 4.0), (12.6, 4.0)), 0.3),
    _duct(((10.0, 4.0), (10.0, 4.6)), 0.15, 4),
    _duct(((12.2, 4.0), (12.2, 4.6)), 0.18, 6),
    _duct(((9.0, 4.0), (9.0, 3.4)), 0.15, 1),
    _duct(((12.4, 4.0), (12.4, 3.4)), 0.18, 5),
    _duct(((7.65, 4.0), (7.2, 4.0)), 0.35, 2, back=True),
)
LIVING_DUCTS = (_duct(((7.65, 3.65), (4.2, 3.65)), 0.25, 0), _duct(((7.65, 4.35), (5.8, 4.35)), 0.2, 0))


def outdoor(tag: str, at: Point, side: str, *serves: str) -> OutdoorMark:
    """An outdoor unit at ground level."""
    return OutdoorMark(tag=tag, level=0, at_m=at, side=side, serves=serves)


def ranch_drawings() -> dict[str, OptionDrawing]:
    """Drawings of the ranch by option id."""
    living = head("W1", 0, (6.7, 5.8), 270.0)
    first, second = outdoor("O1", (7.4, 8.7), "N", "W1"), outdoor("O2", (8.6, 8.7), "N", "H1")
    heaters = (
        heater("E1", 6, (11.2, 8.0), 180.0),
        heater("E2", 1, (9.6, 0.0), 0.0),
        heater("E3", 5, (11.2, 0.0), 0.0),
    )
    heads = (
        living,
        head("W2", 1, (8.0, 3.4), 180.0),
        head("W3", 5, (12.7, 3.4), 180.0),
        head("W4", 6, (12.7, 4.6), 0.0),
    )
    hidden = _hidden("H1", (8.2, 4.0), 90.0)
    return {
        "mix": OptionDrawing(units=(living, hidden), ducts=BEDROOM_DUCTS, outdoor=(first, second)),
        "heaters": OptionDrawing(units=(living, *heaters), ducts=(), outdoor=(first,)),
        "hidden": OptionDrawing(units=(hidden,), ducts=(*BEDROOM_DUCTS, *LIVING_DUCTS), outdoor=(first,)),
        "each": OptionDrawing(units=heads, ducts=(), outdoor=(first, second)),
        "one": OptionDrawing(units=(living,), ducts=(), outdoor=(first,)),
    }


def two_storey_drawings() -> dict[str, OptionDrawing]:
    """Drawings of the two-storey house: ceiling unit, floor console, attic unit."""
    console = UnitMark(
        kind="floor console",
        tag="F1",
        level=0,
        room=3,
        at_m=(8.9, 0.0),
        blows_deg=35.0,
        width_m=0.75,
        depth_m=0.22,
    )
    cassette = UnitMark(
        kind="ceiling cassette",
        tag="K1",
        level=1,
        room=6,
        at_m=(2.6, 2.7),
        blows_deg=35.0,
        width_m=0.6,
        depth_m=0.6,
    )
    attic = UnitMark(
        kind="concealed unit",
        tag="H1",
        level=1,
        room=-1,
        at_m=(5.55, 7.2),
        blows_deg=125.0,
        width_m=0.8,
        depth_m=1.1,
        above_ceiling=True,
    )
    down = head("W1", 0, (2.6, 0.0), 35.0)
    ducts = (
        _duct(((6.1, 7.2), (8.4, 7.2), (8.4, 6.6)), 0.3, 13, level=1),
        _duct(((6.2, 7.2), (6.2, 3.0), (7.6, 3.0)), 0.25, 12, level=1),
        _duct(((6.2, 5.2), (3.0, 5.2), (3.0, 6.0)), 0.2, 7, level=1),
        _duct(((6.2, 4.2), (4.4, 4.2), (4.4, 3.4)), 0.2, 6, level=1),
        _duct(((5.0, 7.2), (4.6, 7.2), (4.6, 5.3)), 0.35, 11, back=True, level=1),
    )
    upper_heads = (
        head("W2", 6, (0.0, 2.3), 125.0, level=1),
        head("W3", 7, (0.0, 6.6), 125.0, level=1),
        head("W4", 13, (8.5, 8.4), 215.0, level=1),
        head("W5", 12, (10.4, 1.9), 305.0, level=1),
    )
    ground = (outdoor("O1", (11.2, 2.0), "E", "W1"), outdoor("O2", (11.2, 6.4), "E", "H1"))
    return {
        "mix": OptionDrawing(units=(down, console, attic), ducts=ducts, outdoor=ground),
        "each": OptionDrawing(units=(down, console, cassette, *upper_heads[1:]), ducts=(), outdoor=ground),
        "one": OptionDrawing(units=(down,), ducts=(), outdoor=ground[:1]),
    }
