"""The heat loss of a house from its fuel or power bills: a fit of use against outdoor temperature.

Use per day = base + slope x how far the period lies below a balance point (+ a like term above one for cooling that is
on the same meter). Balance point and slope are found together by least squares, periods weighed by their days. With
daily temperatures the drive is degree-days (the variable-base degree-day method). With one mean temperature per bill it
is the expected degree-days of days that scatter normally round the mean (Schoenau and Kehrig 1990, from memory), or
without a scatter the mean's own distance (the three-parameter change-point model; both: ASHRAE Guideline 14, from
memory). The latter reads mild climates low: mild months hold cold days.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import erf, exp, pi, sqrt

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

LEAST_BILLS = 12
LEAST_DAYS = 330
LEAST_SPREAD_K = 10.0
"""Coldest and warmest period must differ by this much (our judgement)."""
LEAST_COLD = 4
"""Periods below the balance point that a slope needs."""
BALANCES_C = np.arange(8.0, 22.01, 0.1)
"""Balance points that are tried for heating."""
COOLING_BALANCES_C = np.arange(16.0, 26.01, 0.5)
LEAST_DRIVE_K = 0.5
"""From this mean distance to the balance point on a period counts as cold or hot."""
CONFIDENCE_FRAC = 0.95


class BillsError(ValueError):
    """Bills that cannot be used; the text says what is missing."""


@dataclass(frozen=True, slots=True, eq=False)
class BillPeriod:
    """Use between two meter readings."""

    days: float
    use_kwh: float
    """Energy of the fuel or power, before the heater's efficiency."""
    mean_c: float
    """Mean outdoor temperature of the period."""
    daily_c: FloatArray | None = None
    """Daily means where they are known."""
    daily_spread_k: float = 0.0
    """Standard deviation of daily means round the period's mean; used where the days are not known."""


@dataclass(frozen=True, slots=True)
class BillFit:
    """The line through the bills; the slope with the interval that holds it with 95 % confidence."""

    base_kwh_d: float
    slope_kwh_d_k: float
    slope_low_kwh_d_k: float
    slope_high_kwh_d_k: float
    balance_c: float
    cooling_kwh_d_k: float
    r2_frac: float
    scatter_frac: float
    """Coefficient of variation of the root mean square error, CV(RMSE)."""
    periods: int
    by_degree_days: bool

    def loss_w_k(self, efficiency_frac: float) -> float:
        """Heat loss of the house per kelvin, with the heater's seasonal efficiency [W/K]."""
        return w_k_of(self.slope_kwh_d_k, efficiency_frac)


@dataclass(frozen=True, slots=True, eq=False)
class _Trial:
    """Least squares at one pair of balance points."""

    squares: float
    coefficients: FloatArray
    slope_spread: float
    """Element of the inverse normal matrix that belongs to the heating slope."""
    balance_c: float
    cooling_balance_c: float


@dataclass(frozen=True, slots=True, eq=False)
class _Grid:
    """Balance points to try; no cooling where there is none on the meter."""

    heating_c: FloatArray
    cooling_c: FloatArray | None

    def near(self, trial: _Trial) -> _Grid:
        """A small grid round a solution."""
        heating_c = trial.balance_c + np.arange(-2.0, 2.01, 0.2)
        cooling_c = trial.cooling_balance_c + np.arange(-1.0, 1.01, 0.5)
        return _Grid(heating_c, None if self.cooling_c is None else cooling_c)


def w_k_of(slope_kwh_d_k: float, efficiency_frac: float) -> float:
    """A slope of use per day and kelvin as a heat loss [W/K]."""
    return slope_kwh_d_k * efficiency_frac * 1000.0 / 24.0


def fit_bills(periods: Sequence[BillPeriod], *, cooling: bool = False) -> BillFit:
    """Fit use against outdoor temperature.

    Parameters
    ----------
    periods
        At least 12 bills over at least 330 days.
    cooling
        Whether the same meter also runs summer cooling.

    Raises
    ------
    BillsError
        When the bills are too few, too short, too alike, or rise with warmth.
    """
    _check(periods)
    grid = _Grid(BALANCES_C, COOLING_BALANCES_C if cooling else None)
    usable = _trials(periods, grid)
    best = _best(usable)
    freedom = len(periods) - (5 if cooling else 3)
    reach = _jackknife(periods, grid.near(best), freedom)
    low, high = _interval(usable, best, freedom)
    slope = float(best.coefficients[1])
    use, weights = _per_day(periods)
    mean = float(np.average(use, weights=weights))
    whole = float(np.sum(weights * (use - mean) ** 2))
    scatter = float(np.sqrt(best.squares / float(weights.sum()) * len(periods) / freedom))
    return BillFit(
        base_kwh_d=float(best.coefficients[0]),
        slope_kwh_d_k=slope,
        slope_low_kwh_d_k=max(min(low, slope - reach), 0.0),
        slope_high_kwh_d_k=max(high, slope + reach),
        balance_c=best.balance_c,
        cooling_kwh_d_k=float(best.coefficients[2]) if cooling else 0.0,
        r2_frac=1.0 - best.squares / whole if whole > 0.0 else 0.0,
        scatter_frac=scatter / mean if mean > 0.0 else float("nan"),
        periods=len(periods),
        by_degree_days=all(period.daily_c is not None for period in periods),
    )


def heating_drive_k(period: BillPeriod, balance_c: float) -> float:
    """Mean kelvins below a balance point: of the days where they are known, else as expected of the period's mean."""
    if period.daily_c is not None:
        return float(np.maximum(balance_c - period.daily_c, 0.0).mean())
    return _expected_k(balance_c - period.mean_c, period.daily_spread_k)


