"""The year of every option: a common run, then each option once more with its own doors.

Air exchange through an open door grows with the 1.5th power of the temperature difference, so the conductance that
stands for it depends on how an option leaves its rooms. The first run takes typical differences for all options at
once; then each option is run again with the conductances of its own temperatures, until they settle.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from compare.physics.assemble import relinearised
from compare.physics.network import Network, Supply, YearTrace
from compare.physics.year import simulate, step_matrices
from compare.years.case import HouseCase

FloatArray = npt.NDArray[np.float64]

SETTLE_ROUNDS = 2
"""Runs of an option with its own doors after the common run."""


def run_years(
    case: HouseCase, supplies: Sequence[Sequence[Supply]], progress: Callable[[int], None] | None = None
) -> list[YearTrace]:
    """One settled year per set of supplies, in order."""
    matrices = step_matrices(case.network)
    first = simulate(case.network, supplies, matrices)
    settled = []
    for layout, trace in zip(supplies, first, strict=True):
        settled.append(settle(case, layout, trace))
        if progress is not None:
            progress(1)
    return settled


def settle(case: HouseCase, supplies: Sequence[Supply], trace: YearTrace) -> YearTrace:
    """Run one option with the doors of its own temperatures."""
    for _ in range(SETTLE_ROUNDS):
        trace = simulate(own_network(case, trace), [supplies])[0]
    return trace


def own_network(case: HouseCase, trace: YearTrace) -> Network:
    """The house's network with its open doors taken at the temperatures of a run."""
    room_c = trace.room_c.astype(np.float64)
    return relinearised(case.network, case.plan, case.weather.site.elevation_m, case.network_options, room_c)
