"""What takes sound away along a duct: lining, flexible duct, elbows, splits, the open end. All shape (8,)."""

from __future__ import annotations

import math

import numpy as np

from compare.air.noise.bands import BANDS_HZ, bands_hz
from compare.air.tables import FloatArray, column, constant, row, rows
from compare.air.units_us import FT_M, IN_M

CAP_DB = 40.0
"""Greatest loss of one lined piece; sound flanks through the walls beyond it (ASHRAE)."""
ELBOW_STEPS = (0.14, 0.28, 0.55, 1.11, 2.22)


def unlined_round_db(length_m: float) -> FloatArray:
    """Bare round duct."""
    return np.asarray(column("bands", "unlined_round_db_ft") * length_m / FT_M)


def unlined_rect_db(width_m: float, height_m: float, length_m: float) -> FloatArray:
    """Bare rectangular duct by perimeter over section (ASHRAE)."""
    ratio = 2 * (width_m + height_m) / (width_m * height_m) * FT_M
    freq = bands_hz()
    low = 17 * ratio**0.25 * freq**-0.85 if ratio >= 3 else 1.64 * ratio**0.73 * freq**-0.58
    per_ft = np.where(freq <= 250, low, 0.02 * ratio**0.8)
    return np.asarray(per_ft * length_m / FT_M)


def lined_rect_db(width_m: float, height_m: float, length_m: float, liner_in: float = 1.0) -> FloatArray:
    """Rectangular duct lined with `liner_in` inches of absorber, capped at 40 dB; section is the free one."""
    ratio = 2 * (width_m + height_m) / (width_m * height_m) * FT_M
    table = {key: column("duct_lining", f"rect_{key}") for key in "bcd"}
    per_ft = table["b"] * ratio ** table["c"] * liner_in ** table["d"]
    return np.minimum(per_ft * length_m / FT_M, CAP_DB)


def lined_round_db(diameter_m: float, length_m: float, liner_in: float = 1.0) -> FloatArray:
    """Round duct lined with `liner_in` inches, capped at 40 dB."""
    dia = diameter_m / IN_M
    coef = {key: column("duct_lining", f"round_{key}") for key in "abcdef"}
    per_ft = coef["a"] + coef["b"] * liner_in + coef["c"] * liner_in**2
    per_ft = per_ft + coef["d"] * dia + coef["e"] * dia**2 + coef["f"] * dia**3
    return np.asarray(np.clip(per_ft * length_m / FT_M, 0.0, CAP_DB))


def _flex_six_inch_db(length_ft: float) -> FloatArray:
    entries = [entry for entry in rows("flex_insertion") if entry["diameter_in"] == "6"]
    lengths = [0.0, *(float(entry["length_ft"]) for entry in entries)]
    out = [
        float(np.interp(length_ft, lengths, [0.0, *(float(entry[f"{band:.0f}"]) for entry in entries)]))
        for band in BANDS_HZ[:-1]
    ]
    return np.array([*out, out[-1]])


def flex_db(diameter_m: float, length_m: float) -> FloatArray:
    """Insertion loss of lined flexible duct (Long T14.4); optimistic, part of it is breakout.

    Length is interpolated on the 6 in. rows (held beyond 12 ft); diameter scales by the 6 ft rows of 6, 8 and
    10 in. (held outside). The 8 kHz band repeats 4 kHz.
    """
    base = _flex_six_inch_db(length_m / FT_M)
    six_ft = [entry for entry in rows("flex_insertion") if entry["length_ft"] == "6"]
    dias = [float(entry["diameter_in"]) for entry in six_ft]
    scale = []
    for band in BANDS_HZ[:-1]:
        values = [float(entry[f"{band:.0f}"]) for entry in six_ft]
        scale.append(float(np.interp(diameter_m / IN_M, dias, values)) / values[0])
    return np.asarray(base * np.array([*scale, scale[-1]]))


def elbow_db(width_m: float, kind: str = "round") -> FloatArray:
    """A 90-degree elbow by its width over the wavelength; kinds: square, square_lined, vaned, vaned_lined, round."""
    entry = row("elbow_sound", "kind", kind)
    steps = [float(entry[f"below_{step}"]) for step in ELBOW_STEPS] + [float(entry["above"])]
    ratio = width_m * bands_hz() / constant("sound_speed_m_s")
    return np.array(steps)[np.searchsorted(ELBOW_STEPS, ratio, side="right")]


def split_db(area_share_frac: float) -> FloatArray:
    """A branch that takes a share of the area of all branches: -10 log(share), equal in all bands."""
    if not 0 < area_share_frac <= 1:
        raise ValueError(f"area_share_frac must be above 0 and at most 1, got {area_share_frac}")
    return np.full(len(BANDS_HZ), -10 * math.log10(area_share_frac))


def end_reflection_db(diameter_m: float, *, flush: bool = True) -> FloatArray:
    """Loss at the open end of a duct, 10 log(1 + (a c/(pi f D))2), a = 0.7 flush with a wall, 1.0 free (ASHRAE).

    Not to be taken where the duct ends in a flared diffuser.
    """
    reach = (0.7 if flush else 1.0) * constant("sound_speed_m_s") / (math.pi * bands_hz() * diameter_m)
    return np.asarray(10 * np.log10(1 + reach**2))


def end_reflection_older_db(diameter_m: float, *, flush: bool = True) -> FloatArray:
    """The older form with exponent 1.88 and factor 0.8 flush, 1.0 free (Reynolds), for comparison."""
    reach = constant("sound_speed_m_s") / (math.pi * bands_hz() * diameter_m)
    return np.asarray(10 * np.log10(1 + ((0.8 if flush else 1.0) * reach) ** 1.88))


def plenum_db(outlet_m2: float, distance_m: float, surface_m2: float, mean_absorption_frac: float) -> float:
    """Transmission loss of a lined plenum, straight through (Wells); low bands come out 5-10 dB too small."""
    direct = 1 / (math.pi * distance_m**2)
    reverberant = (1 - mean_absorption_frac) / (surface_m2 * mean_absorption_frac)
    return -10 * math.log10(outlet_m2 * (direct + reverberant))
