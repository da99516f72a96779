"""From a house file to a plan: rooms with surfaces in canonical order, and everything that joins them."""

from __future__ import annotations

from compare.house.drawing import Drawing, Drawn, Report, draw
from compare.house.envelope import surfaces_of
from compare.house.furniture import beds_of, outdoor_spots_of, seats_of, unit_spaces_of, wall_places_of
from compare.house.joints import APART, check_one_house, links_of, open_spaces_of, partitions_of
from compare.house.model import HouseFile
from compare.house.openings import wall_openings_of
from compare.house.pieces import furnishings_of
from compare.house.plan import Plan, RoomPlan, Surface
from compare.house.problems import HouseFileError, Problem
from compare.house.stack import find_stack
from compare.house.tables import uses
from compare.house.walls import find_walls


def plan_of(house: HouseFile) -> Plan:
    """Derive the plan of a house.

    Rooms, surfaces, partitions and links come in an order that depends on geometry alone: neither names nor the
    order of the file change a number.

    Raises
    ------
    HouseFileError
        With every fault of the geometry: rooms that overlap, windows larger than their wall, doors between rooms
        that do not touch, beds outside their room, a house in two parts, and so on.
    """
    report = Report(house)
    drawing = draw(house, report)
    if report.problems:
        raise HouseFileError(report.problems)
    plan = _planned(drawing, report)
    if report.problems:
        raise HouseFileError(report.problems)
    return plan


def geometry_problems(house: HouseFile, whole: bool = True) -> tuple[Problem, ...]:
    """Faults of the geometry; with `whole` false links may have been set aside, so a house in parts is none."""
    try:
        plan_of(house)
    except HouseFileError as error:
        return tuple(problem for problem in error.problems if whole or APART not in problem.message)
    return ()


def _planned(drawing: Drawing, report: Report) -> Plan:
    walls, stack = find_walls(drawing, report), find_stack(drawing)
    surfaces = surfaces_of(drawing, walls, stack, report)
    links = links_of(drawing, walls, report)
    partitions = partitions_of(drawing, walls, stack, links)
    check_one_house(drawing, partitions, links, report)
    rooms = tuple(_room(drawing, drawn, surfaces[drawn.index], report) for drawn in drawing.rooms)
    return Plan(
        rooms=rooms,
        partitions=partitions,
        links=links,
        open_spaces=open_spaces_of(drawing, links),
        unit_spaces=unit_spaces_of(drawing, report),
        wall_places=wall_places_of(drawing, report),
        outdoor_spots=outdoor_spots_of(drawing, report),
        level_names=tuple(level.name for level in drawing.house.levels),
        wall_openings=wall_openings_of(drawing),
        furnishings=furnishings_of(rooms, links),
    )


def _room(drawing: Drawing, drawn: Drawn, surfaces: tuple[Surface, ...], report: Report) -> RoomPlan:
    room, area = drawn.room, drawn.area_m2
    return RoomPlan(
        name=room.name,
        level=drawn.level,
        use=room.use,
        outline_m=drawn.corners_m,
        height_m=drawn.height_m,
        area_m2=area,
        volume_m3=area * drawn.height_m,
        surfaces=surfaces,
        beds=beds_of(drawing, drawn, report),
        seats=seats_of(drawing, drawn, report),
        regular=room.regular,
        use_hours=uses()[room.use].hours if room.use_hours is None else room.use_hours,
        target_c=drawing.house.comfort.target_c(room.use) if room.target_c is None else room.target_c,
    )
