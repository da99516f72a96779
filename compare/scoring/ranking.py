"""Order of the options, the winner under each profile, who is dominated by whom, and points lost to the winner."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.scoring.certainty import Certainty, judge
from compare.scoring.criteria import CRITERIA, Criterion
from compare.scoring.judgements import Judgements, rulebook
from compare.scoring.scores import TOTAL_DIGITS, OptionScore
from compare.scoring.weights import Weights, profiles

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Ranked:
    """One option in its place."""

    option: OptionScore
    place: int
    """1 is the winner; 0 for a rejected option."""
    total: float
    lost: tuple[float, ...]
    """Points of the total lost to the winner, by criterion; negative where this option is ahead."""
    dominated_by: tuple[str, ...]
    """Ids of options at least as good on every weighted criterion and better on one, in order; empty in the Pareto
    set and for rejected options."""


@dataclass(frozen=True, slots=True)
class Ranking:
    """All options under one set of weights. Rejected options stand last, with their reason."""

    weights: Weights
    ranked: tuple[Ranked, ...]
    certainty: Certainty | None
    """None when every option is rejected."""
    profile_winners: tuple[tuple[str, tuple[str, ...]], ...]
    """For each profile its name and the ids within a tie of its winner, the winner first."""

    @property
    def winner(self) -> Ranked | None:
        """The best option that is not rejected."""
        return self.ranked[0] if self.ranked and self.ranked[0].place == 1 else None

    @property
    def pareto(self) -> tuple[str, ...]:
        """Ids of the options that no other beats on every weighted criterion."""
        return tuple(item.option.option_id for item in self.ranked if item.place and not item.dominated_by)

    @property
    def rejected(self) -> tuple[Ranked, ...]:
        """Options with a fatal finding."""
        return tuple(item for item in self.ranked if not item.place)

    def find(self, option_id: str) -> Ranked:
        """One option by its id.

        Raises
        ------
        KeyError
            When no option has this id; the text lists those that exist.
        """
        for item in self.ranked:
            if item.option.option_id == option_id:
                return item
        known = ", ".join(item.option.option_id for item in self.ranked)
        raise KeyError(f"no option {option_id!r}: there are {known}")


def scores_matrix(options: Sequence[OptionScore]) -> FloatArray:
    """(n, 7) scores in the order of `CRITERIA`."""
    return np.array([option.scores for option in options], dtype=np.float64).reshape(len(options), len(CRITERIA))


def rescore(scores: FloatArray, weights: FloatArray) -> FloatArray:
    """Totals of all options under new weights: (n, 7) x (7,) gives (n,), (n, 7) x (k, 7) gives (n, k)."""
    return np.asarray(np.round(scores @ weights.T, TOTAL_DIGITS), dtype=np.float64)


def order_by(totals: FloatArray, prices_usd: FloatArray, ids: Sequence[str]) -> IntArray:
    """Indices best first: by total, then the lower price, then the id."""
    rank_of_id = np.argsort(np.argsort(np.array(ids), kind="stable"), kind="stable")
    return np.lexsort((rank_of_id, prices_usd, -totals)).astype(np.int64)


def _beats(one: FloatArray, others: FloatArray) -> npt.NDArray[np.bool_]:
    """(n,) which of the others are at least as good as one row on every column and better on some."""
    return np.asarray((others >= one).all(axis=1) & (others > one).any(axis=1))


def pareto_rows(scores: FloatArray) -> IntArray:
    """Indices of the rows that no other row beats, in rising order."""
    front = np.empty_like(scores)
    kept: list[int] = []
    for i in np.argsort(-scores.sum(axis=1), kind="stable"):  # whatever beats a row has the larger sum
        if not _beats(scores[i], front[: len(kept)]).any():
            front[len(kept)] = scores[i]
            kept.append(int(i))
    return np.array(sorted(kept), dtype=np.int64)


def dominators(scores: FloatArray, ids: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """For each option the ids of those at least as good on every column and better on one.

    Only options that nothing dominates are named: each dominated option has at least one of them.
    """
    rounded = np.round(scores, TOTAL_DIGITS)
    rows = pareto_rows(rounded)
    best = rounded[rows]
    return tuple(tuple(ids[int(rows[i])] for i in np.flatnonzero(_beats(row, best))) for row in rounded)


def _check_ids(options: Sequence[OptionScore]) -> None:
    ids = [option.option_id for option in options]
    if len(set(ids)) != len(ids):
        twice = sorted({item for item in ids if ids.count(item) > 1})
        raise ValueError(f"option ids must differ: {', '.join(twice)} stand more than once")


def sort_options(options: Sequence[OptionScore], weights: Weights) -> list[OptionScore]:
    """Options best first: by total, then the lower price, then the id."""
    return sorted(options, key=lambda option: (-option.total(weights), option.price_usd, option.option_id))


def lost_points(option: OptionScore, winner: OptionScore, weights: Weights) -> tuple[float, ...]:
    """Points of the total that an option loses to the winner on each criterion; they sum to the lead."""
    return tuple(
        weight * (best - own) for weight, best, own in zip(weights.fracs, winner.scores, option.scores, strict=True)
    )


def within_tie(options: Sequence[OptionScore], weights: Weights, numbers: Judgements) -> tuple[str, ...]:
    """Ids within a tie of the best, best first."""
    ordered = sort_options(options, weights)
    return tuple(
        option.option_id for option in ordered if ordered[0].total(weights) - option.total(weights) < numbers.tie_points
    )


def rank(options: Sequence[OptionScore], weights: Weights, numbers: Judgements | None = None) -> Ranking:
    """Every option in its place.

    No option's scores depend on which others are listed, so adding one never changes the order of the rest.

    Raises
    ------
    ValueError
        When two options share an id.
    """
    _check_ids(options)
    numbers = numbers or rulebook().numbers
    alive = sort_options([option for option in options if not option.rejected], weights)
    dead = sort_options([option for option in options if option.rejected], weights)
    best = alive[0] if alive else None
    columns = [i for i, criterion in enumerate(CRITERIA) if weights[criterion] > 0.0]
    beaten = dominators(scores_matrix(alive)[:, columns], [option.option_id for option in alive])
    ranked = [
        Ranked(option, place, option.total(weights), lost_points(option, best or option, weights), by)
        for place, (option, by) in enumerate(zip(alive, beaten, strict=True), start=1)
    ]
    ranked += [Ranked(o, 0, o.total(weights), lost_points(o, best or o, weights), ()) for o in dead]
    return Ranking(
        weights=weights,
        ranked=tuple(ranked),
        certainty=_lead(ranked[: len(alive)], numbers) if alive else None,
        profile_winners=tuple(
            (profile.weights.name, within_tie(alive, profile.weights, numbers)) for profile in profiles()
        ),
    )


def best_of_families(alive: Sequence[Ranked]) -> tuple[Ranked, ...]:
    """The best option of each family, in the order given.

    Forms of one layout (another place for the ducts, another grouping outdoors) are no rivals of each other.
    """
    best: dict[str, Ranked] = {}
    for item in alive:
        best.setdefault(item.option.family, item)
    return tuple(best.values())


def _lead(alive: Sequence[Ranked], numbers: Judgements) -> Certainty:
    """Lead over the best option of another family, and the families within a tie, each by its best option."""
    rivals = best_of_families(alive)
    lead = rivals[0].total - rivals[1].total if len(rivals) > 1 else math.inf
    near = tuple(item.option.option_id for item in rivals if rivals[0].total - item.total < numbers.tie_points)
    return judge(lead, near, numbers)


def criterion_winner(options: Sequence[OptionScore], criterion: Criterion, weights: Weights) -> OptionScore | None:
    """The best option on one criterion that is not rejected; among equals the one with the better total."""
    alive = sort_options([option for option in options if not option.rejected], weights)
    return max(alive, key=lambda option: round(option.score(criterion), TOTAL_DIGITS), default=None)
