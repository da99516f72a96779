"""Each option's doors at its own temperatures: the open-door law of Brown and Solvason (1962) made linear by runs."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from compare.physics.network import Supply, YearTrace
from compare.physics.year import simulate
from compare.pipeline import Comparison
from compare.years.case import HouseCase
from compare.years.run import SETTLE_ROUNDS, network_with, open_doors_w_k, run_years, settle
from tests.houses import compared, option_of, supplies_of


@pytest.fixture(scope="module")
def unit() -> Comparison:
    return compared("accessory_unit")


GREAT_ROOM, BEDROOM = 0, 1


def conductance_w_k(case: HouseCase, difference_k: float) -> float:
    """Conductance between great room and bedroom when they differ by so much in every hour."""
    room_c = np.full((case.weather.hours, len(case.plan.rooms)), 20.0, dtype=np.float32)
    room_c[:, GREAT_ROOM] += difference_k
    network = _own_network(case, YearTrace(room_c, np.zeros((case.weather.hours, 0), dtype=np.float32)))
    return float(network.link_w_k[0, GREAT_ROOM, BEDROOM])


def _own_network(case, trace):
    return network_with(case, open_doors_w_k(case, trace))


def test_conductance_of_an_open_door_grows_with_the_root_of_the_difference(unit: Comparison) -> None:
    """Heat through an open doorway goes with the 1.5th power (Brown and Solvason 1962), conductance with the root.

    The inside wall beside the door is a constant part; three differences take it out.
    """
    at_1, at_4, at_9 = (conductance_w_k(unit.case, k) for k in (1.0, 4.0, 9.0))
    assert (at_9 - at_4) / (at_4 - at_1) == pytest.approx(1.0, rel=1e-6)
    assert at_4 > 1.5 * at_1


def test_a_room_that_borrows_pulls_more_through_its_door_than_one_with_a_head(unit: Comparison) -> None:
    def own(key: str) -> float:
        network = _own_network(unit.case, unit.hours(key).trace)
        return float(network.link_w_k[:, GREAT_ROOM, BEDROOM].max())

    assert own("h0") > own("h0-h1")


SINGLE = [("accessory_unit", "h0"), ("ranch", "h0"), ("open_bungalow", "h0")]
"""Single heads: the layouts whose doors carry most, so that they settle last."""


@pytest.mark.parametrize(("name", "key"), SINGLE)
def test_every_further_run_changes_less(name: str, key: str) -> None:
    traces = rounds(name, key, 4)
    steps_k = [float(np.max(np.abs(b.room_c - a.room_c))) for a, b in pairwise(traces)]
    print(f"{name} {key}: largest change of any room-hour by round {[round(step, 3) for step in steps_k]} K")
    assert all(later < 0.6 * earlier for earlier, later in pairwise(steps_k))


@pytest.mark.parametrize(("name", "key"), SINGLE)
def test_cold_mornings_have_settled_within_half_a_degree_fahrenheit(name: str, key: str) -> None:
    """After the rounds that a comparison makes; a difference of 1 degF is the least that may be given as a reason."""
    found = compared(name)
    habitable = [i for i, room in enumerate(found.case.plan.rooms) if room.habitable]
    traces = rounds(name, key, SETTLE_ROUNDS + 5)
    mornings_c = [t.room_c.reshape(365, 24, -1)[found.season.cold_days, 6][:, habitable].mean(axis=0) for t in traces]
    error_k = float(np.max(np.abs(mornings_c[SETTLE_ROUNDS] - mornings_c[-1])))
    print(f"{name} {key}: 6 a.m. of the coldest mornings after {SETTLE_ROUNDS} rounds off by {error_k:.2f} K at most")
    assert error_k < 0.5 / 1.8


@cache
def rounds(name: str, key: str, count: int) -> list[YearTrace]:
    """The common run and so many runs with own doors after it."""
    found = compared(name)
    supplies = supplies_of(found.case, option_of(found, key))
    traces = [run_years(found.case, [supplies])[0]]
    for _ in range(count):
        traces.append(settle_once(found.case, supplies, traces[-1]))
    return traces


def settle_once(case: HouseCase, supplies: tuple[Supply, ...], trace: YearTrace) -> YearTrace:
    return simulate(_own_network(case, trace), [supplies])[0]


def test_settle_is_its_rounds_one_after_the_other(unit: Comparison) -> None:
    supplies = supplies_of(unit.case, option_of(unit, "h0"))
    first = run_years(unit.case, [supplies])[0]
    by_hand = first
    for _ in range(SETTLE_ROUNDS):
        by_hand = settle_once(unit.case, supplies, by_hand)
    assert np.array_equal(settle(unit.case, supplies, first).room_c, by_hand.room_c)