def cooling_drive_k(period: BillPeriod, balance_c: float) -> float:
    """Mean kelvins above a balance point."""
    if period.daily_c is not None:
        return float(np.maximum(period.daily_c - balance_c, 0.0).mean())
    return _expected_k(period.mean_c - balance_c, period.daily_spread_k)


def _expected_k(distance_k: float, spread_k: float) -> float:
    """Mean of the positive part of a normal quantity with a given mean and standard deviation."""
    if spread_k <= 0.0:
        return max(distance_k, 0.0)
    z = distance_k / spread_k
    return spread_k * (z * 0.5 * (1.0 + erf(z / sqrt(2.0))) + exp(-0.5 * z * z) / sqrt(2.0 * pi))


def _check(periods: Sequence[BillPeriod]) -> None:
    days = sum(period.days for period in periods)
    if len(periods) < LEAST_BILLS or days < LEAST_DAYS:
        raise BillsError(
            f"{len(periods)} bills over {days:.0f} days: at least {LEAST_BILLS} bills over {LEAST_DAYS} days are needed"
        )
    means_c = [period.mean_c for period in periods]
    if max(means_c) - min(means_c) < LEAST_SPREAD_K:
        raise BillsError("the billing periods are too alike in temperature; bills of a winter and a summer are needed")


def _per_day(periods: Sequence[BillPeriod]) -> tuple[FloatArray, FloatArray]:
    days = np.array([period.days for period in periods])
    return np.array([period.use_kwh for period in periods]) / days, days / days.mean()


def _trials(periods: Sequence[BillPeriod], grid: _Grid) -> list[_Trial]:
    """Least squares at every pair of balance points at which use rises in the cold."""
    use, weights = _per_day(periods)
    heats = {float(b): np.array([heating_drive_k(p, float(b)) for p in periods]) for b in grid.heating_c}
    cools: dict[float, FloatArray | None] = {0.0: None}
    if grid.cooling_c is not None:
        cools = {float(b): np.array([cooling_drive_k(p, float(b)) for p in periods]) for b in grid.cooling_c}
    found = []
    for balance_c, heat in heats.items():
        if np.count_nonzero(heat > LEAST_DRIVE_K) < LEAST_COLD:
            continue
        for cooling_c, cool in cools.items():
            if cool is not None and (cooling_c < balance_c or np.count_nonzero(cool > LEAST_DRIVE_K) < 2):
                continue
            columns = [np.ones_like(use), heat, *([cool] if cool is not None else [])]
            found.append(_least_squares(np.column_stack(columns), use, weights, (balance_c, cooling_c)))
    if not found:
        raise BillsError("too few cold periods to read a slope from; bills of a whole winter are needed")
    return [trial for trial in found if np.isfinite(trial.squares)]


def _best(trials: Sequence[_Trial]) -> _Trial:
    rising = [trial for trial in trials if trial.coefficients[1] > 0.0]
    if not rising:
        raise BillsError("use does not rise in the cold: these bills hold no heating that could be read from them")
    return min(rising, key=lambda trial: trial.squares)


def _least_squares(design: FloatArray, use: FloatArray, weights: FloatArray, balances_c: tuple[float, float]) -> _Trial:
    normal = design.T @ (weights[:, None] * design)
    if np.linalg.cond(normal) > 1e12:
        return _Trial(float("inf"), np.zeros(design.shape[1]), 0.0, *balances_c)
    inverse = np.linalg.inv(normal)
    coefficients = inverse @ (design.T @ (weights * use))
    off = use - design @ coefficients
    return _Trial(float(np.sum(weights * off**2)), coefficients, float(inverse[1, 1]), *balances_c)


def _jackknife(periods: Sequence[BillPeriod], grid: _Grid, freedom: int) -> float:
    """Half width of the slope's interval by leaving out one bill at a time; holds where cold bills scatter more."""
    from scipy.stats import t as t_distribution

    slopes = []
    for left_out in range(len(periods)):
        rest = [period for index, period in enumerate(periods) if index != left_out]
        try:
            slopes.append(float(_best(_trials(rest, grid)).coefficients[1]))
        except BillsError:
            return float("inf")
    count = len(slopes)
    spread = float(np.sqrt((count - 1) / count * np.sum((np.array(slopes) - np.mean(slopes)) ** 2)))
    return float(t_distribution.ppf(0.5 + 0.5 * CONFIDENCE_FRAC, freedom)) * spread


def _interval(trials: Sequence[_Trial], best: _Trial, freedom: int) -> tuple[float, float]:
    """Slopes that no F test rejects, every balance point allowed (profile of the sum of squares)."""
    from scipy.stats import f as f_distribution

    limit = best.squares * (1.0 + float(f_distribution.ppf(CONFIDENCE_FRAC, 1, freedom)) / freedom)
    low = high = float(best.coefficients[1])
    for trial in trials:
        if trial.squares <= limit and trial.coefficients[1] > 0.0:
            reach = float(np.sqrt((limit - trial.squares) * trial.slope_spread))
            low = min(low, float(trial.coefficients[1]) - reach)
            high = max(high, float(trial.coefficients[1]) + reach)
    return low, high


def overlaps(spans: Sequence[tuple[float, float]]) -> bool:
    """Whether any two spans of days overlap."""
    ordered = sorted(spans)
    return any(after[0] < before[1] for before, after in pairwise(ordered))
