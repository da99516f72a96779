"""An invented one-storey ranch: an open living half and a cluster of closed bedrooms, in metres."""

from __future__ import annotations

from compare.house.plan import (
    Bed,
    Boundary,
    Link,
    LinkKind,
    OutdoorSpot,
    Plan,
    RoomPlan,
    Seat,
    SpaceKind,
    Surface,
    SurfaceKind,
    UnitSpace,
    Use,
    WallPlace,
)

FT = 0.3048
IN = 0.0254
LIVING, HALL, BED_2, BED_3, STORE, BATH, BED_1 = range(7)


def _room(name, use, box, *, faces="", beds=(), seats=()):
    x0, y0, x1, y1 = (v * FT for v in box)
    area = (x1 - x0) * (y1 - y0)
    height = 8 * FT
    azimuth = {"N": 0.0, "E": 90.0, "S": 180.0, "W": 270.0}
    outside = [
        Surface(SurfaceKind.WALL, Boundary.OUTDOORS, 8.0, azimuth[face], 90.0, 0.5, height_m=height) for face in faces
    ]
    surfaces = (*outside, Surface(SurfaceKind.CEILING, Boundary.ATTIC, area, 0.0, 0.0, 0.2))
    return RoomPlan(
        name=name,
        level=1,
        use=use,
        outline_m=((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
        height_m=height,
        area_m2=area,
        volume_m3=area * height,
        surfaces=surfaces,
        beds=tuple(Bed(x * FT, y * FT, n, regular=True) for x, y, n in beds),
        seats=tuple(Seat(x * FT, y * FT, kind) for x, y, kind in seats),
    )


def _door(a, b, x, y, width_in=32):
    return Link(LinkKind.DOOR, a, b, width_in * IN, 80 * IN, 0.5 * IN, 0.7, 0.0, x * FT, y * FT, "door")


def spaces(hall_height_in=9.0):
    served = (LIVING, HALL, BED_2, BED_3, BATH, BED_1)
    hall = (22, 11, 46, 14.5)
    attic = (24, 8, 44, 18)
    return {
        "hall": UnitSpace(
            "hall ceiling drop", SpaceKind.HALL_DROP, 1, True, *(v * FT for v in hall),
            288 * IN, 40 * IN, hall_height_in * IN, served, 3 * IN, "below",
        ),
        "attic": UnitSpace(
            "attic", SpaceKind.ATTIC, 1, False, *(v * FT for v in attic), 240 * IN, 72 * IN, 30 * IN, served, 6 * IN,
        ),
        "crawl": UnitSpace(
            "crawlspace", SpaceKind.CRAWLSPACE, 1, False, *(v * FT for v in attic), 240 * IN, 96 * IN, 20 * IN, served,
        ),
    }  # fmt: skip


def ranch_plan(wall_places=True):
    rooms = (
        _room("Open living", Use.LIVING, (0, 0, 22, 26), faces="NSW", seats=((10, 8, "sofa"), (15, 20, "table"))),
        _room("Hall", Use.HALL, (22, 11, 46, 14.5), faces="E"),
        _room("Bedroom 2", Use.BEDROOM, (22, 0, 34, 11), faces="S", beds=((23, 5, 1),)),
        _room("Bedroom 3", Use.BEDROOM, (34, 0, 46, 11), faces="SE", beds=((35, 5, 1),)),
        _room("Laundry", Use.LAUNDRY, (22, 14.5, 27, 26), faces="N"),
        _room("Bath", Use.BATH, (27, 14.5, 34, 26), faces="N"),
        _room("Bedroom 1", Use.BEDROOM, (34, 14.5, 46, 26), faces="NE", beds=((35, 21, 2),)),
    )
    links = (
        Link(LinkKind.OPENING, LIVING, HALL, 42 * IN, 80 * IN, 0.0, 1.0, 1.0, 22 * FT, 12.75 * FT, "opening"),
        _door(HALL, BED_1, 40, 14.5),
        _door(HALL, BATH, 30.5, 14.5, 22.4),
        _door(HALL, STORE, 24.5, 14.5),
        _door(HALL, BED_2, 28, 11),
        _door(HALL, BED_3, 40, 11),
    )
    places = (
        WallPlace(LIVING, 0, 19 * FT, 90, True, "west wall"),
        WallPlace(BED_1, 46 * FT, 24 * FT, 270, True, "east wall"),
        WallPlace(BED_2, 31 * FT, 0, 0, True, "south wall"),
        WallPlace(BED_3, 46 * FT, 3 * FT, 270, True, "east wall"),
    )
    spots = (
        OutdoorSpot("east side", 47 * FT, 12 * FT, "E", 12 * FT),
        OutdoorSpot("north side", 18 * FT, 27 * FT, "N", 12 * FT),
        OutdoorSpot("west side", -1 * FT, 19 * FT, "W", 12 * FT),
    )
    spaces_of = ((LIVING,), (HALL,), (BED_2,), (BED_3,), (STORE,), (BATH,), (BED_1,))
    return Plan(
        rooms=rooms,
        partitions=(),
        links=links,
        open_spaces=spaces_of,
        unit_spaces=tuple(spaces().values()),
        wall_places=places if wall_places else (),
        outdoor_spots=spots,
        level_names=("1",),
    )
