"""What every view is made of: a house, its results and their order."""

from __future__ import annotations

from dataclasses import dataclass

from compare.scoring.ranking import Ranked, Ranking
from compare.scoring.scores import OptionScore
from compare.scoring.season import Season
from compare.search.flips import Flip
from compare.views.customer import AssumptionLine
from compare.years.bench import Result
from compare.years.case import HouseCase

NOT_BUILDABLE = frozenset({"no_fit", "no_outdoor_place", "panel", "refrigerant"})
"""Findings of design: the option cannot be built here. Other fatal findings come from what it does in the year."""


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """What a view is made of: the house, its results, their order, and which options are shown."""

    case: HouseCase
    season: Season
    results: dict[str, Result]
    ranking: Ranking
    shown: tuple[Ranked, ...]
    placeholder_prices: bool
    demo: bool
    priorities: dict[str, int]
    simple_forms: tuple[AssumptionLine, ...]
    flips: tuple[Flip, ...] = ()
    """Smallest changes that put another kind of layout first; empty before they are looked for."""

    @property
    def cards(self) -> tuple[Ranked, ...]:
        """Options of the view in ranking order: those shown that can be built, and all that the answer names."""
        wanted = {item.option.option_id for item in self.shown} | named(self.ranking)
        return tuple(
            item for item in self.ranking.ranked if item.option.option_id in wanted and not cannot_be_built(item.option)
        )


def named(ranking: Ranking) -> frozenset[str]:
    """Ids that an answer may name: the first two, all within a tie of the winner, the winner of each profile."""
    first = {item.option.option_id for item in ranking.ranked if item.place in (1, 2)}
    near = ranking.certainty.near if ranking.certainty else ()
    return frozenset(first.union(near, (ids[0] for _, ids in ranking.profile_winners if ids)))


def cannot_be_built(score: OptionScore) -> bool:
    """Whether a finding of design forbids the option."""
    return any(fault.fatal and fault.code in NOT_BUILDABLE for fault in score.faults)
