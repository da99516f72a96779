"""The sampling against closed forms: percentiles of one family, rank correlation of two."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from compare.prices.items import families
from compare.prices.spread import COMMON_CORRELATION_FRAC, Spread, range_usd, sampled_totals_usd

ONE = Spread(100.0, 200.0, 500.0)


@pytest.mark.parametrize("family", families())
def test_one_family_has_the_percentiles_of_two_half_triangles(family):
    # closed form of the half triangle: the 10th percentile stands sqrt(0.2) of the way from low to mid
    low_usd, high_usd = range_usd({family: ONE})
    assert low_usd == pytest.approx(200 - 100 * (1 - math.sqrt(0.2)), abs=100 * 0.03)
    assert high_usd == pytest.approx(200 + 300 * (1 - math.sqrt(0.2)), abs=300 * 0.03)


def test_mid_is_the_median_and_the_halves_are_triangles_of_scipy():
    # Kolmogorov-Smirnov distance against scipy.stats.triang; 8192 draws: 1 % critical value of a half is about 0.025
    totals = sampled_totals_usd({"lines": ONE})
    below, above = totals[totals < 200.0], totals[totals >= 200.0]
    assert len(below) == pytest.approx(len(above), rel=0.05)
    assert stats.kstest(below, stats.triang(1.0, 100.0, 100.0).cdf).statistic < 0.03
    assert stats.kstest(above, stats.triang(0.0, 200.0, 300.0).cdf).statistic < 0.03


def test_two_families_are_tied_as_the_normal_copula_says():
    # Pearson 1907: Spearman's rank correlation of a normal copula is 6/pi asin(rho/2)
    first, second = (sampled_totals_usd({name: ONE}) for name in ("lines", "ducts"))
    expected = 6 / math.pi * math.asin(COMMON_CORRELATION_FRAC / 2)
    assert stats.spearmanr(first, second).statistic == pytest.approx(expected, abs=0.03)


def test_spreading_the_money_over_families_narrows_the_range():
    part = Spread(ONE.low_usd / 4, ONE.mid_usd / 4, ONE.high_usd / 4)
    together = range_usd({"lines": ONE})
    apart = range_usd(dict.fromkeys(families()[:4], part))
    assert together[0] < apart[0] < 200 < apart[1] < together[1]


def test_draws_are_fixed_and_stay_in_the_range_of_their_rows():
    totals = sampled_totals_usd({"lines": ONE, "ducts": ONE})
    assert np.array_equal(totals, sampled_totals_usd({"ducts": ONE, "lines": ONE}))
    assert totals.min() >= 200.0
    assert totals.max() <= 1000.0


def test_unknown_family_is_refused():
    with pytest.raises(ValueError, match="family 'pipes' is not known; one of: wall heads"):
        sampled_totals_usd({"pipes": ONE})
