"""Capacity and power of a unit between its least and most output, at any outdoor temperature.

Outputs are linear in outdoor temperature between the catalogue's points, power likewise. Between 17 and 45 degF the
maximum follows the frost line of the public rating procedure; below -5 degF the slope from 5 to -5 degF is held
down to the cut-off, below which nothing is delivered. In output, COP is piecewise linear through the least, the
middle and the most output.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from threading import Lock
from typing import Final

import numpy as np
import numpy.typing as npt

from compare.equipment.fan import FanWatts
from compare.equipment.output import COOL_C, HEAT_C, Four, RatedOutput
from compare.equipment.rules import rule
from compare.equipment.table import to_c

FloatArray = npt.NDArray[np.float64]

_C62: Final = to_c(62.0)
_C45: Final = to_c(45.0)
_C35: Final = to_c(35.0)
_C17: Final = to_c(17.0)
_C47: Final = to_c(47.0)
_C67: Final = to_c(67.0)
_C82: Final = to_c(82.0)
_COOL_MOST_C: Final = to_c(125.0)
"""Outdoor temperature above which cooling capacity is not extrapolated further [degC]; our judgement."""


_WORTH_KEEPING: Final = 1000
"""Series from this length on are kept: a year is asked for by every option that holds the unit."""
_MOST_KEPT: Final = 64
_FEW: Final = 8


class Mode(StrEnum):
    """What the outdoor unit does; one mode at a time."""

    HEAT = "heat"
    COOL = "cool"


@dataclass(frozen=True, slots=True, eq=False)
class Performance:
    """What a unit can deliver in each hour of one mode, net of its fan, and the power that it takes.

    All arrays have the shape of the outdoor temperatures. Where the compressor is cut off all outputs are 0.
    """

    mode: Mode
    min_w: FloatArray
    mid_w: FloatArray
    max_w: FloatArray
    min_power_w: FloatArray
    mid_power_w: FloatArray
    max_power_w: FloatArray

    def at(self, hours: npt.NDArray[np.intp]) -> Performance:
        """The same in some hours only."""
        parts = (self.min_w, self.mid_w, self.max_w, self.min_power_w, self.mid_power_w, self.max_power_w)
        return Performance(self.mode, *(part[hours] for part in parts))


_LATELY: dict[tuple[RatedOutput, Mode, int], tuple[FloatArray, Performance]] = {}
"""Results by unit and series (told apart by identity, the series is held); both are never changed in place."""
_TURN = Lock()


def performance(output: RatedOutput, outdoor_c: npt.ArrayLike, mode: Mode) -> Performance:
    """Net output and power at least, middle and most output, with the rated fan.

    Parameters
    ----------
    output
        The catalogue's points.
    outdoor_c
        Outdoor dry bulb [degC], any shape.
    mode
        Heating at 70 degF indoors, or cooling at 80/67 degF entering air.
    """
    outdoor = np.asarray(outdoor_c, dtype=np.float64)
    if outdoor.size <= _FEW:
        return _at_few(output, mode, outdoor.shape, tuple(outdoor.ravel().tolist()))
    key = (output, mode, id(outdoor))
    known = _LATELY.get(key)
    if known is None or known[0] is not outdoor:
        known = (outdoor, _worked_out(output, outdoor, mode))
        if outdoor.size >= _WORTH_KEEPING:
            with _TURN:
                if len(_LATELY) >= _MOST_KEPT:
                    _LATELY.pop(next(iter(_LATELY)))
                _LATELY[key] = known
    return known[1]


@lru_cache(maxsize=1024)
def _at_few(output: RatedOutput, mode: Mode, shape: tuple[int, ...], outdoor_c: tuple[float, ...]) -> Performance:
    """Design conditions and the like: asked for again by every layout that holds the unit."""
    return _worked_out(output, np.array(outdoor_c).reshape(shape), mode)


def _worked_out(output: RatedOutput, outdoor_c: FloatArray, mode: Mode) -> Performance:
    return _heating(output, outdoor_c) if mode is Mode.HEAT else _cooling(output, outdoor_c)


def _heating(output: RatedOutput, outdoor_c: FloatArray) -> Performance:
    heat = output.heat
    max_w = _frosted(_line(heat.max_w, outdoor_c), heat.max_w, outdoor_c, rule("frost", "capacity_frac"))
    max_power = _powers(heat.max_w, heat.max_cop)
    max_power_w = _frosted(_line(max_power, outdoor_c), max_power, outdoor_c, rule("frost", "power_frac"))
    min_power = _powers(heat.min_w, heat.min_cop)
    warm_min = (heat.min_w[0] * rule("rating_conditions", "min_62_capacity_frac"), min_power[0])
    min_w = _line(heat.min_w, outdoor_c, warm_min[0])
    min_power_w = _line(min_power, outdoor_c, warm_min[1])
    middle = _Middle.of(heat.min_w[0], heat.rated_w, heat.max_w[0], (heat.min_cop[0], heat.rated_cop, heat.max_cop[0]))
    on = outdoor_c >= output.cutoff_c - 1e-9
    return _assemble(Mode.HEAT, (min_w, min_power_w), (max_w, max_power_w), middle, on)


def _cooling(output: RatedOutput, outdoor_c: FloatArray) -> Performance:
    cool = output.cool
    t = np.clip(outdoor_c, _C67, _COOL_MOST_C)
    power_95 = cool.max_w / cool.max_cop
    max_w = cool.max_w * _two_points(t, rule("rating_conditions", "rated_82_capacity_frac"))
    max_power_w = power_95 * _two_points(t, rule("rating_conditions", "rated_82_power_frac"))
    min_82_w = cool.min_w * rule("rating_conditions", "min_82_capacity_frac")
    min_82_power_w = min_82_w / (cool.min_cop * rule("rating_conditions", "min_82_cop_frac"))
    points = (
        (min_82_w * rule("rating_conditions", "min_67_capacity_frac"), min_82_w, cool.min_w),
        (min_82_power_w * rule("rating_conditions", "min_67_power_frac"), min_82_power_w, cool.min_w / cool.min_cop),
    )
    min_w, min_power_w = (_extended(t, np.array([_C67, _C82, COOL_C]), np.array(values)) for values in points)
    middle = _Middle.of(cool.min_w, cool.rated_w, cool.max_w, (cool.min_cop, cool.rated_cop, cool.max_cop))
    return _assemble(Mode.COOL, (min_w, min_power_w), (max_w, max_power_w), middle, np.ones(t.shape, dtype=np.bool_))


@dataclass(frozen=True, slots=True)
class _Middle:
    """Where the rated point lies between least and most: as a share of output and as a share of COP."""

    output_frac: float
    cop_frac: float

    @classmethod
    def of(cls, min_w: float, rated_w: float, max_w: float, cop: tuple[float, float, float]) -> _Middle:
        span = cop[0] - cop[2]
        return cls((rated_w - min_w) / (max_w - min_w), (cop[1] - cop[2]) / span if span > 0.0 else 0.5)


def _assemble(
    mode: Mode,
    least: tuple[FloatArray, FloatArray],
    most: tuple[FloatArray, FloatArray],
    middle: _Middle,
    on: npt.NDArray[np.bool_],
) -> Performance:
    max_w, max_power_w = np.maximum(most[0], 0.0), np.maximum(most[1], 1.0)
    min_cop = np.maximum(least[0], 1e-9) / np.maximum(least[1], 1e-9)
    min_w = np.minimum(np.maximum(least[0], 0.0), max_w)
    max_cop = max_w / max_power_w
    mid_w = min_w + middle.output_frac * (max_w - min_w)
    mid_cop = max_cop + middle.cop_frac * (min_cop - max_cop)
    mid_power_w = mid_w / np.maximum(mid_cop, 1e-9)
    parts = (min_w, mid_w, max_w, min_w / min_cop, mid_power_w, max_power_w)
    return Performance(mode, *(np.where(on, part, 0.0) for part in parts))


@lru_cache(maxsize=32)
def with_fan(perf: Performance, rated: FanWatts, real: FanWatts) -> Performance:
    """The same hours with the real fan in place of the rated one; kept for the zones that many layouts hold.

    Catalogue outputs and COP are net of the rated fan. Cooling: gross = net + rated fan; heating: gross = net - rated
    fan; compressor and outdoor power = net power - rated fan. Then the real fan goes in the same way.
    """
    sign = 1.0 if perf.mode is Mode.HEAT else -1.0
    low, high = real.quiet_w - rated.quiet_w, real.high_w - rated.high_w
    return Performance(
        perf.mode,
        *(np.maximum(part + sign * watts * (part > 0.0), 0.0) for part, watts in
          ((perf.min_w, low), (perf.mid_w, high), (perf.max_w, high))),
        *(part + watts * (part > 0.0) for part, watts in
          ((perf.min_power_w, low), (perf.mid_power_w, high), (perf.max_power_w, high))),
    )  # fmt: skip


def frostless(perf: Performance, output: RatedOutput, outdoor_c: npt.ArrayLike) -> Performance:
    """Heating hours as they would be without frost: the most output on its straight line from 17 to 47 degF.

    Parameters
    ----------
    perf
        Heating hours of the unit, with whatever fan.
    output, outdoor_c
        Its catalogue points and the outdoor temperatures [degC] of `perf`.
    """
    heat = output.heat
    outdoor = np.asarray(outdoor_c, dtype=np.float64)
    power = _powers(heat.max_w, heat.max_cop)
    lines = [(heat.max_w, rule("frost", "capacity_frac")), (power, rule("frost", "power_frac"))]
    more = [_line(values, outdoor) - _frosted(_line(values, outdoor), values, outdoor, frac) for values, frac in lines]
    on = perf.max_w > 0.0
    max_w, max_power_w = (np.where(on, part, 0.0) for part in (perf.max_w + more[0], perf.max_power_w + more[1]))
    middle = _Middle.of(heat.min_w[0], heat.rated_w, heat.max_w[0], (heat.min_cop[0], heat.rated_cop, heat.max_cop[0]))
    return _assemble(Mode.HEAT, (perf.min_w, perf.min_power_w), (max_w, max_power_w), middle, on)


def running_power_w(perf: Performance, load_w: npt.ArrayLike) -> FloatArray:
    """Power [W] while running at an output, without cycling loss and without standby.

    The output is held between least and most; COP is piecewise linear in output from least over middle to most.
    """
    load = np.clip(np.asarray(load_w, dtype=np.float64), perf.min_w, perf.max_w)
    cops = (
        _ratio(perf.min_w, perf.min_power_w),
        _ratio(perf.mid_w, perf.mid_power_w),
        _ratio(perf.max_w, perf.max_power_w),
    )
    low = _ratio(load - perf.min_w, perf.mid_w - perf.min_w)
    high = _ratio(load - perf.mid_w, perf.max_w - perf.mid_w)
    below = load <= perf.mid_w
    cop = np.where(below, cops[0] + low * (cops[1] - cops[0]), cops[1] + high * (cops[2] - cops[1]))
    return _ratio(load, cop)


def _ratio(top: FloatArray, bottom: FloatArray) -> FloatArray:
    """Quotient, 0 where the bottom is 0."""
    return np.divide(top, bottom, out=np.zeros(np.broadcast(top, bottom).shape), where=bottom > 0.0)


def _powers(outputs_w: Four, cops: Four) -> Four:
    one, two, three, four = (w / cop for w, cop in zip(outputs_w, cops, strict=True))
    return (one, two, three, four)


def _line(values: Four, outdoor_c: FloatArray, at_62: float | None = None) -> FloatArray:
    """Linear between the heating points and beyond the coldest; towards 62 degF through `at_62` or straight on."""
    warm = values[0] + (values[0] - values[1]) * (_C62 - _C47) / (_C47 - _C17) if at_62 is None else at_62
    points = np.array([*reversed(HEAT_C), _C62])
    return _extended(np.minimum(outdoor_c, _C62), points, np.array([*reversed(values), warm]))


def _frosted(straight: FloatArray, values: Four, outdoor_c: FloatArray, frac: float) -> FloatArray:
    """The frost line between 17 and 45 degF: through the 17 degF point and `frac` of the straight line at 35 degF."""
    at_17 = values[1]
    at_35 = frac * (at_17 + (values[0] - at_17) * (_C35 - _C17) / (_C47 - _C17))
    frost = at_17 + (at_35 - at_17) * (outdoor_c - _C17) / (_C35 - _C17)
    return np.where((outdoor_c > _C17) & (outdoor_c < _C45), frost, straight)


def _two_points(outdoor_c: FloatArray, frac_82: float) -> FloatArray:
    """Factor that is 1 at 95 degF and `frac_82` at 82 degF, on a straight line."""
    return 1.0 + (frac_82 - 1.0) * (COOL_C - outdoor_c) / (COOL_C - _C82)


def _extended(x: FloatArray, points: FloatArray, values: FloatArray) -> FloatArray:
    """Linear interpolation that goes straight on beyond both ends; `points` rise."""
    inside = np.interp(x, points, values)
    low = (values[1] - values[0]) / (points[1] - points[0])
    high = (values[-1] - values[-2]) / (points[-1] - points[-2])
    value: FloatArray = inside + low * np.minimum(x - points[0], 0.0) + high * np.maximum(x - points[-1], 0.0)
    return value
