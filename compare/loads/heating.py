"""Heating load of each room at the 99 % condition: steady, no sun, no gains, no safety factor.

U A dT for every surface against what lies behind it (buffer spaces in balance), F p dT for slab edges plus the path to
deep ground, and the outdoor air of the room (ASHRAE Handbook-Fundamentals 2021, residential loads chapter; our own
leakage model in place of its driving force).
"""

from __future__ import annotations

from collections.abc import Mapping

from compare.climate.design_day import heating_design_day
from compare.house.plan import Boundary, Surface, SurfaceKind
from compare.loads.case import HEATING_WIND_M_S, LoadCase
from compare.physics.fabric.parts import house_options
from compare.physics.fabric.spaces import with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.leakage import room_shares_frac
from compare.physics.moist_air import sensible_factor_j_m3k

PART_OF = {
    SurfaceKind.WALL: "walls",
    SurfaceKind.WINDOW: "glass",
    SurfaceKind.DOOR: "doors",
    SurfaceKind.CEILING: "roof",
    SurfaceKind.FLOOR: "floor",
}
_INDOOR_RATIO_KG_KG = 0.005


def heating_parts_w(case: LoadCase) -> tuple[dict[str, float], ...]:
    """Parts of the heating load of every room [W], in the order of the plan."""
    behind_c = design_behind_c(case)
    core_m2k_w = house_options().core_m2k_w
    air_w_k = heating_air_w_k(case)
    found = []
    for room, share in zip(case.plan.rooms, room_shares_frac(case.plan.rooms), strict=True):
        parts_w = dict.fromkeys((*PART_OF.values(), "air"), 0.0)
        for surface in room.surfaces:
            parts_w[PART_OF[surface.kind]] += _surface_w(surface, case.heating_c, behind_c, core_m2k_w)
        parts_w["air"] = float(share) * air_w_k * (case.heating_c - case.design.heating_99_c)
        found.append(parts_w)
    return tuple(found)


def heating_air_w_k(case: LoadCase) -> float:
    """Conductance of all outdoor air of the house at the heating design condition [W/K]."""
    difference_k = case.heating_c - case.design.heating_99_c
    flow_m3_s = float(case.air.sensible_flow_m3_s(difference_k, HEATING_WIND_M_S))
    return flow_m3_s * sensible_factor_j_m3k(case.pressure_pa, _INDOOR_RATIO_KG_KG)


def design_behind_c(case: LoadCase) -> dict[Boundary, float]:
    """Temperature behind surfaces at the heating design condition: outdoors, ground, and each buffer space there is."""
    day = heating_design_day(case.design)
    drivers = with_spaces(case.plan, drivers_from_year(day, ()), case.ground, day.first_day, case.heating_c)
    spaces_c = {boundary: float(series_c[0]) for boundary, series_c in drivers.boundary_c.items()}
    return spaces_c | {Boundary.OUTDOORS: case.design.heating_99_c, Boundary.ADIABATIC: case.heating_c}


def _surface_w(surface: Surface, indoor_c: float, behind_c: Mapping[Boundary, float], core_m2k_w: float) -> float:
    if surface.boundary is Boundary.GROUND and surface.kind is SurfaceKind.FLOOR:
        edge_w = surface.exposed_edge_m * surface.edge_w_mk * (indoor_c - behind_c[Boundary.OUTDOORS])
        return edge_w + surface.area_m2 / core_m2k_w * (indoor_c - behind_c[Boundary.GROUND])
    return surface.area_m2 * surface.u_w_m2k * (indoor_c - behind_c[surface.boundary])
