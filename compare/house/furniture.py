"""Beds, seats and places for units, checked against the rooms they name."""

from __future__ import annotations

from collections.abc import Sequence

from compare.house.areas import GAP_M, PointM, distance_m, holds, middle, polygon
from compare.house.drawing import Drawing, Drawn, Report
from compare.house.envelope import azimuth_deg
from compare.house.plan import Bed, OutdoorSpot, Seat, UnitSpace, Use, WallPlace
from compare.house.rooms import SeatKind
from compare.house.source import Loc
from compare.house.stretches import stretches_of
from compare.house.tables import default_of

_SLACK_M = 0.05
_AT_WALL_M = 0.3
_AWAY_M = 1.0
NEEDS_SEAT = {
    Use.LIVING: SeatKind.SOFA,
    Use.DINING: SeatKind.TABLE,
    Use.KITCHEN: SeatKind.TABLE,
    Use.WORK: SeatKind.DESK,
    Use.HOBBY: SeatKind.DESK,
}
"""Uses of rooms that get a seat in their middle when the file gives none."""


def _inside(drawn: Drawn, at_m: PointM, loc: Loc, what: str, slack_m: float, report: Report) -> bool:
    if holds(drawn.shape, at_m, slack_m):
        return True
    x0, y0, x1, y1 = (report.length(value) for value in drawn.shape.bounds)
    message = f'the {what} lies outside room "{drawn.room.name}", which runs from ({x0}, {y0}) to ({x1}, {y1})'
    report.add((*loc, "at"), message, f"({report.length(at_m[0])}, {report.length(at_m[1])})")
    return False


def beds_of(drawing: Drawing, drawn: Drawn, report: Report) -> tuple[Bed, ...]:
    """Beds of a room; a bedroom without one gets a single bed in its middle."""
    found = []
    for item, bed in enumerate(drawing.house.beds):
        if bed.room == drawn.room.name and _inside(drawn, bed.at_m, ("bed", item), "bed", _SLACK_M, report):
            regular = drawn.room.regular if bed.regular is None else bed.regular
            found.append(Bed(*bed.at_m, bed.sleepers, regular))
    named = any(bed.room == drawn.room.name for bed in drawing.house.beds)
    if drawn.room.use is Use.BEDROOM and not named:
        found.append(Bed(*middle(drawn.shape), default_of("bed.sleepers"), drawn.room.regular))
    return tuple(sorted(found, key=lambda bed: (bed.x_m, bed.y_m, bed.sleepers, bed.regular)))


def seats_of(drawing: Drawing, drawn: Drawn, report: Report) -> tuple[Seat, ...]:
    """Seats of a room; a room where people sit gets one in its middle when the file gives none."""
    found = []
    for item, seat in enumerate(drawing.house.seats):
        if seat.room == drawn.room.name and _inside(drawn, seat.at_m, ("seat", item), "seat", _SLACK_M, report):
            found.append(Seat(*seat.at_m, seat.kind.value))
    named = any(seat.room == drawn.room.name for seat in drawing.house.seats)
    if drawn.room.use in NEEDS_SEAT and not named:
        found.append(Seat(*middle(drawn.shape), NEEDS_SEAT[drawn.room.use].value))
    return tuple(sorted(found, key=lambda seat: (seat.x_m, seat.y_m, seat.kind)))


def wall_places_of(drawing: Drawing, report: Report) -> tuple[WallPlace, ...]:
    """Surveyed places for room units."""
    found = []
    for item, place in enumerate(drawing.house.head_places):
        drawn, loc = drawing.at(place.room), ("head_place", item)
        if not _inside(drawn, place.at_m, loc, "place for a unit", _AT_WALL_M, report):
            continue
        outer = [stretch for stretch in stretches_of(drawing, drawn, drawn.level) if stretch.other is None]
        near = any(stretch.distance_m(place.at_m) <= _AT_WALL_M for stretch in outer)
        if place.outside_wall and not near:
            report.add((*loc, "outside_wall"), f'no outside wall of "{drawn.room.name}" passes here', "true")
        throws = azimuth_deg(drawing, place.throws.plan_deg)
        outside = near if place.outside_wall is None else place.outside_wall
        found.append(WallPlace(drawn.index, *place.at_m, throws, outside, place.notes))
    return tuple(sorted(found, key=lambda p: (p.room, p.x_m, p.y_m, p.throws_deg)))


def unit_spaces_of(drawing: Drawing, report: Report) -> tuple[UnitSpace, ...]:
    """Spaces for concealed units."""
    found = []
    for item, space in enumerate(drawing.house.unit_spaces):
        level, (x, y), (wide, deep) = drawing.level(space.level), space.at_m, space.size_m
        rect = polygon([(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)])
        if distance_m(rect, drawing.covers[level]) > _AWAY_M:
            report.add(("unit_space", item, "at"), f'lies away from every room of level "{space.level}"')
            continue
        made = UnitSpace(
            name=space.name,
            kind=space.kind,
            level=level,
            inside_envelope=space.inside_envelope,
            x0_m=x,
            y0_m=y,
            x1_m=x + wide,
            y1_m=y + deep,
            clear_length_m=space.clear_m[0],
            clear_width_m=space.clear_m[1],
            clear_height_m=space.clear_m[2],
            serves=tuple(sorted({drawing.at(name).index for name in space.serves})),
            drain_fall_m=space.drain_fall_m,
            service_side=space.service,
        )
        found.append(made)
    return tuple(sorted(found, key=lambda s: (s.level, s.kind.value, s.x0_m, s.y0_m, s.x1_m, s.y1_m, s.serves)))


def _room_around(rooms: Sequence[Drawn], at_m: PointM) -> Drawn | None:
    return next((drawn for drawn in rooms if holds(drawn.shape.buffer(-GAP_M), at_m, 0.0)), None)


def outdoor_spots_of(drawing: Drawing, report: Report) -> tuple[OutdoorSpot, ...]:
    """Places for outdoor units; one inside a room of the lowest level is a mistake."""
    ground = [drawn for drawn in drawing.rooms if drawn.level == 0]
    found = []
    for item, spot in enumerate(drawing.house.outdoor_spots):
        if (drawn := _room_around(ground, spot.at_m)) is not None:
            report.add(("outdoor_spot", item, "at"), f'lies inside room "{drawn.room.name}"')
        distances = spot.property_line_m, spot.bedroom_window_m
        found.append(OutdoorSpot(spot.name, *spot.at_m, spot.side.value, *distances, spot.units))
    return tuple(sorted(found, key=lambda s: (s.x_m, s.y_m, s.side, s.property_line_m, s.capacity)))
