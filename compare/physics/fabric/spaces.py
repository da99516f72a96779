"""Temperatures behind surfaces that do not face outdoors: attic, crawlspace, basement, garage, ground.

Each space is balanced hour by hour against the rooms at a steady temperature; that of the attic has its roof as nodes
of its own under sun and sky. In a steady state this is the buffer-space balance of ASHRAE Fundamentals 2021, ch. 17:
`t = (air to + sum(A U t_x) + q) / (air + sum(A U))`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.house.plan import Boundary, Plan, Surface
from compare.physics.fabric.drivers import Drivers, Face, radiation_w_m2k
from compare.physics.fabric.modes import run_periodic
from compare.physics.fabric.tables import films, values

FloatArray = npt.NDArray[np.float64]

CP_J_LK = 1.23
"""Heat of a litre of sea-level air [J/(L K)] (ASHRAE Fundamentals 2021, ch. 17)."""
SPACES = (Boundary.CRAWLSPACE, Boundary.BASEMENT, Boundary.GARAGE)
_NAMES = {Boundary.CRAWLSPACE: "crawlspace", Boundary.BASEMENT: "basement", Boundary.GARAGE: "garage"}


@dataclass(frozen=True, slots=True)
class Ground:
    """Soil of a place: yearly mean at the surface, half of the yearly swing, and the day of the coldest surface."""

    mean_c: float
    swing_k: float
    coldest_day: float


@dataclass(frozen=True, slots=True)
class Balance:
    """One buffer space: what ties it to rooms, outdoors and ground [W/K], its heat capacity [J/K]."""

    rooms_w_k: float
    outdoors_w_k: float
    ground_w_k: float
    capacity_j_k: float

    def steady_c(self, rooms_c: float, outdoors_c: float, ground_c: float) -> float:
        """Temperature of the space in a steady state [degC]."""
        total_w_k = self.rooms_w_k + self.outdoors_w_k + self.ground_w_k
        pulled_w = self.rooms_w_k * rooms_c + self.outdoors_w_k * outdoors_c + self.ground_w_k * ground_c
        return pulled_w / total_w_k


@dataclass(frozen=True, slots=True)
class Attic:
    """A vented attic: its ceiling to the rooms, its floor area and the solar absorptance of its roof."""

    rooms_w_k: float
    floor_m2: float
    absorptance_frac: float


def ground_of_year(dry_bulb_c: FloatArray) -> Ground:
    """Yearly mean and first harmonic of a year of air temperatures, taken as those of the ground's surface."""
    days = dry_bulb_c.shape[0] // 24
    daily_c = dry_bulb_c[: days * 24].reshape(days, 24).mean(axis=1)
    phase = np.exp(-2j * np.pi * (np.arange(days) + 0.5) / days)
    harmonic = 2.0 * np.mean((daily_c - daily_c.mean()) * phase)
    coldest_day = (np.angle(harmonic) + np.pi) / (-2.0 * np.pi) * days
    return Ground(float(daily_c.mean()), float(np.abs(harmonic)), float(coldest_day % days))


def ground_c(ground: Ground, day: FloatArray, depth_m: float | None = None) -> FloatArray:
    """Undisturbed ground at a depth on days of the year [degC] (Kusuda and Achenbach 1965, from memory).

    `depth_m` left out takes the depth of the table (2 m), which bounds buried walls, slab cores and buffer spaces.
    """
    table = values("ground.csv")
    depth = table["ground_depth_m"] if depth_m is None else depth_m
    damping = depth * np.sqrt(np.pi / (365.0 * 86400.0 * table["ground_diffusivity_m2_s"]))
    lag = 2.0 * np.pi * (day - ground.coldest_day) / 365.0 - damping
    result: FloatArray = ground.mean_c - ground.swing_k * np.exp(-damping) * np.cos(lag)
    return result


def with_spaces(plan: Plan, drivers: Drivers, ground: Ground, first_day: int = 0, rooms_c: float = 20.0) -> Drivers:
    """The drivers with a temperature behind every kind of surface of the plan.

    Parameters
    ----------
    plan
        The house.
    drivers
        Outside conditions; with sun they must hold the horizontal face when there is an attic.
    ground
        From `ground_of_year` of the place's weather year, also for a design day.
    first_day
        Day of the year of the first hour (0 is 1 January).
    rooms_c
        Temperature of the rooms next to the spaces [degC].
    """
    day = first_day + (np.arange(drivers.hours, dtype=np.float64) + 0.5) * (drivers.step_s / 86400.0)
    behind_c: dict[Boundary, FloatArray] = {Boundary.GROUND: ground_c(ground, day)}
    for space in SPACES:
        balance = balance_of(plan, space)
        if balance is not None:
            behind_c[space] = space_c(balance, drivers, behind_c[Boundary.GROUND], rooms_c)
    attic = attic_of(plan)
    if attic is not None:
        behind_c[Boundary.ATTIC] = attic_c(attic, drivers, rooms_c)
    return replace(drivers, boundary_c={**drivers.boundary_c, **behind_c})


