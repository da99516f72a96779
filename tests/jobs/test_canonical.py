"""One form for equal data: the traps of hashing (1 and 1.0, minus zero, NFC and NFD, sums in another order)."""

from __future__ import annotations

import datetime as dt
import hashlib
import math
import random
from decimal import Decimal

import numpy as np
import pytest

from compare.jobs.canonical import canonical_text, digest_of, plain, sha256_of

SAME = [
    (1, 1.0),
    (0.0, -0.0),
    (0.1 + 0.2, 0.3),
    ("Caf\u00e9", "Cafe\u0301"),
    ({"b": 1, "a": 2}, {"a": 2, "b": 1}),
    ((1, 2), [1, 2]),
    ({1, 2}, {2, 1}),
    (Decimal("1.50"), "1.50"),
    (dt.date(2026, 11, 25), "2026-11-25"),
    (float("nan"), None),
    (np.float64(0.5), 0.5),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_equal_data_has_one_digest(one, other):
    assert digest_of(one) == digest_of(other)


@pytest.mark.parametrize(("one", "other"), [(1, True), (1, "1"), (None, 0), ("a", "a "), (1.0, 1.000001), ([], {})])
def test_other_data_has_another(one, other):
    assert digest_of(one) != digest_of(other)


def test_sums_in_another_order_are_equal():
    draw = random.Random(3)
    numbers = [draw.uniform(0, 1e4) for _ in range(8760)]
    mixed = sorted(numbers)
    assert sum(numbers) != sum(mixed)
    assert digest_of(sum(numbers)) == digest_of(sum(mixed)) == digest_of(math.fsum(numbers))


def test_what_has_no_form_is_refused():
    with pytest.raises(TypeError, match="object has no agreed form"):
        plain(object())


def test_digest_is_that_of_the_standard_library():
    # FIPS 180-4 example: sha256 of "abc"
    assert sha256_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest_of({"a": 1}) == hashlib.sha256(canonical_text({"a": 1}).encode()).hexdigest()
