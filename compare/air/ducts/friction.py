"""Pressure drop of straight duct, flexible duct and fittings at standard air."""

from __future__ import annotations

import math
from functools import lru_cache

from compare.air.tables import constant, require_positive
from compare.air.units_us import CFM_M3_S, IN_M, IN_WC_100FT_PA_M


def round_area_m2(diameter_m: float) -> float:
    """Section of a round duct."""
    require_positive(diameter_m, "diameter_m", "m")
    return math.pi * diameter_m**2 / 4


def velocity_m_s(flow_m3_s: float, diameter_m: float) -> float:
    """Mean speed in a round duct."""
    return flow_m3_s / round_area_m2(diameter_m)


def velocity_pressure_pa(speed_m_s: float) -> float:
    """Dynamic pressure of standard air."""
    return 0.5 * constant("air_density_kg_m3") * speed_m_s**2


def equivalent_diameter_m(width_m: float, height_m: float) -> float:
    """Round duct of equal friction at equal flow: 1.30 (ab)^0.625/(a+b)^0.25 (ASHRAE)."""
    return math.exp(math.log(1.30) + 0.625 * math.log(width_m * height_m) - 0.25 * math.log(width_m + height_m))


@lru_cache(maxsize=4096)
def friction_pa_m(flow_m3_s: float, diameter_m: float, roughness_m: float | None = None) -> float:
    """Friction per metre of straight round duct; default roughness is galvanised steel.

    Darcy-Weisbach with the Colebrook friction factor of the `fluids` library.
    """
    if flow_m3_s == 0:
        return 0.0
    from fluids.friction import friction_factor

    rough = constant("roughness_metal_m") if roughness_m is None else roughness_m
    speed = velocity_m_s(flow_m3_s, diameter_m)
    reynolds = constant("air_density_kg_m3") * speed * diameter_m / constant("air_viscosity_pa_s")
    factor = float(friction_factor(Re=reynolds, eD=rough / diameter_m))
    return factor / diameter_m * velocity_pressure_pa(speed)


def flex_factor(diameter_m: float, compression_pct: float | None = None) -> float:
    """How much compression multiplies the friction of stretched flexible duct.

    1 + 0.58 % exp(-0.00126 D mm), the ASHRAE form from memory; laboratory reports give about 4 for a moderate
    and near 10 for a heavy sag, so take it as a lower estimate.
    """
    percent = constant("flex_compression_pct") if compression_pct is None else compression_pct
    return 1 + constant("flex_factor_per_pct") * percent * math.exp(-constant("flex_factor_per_m") * diameter_m)


def flex_pa_m(flow_m3_s: float, diameter_m: float, compression_pct: float | None = None) -> float:
    """Friction per metre of flexible duct, compression included."""
    stretched = friction_pa_m(flow_m3_s, diameter_m, constant("roughness_flex_m"))
    return stretched * flex_factor(diameter_m, compression_pct)


def quick_friction_pa_m(flow_m3_s: float, diameter_m: float) -> float:
    """Quick fit 0.109136 q^1.9/d^5.02 (in. w.c. per 100 ft, cfm, in.), from memory: a second opinion only."""
    fit = 1.9 * math.log(flow_m3_s / CFM_M3_S) - 5.02 * math.log(diameter_m / IN_M)
    return 0.109136 * math.exp(fit) * IN_WC_100FT_PA_M
