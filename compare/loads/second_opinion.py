"""The load factor method run room by room, as a second opinion beside our own loads.

Its rules (ASHRAE Handbook-Fundamentals 2021, residential loads chapter): infiltration by volume, internal gain for the
whole floor area given to kitchen and living spaces, no hours. Indoor conditions are those of the house, so that both
opinions answer the same question. Where the method is silent it is said so at the function.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.house.plan import Boundary, RoomPlan, Surface, SurfaceKind, Use
from compare.loads import load_factors as lf
from compare.loads.case import LoadCase
from compare.loads.heating import PART_OF, design_behind_c
from compare.loads.result import HouseLoads, RoomLoad
from compare.physics.gains import family_rooms
from compare.physics.moist_air import ratio_from_humidity_kg_kg, ratio_from_wet_bulb_kg_kg, standard_pressure_pa
from compare.physics.ventilation import combined_flow_m3_s

FloatArray = npt.NDArray[np.float64]

METHOD = "residential load factors"
FLOOR_COVER_M2K_W = 0.21
"""Resistance of a floor cover on a slab (carpet; the value of the published worked house)."""
_BURIED = (Boundary.GROUND, Boundary.ADIABATIC)


@dataclass(frozen=True, slots=True, eq=False)
class _AirLoads:
    """Outdoor air and internal gains by room [W]."""

    heat_w: FloatArray
    cool_w: FloatArray
    latent_w: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Inside:
    """Internal gains by room [W]: the method's 22 W a person, its base and area terms, and its latent gain."""

    people_w: FloatArray
    appliances_w: FloatArray
    latent_w: FloatArray


def second_opinion(case: LoadCase, detached: bool = True) -> HouseLoads:
    """Loads of every room by the load factor method; no duct loss (it belongs to a layout), no hours.

    `detached` False takes the sun factors of multifamily houses.
    """
    behind_c = design_behind_c(case)
    air = _air_loads(case)
    inside = _internal_w(case.plan.rooms)
    rooms = []
    for index, room in enumerate(case.plan.rooms):
        heat_parts_w = _heat_parts_w(case, room, behind_c) | {"air": float(air.heat_w[index])}
        cool_parts_w = _cool_parts_w(case, room, detached)
        cool_parts_w["air"] = float(air.cool_w[index])
        cool_parts_w |= {"people": float(inside.people_w[index]), "appliances": float(inside.appliances_w[index])}
        rooms.append(
            RoomLoad(
                name=room.name,
                heat_w=max(sum(heat_parts_w.values()), 0.0),
                heat_parts_w=heat_parts_w,
                cool_sensible_w=max(sum(cool_parts_w.values()), 0.0),
                cool_latent_w=float(air.latent_w[index] + inside.latent_w[index]),
                cool_parts_w=cool_parts_w,
                peak_hour_h=None,
            )
        )
    return HouseLoads(tuple(rooms), METHOD)


def _cooling_day(case: LoadCase) -> lf.CoolingDay:
    design = case.design
    latitude_deg = min(abs(design.latitude_deg), 60.0)
    return lf.CoolingDay(design.cooling_1_c - case.cooling_c, design.daily_range_k, latitude_deg)


def _heat_parts_w(case: LoadCase, room: RoomPlan, behind_c: dict[Boundary, float]) -> dict[str, float]:
    """U A dT with attics and garages at the outdoor temperature as in the worked house; slab by its edge alone."""
    parts_w = dict.fromkeys(PART_OF.values(), 0.0)
    outdoor_k = case.heating_c - case.design.heating_99_c
    for surface in room.surfaces:
        if surface.boundary is Boundary.GROUND and surface.kind is SurfaceKind.FLOOR:
            heat_w = surface.exposed_edge_m * surface.edge_w_mk * outdoor_k
        elif surface.boundary in (Boundary.ATTIC, Boundary.GARAGE):
            heat_w = surface.area_m2 * surface.u_w_m2k * outdoor_k
        else:
            heat_w = surface.area_m2 * surface.u_w_m2k * (case.heating_c - behind_c[surface.boundary])
        parts_w[PART_OF[surface.kind]] += heat_w
    return parts_w


def _cool_parts_w(case: LoadCase, room: RoomPlan, detached: bool) -> dict[str, float]:
    """Cooling by factors; a window's is parted into what it conducts ("glass") and what it admits ("sun")."""
    day, southern = _cooling_day(case), case.design.latitude_deg < 0.0
    parts_w = dict.fromkeys((*PART_OF.values(), "sun"), 0.0)
    for surface in room.surfaces:
        if surface.kind is SurfaceKind.WINDOW and surface.boundary is Boundary.OUTDOORS:
            glass_w_m2 = _window_factor_w_m2(replace(surface, shgc_frac=0.0), day, detached, southern)
            whole_w_m2 = _window_factor_w_m2(surface, day, detached, southern)
            parts_w["glass"] += surface.area_m2 * glass_w_m2
            parts_w["sun"] += surface.area_m2 * (whole_w_m2 - glass_w_m2)
        else:
            parts_w[PART_OF[surface.kind]] += surface.area_m2 * _opaque_factor_w_m2(surface, day)
    return parts_w


