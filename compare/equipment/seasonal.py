"""Seasonal ratings of a variable-speed unit by the bin method of the US test procedure, as a check of the catalogue.

Source: 10 CFR 430 subpart B appendix M1 and AHRI 210/240-2023: bins, load lines and defaults as quoted in public
texts; the equations from memory. The result describes no tested product and is never a rating.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
import numpy.typing as npt

from compare.equipment.columns import bundled
from compare.equipment.rules import rule
from compare.equipment.table import BTU_H_W, Column, read_table, to_c

FloatArray = npt.NDArray[np.float64]

BTU_PER_WH: Final = 1.0 / BTU_H_W
"""SEER2 and HSPF2 are in Btu per watt-hour."""
REGIONS: Final = ("I", "II", "III", "IV", "V", "VI")
_COOL_LOAD_FRAC: Final = 0.93
"""Cooling load factor V of variable-speed heat pumps (from memory)."""
_OVERSIZE: Final = 1.1


@dataclass(frozen=True, slots=True)
class RatingPoint:
    """Net capacity and power at one test point."""

    capacity_w: float
    power_w: float


@dataclass(frozen=True, slots=True)
class CoolingTests:
    """Cooling test points: full speed at 95 and 82 degF, minimum at 82 and 67, intermediate at 87."""

    full_95: RatingPoint
    full_82: RatingPoint
    middle_87: RatingPoint
    least_82: RatingPoint
    least_67: RatingPoint


@dataclass(frozen=True, slots=True)
class HeatingTests:
    """Heating test points by outdoor temperature [degF]; full speed at 5 and at 35 degF may be left out."""

    least_62: RatingPoint
    least_47: RatingPoint
    full_47: RatingPoint
    middle_35: RatingPoint
    full_17: RatingPoint
    full_5: RatingPoint | None = None
    full_35: RatingPoint | None = None


@dataclass(frozen=True, slots=True)
class Region:
    """A heating climate region of the procedure."""

    zero_load_c: float
    slope: float
    bins_c: tuple[float, ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Season:
    """Result of a season with its bins: load met and power by bin [W], resistance by bin [W]."""

    rating_btu_wh: float
    load_w: FloatArray
    least_w: FloatArray
    middle_w: FloatArray
    full_w: FloatArray
    power_w: FloatArray
    resistance_w: FloatArray
    shares: FloatArray

    @property
    def resistance_share_frac(self) -> float:
        """Share of resistance heat in all electricity."""
        total = float(self.shares @ (self.power_w + self.resistance_w))
        return float(self.shares @ self.resistance_w) / total


@dataclass(frozen=True, slots=True, eq=False)
class _Speeds:
    """Capacity and power lines over bins at least, intermediate and full speed."""

    least: tuple[FloatArray, FloatArray]
    middle: tuple[FloatArray, FloatArray]
    full: tuple[FloatArray, FloatArray]


@cache
def region(name: str, variable_speed: bool = True) -> Region:
    """One climate region.

    Raises
    ------
    ValueError
        When the name is not I to VI.
    """
    if name not in REGIONS:
        raise ValueError(f"region {name!r} is not one of {', '.join(REGIONS)}")
    columns = (
        Column("region", "text"), Column("zero_load", "temperature"), Column("slope", "ratio"),
        Column("slope_variable", "ratio"), Column("load_hours", "time"), Column("source", "text"),
    )  # fmt: skip
    rows = read_table(bundled("rating_regions.csv"), "rating_regions.csv", columns)
    row = next(row for row in rows if row.texts["region"] == name)
    bins, shares = _bins("rating_heating_bins.csv", REGIONS, name)
    slope = row.numbers["slope_variable" if variable_speed else "slope"]
    return Region(row.numbers["zero_load"], slope, bins, shares)


@cache
def _bins(file: str, names: tuple[str, ...], name: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    columns = (Column("bin", "temperature"), *(Column(n, "ratio", 0.0, 1.0) for n in names), Column("source", "text"))
    rows = read_table(bundled(file), file, columns)
    return tuple(row.numbers["bin"] for row in rows), tuple(row.numbers[name] for row in rows)


def cooling_season(tests: CoolingTests, degradation_frac: float = 0.25) -> Season:
    """SEER2 [Btu/Wh] of a variable-speed unit with its bins."""
    bin_c, share = _bins("rating_cooling_bins.csv", ("share",), "share")
    t, shares = np.array(bin_c), np.array(share)
    c82, c87 = to_c(82.0), to_c(87.0)
    least = _lines(t, (to_c(67.0), tests.least_67), (c82, tests.least_82))
    full = _lines(t, (c82, tests.full_82), (to_c(95.0), tests.full_95))
    slopes = (
        _slopes((to_c(67.0), tests.least_67), (c82, tests.least_82)),
        _slopes((c82, tests.full_82), (to_c(95.0), tests.full_95)),
    )
    at = (_lines(np.array([c87]), (to_c(67.0), tests.least_67), (c82, tests.least_82)),
          _lines(np.array([c87]), (c82, tests.full_82), (to_c(95.0), tests.full_95)))  # fmt: skip
    middle = _middle_lines(t, (c87, tests.middle_87), at, slopes)
    load = (t - to_c(65.0)) / (to_c(95.0) - to_c(65.0)) * tests.full_95.capacity_w / _OVERSIZE * _COOL_LOAD_FRAC
    met, power = _bin_power(load, _Speeds(least, middle, full), degradation_frac)
    rating = float(shares @ met) / float(shares @ power) * BTU_PER_WH
    return Season(rating, load, least[0], middle[0], full[0], power, np.zeros(t.shape), shares)


def heating_season(
    tests: HeatingTests, where: Region, cooling_95_w: float, degradation_frac: float = 0.25, defrost_credit: float = 1.0
) -> Season:
    """HSPF2 [Btu/Wh] of a variable-speed unit in a region, with its bins.

    Parameters
    ----------
    tests
        Heating test points.
    where
        Climate region.
    cooling_95_w
        Cooling capacity at 95 degF that scales the heating load line [W] (a share of it for oversizing).
    degradation_frac
        Cd of cycling below minimum.
    defrost_credit
        Demand-defrost credit, 1.00 to 1.03.
    """
    t, shares = np.array(where.bins_c), np.array(where.shares)
    zero = where.zero_load_c
    load = np.maximum((zero - t) / (zero - to_c(5.0)) * where.slope * cooling_95_w, 0.0)
    c17, c35, c47 = to_c(17.0), to_c(35.0), to_c(47.0)
    full_35 = tests.full_35 or default_full_35(tests.full_17, tests.full_47)
    full = _full_heating(t, tests, full_35)
    least = _lines(t, (c47, tests.least_47), (to_c(62.0), tests.least_62))
    at_35 = _lines(np.array([c35]), (c47, tests.least_47), (to_c(62.0), tests.least_62))
    slopes = (
        _slopes((c47, tests.least_47), (to_c(62.0), tests.least_62)),
        _slopes((c17, tests.full_17), (c35, full_35)),
    )
    ends = (at_35, (np.array([full_35.capacity_w]), np.array([full_35.power_w])))
    middle = _middle_lines(t, (c35, tests.middle_35), ends, slopes)
    met, power = _bin_power(load, _Speeds(least, middle, full), degradation_frac)
    resistance = load - met
    rating = float(shares @ load) / float(shares @ (power + resistance)) * defrost_credit * BTU_PER_WH
    return Season(rating, load, least[0], middle[0], full[0], power, resistance, shares)


def default_full_35(full_17: RatingPoint, full_47: RatingPoint) -> RatingPoint:
    """Full-speed point at 35 degF when it was not tested: 0.90 and 0.985 of the line from 17 to 47 degF (memory)."""
    capacity = full_17.capacity_w + 0.6 * (full_47.capacity_w - full_17.capacity_w)
    power = full_17.power_w + 0.6 * (full_47.power_w - full_17.power_w)
    return RatingPoint(rule("frost", "capacity_frac") * capacity, rule("frost", "power_frac") * power)


def defrost_credit_frac(between_h: float, longest_h: float) -> float:
    """Demand-defrost credit from the time between defrosts and the longest allowed one [h] (from memory)."""
    between, longest = max(between_h, 1.5), min(longest_h, 12.0)
    return 1.0 + 0.03 * (1.0 - (between - 1.5) / (longest - 1.5))


def _full_heating(t: FloatArray, tests: HeatingTests, full_35: RatingPoint) -> tuple[FloatArray, FloatArray]:
    c5, c17, c35, c45, c47 = (to_c(f) for f in (5.0, 17.0, 35.0, 45.0, 47.0))
    warm = _lines(t, (c17, tests.full_17), (c47, tests.full_47))
    frost = _lines(t, (c17, tests.full_17), (c35, full_35))
    cold = warm if tests.full_5 is None else _lines(t, (c5, tests.full_5), (c17, tests.full_17))
    in_frost, is_cold = (t > c17) & (t < c45), t <= c17
    capacity, power = (
        np.where(in_frost, frost[i], np.where(is_cold, cold[i], warm[i])) for i in (0, 1)
    )  # fmt: skip
    return capacity, power


Point = tuple[float, RatingPoint]


def _slopes(a: Point, b: Point) -> tuple[float, float]:
    step = b[0] - a[0]
    return (b[1].capacity_w - a[1].capacity_w) / step, (b[1].power_w - a[1].power_w) / step


def _lines(t: FloatArray, a: Point, b: Point) -> tuple[FloatArray, FloatArray]:
    slope = _slopes(a, b)
    return a[1].capacity_w + slope[0] * (t - a[0]), a[1].power_w + slope[1] * (t - a[0])


def _middle_lines(
    t: FloatArray,
    tested: Point,
    ends: tuple[tuple[FloatArray, FloatArray], tuple[FloatArray, FloatArray]],
    slopes: tuple[tuple[float, float], tuple[float, float]],
) -> tuple[FloatArray, FloatArray]:
    """Intermediate-speed lines: slope between those of least and full speed by where the tested point lies."""
    lines = []
    for i, value in enumerate((tested[1].capacity_w, tested[1].power_w)):
        low, high = float(ends[0][i][0]), float(ends[1][i][0])
        n = (value - low) / (high - low)
        slope = (1.0 - n) * slopes[0][i] + n * slopes[1][i]
        lines.append(value + slope * (t - tested[0]))
    return lines[0], lines[1]


def _bin_power(load: FloatArray, speeds: _Speeds, degradation_frac: float) -> tuple[FloatArray, FloatArray]:
    """Load met and power by bin: cycling below least, efficiency linear in load up to full, full beyond."""
    (q1, e1), (qv, ev), (q2, e2) = speeds.least, speeds.middle, speeds.full
    eff1, effv, eff2 = q1 / e1, qv / ev, q2 / e2
    below_v = load < qv
    low = eff1 + (effv - eff1) * (load - q1) / (qv - q1)
    high = effv + (eff2 - effv) * (load - qv) / (q2 - qv)
    between = load / np.where(below_v, low, high)
    x = np.clip(load / q1, 0.0, 1.0)
    cycling = x * e1 / (1.0 - degradation_frac * (1.0 - x))
    power = np.where(load <= q1, cycling, np.where(load >= q2, e2, between))
    return np.minimum(load, q2), power
