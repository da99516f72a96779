"""How far insulation or leakage would have to differ for another kind of layout to be first, by simulation.

Each option's year is run in 64 lanes over a range of factors; units stay as they are sized here. What that finds is
simulated once more in full at that factor, and only given where the full years agree. The envelope done first, with new
loads, sizes and ranking, is a what-if of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

from compare.physics.many.sizes import LANES
from compare.prices.items import families
from compare.scoring.criteria import CRITERIA, Criterion
from compare.scoring.scores import TOTAL_DIGITS
from compare.scoring.weights import Weights
from compare.search.certainty import Drawn, anchored
from compare.search.check import full_scores
from compare.search.draws import SIGMAS, Draws
from compare.search.flips import Flip
from compare.search.kit import Kit
from compare.search.shake_run import shaken_need, shaken_scores
from compare.search.shaken import house_parts
from compare.years.bench import Result
from compare.years.run import open_doors_w_k, run_years, settle

FloatArray = npt.NDArray[np.float64]

RANGE = 2.0
"""Factors from a half to twice."""
TRIED = (0, 1, 3, 7, 15)
"""Places, from the nearest, of the factors that are simulated in full before a part is given up."""
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
    open_w_k = open_doors_w_k(case, settle(case, ideal, run_years(case, [ideal])[0]))
    strips = [kit.strip(result.option) for result in results]
    runner = kit.runner()
    for part, kind in PARTS.items():
        draws = ladder(part)
        draws = Draws(draws.factor, draws.ducted_db, np.full(LANES, kit.book.numbers.heater_credit), draws.price)
        shared = (parts, draws, shaken_need(kit, runner, parts, draws, open_w_k))
        drawn = [
            anchored(result, shaken_scores(kit, runner, strip, shared, result.year.doors))
            for strip, result in zip(strips, results, strict=True)
        ]
        totals = np.array([np.where(d.fatal, -np.inf, np.round(d.scores @ weights.array, TOTAL_DIGITS)) for d in drawn])
        now = drawn[results.index(winner)]
        changes = _changes(totals, draws.factor[part], results, winner)
        for lane, first in (changes[place] for place in TRIED if place < len(changes)):
            if _agrees(kit, (results[first], winner), (drawn[first], now), (draws, lane), weights):
                factor, score = float(draws.factor[part][lane]), results[first].score
                yield Flip(kind, part, 1.0, factor, "ratio", score.option_id, score.family, abs(math.log(factor)))
                break


def _changes(
    totals: FloatArray, factors: FloatArray, results: Sequence[Result], winner: Result
) -> list[tuple[int, int]]:
    """Lanes in which another family is first, that nearest to a factor of 1 first, and which option that is."""
    found = []
    for lane in range(1, factors.size):
        first = int(totals[:, lane].argmax())
        if np.isfinite(totals[first, lane]) and results[first].score.family != winner.score.family:
            found.append((abs(math.log(factors[lane])), lane, first))
    return [(lane, first) for _, lane, first in sorted(found)]


def _agrees(
    kit: Kit, pair: tuple[Result, Result], drawn: tuple[Drawn, Drawn], at: tuple[Draws, int], weights: Weights
) -> bool:
    """Whether the first of two is also ahead with the house built anew; load match is that of the scaled run."""
    draws, lane = at
    full = full_scores(kit, pair, draws, lane)
    match = CRITERIA.index(Criterion.MATCH)
    full[:, match] = [one.scores[lane, match] for one in drawn]
    totals = full @ weights.array
    return bool(drawn[1].fatal[lane] or totals[0] > totals[1])
