"""The thermal network of a house from its plan, the fabric of its rooms, its air and its doors.

Partitions and inside floors are steady conductances between room airs. A door, opening or stair is one conductance
per door state; partly open means the mean of open and shut by the share of time. Leakage and ventilation are one
conductance to outdoors per room in a few levels.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.house.plan import LinkKind, Plan
from compare.physics.door_states import DoorStates, door_states, known_states
from compare.physics.doors import (
    DoorModel,
    LinkLaw,
    first_open_w_k,
    link_laws,
    secant_error_frac,
    secant_w_k,
    secants_w_k,
)
from compare.physics.leak_levels import LeakLevels, leak_levels
from compare.physics.leakage import room_shares_frac
from compare.physics.moist_air import sensible_factor_j_m3k, standard_pressure_pa
from compare.physics.network import Network
from compare.physics.room import RoomFabric
from compare.physics.ventilation import HouseAir

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class NetworkOptions:
    """How the network is put together.

    The set points only serve to take a plausible indoor temperature for the stack effect.
    """

    air: HouseAir
    doors: DoorModel = field(default_factory=DoorModel)
    levels: int = 6
    heating_c: float = 21.1
    cooling_c: float = 23.9
    step_s: float = 3600.0


@dataclass(frozen=True, slots=True)
class LinkError:
    """What the linear door law costs on one link in one run."""

    label: str
    error_frac: float
    """Root mean square error of its heat over the hours, as a share of the heat's root mean square."""


def network_of(plan: Plan, fabrics: Sequence[RoomFabric], weather: WeatherYear, options: NetworkOptions) -> Network:
    """The network of a house for a year of weather, with the open-door law at its first differences."""
    if len(fabrics) != len(plan.rooms):
        raise ValueError(f"{len(plan.rooms)} rooms but {len(fabrics)} room fabrics")
    hours = len(weather.dry_bulb_c)
    if any(len(fabric.q20_w) != hours for fabric in fabrics):
        raise ValueError(f"the heat series of every room must have the {hours} hours of the weather")
    states = states_of(plan, weather.dry_bulb_c, options.step_s)
    laws = laws_of(plan, weather.site.elevation_m, options)
    leaks = leaks_of(weather, options)
    return Network(
        room_names=tuple(room.name for room in plan.rooms),
        g0_w_k=np.array([fabric.g0_w_k for fabric in fabrics]),
        branch_g_w_k=np.array([fabric.branch_g_w_k for fabric in fabrics]),
        branch_tau_s=np.array([fabric.branch_tau_s for fabric in fabrics]),
        air_j_k=np.array([fabric.air_j_k for fabric in fabrics]),
        q20_w=np.ascontiguousarray(np.column_stack([fabric.q20_w for fabric in fabrics])),
        link_w_k=link_matrices_w_k(plan, laws, states, first_open_w_k(laws, states.warm)),
        leak_w_k=leaks.level_w_k[:, None] * room_shares_frac(plan.rooms)[None, :],
        door_state=states.hourly,
        leak_level=leaks.index,
        outdoor_c=weather.dry_bulb_c,
        step_s=options.step_s,
    )


def relinearised(
    network: Network, plan: Plan, elevation_m: float, options: NetworkOptions, room_c: npt.NDArray[np.floating]
) -> Network:
    """The same network with each open link's conductance taken from the room temperatures of a run, shape (H, R)."""
    open_w_k = open_links_w_k(network, plan, elevation_m, options, room_c)
    return with_open_links(network, plan, elevation_m, options, open_w_k)


def open_links_w_k(
    network: Network, plan: Plan, elevation_m: float, options: NetworkOptions, room_c: npt.NDArray[np.floating]
) -> FloatArray:
    """Conductance of each open link by the room temperatures of a run (H, R), shape (states, links)."""
    states = known_states(network.door_state, _by_season(plan))
    return open_conductances_w_k(laws_of(plan, elevation_m, options), states, room_c)


def with_open_links(
    network: Network, plan: Plan, elevation_m: float, options: NetworkOptions, open_w_k: FloatArray
) -> Network:
    """The same network with these conductances of its open links, shape (states, links)."""
    states = known_states(network.door_state, _by_season(plan))
    laws = laws_of(plan, elevation_m, options)
    return replace(network, link_w_k=link_matrices_w_k(plan, laws, states, open_w_k))


