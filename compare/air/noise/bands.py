"""Octave bands, A-weighting and sums of levels."""

from __future__ import annotations

import numpy as np

from compare.air.tables import FloatArray, column

BANDS_HZ = (63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0)


def bands_hz() -> FloatArray:
    """The eight octave-band centre frequencies, shape (8,)."""
    return np.array(BANDS_HZ)


def a_weights_db() -> FloatArray:
    """A-weighting of the eight bands (IEC 61672), shape (8,)."""
    return column("bands", "a_weight_db")


def a_weight_formula_db(frequency_hz: FloatArray) -> FloatArray:
    """A-weighting at any frequency by the analytic form of IEC 61672."""
    square = np.asarray(frequency_hz, dtype=float) ** 2
    top = 12194.0**2 * square**2
    bottom = (square + 20.6**2) * np.sqrt((square + 107.7**2) * (square + 737.9**2)) * (square + 12194.0**2)
    return np.asarray(20 * np.log10(top / bottom) + 2.0, dtype=float)


def sum_db(levels_db: FloatArray, axis: int = -1) -> FloatArray:
    """Energy sum of levels along an axis; -inf means silence."""
    return np.asarray(10 * np.log10(np.sum(10 ** (np.asarray(levels_db) / 10), axis=axis)), dtype=float)


def add_db(first_db: FloatArray, second_db: FloatArray) -> FloatArray:
    """Energy sum of two arrays of levels, element by element."""
    return np.asarray(10 * np.log10(10 ** (np.asarray(first_db) / 10) + 10 ** (np.asarray(second_db) / 10)))


def level_dba(octave_db: FloatArray) -> FloatArray:
    """A-weighted level of octave-band levels; the last axis holds the eight bands."""
    octave = np.asarray(octave_db, dtype=float)
    if octave.shape[-1] != len(BANDS_HZ):
        raise ValueError(f"octave_db needs 8 bands (63 to 8000 Hz) on its last axis, got {octave.shape[-1]}")
    return sum_db(octave + a_weights_db())
