"""Exact factors between SI and the inch-pound forms in which duct and sound formulas are published."""

from __future__ import annotations

FT_M = 0.3048
IN_M = 0.0254
FT2_M2 = FT_M**2
FT3_M3 = FT_M**3
CFM_M3_S = FT3_M3 / 60
FPM_M_S = FT_M / 60
IN_WC_PA = 249.089
IN_WC_100FT_PA_M = IN_WC_PA / (100 * FT_M)


def both_m(value_m: float) -> str:
    """A length for a remark that is read in either system: `0.66 m (26 in.)`, `7.1 m (23 ft)`."""
    if value_m < 2.0:
        return f"{value_m:.2f} m ({value_m / IN_M:.1f} in.)"
    return f"{value_m:.1f} m ({value_m / FT_M:.1f} ft)"
