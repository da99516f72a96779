"""The normal distribution function against scipy's `ndtr`, and against a table."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ndtr

from compare.prices.normal import MOST_SIGMA, normal_cdf


def test_equal_to_scipy_over_its_whole_range() -> None:
    sigmas = np.linspace(-MOST_SIGMA, MOST_SIGMA, 100_001)
    np.testing.assert_array_max_ulp(normal_cdf(sigmas), ndtr(sigmas), maxulp=2)


def test_table() -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, area under the normal curve: five decimals."""
    found = normal_cdf(np.array([[0.0, 0.5, 1.0], [1.5, 1.96, 3.0]])) - 0.5
    assert found == pytest.approx(np.array([[0.0, 0.19146, 0.34134], [0.43319, 0.47500, 0.49865]]), abs=5e-6)


@pytest.mark.parametrize("sigma", [np.nan, np.inf, -np.inf, 11.5])
def test_refuses_what_it_cannot_do(sigma: float) -> None:
    with pytest.raises(ValueError, match="sigmas"):
        normal_cdf(np.array([0.0, sigma]))
