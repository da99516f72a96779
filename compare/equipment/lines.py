"""Refrigerant pipe runs against the lengths and lifts that an outdoor unit allows; the unit's own manual decides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from compare.equipment.unit import OutdoorUnit


@dataclass(frozen=True, slots=True)
class PipeRun:
    """Pipe from an outdoor unit to one indoor unit: developed length and height difference (either sign)."""

    indoor: str
    length_m: float
    rise_m: float


def line_problems(outdoor: OutdoorUnit, runs: Sequence[PipeRun]) -> tuple[str, ...]:
    """What is too long or too high, one sentence each; empty when all runs fit.

    Raises
    ------
    ValueError
        When a length is negative or a number is not finite.
    """
    for run in runs:
        if not (math.isfinite(run.length_m) and math.isfinite(run.rise_m) and run.length_m >= 0.0):
            raise ValueError(f"pipe to {run.indoor}: length_m must be at least 0 and both numbers finite")
    found = []
    for run in runs:
        if run.length_m > outdoor.line_branch_m:
            found.append(
                f"pipe to {run.indoor} is {run.length_m:.1f} m, {outdoor.label} allows {outdoor.line_branch_m:.1f} m"
            )
        if abs(run.rise_m) > outdoor.lift_m:
            found.append(f"pipe to {run.indoor} rises {abs(run.rise_m):.1f} m, {outdoor.lift_m:.1f} m is allowed")
    total_m = sum(run.length_m for run in runs)
    if len(runs) > 1 and total_m > outdoor.line_total_m:
        found.append(f"all pipes are {total_m:.1f} m, {outdoor.label} allows {outdoor.line_total_m:.1f} m together")
    return tuple(found)
