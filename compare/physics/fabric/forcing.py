"""Sources at the nodes of the full room, hour by hour, kept apart by cause so that a load can be explained."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import Boundary
from compare.physics.fabric.assemble import FullRoom, PartNodes
from compare.physics.fabric.drivers import Drivers, Face, FaceSun
from compare.physics.fabric.glass import Glazing, shares_at
from compare.physics.fabric.parts import Part
from compare.physics.fabric.shading import sky_seen_frac, sunlit_frac

FloatArray = npt.NDArray[np.float64]

SUN = "sun through glass"
GAINS = "inside gains"


@dataclass(frozen=True, slots=True, eq=False)
class Gains:
    """Heat given off inside a room, by radiation and by convection [W], one value an hour."""

    radiant_w: FloatArray
    convective_w: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """One series of heat and the nodes it enters: `weight_frac` (N,) times `heat_w` (H,), plus a share to the air."""

    label: str
    weight_frac: FloatArray
    heat_w: FloatArray
    air_frac: float = 0.0


def sources(full: FullRoom, drivers: Drivers, gains: Gains | None, held_c: float) -> list[Source]:
    """Every source of a room with its air held at `held_c`."""
    found: list[Source] = []
    admitted_w = np.zeros(drivers.hours)
    sky_flux_w_m2 = drivers.sky_flux_w_m2
    for part, nodes in zip(full.parts, full.nodes, strict=True):
        if nodes.outer < 0:
            continue
        sun = drivers.sun_on(Face.of(part.tilt_deg, part.azimuth_deg)) if _sunny(part) else None
        outer_w = _boundary_w(part, nodes, drivers, sky_flux_w_m2, held_c)
        if isinstance(part.make, Glazing):
            if sun is not None:
                panes_w = glass_sun_w(part, part.make, sun, drivers)
                admitted_w += panes_w[0]
                found.append(_at(full, SUN, nodes.outer, panes_w[1]))
                found.append(_at(full, SUN, nodes.inner, panes_w[2]))
        elif sun is not None:
            outer_w = outer_w + part.area_m2 * part.outside_absorptance_frac * sun.total_w_m2
        found.append(_at(full, part.label, nodes.outer, outer_w))
    if np.any(admitted_w):
        found.append(Source(SUN, full.sun_node_frac, admitted_w, full.sun_air_frac))
    return found + _gain_sources(full, gains, drivers.hours)


def _sunny(part: Part) -> bool:
    return part.boundary is Boundary.OUTDOORS


def _at(full: FullRoom, label: str, node: int, heat_w: FloatArray) -> Source:
    weight_frac = np.zeros_like(full.capacity_j_k)
    weight_frac[node] = 1.0
    return Source(label, weight_frac, heat_w)


def _boundary_w(part: Part, nodes: PartNodes, drivers: Drivers, sky_flux_w_m2: FloatArray, held_c: float) -> FloatArray:
    """Heat that the boundary would give the outer node if that stood at the held temperature."""
    if nodes.slab:
        edge_w: FloatArray = nodes.outside_convection_w_k * (drivers.dry_bulb_c - held_c)
        return edge_w + nodes.outside_radiation_w_k * (drivers.behind_c(Boundary.GROUND) - held_c)
    coupled_w_k = nodes.outside_convection_w_k + nodes.outside_radiation_w_k
    heat_w: FloatArray = coupled_w_k * (drivers.behind_c(part.boundary) - held_c)
    return heat_w + nodes.sky_m2 * sky_flux_w_m2 if nodes.sky_m2 > 0.0 else heat_w


def glass_sun_w(part: Part, glazing: Glazing, sun: FaceSun, drivers: Drivers) -> FloatArray:
    """Sun that a window lets through, absorbs in its outer and in its inner pane [W]; shape (3, hours)."""
    beam_w_m2, sky_w_m2 = sun.beam_w_m2, sun.sky_w_m2
    if part.shading is not None:
        beam_w_m2 = beam_w_m2 * sunlit_frac(
            part.shading, part.azimuth_deg, drivers.sun_altitude_deg, drivers.sun_azimuth_deg
        )
        sky_w_m2 = sky_w_m2 * sky_seen_frac(part.shading)
    diffuse_frac = np.array(glazing.optics.diffuse_frac)[:, None]
    shares = shares_at(glazing.optics, sun.cos_incidence_frac)
    total: FloatArray = shares * beam_w_m2 + diffuse_frac * (sky_w_m2 + sun.ground_w_m2)
    return part.area_m2 * part.admitted_frac * total


def _gain_sources(full: FullRoom, gains: Gains | None, hours: int) -> list[Source]:
    if gains is None:
        return []
    for name, array in (("radiant_w", gains.radiant_w), ("convective_w", gains.convective_w)):
        if array.shape != (hours,):
            raise ValueError(f"gains.{name} has shape {array.shape} for {hours} hours: give one value an hour")
    none = np.zeros_like(full.capacity_j_k)
    return [_at(full, GAINS, full.star, gains.radiant_w), Source(GAINS, none, gains.convective_w, 1.0)]
