"""Sound power of a fan: speed law, interpolated spectra, and the handbook estimate for untested fans."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from compare.air.noise.bands import BANDS_HZ, bands_hz
from compare.air.tables import FloatArray, column, require_positive
from compare.air.units_us import CFM_M3_S, IN_WC_PA


@dataclass(frozen=True, slots=True)
class SoundSource:
    """Sound power of one unit (or one side of it) between its quiet and its high speed.

    `shape_*_db` are unweighted octave levels less the total A-weighted power, eight bands from 63 Hz.
    """

    lw_quiet_dba: float
    lw_high_dba: float
    shape_quiet_db: tuple[float, ...]
    shape_high_db: tuple[float, ...]
    flow_quiet_m3_s: float
    flow_high_m3_s: float

    def __post_init__(self) -> None:
        """Refuse shapes without eight bands and airflows out of order."""
        if len(self.shape_quiet_db) != len(BANDS_HZ) or len(self.shape_high_db) != len(BANDS_HZ):
            raise ValueError("shape_quiet_db and shape_high_db need 8 bands from 63 to 8000 Hz")
        if not 0 < self.flow_quiet_m3_s < self.flow_high_m3_s:
            raise ValueError("flow_quiet_m3_s must be above 0 and below flow_high_m3_s")

    def plus_db(self, change_db: float) -> SoundSource:
        """The same source with its power shifted (an inlet or casing from a discharge, a cautious margin)."""
        return SoundSource(
            self.lw_quiet_dba + change_db,
            self.lw_high_dba + change_db,
            self.shape_quiet_db,
            self.shape_high_db,
            self.flow_quiet_m3_s,
            self.flow_high_m3_s,
        )


def speed_change_db(flow_ratio: float) -> float:
    """Change of sound power with fan speed on the same ducts: 50 log(flow2/flow1) (from memory, handbook law)."""
    require_positive(flow_ratio, "flow_ratio", "")
    return 50 * math.log10(flow_ratio)


def flow_at_m3_s(source: SoundSource, fraction_of_range: FloatArray) -> FloatArray:
    """Airflow linear in output: quiet at the least output (0) and below, high at the greatest (1)."""
    share = np.clip(np.asarray(fraction_of_range, dtype=float), 0.0, 1.0)
    return np.asarray(source.flow_quiet_m3_s + share * (source.flow_high_m3_s - source.flow_quiet_m3_s))


def power_dba(source: SoundSource, fraction_of_range: FloatArray) -> FloatArray:
    """A-weighted sound power: linear in the logarithm of airflow between the two stated powers.

    Generic units follow 50 log(flow) within a decibel, so this is the speed law anchored at both ends.
    """
    flow = flow_at_m3_s(source, fraction_of_range)
    span = math.log10(source.flow_high_m3_s / source.flow_quiet_m3_s)
    share = np.log10(flow / source.flow_quiet_m3_s) / span
    return np.asarray(source.lw_quiet_dba + share * (source.lw_high_dba - source.lw_quiet_dba), dtype=float)


def octave_power_db(source: SoundSource, fraction_of_range: FloatArray) -> FloatArray:
    """Octave-band sound power (n, 8): the spectrum runs from the quiet to the high shape, linear in power."""
    power = np.atleast_1d(power_dba(source, fraction_of_range))
    span = source.lw_high_dba - source.lw_quiet_dba
    share = (power - source.lw_quiet_dba) / span if span else np.zeros_like(power)
    low, high = np.array(source.shape_quiet_db), np.array(source.shape_high_db)
    return np.asarray(power[:, None] + low + share[:, None] * (high - low), dtype=float)


def handbook_power_db(
    flow_m3_s: float, pressure_pa: float, fan: str = "forward", off_peak_db: float = 0.0
) -> FloatArray:
    """Estimate Lw = Kw + 10 log Q(cfm) + 20 log P(in. w.c.) + C for an untested fan, shape (8,).

    `fan` is `forward` or `backward`. The blade-frequency rise (+2 dB at 500 Hz, +3 dB at 250 Hz) is added.
    Source: Long, Architectural Acoustics 2nd ed., T13.5-13.7 (second-hand). Tested data are preferred.
    """
    if fan not in ("forward", "backward"):
        raise ValueError(f"fan '{fan}' is not known; use forward or backward")
    total = 10 * math.log10(flow_m3_s / CFM_M3_S) + 20 * math.log10(pressure_pa / IN_WC_PA) + off_peak_db
    blade_hz, rise_db = (500.0, 2.0) if fan == "forward" else (250.0, 3.0)
    return column("bands", f"fan_{fan}_db") + total + np.where(bands_hz() == blade_hz, rise_db, 0.0)
