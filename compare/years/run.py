"""The year of every option: a common run, then each option once more with its own doors.

Air exchange through an open door grows with the 1.5th power of the temperature difference, so the conductance that
stands for it depends on how an option leaves its rooms. The first run takes typical differences for all options at
once; then each option is run again with the conductances of its own temperatures, until they settle.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from compare.physics.assemble import relinearised
from compare.physics.network import Network, Supply, YearTrace
from compare.physics.year import common_matrices, simulate, with_links
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
    for _ in range(SETTLE_ROUNDS):
        trace = rerun(case, supplies, trace)
    return trace


def rerun(case: HouseCase, supplies: Sequence[Supply], trace: YearTrace) -> YearTrace:
    """One year with the doors of the temperatures of a run."""
    network = own_network(case, trace)
    return simulate(network, [supplies], with_links(common_matrices(case.network), network))[0]


def own_network(case: HouseCase, trace: YearTrace) -> Network:
    """The house's network with its open doors taken at the temperatures of a run."""
    return relinearised(case.network, case.plan, case.weather.site.elevation_m, case.network_options, trace.room_c)
