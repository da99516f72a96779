"""Hypothesis strategies: whole plans of a few rooms, and load cases in a made-up place."""

from __future__ import annotations

from hypothesis import strategies as st

from compare.climate.year import DesignConditions
from compare.house.plan import Bed, Boundary, Link, LinkKind, Partition, Plan, RoomPlan, Surface, SurfaceKind, Use
from compare.loads.case import LoadCase
from compare.physics.fabric.spaces import Ground
from compare.physics.leakage import Envelope, tightness_from_blower_door
from compare.physics.ventilation import HouseAir, Ventilation

BEARINGS = st.sampled_from([0.0, 45.0, 90.0, 135.0, 180.0, 225.0, 270.0, 315.0])
AREAS = st.floats(1.0, 30.0)
CEILINGS = st.sampled_from([Boundary.OUTDOORS, Boundary.ATTIC, Boundary.ADIABATIC])
FLOORS = st.sampled_from([Boundary.OUTDOORS, Boundary.CRAWLSPACE, Boundary.BASEMENT, Boundary.GARAGE, Boundary.GROUND])


@st.composite
def walls(draw) -> Surface:
    boundary = draw(st.sampled_from([Boundary.OUTDOORS, Boundary.OUTDOORS, Boundary.GARAGE]))
    kind = draw(st.sampled_from([SurfaceKind.WALL, SurfaceKind.WALL, SurfaceKind.DOOR]))
    u = draw(st.floats(0.1, 3.0))
    return Surface(kind, boundary, draw(AREAS), draw(BEARINGS), 90.0, u, height_m=2.4, massive=draw(st.booleans()))


@st.composite
def windows(draw) -> Surface:
    return Surface(
        SurfaceKind.WINDOW,
        Boundary.OUTDOORS,
        draw(st.floats(0.3, 8.0)),
        draw(BEARINGS),
        90.0,
        draw(st.floats(0.8, 5.0)),
        shgc_frac=draw(st.floats(0.1, 0.8)),
        shade_frac=draw(st.floats(0.3, 1.0)),
        overhang_depth_m=draw(st.sampled_from([0.0, 0.6])),
        overhang_above_m=0.3,
        height_m=1.2,
    )


@st.composite
def floors(draw, area_m2: float) -> Surface:
    boundary = draw(FLOORS)
    edge_m = draw(st.floats(0.0, 10.0)) if boundary is Boundary.GROUND else 0.0
    u = draw(st.floats(0.1, 1.5))
    return Surface(SurfaceKind.FLOOR, boundary, area_m2, 0.0, 180.0, u, exposed_edge_m=edge_m, edge_w_mk=0.85)


@st.composite
def rooms(draw, index: int) -> RoomPlan:
    width_m, depth_m = draw(st.floats(2.0, 8.0)), draw(st.floats(2.0, 8.0))
    area_m2 = width_m * depth_m
    top = Surface(SurfaceKind.CEILING, draw(CEILINGS), area_m2, 0.0, 0.0, draw(st.floats(0.1, 1.0)))
    faces = [*draw(st.lists(walls(), min_size=1, max_size=3)), *draw(st.lists(windows(), max_size=2))]
    return RoomPlan(
        name=f"room {index}",
        level=0,
        use=Use.LIVING if index == 0 else draw(st.sampled_from([Use.BEDROOM, Use.KITCHEN, Use.BATH])),
        outline_m=((0.0, 0.0), (width_m, 0.0), (width_m, depth_m), (0.0, depth_m)),
        height_m=2.4,
        area_m2=area_m2,
        volume_m3=2.4 * area_m2,
        surfaces=(*faces, top, draw(floors(area_m2))),
        beds=(Bed(1.0, 1.0, 1.0, regular=True),) if index else (),
    )


@st.composite
def plans(draw, most: int = 3) -> Plan:
    """A row of rooms, each with a door to the next."""
    count = draw(st.integers(1, most))
    found = tuple(draw(rooms(index)) for index in range(count))
    pairs = [(index, index + 1) for index in range(count - 1)]
    partitions = tuple(Partition(a, b, draw(st.floats(4.0, 20.0)), 1.8) for a, b in pairs)
    links = tuple(
        Link(LinkKind.DOOR, a, b, 0.81, 2.03, day_open_frac=draw(st.floats(0.0, 1.0)), night_open_frac=0.0)
        for a, b in pairs
    )
    return Plan(found, partitions, links, tuple((index,) for index in range(count)))


@st.composite
def cases(draw, most: int = 3) -> LoadCase:
    """A plan in a made-up place between hot and arctic, with any ventilation."""
    plan = draw(plans(most))
    volume_m3 = sum(room.volume_m3 for room in plan.rooms)
    envelope = Envelope(draw(st.integers(1, 3)), draw(st.integers(1, 5)), crawlspace=draw(st.booleans()), eaves_m=2.6)
    fans = Ventilation(
        unbalanced_m3_s=draw(st.sampled_from([0.0, 0.03])),
        balanced_m3_s=draw(st.sampled_from([0.0, 0.04])),
        recovery_frac=draw(st.floats(0.0, 0.9)),
    )
    design = DesignConditions(
        heating_99_c=draw(st.floats(-35.0, 12.0)),
        cooling_1_c=draw(st.floats(26.0, 42.0)),
        cooling_wet_bulb_c=draw(st.floats(16.0, 25.0)),
        daily_range_k=draw(st.floats(4.0, 16.0)),
        source="made up",
        latitude_deg=draw(st.floats(26.0, 58.0)),
        longitude_deg=-90.0,
        timezone_h=-6.0,
        elevation_m=draw(st.floats(0.0, 2000.0)),
    )
    air = HouseAir(tightness_from_blower_door(draw(st.floats(1.0, 15.0)), volume_m3, envelope), fans)
    return LoadCase(plan, air, design, Ground(draw(st.floats(2.0, 20.0)), draw(st.floats(2.0, 14.0)), 20.0))
