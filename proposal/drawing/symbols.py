"""Symbols of units in their own frame: x along the back edge, y in the direction of blowing, sizes in pixels."""

from __future__ import annotations

from proposal.drawing import svg
from proposal.drawing.doors import arrow
from proposal.drawing.geometry import Point

_BLADES: tuple[tuple[Point, Point], ...] = (
    ((0.0, -0.955), (-0.724, -0.387)),
    ((-0.824, 0.477), (0.03, 0.819)),
    ((0.824, 0.477), (0.693, -0.432)),
)
"""Control and end point of each curved blade, in radii from the hub."""


def _rect(x: float, y: float, width: float, height: float, **attributes: svg.Value | None) -> str:
    return svg.tag("rect", x=x, y=y, width=width, height=height, **attributes)


def fan(centre: Point, radius_px: float, colour: str, stroke_px: float) -> str:
    """A wheel of three curved blades in a circle."""
    x, y = centre
    n = svg.number
    data = "".join(
        f"M{n(x)} {n(y)}Q{n(x + c[0] * radius_px)} {n(y + c[1] * radius_px)} "
        f"{n(x + e[0] * radius_px)} {n(y + e[1] * radius_px)}"
        for c, e in _BLADES
    )
    attributes: dict[str, svg.Value | None] = {"fill": "none", "stroke": colour, "stroke_width": stroke_px}
    return svg.tag("circle", cx=x, cy=y, r=radius_px, **attributes) + svg.path(
        data, stroke_linecap="round", **attributes
    )


def arrows_out(places: list[tuple[Point, Point]], colour: str, stroke_px: float = 1.4, head_px: float = 5.0) -> str:
    """Arrows given by tail and tip."""
    return svg.group(
        [arrow(tail, tip, head_px) for tail, tip in places],
        stroke=colour,
        stroke_width=stroke_px,
        fill="none",
        stroke_linecap="round",
        stroke_linejoin="round",
    )


def wall_head(size_px: Point, colour: str, card: str) -> str:
    """A solid bar with a light lip on the blowing side."""
    wide, deep = size_px
    lip_y = deep * 0.7
    return _rect(-wide / 2.0, 0.0, wide, deep, rx=2.4, fill=colour) + svg.line(
        (-wide * 0.38, lip_y),
        (wide * 0.38, lip_y),
        stroke=card,
        stroke_width=max(1.0, deep * 0.1),
        stroke_linecap="round",
    )


def floor_console(size_px: Point, colour: str, card: str) -> str:
    """An outlined bar, its front half solid, three arrows into the room."""
    wide, deep = size_px
    spots = [(-0.3, -0.12), (0.0, 0.0), (0.3, 0.12)]
    arrows = [((wide * at, deep + 3.0), (wide * (at + lean), deep + 17.0)) for at, lean in spots]
    return (
        _rect(-wide / 2.0, 0.0, wide, deep, fill=card, stroke=colour, stroke_width=1.4)
        + _rect(-wide / 2.0, deep / 2.0, wide, deep / 2.0, fill=colour)
        + arrows_out(arrows, colour)
    )


def room_heater(size_px: Point, colour: str, card: str) -> str:
    """A hollow bar with a coil line and three short thin arrows."""
    wide, deep = size_px
    arrows = [((wide * at, deep + 2.5), (wide * at, deep + 12.0)) for at in (-0.28, 0.0, 0.28)]
    return still_heater(size_px, colour, card) + arrows_out(arrows, colour, 1.0, 3.6)


def still_heater(size_px: Point, colour: str, card: str) -> str:
    """The heater without its arrows, for summer."""
    wide, deep = size_px
    count = 8
    step = wide * 0.8 / count
    coil = [(-wide * 0.4 + step * index, deep * (0.28 if index % 2 else 0.72)) for index in range(count + 1)]
    return _rect(-wide / 2.0, 0.0, wide, deep, rx=2.0, fill=card, stroke=colour, stroke_width=1.4) + svg.path(
        svg.points_path(coil, closed=False), fill="none", stroke=colour, stroke_width=1.0, stroke_linejoin="round"
    )


