"""The year of every layout that was enumerated, scored: which is best, and of what it is the best.

All run on the house with its common doors, by the measuring kernel. Those that may be best are run again in full, with
their own doors; the largest difference between the two runs says how far the kernel may be trusted, and so whether the
best is proven among all that were simulated.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.options.option import Option
from compare.scoring.ranking import rescore
from compare.scoring.weights import Weights
from compare.search.block import Houses
from compare.search.kit import Kit
from compare.search.lanes import Runner
from compare.search.points import Asked, lane_fatal, lane_scores
from compare.search.strip import Strip
from compare.years.gather import OUTDOOR_LIMIT_DBA

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

THREADS = 2
AT_ONCE = 2048
"""Lanes that are measured together: enough to keep the arrays' overhead small, few enough for memory."""
Done = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, eq=False)
class Searched:
    """Every option of an enumeration, simulated and scored under no weights yet. n options."""

    options: tuple[Option, ...]
    scores: FloatArray
    """(n, 7)"""
    fatal: BoolArray
    """(n,)"""
    counts: dict[str, int]
    """Layouts by kind, as enumerated."""
    enumerated: int
    """Layouts that exist of the kinds that were asked for."""
    simulated: int
    """Layouts whose year was run."""
    seconds: dict[str, float] = field(default_factory=dict)

    @property
    def complete(self) -> bool:
        """Whether every layout that was enumerated was simulated."""
        return self.simulated == self.enumerated

    def totals(self, weights: Weights) -> FloatArray:
        """(n,) totals; rejected options at minus infinity."""
        return np.where(self.fatal, -np.inf, rescore(self.scores, weights.array))

    def best(self, weights: Weights, most: int, within_points: float) -> list[int]:
        """Places of the best options within so many points of the first, best first."""
        totals = self.totals(weights)
        order = np.argsort(-totals, kind="stable")[:most]
        top = totals[order[0]] if order.size else -np.inf
        return [int(k) for k in order if np.isfinite(totals[k]) and top - totals[k] <= within_points]


def run_all(
    kit: Kit, options: Sequence[Option], done: Done | None = None
) -> tuple[FloatArray, BoolArray, dict[str, float]]:
    """Scores (n, 7), rejections (n,) and the seconds that strips and years took."""
    started = time.perf_counter()
    strips = [kit.strip(option) for option in options]
    prepared = time.perf_counter()
    scores, fatal = np.empty((len(strips), 7)), np.empty(len(strips), dtype=np.bool_)
    runner, houses = kit.runner(), kit.common_houses()
    for first in range(0, len(strips), AT_ONCE):
        some = slice(first, first + AT_ONCE)
        scores[some], fatal[some] = score_strips(kit, runner, houses, strips[some])
        if done is not None:
            done(min(first + AT_ONCE, len(strips)), len(strips))
    ended = time.perf_counter()
    return scores, fatal, {"strips": prepared - started, "years and scores": ended - prepared}


def score_strips(kit: Kit, runner: Runner, houses: Houses, strips: Sequence[Strip]) -> tuple[FloatArray, BoolArray]:
    """Run some lanes of one house and score them."""
    got = runner.run_many(houses, [strip.lane for strip in strips], threads=THREADS)
    tally = kit.tally(strips, got)
    run, rest, heaters, old = kit.topped_kwh((runner, houses, None), strips, (tally, got), THREADS)
    equal_kwh = run.sum(axis=0) + rest + heaters + old / kit.old.efficiency_frac
    need = kit.base.need
    numbers = kit.book.numbers
    asked = Asked(
        price_ratio=np.array([float(s.option.price.mid_usd) for s in strips]) / kit.base.reference_usd,
        cop=(need.heat_kwh + need.cool_kwh) / np.maximum(equal_kwh, 1e-9),
        visible=np.array([float(s.option.visible_units) for s in strips]),
        cool_share_frac=np.array(need.cool_kwh / max(need.heat_kwh + need.cool_kwh, 1e-9)),
        outdoor_limit_dba=OUTDOOR_LIMIT_DBA,
        heater_credit=np.array(numbers.heater_credit),
        old_heat_credit=np.array(numbers.old_heat_credit),
    )
    return lane_scores(tally, kit.facts, asked, kit.book), lane_fatal(tally, kit.facts, numbers)
