"""Readings on paper: design value and accepted range of each, so rounded that a printed bound is itself accepted."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from compare.jobs.expected import Expected
from compare.kinds import KINDS
from compare.units import Kind, System, to_si
from proposal.sheets.trade import Trade
from proposal.words.figures import NBSP

OUNCE_KG = 0.45359237 / 16.0
HALF_INCH_M = 0.0127
ONE_DECIMAL = ("sound", "heater")
YES_NO = ": 1 for yes"
"""From here on the words of a check tell how to type it; on paper it is ticked."""
_NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Scale:
    """How a kind of reading is written, and the smallest difference that this shows, SI."""

    show: Callable[[float], str]
    step: float

    def inward(self, value: float, *, up: bool) -> str:
        """A bound rounded to the side on which readings are accepted."""
        steps = value / self.step
        whole = math.ceil(steps - _NEAR) if up else math.floor(steps + _NEAR)
        return self.show(whole * self.step)


def _plain_scale(decimals: int) -> Scale:
    return Scale(lambda value: f"{value:,.{decimals}f}", 10.0**-decimals)


def scale_of(trade: Trade, reading: Expected) -> Scale:
    """How a reading is written in the units of the house; rooms' pressures in pascals, as their gauges read."""
    us, kind = trade.units is System.US, reading.rule.kind
    if reading.check == "room_pressure":
        return Scale(lambda value: f"{value:.1f}{NBSP}Pa", 0.1)
    if kind is Kind.LENGTH:
        return Scale(trade.length, HALF_INCH_M if us else 0.01)
    if kind is Kind.MASS:
        return Scale(trade.mass, 0.1 * OUNCE_KG if us else 0.01)
    if kind is Kind.PRESSURE:
        return Scale(trade.pressure, _step(kind, trade.units, 3 if us else 1))
    if kind is Kind.FLOW:
        return Scale(trade.flow, _step(kind, trade.units, KINDS[kind].bare(trade.units).decimals))
    return _plain_scale(1 if reading.check.startswith(ONE_DECIMAL) else 0)


def _step(kind: Kind, units: System, decimals: int) -> float:
    return to_si(10.0**-decimals, kind, units) - to_si(0.0, kind, units)


def designed(trade: Trade, reading: Expected) -> str:
    """The design value; a dash for what is only seen. Where it is the limit itself, it is rounded as that is."""
    if reading.check == "drain":
        return "–"
    scale = scale_of(trade, reading)
    if reading.most is not None and reading.design >= reading.most:
        return scale.inward(reading.design, up=False)
    return scale.show(reading.design)


def _without_unit(low: str, high: str) -> str:
    """The lower end of a range, its unit left to the upper one where that is a single one, and the same."""
    number, space, unit = low.partition(NBSP)
    return number if space and high.partition(NBSP)[2] == unit and NBSP not in unit else low


def accepted(trade: Trade, reading: Expected) -> str:
    """The range in which a reading is accepted, in words."""
    if reading.check == "drain":
        return trade.say("yes")
    scale = scale_of(trade, reading)
    low = None if reading.least is None else scale.inward(max(reading.least, 0.0), up=True)
    high = None if reading.most is None else scale.inward(reading.most, up=False)
    if low is not None and high is not None:
        return trade.say("between", low=_without_unit(low, high), high=high)
    return trade.say("least", low=low) if low is not None else trade.say("most", high=high or "")
