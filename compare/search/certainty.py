"""How sure a recommendation is: the shown options in joint draws of house, units, prices, credit and weights.

A draw's scores are those of the option's own full run, moved by how much the measuring kernel says that the draw moves
them; so whatever the kernel leaves out is there, unmoved.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.prices.items import families
from compare.scoring.certainty import Certainty, judge
from compare.scoring.ranking import Ranking, best_of_families
from compare.scoring.scores import TOTAL_DIGITS
from compare.scoring.weights import Weights
from compare.search.draws import DRAWS, Draws, draw_weights, make_draws
from compare.search.kit import Kit
from compare.search.shake_run import ShakenNeed, ShakenScores, shaken_need, shaken_scores
from compare.search.shaken import HouseParts, house_parts
from compare.years.bench import Result
from compare.years.run import open_doors_w_k, run_years, settle

FloatArray = npt.NDArray[np.float64]

THREADS = 2
BAND = (10.0, 90.0)
"""Percentiles of the score bands: about eight draws of ten."""
CURED_BY_DRAWS = frozenset({"cold_bedroom"})
"""Findings of the year that another draw may lift; findings of design stay."""


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """One option in every draw, (D, 7) scores and (D,) rejections."""

    scores: FloatArray
    fatal: npt.NDArray[np.bool_]


class Sampler:
    """Draws of one house; an option is drawn once, under whatever weights it is judged later."""

    def __init__(self, kit: Kit, count: int = DRAWS) -> None:
        self.kit = kit
        self.count = count
        self._drawn: dict[str, Drawn] = {}
        self._shared: tuple[HouseParts, Draws, ShakenNeed] | None = None

    def has(self, ids: Iterable[str]) -> bool:
        """Whether these options have all been drawn."""
        return all(option_id in self._drawn for option_id in ids)

    def draw(self, results: Sequence[Result]) -> None:
        """Draw those of the options that have not been drawn; two at a time."""
        wanted = [result for result in results if result.option.key not in self._drawn]
        if not wanted:
            return
        strips = [self.kit.strip(result.option) for result in wanted]
        runner = self.kit.runner()
        if self._shared is None:
            self._shared = self._prepare()
        shared = self._shared
        with ThreadPoolExecutor(THREADS) as pool:
            jobs = [
                pool.submit(shaken_scores, self.kit, runner, strip, shared, result.year.doors)
                for strip, result in zip(strips, wanted, strict=True)
            ]
            for result, job in zip(wanted, jobs, strict=True):
                self._drawn[result.option.key] = anchored(result, job.result())

    def drawn(self, option_id: str) -> Drawn:
        """One option's draws."""
        return self._drawn[option_id]

    def judged(self, ranking: Ranking, ids: Sequence[str]) -> Certainty:
        """The verdict on a ranking's winner among these options; a draw that another form of it wins is its own.

        Raises
        ------
        ValueError
            When every option is rejected, so that there is no winner.
        """
        if ranking.winner is None or ranking.certainty is None:
            raise ValueError("every option is rejected: there is no winner to be sure of")
        family_of = {item.option.option_id: item.option.family for item in ranking.ranked}
        best = {item.option.family: item.option.option_id for item in best_of_families(ranking.ranked)}
        firsts, totals = self.firsts(ids, ranking.weights)
        share = Counter(family_of[first] for first in firsts[1:] if first)
        real, winner = sum(share.values()), ranking.winner.option.family
        word = judge(ranking.certainty.lead_points, ranking.certainty.near, self.kit.book.numbers, real, share[winner])
        rest = ((best[family], n / real) for family, n in share.items() if family != winner)
        others = sorted(rest, key=lambda one: (-one[1], one[0]))
        bands = np.percentile(totals[:, 1:], BAND, axis=1)
        return replace(
            word,
            others=tuple(others),
            bands=tuple((key, float(bands[0, k]), float(bands[1, k])) for k, key in enumerate(ids)),
        )

    def firsts(self, ids: Sequence[str], weights: Weights) -> tuple[list[str], FloatArray]:
        """The first option of each draw (empty where all are rejected), and all totals (options, draws)."""
        drawn_weights = draw_weights(weights, self.count)
        totals = np.array([np.sum(self._drawn[key].scores * drawn_weights, axis=1) for key in ids])
        alive = np.where(np.array([self._drawn[key].fatal for key in ids]), -np.inf, np.round(totals, TOTAL_DIGITS))
        order = alive.argmax(axis=0)
        return [ids[k] if np.isfinite(alive[k, d]) else "" for d, k in enumerate(order)], totals

    def _prepare(self) -> tuple[HouseParts, Draws, ShakenNeed]:
        case = self.kit.base.case
        parts = house_parts(case)
        draws = make_draws(families(), self.kit.book.numbers, self.count)
        ideal = [self.kit.factory.ideal(i) for i, room in enumerate(case.plan.rooms) if room.habitable]
        trace = settle(case, ideal, run_years(case, [ideal])[0])
        return parts, draws, shaken_need(self.kit, self.kit.runner(), parts, draws, open_doors_w_k(case, trace))


def anchored(result: Result, moved: ShakenScores) -> Drawn:
    """Scores of the full run, moved as the draws move them; likewise its rejection, where it may be lifted at all."""
    own = np.array(result.score.scores)
    scores = np.clip(own + (moved.scores - moved.scores[0]), 0.0, 100.0)
    lasting = any(fault.code not in CURED_BY_DRAWS for fault in result.score.fatal)
    same = bool(moved.fatal[0]) == result.score.rejected
    fatal = moved.fatal if same and not lasting else np.full(moved.fatal.shape, result.score.rejected)
    return Drawn(scores, fatal)
