"""How far insulation or leakage would have to differ for another kind of layout to be first, by simulation.

Each option's year is run in 64 lanes over a range of factors; units stay as they are sized here. The envelope done
first, with new loads, sizes and ranking, is a what-if of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from compare.physics.kernel_measures import LANES
from compare.prices.items import families
from compare.scoring.scores import TOTAL_DIGITS
from compare.scoring.weights import Weights
from compare.search.certainty import anchored
from compare.search.draws import SIGMAS, Draws
from compare.search.flips import Flip
from compare.search.kit import Kit
from compare.search.shake_run import shaken_need, shaken_scores
from compare.search.shaken import house_parts
from compare.years.bench import Result
from compare.years.run import run_years, settle

FloatArray = npt.NDArray[np.float64]

RANGE = 2.0
"""Factors from a half to twice."""
PARTS = {"ua": "insulation", "leakage": "leakage"}


def ladder(part: str) -> Draws:
    """64 houses: the one as it is, then one part of it by rising factors."""
    one = np.ones(LANES)
    factors = np.concatenate([[1.0], np.exp(np.linspace(-math.log(RANGE), math.log(RANGE), LANES - 1))])
    factor = {name: factors if name == part else one for name in SIGMAS}
    return Draws(factor, np.zeros(LANES), np.full(LANES, np.nan), dict.fromkeys(families(), one))


def house_flips(kit: Kit, results: Sequence[Result], winner: Result, weights: Weights) -> Iterator[Flip]:
    """At most one change of insulation and one of leakage.

    Parameters
    ----------
    kit, results
        The house, and the settled options that may be first.
    winner
        The one that is.
    weights
        Of the total.
    """
    case = kit.base.case
    parts = house_parts(case)
    ideal = [kit.factory.ideal(i) for i, room in enumerate(case.plan.rooms) if room.habitable]
    trace = settle(case, ideal, run_years(case, [ideal])[0])
    strips = [kit.strip(result.run.option) for result in results]
    runner = kit.runner()
    for part, kind in PARTS.items():
        draws = ladder(part)
        draws = Draws(draws.factor, draws.ducted_db, np.full(LANES, kit.book.numbers.heater_credit), draws.price)
        shared = (parts, draws, shaken_need(kit, runner, parts, draws, trace))
        drawn = [
            anchored(result, shaken_scores(kit, runner, strip, shared, result.run.trace))
            for strip, result in zip(strips, results, strict=True)
        ]
        totals = np.array([np.where(d.fatal, -np.inf, np.round(d.scores @ weights.array, TOTAL_DIGITS)) for d in drawn])
        flip = _nearest_change(totals, draws.factor[part], results, winner)
        if flip is not None:
            factor, first = flip
            score = results[first].score
            yield Flip(kind, part, 1.0, factor, "ratio", score.option_id, score.family, abs(math.log(factor)))


def _nearest_change(
    totals: FloatArray, factors: FloatArray, results: Sequence[Result], winner: Result
) -> tuple[float, int] | None:
    """The factor nearest to 1 at which another family is first."""
    found = []
    for lane in range(1, factors.size):
        first = int(totals[:, lane].argmax())
        if np.isfinite(totals[first, lane]) and results[first].score.family != winner.score.family:
            found.append((abs(math.log(factors[lane])), float(factors[lane]), first))
    if not found:
        return None
    _, factor, first = min(found)
    return factor, first
