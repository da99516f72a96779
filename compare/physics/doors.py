"""Air and heat through doorways, openings and stairs, and through a door that is shut.

An open doorway between two rooms of unlike temperature carries warm air over cold air both ways (Brown and Solvason
1962): flow each way = Cd/3 w h sqrt(g h dT / T), so that heat goes with dT^1.5. The network wants a conductance;
`secant_w_k` gives the one that carries the same heat over the hours of a first run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import Link, LinkKind
from compare.physics.moist_air import SEA_LEVEL_PA, sensible_factor_j_m3k

FloatArray = npt.NDArray[np.float64]
Value = float | FloatArray

GRAVITY_M_S2 = 9.81
ROOM_K = 294.0
LEAST_K = 0.167
"""Smallest temperature difference (0.3 degF) at which an exchange coefficient is taken."""


@dataclass(frozen=True, slots=True)
class DoorModel:
    """Coefficients of the door laws. All are our judgement unless a source is named.

    First differences are those at which the open-door law is made linear before any temperature is known:
    rooms joined by an opening stay close (0.5 K); a door or stair in use sees about 1.5 K. They only start
    the search: `secant_w_k` replaces them by the differences of a run.
    """

    discharge_frac: float = 0.5
    """Open doorway; published band 0.4-0.65."""
    crack_discharge_frac: float = 0.6
    """Undercut and the gaps round a door leaf (sharp-edged orifice)."""
    gap_m: float = 0.003
    """Clearance at jambs and head, 1/8 inch (common practice)."""
    leaf_w_m2k: float = 2.2
    """Hollow-core inside door with still air on both sides (from memory, handbook type)."""
    shut_k: float = 5.0
    """Difference at which the leaks of a shut door are made linear."""
    opening_k: float = 0.5
    door_k: float = 1.5
    stair_k: float = 1.5
    down_share_frac: float = 0.2
    """Exchange over a stair when the upper room is the warmer, as a share of that when the lower is."""


@dataclass(frozen=True, slots=True)
class LinkLaw:
    """One link as the network uses it: heat = `open_w_k15` dT^1.5 when open, `shut_w_k` dT when shut."""

    a: int
    b: int
    open_w_k15: float
    shut_w_k: float
    first_k: float
    """Difference at which the open law is first made linear."""
    down_frac: float
    """Factor on the open law when `b` is warmer than `a` (1 except for stairs)."""


def exchange_flow_m3_s(width_m: float, height_m: float, difference_k: Value, discharge_frac: float = 0.5) -> FloatArray:
    """Air flow each way through an open doorway [m3/s] (Brown and Solvason 1962, eq. 6)."""
    difference = np.abs(np.asarray(difference_k, dtype=np.float64))
    speed_m_s = np.sqrt(GRAVITY_M_S2 * height_m * difference / ROOM_K)
    return np.asarray(discharge_frac / 3.0 * width_m * height_m * speed_m_s)


def open_coefficient_w_k15(
    width_m: float, height_m: float, discharge_frac: float = 0.5, pressure_pa: float = SEA_LEVEL_PA
) -> float:
    """Factor of dT^1.5 in the heat through an open doorway [W/K^1.5]."""
    flow_m3_s = exchange_flow_m3_s(width_m, height_m, 1.0, discharge_frac)
    return float(flow_m3_s) * sensible_factor_j_m3k(pressure_pa, 0.0)


def door_conductance_w_k(
    width_m: float, height_m: float, reference_k: float, discharge_frac: float = 0.5, pressure_pa: float = SEA_LEVEL_PA
) -> float:
    """Conductance that carries the heat of an open doorway at one temperature difference [W/K]."""
    coefficient = open_coefficient_w_k15(width_m, height_m, discharge_frac, pressure_pa)
    return float(coefficient * np.sqrt(max(reference_k, LEAST_K)))


def undercut_flow_m3_s(link: Link, pressure_difference_pa: float, model: DoorModel | None = None) -> float:
    """Air flow one way through undercut, jamb and head gaps of a shut door under a pressure difference [m3/s]."""
    model = model or DoorModel()
    gaps_m2 = link.width_m * link.undercut_m + model.gap_m * (2.0 * link.height_m + link.width_m)
    return float(model.crack_discharge_frac * gaps_m2 * np.sqrt(2.0 * pressure_difference_pa / 1.204))


def shut_conductance_w_k(link: Link, model: DoorModel | None = None, pressure_pa: float = SEA_LEVEL_PA) -> float:
    """Conductance of a shut door: heat through the leaf and the air that buoyancy drives round it [W/K].

    A 32 x 80 in. door with a half-inch undercut comes to 4.5 W/K: 3.6 through the leaf, 0.8 by air. Air that wind
    pushes from room to room is left out, so that a shut room comes out slightly too far from its neighbours.
    """
    model = model or DoorModel()
    leaf_w_k = model.leaf_w_m2k * link.width_m * link.height_m
    return leaf_w_k + _buoyant_leak_m3_s(link, model) * sensible_factor_j_m3k(pressure_pa, 0.0)


def link_laws(links: Sequence[Link], model: DoorModel, pressure_pa: float = SEA_LEVEL_PA) -> tuple[LinkLaw, ...]:
    """The law of each link, in the order given; an opening has no leaf to shut and ignores its open share."""
    return tuple(_law(link, model, pressure_pa) for link in links)


def first_open_w_k(laws: Sequence[LinkLaw], summer: Sequence[bool]) -> FloatArray:
    """Conductance of each open link before any temperatures are known, shape (states, links).

    A stair is taken with the lower room warmer in heating states and the upper room warmer in summer ones: heat
    rises to a floor that is heated less, and collects on top in summer.
    """
    return np.array(
        [[law.open_w_k15 * (law.down_frac if warm else 1.0) * np.sqrt(law.first_k) for law in laws] for warm in summer]
    ).reshape(len(summer), len(laws))


def secant_w_k(law: LinkLaw, a_c: FloatArray, b_c: FloatArray) -> float:
    """Conductance that carries as much heat as the open law over given hours of room temperatures [W/K].

    sum |q| / sum |dT|, each |dT| at least 0.167 K; hours of both directions of a stair keep their own factor.
    """
    return float(secants_w_k(law, a_c, b_c, np.ones((1, a_c.size)))[0])


def secants_w_k(law: LinkLaw, a_c: FloatArray, b_c: FloatArray, states: FloatArray) -> FloatArray:
    """The same for each door state, `states` (S, H) 1 in its hours and 0 in all others; shape (S,).

    A state without hours keeps the law's first conductance.
    """
    difference = a_c - b_c
    down = difference < 0.0 if law.down_frac != 1.0 else None
    np.maximum(np.abs(difference, out=difference), LEAST_K, out=difference)
    heat = np.sqrt(difference)
    heat *= difference
    if down is not None:
        heat[down] *= law.down_frac
    total_k = states @ difference
    found_w_k = np.full(total_k.shape, law.open_w_k15 * np.sqrt(law.first_k))
    np.divide(law.open_w_k15 * (states @ heat), total_k, out=found_w_k, where=total_k > 0.0)
    return found_w_k


def secant_error_frac(law: LinkLaw, conductance_w_k: float, a_c: FloatArray, b_c: FloatArray) -> float:
    """Error of the linear law over given hours: root mean square of its heat error over that of the heat itself."""
    difference = a_c - b_c
    exact_w = law.open_w_k15 * np.where(difference >= 0.0, 1.0, law.down_frac) * np.abs(difference) ** 1.5
    mean_square = float(np.mean(exact_w**2)) if exact_w.size else 0.0
    if mean_square == 0.0:
        return 0.0
    linear_w = conductance_w_k * np.abs(difference)
    return float(np.sqrt(np.mean((linear_w - exact_w) ** 2) / mean_square))


def _law(link: Link, model: DoorModel, pressure_pa: float) -> LinkLaw:
    stair = link.kind is LinkKind.STAIR
    first_k = {LinkKind.DOOR: model.door_k, LinkKind.OPENING: model.opening_k, LinkKind.STAIR: model.stair_k}
    return LinkLaw(
        a=link.a,
        b=link.b,
        open_w_k15=open_coefficient_w_k15(link.width_m, link.height_m, model.discharge_frac, pressure_pa),
        shut_w_k=shut_conductance_w_k(link, model, pressure_pa) if link.kind is LinkKind.DOOR else 0.0,
        first_k=first_k[link.kind],
        down_frac=model.down_share_frac if stair else 1.0,
    )


def _buoyant_leak_m3_s(link: Link, model: DoorModel) -> float:
    """Air each way round a shut leaf per the neutral level: in below it, out above it.

    The undercut sits at the floor, the head gap at the top, the jamb gaps spread between. Divided by the reference
    difference, so that it is flow per kelvin [m3/(s K)].
    """
    drive_m2_s2 = 2.0 * GRAVITY_M_S2 * model.shut_k / ROOM_K
    foot_m2, head_m2 = link.width_m * link.undercut_m, link.width_m * model.gap_m
    low_m, high_m = 0.0, link.height_m
    for _ in range(50):
        neutral_m = 0.5 * (low_m + high_m)
        above_m = link.height_m - neutral_m
        into = foot_m2 * neutral_m**0.5 + 2.0 * model.gap_m * neutral_m**1.5 / 1.5
        out = head_m2 * above_m**0.5 + 2.0 * model.gap_m * above_m**1.5 / 1.5
        low_m, high_m = (low_m, neutral_m) if into > out else (neutral_m, high_m)
    return float(model.crack_discharge_frac * into * np.sqrt(drive_m2_s2)) / model.shut_k