def _opaque_factor_w_m2(surface: Surface, day: lf.CoolingDay) -> float:
    """Cooling factor of a surface; floors over a basement count as over a crawlspace (the method is silent)."""
    if surface.boundary in _BURIED:
        slab = surface.boundary is Boundary.GROUND and surface.kind is SurfaceKind.FLOOR
        return lf.slab_factor_w_m2(FLOOR_COVER_M2K_W) if slab else 0.0
    return lf.opaque_factor_w_m2(_row_of(surface), surface.u_w_m2k, day, surface.solar_absorptance_frac)


def _row_of(surface: Surface) -> str:
    if surface.kind is SurfaceKind.CEILING:
        return "below vented attic" if surface.boundary is Boundary.ATTIC else "roof"
    if surface.kind is SurfaceKind.FLOOR:
        outdoors = surface.boundary in (Boundary.OUTDOORS, Boundary.GARAGE)
        return "floor over outdoors" if outdoors else "floor over crawlspace"
    if surface.boundary is Boundary.ATTIC:
        return "below vented attic"
    return "sunlit wall or door" if surface.boundary is Boundary.OUTDOORS else "shaded wall or door"


def _window_factor_w_m2(surface: Surface, day: lf.CoolingDay, detached: bool, southern: bool) -> float:
    overhang = None
    if surface.overhang_depth_m > 0.0 and surface.height_m > 0.0:
        overhang = lf.Overhang(surface.overhang_depth_m, surface.overhang_above_m, surface.height_m)
    glass = lf.Glass(surface.u_w_m2k, surface.shgc_frac, surface.shade_frac, 1.0, overhang)
    azimuth_deg = (180.0 - surface.azimuth_deg) % 360.0 if southern else surface.azimuth_deg
    return lf.window_factor_w_m2(glass, azimuth_deg if surface.tilt_deg > 45.0 else None, day, detached)


def _air_loads(case: LoadCase) -> _AirLoads:
    """Infiltration by the method's driving force, the house's own fans, shared by volume; thinner with elevation."""
    plan, design, tight = case.plan, case.design, case.air.tightness
    volumes = np.array([room.volume_m3 for room in plan.rooms])
    shares = volumes / volumes.sum()
    thin = case.pressure_pa / standard_pressure_pa(0.0)
    heat_k, cool_k = case.heating_c - design.heating_99_c, design.cooling_1_c - case.cooling_c
    fans, height_m = case.air.ventilation, tight.envelope.eaves_m
    winter_m3_s = lf.infiltration_m3_s(tight.area_m2, max(heat_k, 0.0), height_m, heating=True)
    summer_m3_s = lf.infiltration_m3_s(tight.area_m2, max(cool_k, 0.0), height_m, heating=False)
    heat_m3_s = float(combined_flow_m3_s(winter_m3_s, fans, fans.recovery_frac))
    cool_m3_s = float(combined_flow_m3_s(summer_m3_s, fans, fans.recovery_frac))
    moist_m3_s = float(combined_flow_m3_s(summer_m3_s, fans, fans.moisture_recovery_frac))
    outdoor = ratio_from_wet_bulb_kg_kg(design.cooling_1_c, design.cooling_wet_bulb_c, case.pressure_pa)
    indoor = ratio_from_humidity_kg_kg(case.cooling_c, case.indoor_humidity_frac, case.pressure_pa)
    wetter = max(float(outdoor - indoor), 0.0)
    return _AirLoads(
        heat_w=shares * heat_m3_s * lf.SENSIBLE_J_M3K * thin * heat_k,
        cool_w=shares * cool_m3_s * lf.SENSIBLE_J_M3K * thin * cool_k,
        latent_w=shares * moist_m3_s * lf.LATENT_J_M3 * thin * wetter,
    )


def _internal_w(rooms: tuple[RoomPlan, ...]) -> _Inside:
    """Internal gain by room: the house's, by floor area over living rooms and kitchens."""
    area_m2 = sum(room.area_m2 for room in rooms)
    occupants = sum(room.use is Use.BEDROOM for room in rooms) + 1
    weights = np.zeros(len(rooms))
    for index in family_rooms(rooms):
        weights[index] = rooms[index].area_m2
    shares = weights / float(weights.sum())
    appliances_w = lf.internal_sensible_w(area_m2, 0.0)
    return _Inside(
        people_w=shares * (lf.internal_sensible_w(area_m2, occupants) - appliances_w),
        appliances_w=shares * appliances_w,
        latent_w=shares * lf.internal_latent_w(area_m2, occupants),
    )
