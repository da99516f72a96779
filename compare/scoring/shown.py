"""Which options are always shown: the best of each named family, the overall best, and near ones of another kind."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from compare.scoring.ranking import Ranked, Ranking
from compare.scoring.tables import read_rows

NEAR_MOST: Final = 3
"""Near-best options of another kind that are added."""
MIX: Final = "mix"


@dataclass(frozen=True, slots=True)
class Family:
    """A kind of layout that a comparison may not leave out."""

    family: str
    shown_as: str
    always: bool
    about: str


@cache
def families() -> tuple[Family, ...]:
    """Families in their order on the page."""
    return tuple(
        Family(row["family"], row["shown_as"], row["always"] == "yes", row["about"])
        for row in read_rows("families.csv")
    )


def kind_of(item: Ranked) -> tuple[str, tuple[str, ...]]:
    """What makes two options differ in kind: the family and where each room gets its heat from; not sizes or places."""
    measures = item.option.measures
    return measures.family, tuple(room.source.value for room in measures.rooms)


def best_of(ranking: Ranking, family: str) -> Ranked | None:
    """The best option of a family; a rejected one only when the family has no other."""
    return next((item for item in ranking.ranked if item.option.family == family), None)


def mix_both_ways(ranking: Ranking) -> tuple[Ranked, ...]:
    """The best mix with one outdoor unit and the best with more."""
    mixes = [item for item in ranking.ranked if item.option.family == MIX]
    one = next((item for item in mixes if item.option.measures.outdoor_units == 1), None)
    more = next((item for item in mixes if item.option.measures.outdoor_units > 1), None)
    return tuple(item for item in (more, one) if item is not None)


def near_best(ranking: Ranking, shown: tuple[Ranked, ...], tie_points: float) -> tuple[Ranked, ...]:
    """Up to three options within a tie of the winner that differ from all shown ones in kind."""
    winner = ranking.winner
    if winner is None:
        return ()
    kinds = {kind_of(item) for item in shown}
    found: list[Ranked] = []
    for item in ranking.ranked:
        if not item.place or winner.total - item.total >= tie_points or len(found) == NEAR_MOST:
            break
        if kind_of(item) not in kinds:
            kinds.add(kind_of(item))
            found.append(item)
    return tuple(found)


def always_shown(ranking: Ranking, tie_points: float) -> tuple[Ranked, ...]:
    """The options that every comparison shows, in ranking order, rejected ones last."""
    wanted = [best_of(ranking, family.family) for family in families() if family.always]
    chosen = [item for item in (ranking.winner, *wanted, *mix_both_ways(ranking)) if item is not None]
    chosen += near_best(ranking, tuple(chosen), tie_points)
    ids = {item.option.option_id for item in chosen}
    return tuple(item for item in ranking.ranked if item.option.option_id in ids)
