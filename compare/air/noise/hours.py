"""Level at an ear, hour by hour, at the fan speed that each hour needs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.air.noise.bands import level_dba
from compare.air.noise.fan import SoundSource, octave_power_db
from compare.air.tables import FloatArray, constant

GRID_POINTS = 41


@dataclass(frozen=True, slots=True)
class LevelCurve:
    """A-weighted level while running at one ear, against the share of the unit's output range (0 least, 1 most)."""

    fraction: tuple[float, ...]
    level_dba: tuple[float, ...]

    def on_dba(self, fraction_of_range: FloatArray | float) -> FloatArray:
        """Level while running; outside 0..1 the ends are held."""
        return np.asarray(np.interp(fraction_of_range, self.fraction, self.level_dba), dtype=float)

    @property
    def quiet_dba(self) -> float:
        """Level at quiet speed."""
        return self.level_dba[0]

    @property
    def high_dba(self) -> float:
        """Level at high speed."""
        return self.level_dba[-1]


def speed_grid() -> FloatArray:
    """Shares of the output range at which curves are worked out."""
    return np.linspace(0.0, 1.0, GRID_POINTS)


def curve_from_octaves(octave_db: FloatArray) -> LevelCurve:
    """A curve from octave levels at the ear on `speed_grid`, shape (41, 8)."""
    return LevelCurve(tuple(speed_grid().tolist()), tuple(level_dba(octave_db).tolist()))


def level_curve(source: SoundSource, loss_db: FloatArray) -> LevelCurve:
    """A curve for a unit heard through a fixed loss Lw - Lp per band, shape (8,), such as the room effect."""
    return curve_from_octaves(octave_power_db(source, speed_grid()) - loss_db)


def hourly_level_dba(
    curve: LevelCurve, fraction_of_range: FloatArray, run_frac: FloatArray, background_dba: float | None = None
) -> FloatArray:
    """LAeq of each hour, shape as the inputs.

    At the least output and below the unit runs at quiet for its run fraction: level while on
    + 10 log10(run fraction). The background is added by energy; run fraction 0 leaves the background alone.
    """
    background = constant("background_dba") if background_dba is None else background_dba
    run, fraction = np.broadcast_arrays(np.clip(np.asarray(run_frac, dtype=float), 0.0, 1.0), fraction_of_range)
    quiet = 10 ** (background / 10)
    level, running = np.full(run.size, 10 * np.log10(quiet)), run.ravel()
    on = np.flatnonzero(running > 0.0)
    level[on] = 10 * np.log10(running[on] * 10 ** (curve.on_dba(fraction.ravel()[on]) / 10) + quiet)
    return level.reshape(run.shape)


def several_units_dba(levels_dba: list[FloatArray], background_dba: float | None = None) -> FloatArray:
    """Levels of several units at one ear, each with the background in it: the background is counted once."""
    background = 10 ** ((constant("background_dba") if background_dba is None else background_dba) / 10)
    energy = background + sum(np.maximum(10 ** (level / 10) - background, 0.0) for level in levels_dba)
    return np.asarray(10 * np.log10(energy), dtype=float)


def night_levels_dba(level_dba_by_hour: FloatArray, first_hour: int = 22, hours: int = 9) -> FloatArray:
    """LAeq of each night of a year of whole days, one per evening, from `first_hour` for `hours` hours.

    The year is taken as a ring: the last night runs on into the first morning.
    """
    levels = np.asarray(level_dba_by_hour, dtype=float)
    if levels.size % 24:
        raise ValueError(f"level_dba_by_hour must cover whole days (a multiple of 24 hours), got {levels.size}")
    starts = np.arange(first_hour, levels.size, 24)
    index = (starts[:, None] + np.arange(hours)[None, :]) % levels.size
    return np.asarray(10 * np.log10(np.mean(10 ** (levels[index] / 10), axis=1)), dtype=float)
