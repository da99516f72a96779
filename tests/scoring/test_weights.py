"""Profiles, priorities in words and own weights."""

from __future__ import annotations

import pytest

from compare.scoring.criteria import CRITERIA, SIX, Criterion
from compare.scoring.weights import balanced, make_weights, priorities, profiles, weights_from_priorities

# match, cycling, noise, comfort, cost, energy; our judgement
PROFILES = {
    "Balanced": (15, 10, 15, 30, 20, 10),
    "Keep the price down": (10, 5, 5, 25, 40, 15),
    "Quiet and even": (10, 10, 30, 35, 10, 5),
    "Low bills": (10, 10, 5, 25, 20, 30),
    "Built to last": (25, 25, 10, 25, 10, 5),
}


def test_profiles() -> None:
    assert {p.weights.name: p.points for p in profiles()} == PROFILES
    for profile in profiles():
        assert sum(profile.weights.fracs) == pytest.approx(1.0)
        assert profile.weights[Criterion.SIGHT] == 0.0
    assert balanced().name == "Balanced"


def test_middle_everywhere_is_balanced() -> None:
    assert weights_from_priorities({}) == balanced()
    middle = {row.key: 3 for row in priorities()} | {"few_units_in_sight": 1}
    assert weights_from_priorities(middle) == balanced()


def test_stops_multiply_then_scale() -> None:
    found = weights_from_priorities({"quiet": 5, "lower_price": 1})
    # 15, 10, 15 x 3, 30, 20 x 0.3, 10 -> sum 116
    expected = [value / 116 for value in (15, 10, 45, 30, 6, 10)]
    assert found.fracs[:6] == pytest.approx(expected)
    assert found.name == "your priorities"


def test_warm_and_even_moves_comfort_and_load_match() -> None:
    found = weights_from_priorities({"warm_and_even": 4})
    total = 15 * 1.7 + 10 + 15 + 30 * 1.7 + 20 + 10
    assert found[Criterion.MATCH] == pytest.approx(15 * 1.7 / total)
    assert found[Criterion.COMFORT] == pytest.approx(30 * 1.7 / total)


@pytest.mark.parametrize(("stop", "points"), [(1, 0), (2, 4), (3, 8), (4, 14), (5, 24)])
def test_few_units_in_sight(stop: int, points: float) -> None:
    found = weights_from_priorities({"few_units_in_sight": stop})
    assert found[Criterion.SIGHT] == pytest.approx(points / (100 + points))
    assert (Criterion.SIGHT in found.used) is (points > 0)


def test_rows_and_criteria() -> None:
    moved = [criterion for row in priorities() for criterion in row.criteria]
    assert sorted(moved) == sorted(CRITERIA)
    assert all(row.stops == (0.3, 0.6, 1.0, 1.7, 3.0) for row in priorities() if row.form == "factor")


@pytest.mark.parametrize(
    ("stops", "words"),
    [
        ({"loud": 3}, "loud"),
        ({"quiet": 0}, "1 to 5"),
        ({"quiet": 6}, "1 to 5"),
        ({"quiet": 2.5}, "1 to 5"),
        ({"quiet": True}, "1 to 5"),
    ],
)
def test_a_wrong_priority_is_refused(stops, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        weights_from_priorities(stops)


@pytest.mark.parametrize(
    "points", [{}, {Criterion.COST: -1.0}, {Criterion.COST: float("nan")}, {Criterion.COST: float("inf")}]
)
def test_wrong_weights_are_refused(points) -> None:
    with pytest.raises(ValueError, match="weight"):
        make_weights("x", points)


def test_own_weights_scale() -> None:
    found = make_weights("x", dict.fromkeys(SIX, 2.0))
    assert found.fracs[:6] == pytest.approx([1 / 6] * 6)