def link_errors(
    plan: Plan, elevation_m: float, options: NetworkOptions, outdoor_c: FloatArray, room_c: FloatArray
) -> tuple[LinkError, ...]:
    """Error of the linear door law per link, best conductance per state, over the room temperatures of a run."""
    states = states_of(plan, outdoor_c, options.step_s)
    errors = []
    for link, law in zip(plan.links, laws_of(plan, elevation_m, options), strict=True):
        squares, hours = 0.0, 0
        for state in range(len(states.night)):
            chosen = states.hourly == state
            a_c, b_c = room_c[chosen, law.a].astype(np.float64), room_c[chosen, law.b].astype(np.float64)
            error_frac = secant_error_frac(law, secant_w_k(law, a_c, b_c), a_c, b_c)
            squares, hours = squares + error_frac**2 * a_c.size, hours + a_c.size
        errors.append(LinkError(link.label, float(np.sqrt(squares / max(hours, 1)))))
    return tuple(errors)


def states_of(plan: Plan, outdoor_c: FloatArray, step_s: float = 3600.0) -> DoorStates:
    """Door states of a plan over a series of weather; by season only where it has a stair."""
    return door_states(outdoor_c, _by_season(plan), step_s)


def _by_season(plan: Plan) -> bool:
    return any(link.kind is LinkKind.STAIR for link in plan.links)


def laws_of(plan: Plan, elevation_m: float, options: NetworkOptions) -> tuple[LinkLaw, ...]:
    """The laws of the links of a plan at the air density of its place."""
    return _kept_laws(tuple(plan.links), options.doors, standard_pressure_pa(elevation_m))


# options settle their doors one after the other, all by the same laws
_kept_laws = lru_cache(maxsize=16)(link_laws)


def leaks_of(weather: WeatherYear, options: NetworkOptions) -> LeakLevels:
    """Outdoor air of the whole house as conductance levels, with local air density."""
    indoor_c = np.clip(weather.dry_bulb_c, options.heating_c, options.cooling_c)
    difference_k = indoor_c - weather.dry_bulb_c
    flow_m3_s = options.air.sensible_flow_m3_s(difference_k, weather.wind_m_s)
    factor_j_m3k = sensible_factor_j_m3k(standard_pressure_pa(weather.site.elevation_m), 0.005)
    return leak_levels(flow_m3_s * factor_j_m3k, difference_k, options.levels)


def open_conductances_w_k(laws: Sequence[LinkLaw], states: DoorStates, room_c: npt.NDArray[np.floating]) -> FloatArray:
    """Conductance of each open link per state from room temperatures (H, R), shape (states, links)."""
    values = np.zeros((len(states.night), len(laws)))
    by_room_c = np.ascontiguousarray(room_c.T, dtype=np.float64)
    hours = (states.hourly == np.arange(len(states.night))[:, None]).astype(np.float64)
    for place, law in enumerate(laws):
        values[:, place] = secants_w_k(law, by_room_c[law.a], by_room_c[law.b], hours)
    return values


def partition_matrix_w_k(plan: Plan) -> FloatArray:
    """Conductances through inside walls and floors between room airs, symmetric, shape (rooms, rooms).

    The leaves of doors are taken out of their wall here: a door counts its own leaf while it is shut.
    """
    matrix = np.zeros((len(plan.rooms), len(plan.rooms)))
    leaves_m2 = _leaves_m2(plan)
    for part in plan.partitions:
        pair = frozenset((part.a, part.b))
        leaf_m2 = 0.0 if part.floor else min(leaves_m2.pop(pair, 0.0), part.area_m2)
        matrix[part.a, part.b] += (part.area_m2 - leaf_m2) * part.u_w_m2k
        matrix[part.b, part.a] += (part.area_m2 - leaf_m2) * part.u_w_m2k
    return matrix


def _leaves_m2(plan: Plan) -> dict[frozenset[int], float]:
    found: dict[frozenset[int], float] = {}
    for link in plan.links:
        if link.kind is LinkKind.DOOR:
            pair = frozenset((link.a, link.b))
            found[pair] = found.get(pair, 0.0) + link.width_m * link.height_m
    return found


def link_matrices_w_k(plan: Plan, laws: Sequence[LinkLaw], states: DoorStates, open_w_k: FloatArray) -> FloatArray:
    """Partitions and links per door state, symmetric with a zero diagonal, shape (states, rooms, rooms)."""
    base = partition_matrix_w_k(plan)
    matrices = np.repeat(base[None], len(states.night), axis=0)
    for state, night in enumerate(states.night):
        for index, (link, law) in enumerate(zip(plan.links, laws, strict=True)):
            share = 1.0 if link.kind is LinkKind.OPENING else link.open_frac(night)
            value_w_k = share * open_w_k[state, index] + (1.0 - share) * law.shut_w_k
            matrices[state, law.a, law.b] += value_w_k
            matrices[state, law.b, law.a] += value_w_k
    return matrices