def ceiling_cassette(size_px: Point, colour: str, card: str) -> str:
    """A square with an inner square, four short thick lips and four arrows."""
    side = max(size_px)
    half, inner = side / 2.0, side * 0.24
    lip, middle = side * 0.18, half
    lips = [
        ((-lip, middle - half * 0.74), (lip, middle - half * 0.74)),
        ((-lip, middle + half * 0.74), (lip, middle + half * 0.74)),
        ((-half * 0.74, middle - lip), (-half * 0.74, middle + lip)),
        ((half * 0.74, middle - lip), (half * 0.74, middle + lip)),
    ]
    ways = ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0))
    arrows = [
        ((x * (half + 3.0), middle + y * (half + 3.0)), (x * (half + 14.0), middle + y * (half + 14.0)))
        for x, y in ways
    ]
    return (
        _rect(-half, 0.0, side, side, rx=3.0, fill=card, stroke=colour, stroke_width=1.5)
        + _rect(-inner, middle - inner, inner * 2, inner * 2, fill="none", stroke=colour, stroke_width=1.2)
        + svg.group(
            [svg.line(start, end) for start, end in lips], stroke=colour, stroke_width=2.4, stroke_linecap="round"
        )
        + arrows_out(arrows, colour)
    )


def concealed_unit(size_px: Point, colour: str, card: str) -> str:
    """A dashed rectangle in true size, a fan, a solid corner on the service side."""
    wide, deep = size_px
    corner = min(wide, deep) * 0.2
    return (
        _rect(-wide / 2.0, 0.0, wide, deep, fill=card)
        + _rect(-wide / 2.0, 0.0, wide, deep, fill="none", stroke=colour, stroke_width=2.0, stroke_dasharray="6 3.4")
        + fan((0.0, deep / 2.0), min(wide, deep) * 0.32, colour, 1.4)
        + svg.path(
            svg.points_path(((-wide / 2.0, 0.0), (-wide / 2.0 + corner, 0.0), (-wide / 2.0, corner)), closed=True),
            fill=colour,
        )
    )


def outdoor_unit(size_px: Point, colour: str, card: str) -> str:
    """A rounded rectangle about the origin, the fan left, three ribs right."""
    wide, deep = size_px
    ribs = [svg.line((wide * at, -deep * 0.34), (wide * at, deep * 0.34)) for at in (0.22, 0.30, 0.38)]
    return (
        _rect(-wide / 2.0, -deep / 2.0, wide, deep, rx=3.6, fill=card, stroke=colour, stroke_width=1.7)
        + fan((-wide * 0.19, 0.0), deep * 0.36, colour, 1.2)
        + svg.group(ribs, stroke=colour, stroke_width=1.2)
    )


def cone(deep_px: float, reach_px: float, colour: str) -> str:
    """Dotted sector of moving air in front of a unit, with a half-way arc."""
    half = 0.44
    n = svg.number
    edge_x, edge_y = reach_px * half, reach_px * 0.9
    near = (edge_x * 0.52, edge_y * 0.52)
    data = (
        f"M0 {n(deep_px)}L{n(edge_x)} {n(deep_px + edge_y)}"
        f"A{n(reach_px)} {n(reach_px)} 0 0 1 {n(-edge_x)} {n(deep_px + edge_y)}Z"
        f"M{n(near[0])} {n(deep_px + near[1])}"
        f"A{n(reach_px * 0.52)} {n(reach_px * 0.52)} 0 0 1 {n(-near[0])} {n(deep_px + near[1])}"
    )
    return svg.path(
        data, fill="none", stroke=colour, stroke_width=1.2, stroke_dasharray="1.2 4", stroke_linecap="round"
    )


SYMBOLS = {
    "wall head": wall_head,
    "floor console": floor_console,
    "room heater": room_heater,
    "ceiling cassette": ceiling_cassette,
    "concealed unit": concealed_unit,
}
"""Symbol of each kind of indoor unit; each takes its size, its colour and the colour of the paper."""
ARROW_REACH_PX = {"floor console": 18.0, "room heater": 13.0, "ceiling cassette": 15.0}
"""How far the arrows reach beyond the unit."""
