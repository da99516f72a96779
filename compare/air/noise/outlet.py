"""Noise that the air makes itself at outlets, and what dampers near them add."""

from __future__ import annotations

import math

import numpy as np

from compare.air.noise.bands import BANDS_HZ
from compare.air.tables import FloatArray, require_positive, row
from compare.air.units_us import FT2_M2, FT_M

HEADS_PER_XI = 334.9 * (60 / 4005) ** 2 / 0.075
"""Normalised pressure drop per velocity head: xi is the loss coefficient on the face velocity (1.0)."""


def outlet_power_db(face_m2: float, flow_m3_s: FloatArray, loss_coefficient: float, *, rect: bool = True) -> FloatArray:
    """Octave sound power (n, 8) of one outlet (Reynolds; Long, Architectural Acoustics 2nd ed., eq. 13.27).

    Lw = 10 log S + 30 log xi + 60 log U - 31.3 (ft2, ft/s), peak near 48.8 U Hz. `loss_coefficient` is the
    outlet's drop in velocity heads of the gross face.
    """
    require_positive(face_m2, "face_m2", "m2")
    speed_ft_s = np.maximum(np.atleast_1d(np.asarray(flow_m3_s, dtype=float)) / face_m2 / FT_M, 1e-3)
    xi = loss_coefficient * HEADS_PER_XI
    total = 10 * math.log10(face_m2 / FT2_M2) + 30 * math.log10(xi) + 60 * np.log10(speed_ft_s) - 31.3
    peak_band = np.rint(np.log2(48.8 * speed_ft_s / BANDS_HZ[0]))
    offset = peak_band[:, None] - np.arange(len(BANDS_HZ))[None, :]
    shape = (-11.82 if rect else -5.82) - 0.15 * offset - 1.13 * offset**2
    return np.asarray(total[:, None] + shape, dtype=float)


def damper_added_db(place: str, pressure_ratio: float) -> float:
    """Decibels a damper adds to an outlet, by damper drop over outlet drop (ASHRAE 2019 ch. 49 Table 10).

    `place`: neck (at the register), plenum_inlet, upstream (at least 5 ft ahead, as at the plenum take-off).
    Zero at a ratio of 1 and below; linear between; held above 6.
    """
    entry = row("damper_sound", "place", place)
    ratios = ("1.5", "2", "2.5", "3", "4", "6")
    known = [1.0, *(float(ratio) for ratio in ratios)]
    return float(np.interp(pressure_ratio, known, [0.0, *(float(entry[ratio]) for ratio in ratios)]))
