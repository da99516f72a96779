"""Vectors as a type of the compiler: the same numbers as numpy's arrays, element by element."""

from __future__ import annotations

import numba
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.physics.many import vector_calls as calls

AT, HALF = np.uint64(0), np.float32(0.5)
NUMBERS = st.lists(st.floats(-1e3, 1e3, width=32), min_size=16, max_size=16)


@numba.njit
def worked(a, b, out):
    """Every operator and call that goes by element, one row of 16 each."""
    x, y = calls.load16(a, AT), calls.load16(b, AT)
    calls.store(out, np.uint64(0), x + y)
    calls.store(out, np.uint64(16), x - HALF)
    calls.store(out, np.uint64(32), x * y)
    calls.store(out, np.uint64(48), HALF / calls.larger(y, np.float32(1.0)))
    calls.store(out, np.uint64(64), calls.larger(x, y))
    calls.store(out, np.uint64(80), calls.smaller(x, HALF))
    calls.store(out, np.uint64(96), calls.pick((x < y) & (y <= np.float32(9.0)), x, HALF))
    calls.store(out, np.uint64(112), calls.magnitude(x))
    calls.store(out, np.uint64(128), calls.whole(x))
    z = calls.spread16(HALF)
    z += x
    z *= y
    calls.store(out, np.uint64(144), z)
    return calls.total(x), calls.largest(x), calls.any_of(x > y), calls.any_of(x >= np.float32(1e9))


@settings(max_examples=60, deadline=None)
@given(NUMBERS, NUMBERS)
def test_elements_are_those_of_numpy(first: list[float], second: list[float]) -> None:
    a, b, out = np.array(first, np.float32), np.array(second, np.float32), np.zeros(160, np.float32)
    total, largest, some, none = worked(a, b, out)
    wanted = [
        a + b, a - HALF, a * b, HALF / np.maximum(b, 1), np.maximum(a, b), np.minimum(a, HALF),
        np.where((a < b) & (b <= 9), a, HALF), np.abs(a), np.trunc(a), (a + HALF) * b,
    ]  # fmt: skip
    for row, own in zip(out.reshape(10, 16), wanted, strict=True):
        assert np.allclose(row, own, rtol=1e-6, atol=1e-6)
    assert np.isclose(total, a.sum(dtype=np.float64), rtol=1e-4, atol=1e-2)
    assert (largest, some, none) == (a.max(), bool((a > b).any()), False)


@numba.njit
def turned(source, starts, target):
    calls.turn(source, starts, np.uint64(16), np.uint64(3), target, np.uint64(5), np.uint64(20))


def test_rows_become_columns() -> None:
    """Rows begin where they are said to; columns are written a step apart and nothing between them."""
    source = np.arange(16 * 40 + 3, dtype=np.float32)
    starts = np.concatenate([np.zeros(16), np.random.default_rng(1).permutation(16) * 40]).astype(np.uint32)
    target = np.full(5 + 16 * 20, -1.0, dtype=np.float32)
    turned(source, starts, target)
    columns = target[5:].reshape(16, 20)
    assert (columns[:, :16] == np.array([source[s + 3 : s + 19] for s in starts[16:]]).T).all()
    assert (columns[:, 16:] == -1.0).all()
    assert (target[:5] == -1.0).all()


@numba.njit
def kept_whole(a, out, four):
    calls.store_whole(out, AT, calls.load16(a, AT))
    both = calls.twice(a[0], a[1]) * calls.load4(four, AT)
    return calls.element(both, np.uint64(0)), calls.element(both, np.uint64(1)), calls.element(both, np.uint64(3))


def test_whole_numbers_and_pairs() -> None:
    a = np.array([2.0, -3.0, *range(14)], dtype=np.float32)
    out, four = np.zeros(16, np.int32), np.array([1.0, 10.0, 100.0, 1000.0], dtype=np.float32)
    assert kept_whole(a, out, four) == (2.0, 20.0, -3000.0)
    assert (out == a.astype(np.int32)).all()


@numba.njit
def sum_of_two_widths(a):
    return calls.total(calls.load16(a, AT) + calls.load64(a, AT))


def test_vectors_of_two_widths_do_not_mix() -> None:
    with pytest.raises(numba.TypingError):
        sum_of_two_widths(np.zeros(64, np.float32))
