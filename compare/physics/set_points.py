"""What the thermostats are set to, step by step: the ordinary set points and a setback by the clock."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.services import Comfort

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SetPointSeries:
    """Set points by step, from midnight; shapes (steps,)."""

    heat_c: FloatArray
    cool_c: FloatArray

    @property
    def rises(self) -> npt.NDArray[np.int64]:
        """Steps at which heating is set up again; the series repeats from its end to its start."""
        return np.flatnonzero(self.heat_c > np.roll(self.heat_c, 1))

    @property
    def falls(self) -> npt.NDArray[np.int64]:
        """Steps at which cooling is set down again."""
        return np.flatnonzero(self.cool_c < np.roll(self.cool_c, 1))


def set_points(comfort: Comfort, steps: int, step_s: float = 3600.0) -> SetPointSeries:
    """Set points of a series of steps that starts at midnight.

    Parameters
    ----------
    comfort
        The house file's `[comfort]` with its setback, if there is one.
    steps, step_s
        Number and length of the steps.

    Raises
    ------
    ValueError
        When the step is not a whole part of an hour.
    """
    clock_h = np.arange(steps) // steps_an_hour(step_s) % 24
    back = comfort.setback
    lowered = np.isin(clock_h, sorted(back.hours)) if back is not None else np.zeros(steps, dtype=np.bool_)
    heat_c = back.heating_c if back is not None and back.heating_c is not None else comfort.heating_c
    cool_c = back.cooling_c if back is not None and back.cooling_c is not None else comfort.cooling_c
    return SetPointSeries(
        np.where(lowered, heat_c, comfort.heating_c).astype(np.float64),
        np.where(lowered, cool_c, comfort.cooling_c).astype(np.float64),
    )


def steps_an_hour(step_s: float) -> int:
    """Steps in an hour; `ValueError` unless they are a whole number."""
    count = round(3600.0 / step_s) if step_s > 0.0 else 0
    if count < 1 or abs(count * step_s - 3600.0) > 1e-6:
        raise ValueError(f"a time step of {step_s:g} s: take a whole part of an hour, such as 900 s or 60 s")
    return count
