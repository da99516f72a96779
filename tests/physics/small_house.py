"""A small invented house for the tests of air, doors, gains and loads: four rooms on one level and one above."""

from __future__ import annotations

from compare.house.plan import (
    Bed,
    Boundary,
    Link,
    LinkKind,
    Partition,
    Plan,
    RoomPlan,
    Surface,
    SurfaceKind,
    Use,
)


def wall(area_m2: float, azimuth_deg: float, u_w_m2k: float = 0.5) -> Surface:
    return Surface(SurfaceKind.WALL, Boundary.OUTDOORS, area_m2, azimuth_deg, 90.0, u_w_m2k, height_m=2.4)


def window(area_m2: float, azimuth_deg: float) -> Surface:
    return Surface(
        SurfaceKind.WINDOW,
        Boundary.OUTDOORS,
        area_m2,
        azimuth_deg,
        90.0,
        2.0,
        shgc_frac=0.4,
        shade_frac=0.8,
        height_m=1.2,
    )


def ceiling(area_m2: float) -> Surface:
    return Surface(SurfaceKind.CEILING, Boundary.ATTIC, area_m2, 0.0, 0.0, 0.2, solar_absorptance_frac=0.85)


def slab(area_m2: float, edge_m: float) -> Surface:
    return Surface(
        SurfaceKind.FLOOR,
        Boundary.GROUND,
        area_m2,
        0.0,
        180.0,
        0.3,
        exposed_edge_m=edge_m,
        edge_w_mk=0.85,
        massive=True,
    )


def room(name: str, use: Use, size_m: tuple[float, float], surfaces: tuple[Surface, ...], **more: object) -> RoomPlan:
    width_m, depth_m = size_m
    return RoomPlan(
        name=name,
        level=int(more.pop("level", 0)),
        use=use,
        outline_m=((0.0, 0.0), (width_m, 0.0), (width_m, depth_m), (0.0, depth_m)),
        height_m=2.4,
        area_m2=width_m * depth_m,
        volume_m3=2.4 * width_m * depth_m,
        surfaces=surfaces,
        **more,
    )


def small_plan(stair: bool = False, night_open_frac: float = 0.0) -> Plan:
    """Living room, hall without outside wall, two bedrooms; with `stair` a loft above the living room."""
    bed = (Bed(1.0, 1.0, 2.0, regular=True),)
    living = (wall(10.4, 180.0), window(4.0, 180.0), wall(12.0, 270.0), ceiling(30.0), slab(30.0, 11.0))
    bedroom = (wall(6.6, 90.0), window(1.8, 90.0), ceiling(14.0), slab(14.0, 3.5))
    guest = (wall(8.1, 0.0), window(1.5, 0.0), ceiling(12.0), slab(12.0, 4.0))
    rooms = [
        room("living", Use.LIVING, (6.0, 5.0), living),
        room("hall", Use.HALL, (4.0, 1.5), (ceiling(6.0), slab(6.0, 0.0))),
        room("bedroom", Use.BEDROOM, (4.0, 3.5), bedroom, beds=bed),
        room("guest", Use.BEDROOM, (4.0, 3.0), guest, regular=False),
    ]
    links = [
        Link(LinkKind.OPENING, 0, 1, 1.07, 2.2, label="living-hall"),
        Link(LinkKind.DOOR, 1, 2, 0.81, 2.03, day_open_frac=0.7, night_open_frac=night_open_frac, label="hall-bedroom"),
        Link(LinkKind.DOOR, 1, 3, 0.81, 2.03, day_open_frac=0.0, night_open_frac=0.0, label="hall-guest"),
    ]
    partitions = [
        Partition(0, 1, 7.0, 1.8),
        Partition(1, 2, 7.0, 1.8),
        Partition(1, 3, 7.0, 1.8),
        Partition(2, 3, 8.0, 1.8),
    ]
    if stair:
        rooms.append(room("loft", Use.LIVING, (6.0, 5.0), (wall(12.0, 180.0), ceiling(30.0)), level=1))
        links.append(Link(LinkKind.STAIR, 0, 4, 0.9, 2.4, label="stair"))
        partitions.append(Partition(0, 4, 28.0, 1.25, floor=True, upper=4))
    spaces = ((0, 1), (2,), (3,)) + (((4,),) if stair else ())
    return Plan(tuple(rooms), tuple(partitions), tuple(links), spaces)
