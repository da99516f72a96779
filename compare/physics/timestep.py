"""A network and its supplies in finer steps than an hour, and a fine run put back into hours.

Heat series and outdoor temperature run straight from mid-hour to mid-hour, with the mid-hour values so chosen that
every hour keeps its mean: energy is neither made nor lost. Doors, leakage levels, limits and set points hold through
their hour, because that is how they are known.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from compare.physics.network import Network, Supply, YearTrace
from compare.physics.set_points import SetPointSeries, steps_an_hour

FloatArray = npt.NDArray[np.float64]

QUARTER_S = 900.0
"""The step for recovery from a setback."""
MINUTE_S = 60.0
"""The step that others are measured against."""


def finer(network: Network, step_s: float) -> Network:
    """The same house in steps of `step_s`, a whole part of an hour; the network itself must be hourly."""
    parts = steps_an_hour(step_s)
    if network.step_s != 3600.0:
        raise ValueError(f"the network has steps of {network.step_s:g} s; only an hourly one can be made finer")
    if parts == 1:
        return network
    return replace(
        network,
        q20_w=np.ascontiguousarray(spread_hours(network.q20_w, parts)),
        outdoor_c=spread_hours(network.outdoor_c[:, None], parts)[:, 0],
        door_state=np.repeat(network.door_state, parts),
        leak_level=np.repeat(network.leak_level, parts),
        step_s=step_s,
    )


def finer_supplies(supplies: Sequence[Supply], step_s: float, points: SetPointSeries | None = None) -> list[Supply]:
    """Supplies in steps of `step_s`; with `points` all of them take these set points (of the fine series).

    Series that supplies share go on being shared, so that the year kernel keeps few profiles.
    """
    parts = steps_an_hour(step_s)
    made: dict[int, FloatArray] = {}

    def held(series: FloatArray) -> FloatArray:
        if id(series) not in made:
            made[id(series)] = np.repeat(series, parts)
        return made[id(series)]

    return [
        replace(
            supply,
            heat_limit_w=held(supply.heat_limit_w),
            cool_limit_w=held(supply.cool_limit_w),
            heat_set_c=points.heat_c if points is not None else held(supply.heat_set_c),
            cool_set_c=points.cool_c if points is not None else held(supply.cool_set_c),
        )
        for supply in supplies
    ]


def hourly(trace: YearTrace, step_s: float) -> YearTrace:
    """A fine run as an hourly one: temperatures at the end of each hour, supplies as the mean of the hour."""
    parts = steps_an_hour(step_s)
    steps, zones = trace.supply_w.shape
    supply = trace.supply_w.reshape(steps // parts, parts, zones).astype(np.float64).mean(axis=1)
    return YearTrace(np.ascontiguousarray(trace.room_c[parts - 1 :: parts]), supply.astype(np.float32))


def spread_hours(hourly_means: FloatArray, parts: int) -> FloatArray:
    """Hourly means (hours, columns) as straight lines between mid-hours, in `parts` steps an hour; means are kept.

    The mid-hour values solve a circulant system (each hour's mean is a weighted mean of its own and both neighbouring
    mid-hour values), by Fourier transform; the series is taken to repeat.
    """
    left, own, right = _weights(parts)
    hours = hourly_means.shape[0]
    kernel = np.zeros(hours)
    np.add.at(kernel, [0, 1 % hours, -1 % hours], [own.mean(), left.mean(), right.mean()])
    factors = np.fft.rfft(kernel)
    middle = np.fft.irfft(np.fft.rfft(hourly_means, axis=0) / factors[:, None], n=hours, axis=0)
    before, after = np.roll(middle, 1, axis=0), np.roll(middle, -1, axis=0)
    steps = (
        left[None, :, None] * before[:, None, :]
        + own[None, :, None] * middle[:, None, :]
        + right[None, :, None] * after[:, None, :]
    )
    result: FloatArray = steps.reshape(hours * parts, -1)
    return result


def _weights(parts: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Weights of the mid-hour values before, of and after an hour at the middles of its steps."""
    place = (np.arange(parts) + 0.5) / parts - 0.5
    left, right = np.maximum(-place, 0.0), np.maximum(place, 0.0)
    return left, 1.0 - left - right, right
