"""How sure a total is: low and high of a sum of uncertain prices, by joint sampling and not by adding extremes.

Every price is low / mid / high. The model, all of it our judgement:

- *Within a family* (all wall heads, all line work, ...) prices move together: one supplier, one crew, one mistake.
- *Between families* they are tied by a common factor with correlation 0.5: wage level, overhead and how dear the
  company is in general touch every line; the rest is the family's own.
- *Mid is the median*: a price is as likely above as below its mid. Each side is a triangle that is highest at mid and
  reaches zero at low or high, so that no draw leaves the range of its row.
- The total's low and high are the 10th and 90th percentile of the sampled totals: about eight jobs of ten.

The draws are made once from a fixed seed and in the fixed order of families, so the same quantities always give the
same figures, and two layouts that share lines share their luck: their difference is not blurred.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from compare.percentile import percentile
from compare.prices.items import families
from compare.prices.normal import normal_cdf

COMMON_CORRELATION_FRAC = 0.5
DRAWS = 8192
SEED = 20261125
LOW_PERCENTILE = 10.0
HIGH_PERCENTILE = 90.0


@dataclass(frozen=True, slots=True)
class Spread:
    """Low, mid and high of one family's share of a total, in dollars."""

    low_usd: float
    mid_usd: float
    high_usd: float


@lru_cache(maxsize=1)
def _steps() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Share of the way from mid down to low, and from mid up to high; each draws x families, one of the two is 0."""
    rng = np.random.Generator(np.random.PCG64(SEED))
    common = rng.standard_normal((DRAWS, 1))
    own = rng.standard_normal((DRAWS, len(families())))
    quantile = normal_cdf(np.sqrt(COMMON_CORRELATION_FRAC) * common + np.sqrt(1.0 - COMMON_CORRELATION_FRAC) * own)
    down = 1.0 - np.sqrt(np.minimum(2.0 * quantile, 1.0))
    up = 1.0 - np.sqrt(np.minimum(2.0 * (1.0 - quantile), 1.0))
    return down, up


def sampled_totals_usd(by_family: Mapping[str, Spread]) -> NDArray[np.float64]:
    """Return one total per draw, dollars; draw k is the same luck in every call.

    Raises
    ------
    ValueError
        A family that is not in the table of items.
    """
    known = families()
    unknown = sorted(set(by_family) - set(known))
    if unknown:
        raise ValueError(f"family '{unknown[0]}' is not known; one of: {', '.join(known)}")
    down, up = _steps()
    none = Spread(0.0, 0.0, 0.0)
    rows = [by_family.get(family, none) for family in known]
    fall = np.array([row.mid_usd - row.low_usd for row in rows])
    rise = np.array([row.high_usd - row.mid_usd for row in rows])
    total: NDArray[np.float64] = sum(row.mid_usd for row in rows) - down @ fall + up @ rise
    return total


def range_usd(by_family: Mapping[str, Spread]) -> tuple[float, float]:
    """Return the low and high end of the total, dollars: its 10th and 90th percentile."""
    totals_usd = sampled_totals_usd(by_family)
    return percentile(totals_usd, LOW_PERCENTILE), percentile(totals_usd, HIGH_PERCENTILE)
