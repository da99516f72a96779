"""Noise criteria (NC) rating by tangency, and limits for rooms and neighbours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.air.noise.bands import BANDS_HZ
from compare.air.tables import FloatArray, row, rows


@dataclass(frozen=True, slots=True)
class NcRating:
    """An NC number and the band that sets it."""

    nc: float
    band_hz: float


def nc_curves(table: str = "classic") -> tuple[FloatArray, FloatArray]:
    """NC numbers (n,) and their octave levels (n, 8); `table` is `classic` or `s12.2` (ANSI/ASA S12.2-2019)."""
    picked = [entry for entry in rows("nc_curves") if entry["table"] == table]
    if not picked:
        raise ValueError(f"table '{table}' is not known; use classic or s12.2")
    numbers = np.array([float(entry["nc"]) for entry in picked])
    levels = np.array([[float(entry[f"{band:.0f}"]) for band in BANDS_HZ] for entry in picked])
    return numbers, levels


def nc_rating(octave_db: FloatArray, table: str = "classic") -> NcRating:
    """NC by tangency: the highest curve touched by any band, interpolated between curves.

    Below NC 15 and above NC 65 the end curves are continued with their own spacing; never below 0.
    """
    numbers, curves = nc_curves(table)
    levels = np.asarray(octave_db, dtype=float)
    touched = np.empty(len(BANDS_HZ))
    for band, level in enumerate(levels):
        low = int(np.clip(np.searchsorted(curves[:, band], level) - 1, 0, len(numbers) - 2))
        slope = (numbers[low + 1] - numbers[low]) / (curves[low + 1, band] - curves[low, band])
        touched[band] = numbers[low] + slope * (level - curves[low, band])
    worst = int(np.argmax(touched))
    return NcRating(nc=max(0.0, float(touched[worst])), band_hz=BANDS_HZ[worst])


def limit_dba(place: str) -> float:
    """Limit for `bedroom_night`, `bedroom_night_max`, `living`, `bedroom_window_outside`, `property_line_night`."""
    return float(row("noise_limits", "place", place)["level_dba"])