def _surfaces(plan: Plan, boundary: Boundary) -> list[Surface]:
    return [s for room in plan.rooms for s in room.surfaces if s.boundary is boundary and s.area_m2 > 0.0]


def balance_of(plan: Plan, space: Boundary) -> Balance | None:
    """The balance of a crawlspace, basement or garage by the area of the house next to it; None if there is none."""
    surfaces = _surfaces(plan, space)
    if not surfaces:
        return None
    table, name = values("ground.csv"), _NAMES[space]
    area_m2 = sum(s.area_m2 for s in surfaces)
    outdoors_w_m2k = table[f"{name}_wall_w_m2k"] + CP_J_LK * table[f"{name}_vent_l_s_m2"]
    return Balance(
        rooms_w_k=sum(s.area_m2 * s.u_w_m2k for s in surfaces),
        outdoors_w_k=area_m2 * outdoors_w_m2k,
        ground_w_k=area_m2 * table[f"{name}_ground_w_m2k"],
        capacity_j_k=area_m2 * table["space_j_m2k"],
    )


def space_c(balance: Balance, drivers: Drivers, below_c: FloatArray, rooms_c: float = 20.0) -> FloatArray:
    """Temperature of a buffer space hour by hour [degC]."""
    total_w_k = balance.rooms_w_k + balance.outdoors_w_k + balance.ground_w_k
    pulled_w = balance.outdoors_w_k * (drivers.dry_bulb_c - rooms_c) + balance.ground_w_k * (below_c - rooms_c)
    rate_per_s = np.array([total_w_k / balance.capacity_j_k])
    above_k = run_periodic(rate_per_s, pulled_w[None, :] / balance.capacity_j_k, drivers.step_s)[0]
    result: FloatArray = rooms_c + above_k
    return result


def attic_of(plan: Plan) -> Attic | None:
    """The attic over all ceilings that border one; None if there is none. The roof takes the ceilings' absorptance."""
    surfaces = _surfaces(plan, Boundary.ATTIC)
    if not surfaces:
        return None
    area_m2 = sum(s.area_m2 for s in surfaces)
    return Attic(
        rooms_w_k=sum(s.area_m2 * s.u_w_m2k for s in surfaces),
        floor_m2=area_m2,
        absorptance_frac=sum(s.area_m2 * s.solar_absorptance_frac for s in surfaces) / area_m2,
    )


def attic_c(attic: Attic, drivers: Drivers, rooms_c: float = 20.0) -> FloatArray:
    """Air temperature of a vented attic hour by hour [degC]: roof under sun and sky, outdoor air, ceiling to rooms."""
    table, film = values("ground.csv"), films()
    roof_m2 = attic.floor_m2 * table["attic_roof_ratio"]
    vent_w_k = attic.floor_m2 * CP_J_LK * table["attic_vent_l_s_m2"]
    outer_w_k = roof_m2 * (film.outside_roof_w_m2k + film.emissivity_frac * radiation_w_m2k(film.mean_outside_c))
    deck_w_k = roof_m2 / table["attic_roof_m2k_w"]
    inner_w_k = roof_m2 * table["attic_inside_film_w_m2k"]
    conductance_w_k = np.array(
        [
            [outer_w_k + deck_w_k, -deck_w_k, 0.0],
            [-deck_w_k, deck_w_k + inner_w_k, -inner_w_k],
            [0.0, -inner_w_k, inner_w_k + vent_w_k + attic.rooms_w_k],
        ]
    )
    half_j_k = 0.5 * roof_m2 * table["attic_roof_j_m2k"]
    capacity_j_k = np.array([half_j_k, half_j_k, attic.floor_m2 * table["attic_air_j_m2k"]])
    outdoors_k = drivers.dry_bulb_c - rooms_c
    sun = drivers.sun_on(Face.of(0.0, 0.0))
    sun_w = 0.0 if sun is None else attic.floor_m2 * attic.absorptance_frac * sun.total_w_m2
    sky_w = attic.floor_m2 * film.emissivity_frac * drivers.sky_flux_w_m2
    sources_w = np.array([outer_w_k * outdoors_k + sun_w + sky_w, np.zeros(drivers.hours), vent_w_k * outdoors_k])
    result: FloatArray = rooms_c + _periodic_k(conductance_w_k, capacity_j_k, sources_w, drivers.step_s)[2]
    return result


def _periodic_k(
    conductance_w_k: FloatArray, capacity_j_k: FloatArray, sources_w: FloatArray, step_s: float
) -> FloatArray:
    """Temperatures of nodes that all have mass, over hours that repeat; shape of the sources."""
    root = np.sqrt(capacity_j_k)
    rate, vectors = np.linalg.eigh(conductance_w_k / np.outer(root, root))
    shape = vectors / root[:, None]
    result: FloatArray = shape @ run_periodic(rate, shape.T @ sources_w, step_s)
    return result
