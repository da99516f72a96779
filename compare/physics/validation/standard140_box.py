"""The test box of ANSI/ASHRAE Standard 140 as a room of the house model, with what a house file cannot set.

Test only: emissivities, layers, opaque panels and side fins are put into the parts that the house model made.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from compare.house.plan import Boundary, RoomPlan, Surface, SurfaceKind, Use
from compare.physics.fabric.assemble import full_room_of_parts
from compare.physics.fabric.drivers import Drivers
from compare.physics.fabric.forcing import Gains
from compare.physics.fabric.glass import opaque_panel, published_test_glass
from compare.physics.fabric.layers import Construction, Layer
from compare.physics.fabric.modes import modes_of
from compare.physics.fabric.parts import FabricOptions, Part, house_options, joined, parts_of_room
from compare.physics.fabric.room import PreparedRoom
from compare.physics.fabric.shading import Shading
from compare.physics.validation.standard140_cases import Case

LENGTH_M, WIDTH_M, HEIGHT_M = 8.0, 6.0, 2.7
WINDOW_M2 = 6.0
WINDOW_HEIGHT_M, WINDOW_WIDTH_M = 2.0, 3.0
WINDOW_HEAD_M = 0.5
"""Height of the overhang (roof level) above the window head (from memory)."""
LEAK_W_K_PER_AIR_CHANGE = 36.0
"""129.6 m3 at the density of the test site (1650 m): 0.5 air changes an hour are 18.0 W/K."""
AIR_J_K = 129_000.0
"""129.6 m3 at the density of the test site; the box is not furnished."""
OPENINGS = ("none", "panel south", "glass south", "glass east west")
RADIANT_GAIN_FRAC = 0.6
UNDERSIDE_W_M2K = 0.8
"""Convection below the floor, which no wind reaches (from memory)."""

_SIDING = Layer("siding", 0.009, 0.14, 530.0, 900.0)
_LIGHT_WALL = Construction(
    "light wall", (_SIDING, Layer("insulation", 0.066, 0.04, 12.0, 840.0), Layer("board", 0.012, 0.16, 950.0, 840.0))
)
_HEAVY_WALL = Construction(
    "heavy wall", (_SIDING, Layer("foam", 0.0615, 0.04, 10.0, 1400.0), Layer("concrete", 0.1, 0.51, 1400.0, 1000.0))
)
_ROOF = Construction(
    "roof",
    (
        Layer("deck", 0.019, 0.14, 530.0, 900.0),
        Layer("insulation", 0.1118, 0.04, 12.0, 840.0),
        Layer("board", 0.010, 0.16, 950.0, 840.0),
    ),
)
_LIGHT_FLOOR = Construction(
    "light floor", (Layer("insulation", 1.003, 0.04, 0.0, 0.0), Layer("timber", 0.025, 0.14, 650.0, 1200.0))
)
_HEAVY_FLOOR = Construction(
    "heavy floor", (Layer("insulation", 1.007, 0.04, 0.0, 0.0), Layer("concrete", 0.08, 1.13, 1400.0, 1000.0))
)


def box_room(case: Case) -> RoomPlan:
    """The box as a room of a plan: four walls, roof, floor over outdoor air, and its openings."""
    south_m2, side_m2 = LENGTH_M * HEIGHT_M, WIDTH_M * HEIGHT_M
    open_m2 = _opening_m2(case)
    walls = [
        _wall(SurfaceKind.WALL, gross_m2 - open_m2.get(azimuth_deg, 0.0), azimuth_deg)
        for azimuth_deg, gross_m2 in ((0.0, south_m2), (90.0, side_m2), (180.0, south_m2), (270.0, side_m2))
    ]
    windows = [_wall(SurfaceKind.WINDOW, area_m2, azimuth_deg) for azimuth_deg, area_m2 in open_m2.items()]
    flat_m2 = LENGTH_M * WIDTH_M
    roof = Surface(SurfaceKind.CEILING, Boundary.OUTDOORS, flat_m2, 0.0, 0.0, 0.318)
    floor = Surface(SurfaceKind.FLOOR, Boundary.OUTDOORS, flat_m2, 0.0, 180.0, 0.039, massive=case.heavy)
    return RoomPlan(
        name=f"box of case {case.name}",
        level=0,
        use=Use.LIVING,
        outline_m=((0.0, 0.0), (LENGTH_M, 0.0), (LENGTH_M, WIDTH_M), (0.0, WIDTH_M)),
        height_m=HEIGHT_M,
        area_m2=flat_m2,
        volume_m3=flat_m2 * HEIGHT_M,
        surfaces=(*walls, *windows, roof, floor),
    )


def _opening_m2(case: Case) -> dict[float, float]:
    if case.opening == "none":
        return {}
    if case.opening in ("panel south", "glass south"):
        return {180.0: 2.0 * WINDOW_M2}
    if case.opening == "glass east west":
        return {90.0: WINDOW_M2, 270.0: WINDOW_M2}
    raise ValueError(f"case {case.name}: opening {case.opening!r} is not one of {', '.join(OPENINGS)}")


def _wall(kind: SurfaceKind, area_m2: float, azimuth_deg: float) -> Surface:
    u_w_m2k = 3.0 if kind is SurfaceKind.WINDOW else 0.514
    return Surface(kind, Boundary.OUTDOORS, area_m2, azimuth_deg, 90.0, u_w_m2k, height_m=HEIGHT_M)


def box_options() -> FabricOptions:
    """Options of the test: nothing furnished, all transmitted sun to surfaces."""
    return replace(house_options(), furnishings_j_m2k=0.0, sun_to_air_frac=0.0)


def prepared_box(case: Case, options: FabricOptions | None = None) -> PreparedRoom:
    """The box in full, its modes solved."""
    chosen = box_options() if options is None else options
    parts = parts_of_room(box_room(case), (), chosen)
    full = full_room_of_parts(joined(_as_in_case(part, case) for part in parts), AIR_J_K, chosen)
    return PreparedRoom(full, modes_of(full))


def _as_in_case(part: Part, case: Case) -> Part:
    """The part with layers, emissivities and absorptances of the case."""
    if part.kind is SurfaceKind.WINDOW:
        return _opening(part, case)
    floor = part.kind is SurfaceKind.FLOOR
    return replace(
        part,
        make=box_layers(part.kind, case.heavy),
        inside_emissivity_frac=case.ir_inside_frac,
        outside_emissivity_frac=case.ir_outside_frac,
        inside_absorptance_frac=case.sw_inside_frac,
        outside_absorptance_frac=0.0 if floor else case.sw_outside_frac,
        outside_convection_w_m2k=UNDERSIDE_W_M2K if floor else part.outside_convection_w_m2k,
    )


def _opening(part: Part, case: Case) -> Part:
    glass = published_test_glass()
    if case.opening.startswith("glass"):
        return replace(part, make=glass, shading=_shading(case))
    return replace(
        part,
        make=opaque_panel(glass.between_w_m2k, case.sw_outside_frac),
        inside_emissivity_frac=case.ir_inside_frac,
        outside_emissivity_frac=case.ir_outside_frac,
        inside_absorptance_frac=case.sw_inside_frac,
    )


def _shading(case: Case) -> Shading | None:
    if case.overhang_m <= 0.0 and case.fin_m <= 0.0:
        return None
    return Shading(case.overhang_m, WINDOW_HEAD_M, WINDOW_HEIGHT_M, case.fin_m, WINDOW_WIDTH_M)


def box_layers(kind: SurfaceKind, heavy: bool) -> Construction:
    """Layers of the wall, roof or floor of the box, light or heavy."""
    if kind is SurfaceKind.CEILING:
        return _ROOF
    if kind is SurfaceKind.FLOOR:
        return _HEAVY_FLOOR if heavy else _LIGHT_FLOOR
    return _HEAVY_WALL if heavy else _LIGHT_WALL


def box_gains(case: Case, drivers: Drivers) -> Gains:
    """Steady gains, 60 % by radiation."""
    steady_w = np.full(drivers.hours, case.gain_w)
    return Gains(RADIANT_GAIN_FRAC * steady_w, (1.0 - RADIANT_GAIN_FRAC) * steady_w)
