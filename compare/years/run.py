"""The year of every option: a common run, then each option once more with its own doors.

Air exchange through an open door grows with the 1.5th power of the temperature difference, so the conductance that
stands for it depends on how an option leaves its rooms. The first run takes typical differences for all options at
once; then each option is run again with the conductances of its own temperatures, until they settle.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from compare.physics.assemble import open_links_w_k, with_open_links
from compare.physics.network import Network, Supply, YearTrace
from compare.physics.year import (
    Lanes,
    StepMatrices,
    common_matrices,
    lanes_of,
    simulate,
    simulate_lanes,
    with_links,
)
from compare.years.case import HouseCase

FloatArray = npt.NDArray[np.float64]

SETTLE_ROUNDS = 2
"""Runs of an option with its own doors after the common run."""

SETTLE_ALL = 64
"""Up to so many options are all settled; beyond, the caller names those that matter."""


def run_years(case: HouseCase, supplies: Sequence[Sequence[Supply]]) -> list[YearTrace]:
    """One year per set of supplies with the house's common doors, in order."""
    return simulate(case.network, supplies, common_matrices(case.network))


def settle(case: HouseCase, supplies: Sequence[Supply], trace: YearTrace) -> YearTrace:
    """Run one option again with the doors of its own temperatures."""
    return settle_from(case, supplies, open_doors_w_k(case, trace), SETTLE_ROUNDS)


def settle_from(case: HouseCase, supplies: Sequence[Supply], open_w_k: FloatArray, rounds: int) -> YearTrace:
    """Run one option with given conductances of its open doors, then again with those of its own temperatures.

    Raises
    ------
    ValueError
        Unless there is at least one round.
    """
    if rounds < 1:
        raise ValueError(f"rounds is {rounds}: a year with doors of its own takes one run at least")
    step = common_matrices(case.network)
    lanes = lanes_of(case.network, step, [supplies])
    trace = _run_with(case, step, lanes, open_w_k)
    for _ in range(rounds - 1):
        trace = _run_with(case, step, lanes, open_doors_w_k(case, trace))
    return trace


def _run_with(case: HouseCase, step: StepMatrices, lanes: Lanes, open_w_k: FloatArray) -> YearTrace:
    """One year with given conductances of the open doors; the rest of the house's matrices is known."""
    return simulate_lanes(with_links(step, network_with(case, open_w_k)), lanes)[0]


def network_with(case: HouseCase, open_w_k: FloatArray) -> Network:
    """The house's network with given conductances of its open doors, (door states, links)."""
    return with_open_links(case.network, case.plan, case.weather.site.elevation_m, case.network_options, open_w_k)


def open_doors_w_k(case: HouseCase, trace: YearTrace) -> FloatArray:
    """(door states, links) conductance of each link while open, at the temperatures of a run."""
    return open_links_w_k(case.network, case.plan, case.weather.site.elevation_m, case.network_options, trace.room_c)
