"""See it on your wall: a photo that stays in the browser, and the unit's front drawn on it to scale."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.units import System
from compare.views.plan_view import UnitMark
from dashboard.components import WallPhoto
from dashboard.table.scene import Shown

ON_A_WALL = {"wall head": "wall unit", "floor console": "floor unit", "room heater": "room heater"}
"""Kinds of units that hang or stand on a wall, and their words."""
M_PER_INCH = 0.0254
KNOWN = {System.US: 80.0, System.SI: 203.0}
"""A common door (80 in.)."""
LIMITS = {System.US: (6.0, 240.0), System.SI: (15.0, 600.0)}

WORDS = {
    "choose": "Take or choose a photo",
    "another": "Another photo",
    "stays": "The photo stays on this device. Nothing of it is sent anywhere.",
    "square": (
        "Stand square to the wall, with the phone held level. A photo from the side makes the unit look too large "
        "or too small. The marks and the unit must be on the same wall."
    ),
    "first": "Tap the top of something whose height you know, such as a door.",
    "second": "Now tap its foot.",
    "drag": "Drag the unit, or choose it and use the arrow keys. Drag a mark to mend it.",
    "known": "Height between the marks",
    "again": "Set the marks again",
    "keys": "Set the marks with the keys",
    "top": "Upper mark",
    "foot": "Lower mark",
    "which": "Which unit",
    "above": "Its lower edge is {height} above the lower mark.",
    "bad": "This file is not a picture that this browser can open.",
    "range": "Give a height from {least} to {most}.",
    "generic": "Generic size of this class of unit; the one you buy may differ by a few inches.",
}
NONE = "This layout hangs nothing on a wall. You would see small vents in walls or ceilings only."


def units_of(shown: Shown) -> list[dict[str, object]]:
    """What the option on the plan hangs on walls, one row for each size, named by where it goes."""
    rooms = {room.index: room.name for room in shown.view.plan.rooms}
    found: dict[tuple[str, float, float], list[str]] = {}
    for mark in shown.on_plan.drawing.units:
        if mark.kind in ON_A_WALL and mark.height_m > 0.0:
            found.setdefault((mark.kind, *_size(mark, shown.page.units)), []).append(rooms.get(mark.room, ""))
    unit = _unit(shown.page.units)
    return [
        {
            "label": f"{ON_A_WALL[kind].capitalize()}, {wide:g} × {high:g} {unit}: {', '.join(filter(None, where))}",
            "wide": wide,
            "high": high,
            "low": kind != "wall head",
        }
        for (kind, wide, high), where in found.items()
    ]


def _unit(units: System) -> str:
    return "in." if units is System.US else "cm"


def _size(mark: UnitMark, units: System) -> tuple[float, float]:
    per_m = 1.0 / M_PER_INCH if units is System.US else 100.0
    return round(mark.width_m * per_m), round(mark.height_m * per_m)


def wall_panel(shown: Shown) -> list[Component]:
    """The photo with the units of the option on the plan."""
    units = units_of(shown)
    name = shown.name(shown.on_plan)
    if not units:
        return [html.P(f"{name}: {NONE[:1].lower()}{NONE[1:]}")]
    system = shown.page.units
    least, most = LIMITS[system]
    photo = WallPhoto(
        id="wall-photo",
        units=units,
        unit=_unit(system),
        known=KNOWN[system],
        least=least,
        most=most,
        words=WORDS,
    )
    return [html.P(f"Units of: {_lower(name)}.", className="quiet"), photo]


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:]
