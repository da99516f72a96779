"""Our percentile against numpy's, to the last digit."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.percentile import percentile, percentiles

FINITE = st.floats(-1e9, 1e9, allow_nan=False)


@given(st.lists(FINITE, min_size=1, max_size=60), st.floats(0.0, 100.0))
def test_equal_to_numpy(values: list[float], percent: float) -> None:
    series = np.array(values)
    assert percentile(series, percent) == float(np.percentile(series, percent))


@pytest.mark.parametrize("count", [1, 2, 3, 30, 365, 1000, 8192])
@pytest.mark.parametrize("percent", [0.0, 5.0, 10.0, 50.0, 90.0, 95.0, 100.0])
def test_lengths_that_scores_use(count: int, percent: float) -> None:
    series = np.random.default_rng(7).normal(40.0, 6.0, count)
    kept = series.copy()
    assert percentile(series, percent) == float(np.percentile(series, percent))
    assert np.array_equal(series, kept)


@given(st.integers(1, 40), st.integers(0, 5), st.floats(0.0, 100.0), st.randoms(use_true_random=False))
def test_columns_are_equal_to_numpy(count: int, columns: int, percent: float, random: Random) -> None:
    table = np.array([[random.uniform(-40.0, 40.0) for _ in range(columns)] for _ in range(count)])
    table = table.reshape(count, columns)
    assert (percentiles(table, percent) == np.percentile(table, percent, axis=0)).all()
