"""Any two options of a comparison against each other: where each is better, as facts. Words are made by the face."""

from __future__ import annotations

from compare.scoring.ranking import Ranking
from compare.views.cards_build import reason_lines
from compare.views.customer import ReasonLine
from compare.views.plan_view import ViewModel


class PairView(ViewModel):
    """Where each of two options is better than the other, most points of the total first."""

    first: str
    second: str
    """Option ids."""
    first_better: tuple[ReasonLine, ...]
    second_better: tuple[ReasonLine, ...]


def pair_view(ranking: Ranking, first: str, second: str) -> PairView:
    """Two options under the weights of a ranking, for the customer.

    Raises
    ------
    KeyError
        For an option that the ranking does not hold.
    """
    scores = {item.option.option_id: item.option for item in ranking.ranked}
    one, other = scores[first], scores[second]
    return PairView(
        first=first,
        second=second,
        first_better=reason_lines(ranking, one, other),
        second_better=reason_lines(ranking, other, one),
    )
