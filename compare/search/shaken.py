"""The networks of many draws of one house: every lane a house of its own, from the same parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.loads.case import load_case_of
from compare.loads.cooling import prepared_rooms
from compare.physics.assemble import laws_of, link_matrices_w_k, states_of
from compare.physics.fabric.drivers import Drivers, faces_of
from compare.physics.fabric.room import held_heat_w
from compare.physics.fabric.spaces import ground_of_year, with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.search.lanes import Houses
from compare.years.case import HouseCase

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class HouseParts:
    """A house's heat by cause, (H, R) each [W]; they sum to what the air gets at 20 degC."""

    gains_w: FloatArray
    fabric_w: FloatArray
    """Through walls, roofs, floors and glass without any sun on the house."""
    sun_w: FloatArray


def house_parts(case: HouseCase) -> HouseParts:
    """Split the heat series of a house."""
    ground = ground_of_year(case.weather.dry_bulb_c)
    rooms = prepared_rooms(load_case_of(case.house, case.plan, case.design, ground))
    drivers = with_spaces(case.plan, drivers_from_year(case.weather, faces_of(case.plan.rooms)), ground)
    dark = Drivers(
        dry_bulb_c=drivers.dry_bulb_c,
        sky_c=drivers.sky_c,
        sun={},
        sun_altitude_deg=drivers.sun_altitude_deg,
        sun_azimuth_deg=drivers.sun_azimuth_deg,
        boundary_c=drivers.boundary_c,
        step_s=drivers.step_s,
    )
    lit = np.column_stack([held_heat_w(room, drivers) for room in rooms])
    fabric = np.column_stack([held_heat_w(room, dark) for room in rooms])
    return HouseParts(case.network.q20_w - lit, fabric, lit - fabric)


@dataclass(frozen=True, slots=True, eq=False)
class LinkParts:
    """What joins rooms, per door state, (S, R, R) each: walls and shut doors, and what stands open."""

    shut_w_k: FloatArray
    open_w_k: FloatArray


def link_parts(case: HouseCase, open_w_k: FloatArray) -> LinkParts:
    """Links of a house with its doors taken at the temperatures of a run, (door states, links) while open."""
    states = states_of(case.plan, case.network.outdoor_c, case.network.step_s)
    laws = laws_of(case.plan, case.weather.site.elevation_m, case.network_options)
    shut = link_matrices_w_k(case.plan, laws, states, np.zeros_like(open_w_k))
    return LinkParts(shut, link_matrices_w_k(case.plan, laws, states, open_w_k) - shut)


def shaken_houses(case: HouseCase, parts: HouseParts, links: LinkParts, factor: Mapping[str, FloatArray]) -> Houses:
    """One house per draw.

    Parameters
    ----------
    case, parts, links
        The house and its parts.
    factor
        `ua`, `leakage`, `partition`, `opening`, `solar`, 64 entries each.
    """
    network = case.network
    ua, leak = factor["ua"], factor["leakage"]
    e = 1.0 / (1.0 + network.step_s / network.branch_tau_s)
    c_e, ca_dt = network.branch_g_w_k * e, network.air_j_k / network.step_s
    fixed = ca_dt + c_e.sum(axis=1)
    link = (
        factor["partition"][:, None, None, None] * links.shut_w_k
        + factor["opening"][:, None, None, None] * links.open_w_k
    )
    own = fixed + ua[:, None] * network.g0_w_k
    diagonal = (
        own[:, None, None, :] + leak[:, None, None, None] * network.leak_w_k[None, None] + link.sum(axis=3)[:, :, None]
    )
    rooms = network.rooms
    matrix = -np.repeat(link[:, :, None], network.leak_w_k.shape[0], axis=2)
    matrix[..., np.arange(rooms), np.arange(rooms)] += diagonal
    inverse = np.linalg.inv(matrix).reshape(ua.size, -1, rooms, rooms)
    air_w = network.leak_w_k[network.leak_level] * network.outdoor_c[:, None]
    source = np.stack([parts.gains_w, parts.fabric_w + 20.0 * network.g0_w_k, parts.sun_w, air_w])
    levels = network.leak_w_k.shape[0]
    step = tuple(np.ascontiguousarray(x, dtype=np.float32) for x in (ca_dt, c_e, e))
    return Houses(
        inverse=np.ascontiguousarray(np.moveaxis(inverse, 0, -1), dtype=np.float32),
        step=(step[0], step[1], step[2]),
        index=(network.door_state * levels + network.leak_level).astype(np.uint32),
        source=np.ascontiguousarray(source, dtype=np.float32),
        part=np.stack([np.ones_like(ua), ua, factor["solar"], leak]).astype(np.float32),
        own_w_k=fixed + network.g0_w_k,
    )
