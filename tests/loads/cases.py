"""Load cases for the tests: the small house, and the published worked house cut into rooms."""

from __future__ import annotations

from dataclasses import replace

from compare.climate.year import DesignConditions
from compare.house.plan import Boundary, Plan, Surface, SurfaceKind, Use
from compare.loads.case import LoadCase
from compare.physics.fabric.spaces import Ground
from compare.physics.leakage import Envelope, tightness_from_blower_door, tightness_from_class
from compare.physics.ventilation import HouseAir, Ventilation, whole_house_flow_m3_s
from tests.physics.small_house import room, small_plan

PLACE = DesignConditions(-3.5, 33.0, 23.2, 9.3, "invented for tests", 33.64, -84.4, -5.0, 315.0)
GROUND = Ground(mean_c=16.0, swing_k=10.0, coldest_day=20.0)


def small_case(plan: Plan | None = None, **more: object) -> LoadCase:
    """The small house at 70 and 75 degF in a mild place."""
    chosen = small_plan() if plan is None else plan
    volume_m3 = sum(room.volume_m3 for room in chosen.rooms)
    air = HouseAir(tightness_from_blower_door(7.0, volume_m3, Envelope(1, 4, crawlspace=False, eaves_m=2.4)))
    return replace(LoadCase(chosen, air, PLACE, GROUND), **more)


WINDOWS = [  # area m2, U, SHGC with its insect screen, bearing, height m: ASHRAE Fundamentals 2021 ch. 17, Table 22
    (0.4, 2.01, 0.36, 270.0, 0.9),
    (0.4, 2.21, 0.31 * 0.64, 270.0, 0.9),
    (1.1, 2.01, 0.36, 270.0, 1.8),
    (1.1, 2.21, 0.31 * 0.64, 270.0, 1.8),
    (4.3, 2.01, 0.36, 270.0, 2.4),
    (0.7, 2.01, 0.36, 180.0, 1.2),
    (0.7, 2.21, 0.31 * 0.64, 180.0, 1.2),
    (0.4, 2.01, 0.36, 90.0, 0.9),
    (0.4, 2.21, 0.31 * 0.64, 90.0, 0.9),
    (2.2, 2.01, 0.36, 90.0, 1.2),
    (2.2, 2.21, 0.31 * 0.64, 90.0, 1.2),
]


def worked_house() -> LoadCase:
    """The published one-storey slab house in Atlanta (same chapter), cut into a living half and three bedrooms.

    The cut is ours; the method asks only that the sum of rooms is the house. Differences as in the published
    arithmetic: 23 K and 9.1 K, solar values for 35 degrees, air factors of sea level.
    """
    shares = {"living": 0.5, "bed 1": 0.2, "bed 2": 0.2, "bed 3": 0.1}
    rooms = [
        room(
            name,
            Use.LIVING if name == "living" else Use.BEDROOM,
            (19.53 * share, 10.0),
            tuple(_opaque(share)) + tuple(_windows(living=name == "living")),
        )
        for name, share in shares.items()
    ]
    envelope = Envelope(1, 4, crawlspace=False, eaves_m=2.5)
    fans = Ventilation(balanced_m3_s=whole_house_flow_m3_s(195.3, 3))
    air = HouseAir(tightness_from_class("good", 356.5, envelope), fans)
    design = DesignConditions(-3.0, 33.1, 23.2, 9.3, "worked house", 35.0, -84.4, -5.0, 0.0)
    plan = Plan(tuple(rooms), (), (), tuple((index,) for index in range(len(rooms))))
    return LoadCase(plan, air, design, GROUND, heating_c=20.0, cooling_c=24.0)


def _opaque(share: float) -> list[Surface]:
    wall, outdoors = SurfaceKind.WALL, Boundary.OUTDOORS
    return [
        Surface(SurfaceKind.CEILING, Boundary.ATTIC, 195.3 * share, 0.0, 0.0, 0.18, solar_absorptance_frac=0.85),
        Surface(wall, outdoors, 108.5 * share, 0.0, 90.0, 0.51),
        Surface(wall, Boundary.GARAGE, 35.0 * share, 0.0, 90.0, 0.51),
        Surface(SurfaceKind.DOOR, outdoors, 3.8 * share, 0.0, 90.0, 2.3),
        Surface(
            SurfaceKind.FLOOR,
            Boundary.GROUND,
            195.3 * share,
            0.0,
            180.0,
            0.5,
            exposed_edge_m=67.2 * share,
            edge_w_mk=0.85,
            massive=True,
        ),
    ]


def _windows(living: bool) -> list[Surface]:
    """West windows in the living half, each bedroom a third of the others."""
    chosen = [row for row in WINDOWS if (row[3] == 270.0) == living]
    return [
        Surface(
            SurfaceKind.WINDOW,
            Boundary.OUTDOORS,
            area_m2 if living else area_m2 / 3.0,
            bearing_deg,
            90.0,
            u_w_m2k,
            shgc_frac=shgc,
            shade_frac=0.84,
            overhang_depth_m=0.0 if bearing_deg == 180.0 else 0.6,
            height_m=height_m,
        )
        for area_m2, u_w_m2k, shgc, bearing_deg, height_m in chosen
    ]
