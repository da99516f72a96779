"""Why one option is better than another, and where it is not: facts with numbers, never one inside its error."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

from compare.scoring.criteria import Criterion
from compare.scoring.evidence import Fault
from compare.scoring.facts import Audience, Found, Reason, facts
from compare.scoring.judgements import Judgements, rulebook
from compare.scoring.option_facts import option_facts
from compare.scoring.phrases import US, names, sentence, show, templates
from compare.scoring.ranking import Ranking, lost_points
from compare.scoring.room_facts import room_facts
from compare.scoring.scores import OptionScore
from compare.scoring.weights import Weights


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two options side by side, the first usually the winner."""

    first_id: str
    second_id: str
    for_first: tuple[Reason, ...]
    """Facts by which the first is better, most points first; facts without a score last."""
    for_second: tuple[Reason, ...]
    lost: tuple[float, ...]
    """Points of the total that the second loses to the first, by criterion."""
    lead_points: float
    first_faults: tuple[Fault, ...]
    """Fatal findings of the first; with any, it is rejected whatever its points."""
    second_faults: tuple[Fault, ...]


def reasons_for(
    better: OptionScore, worse: OptionScore, weights: Weights, numbers: Judgements | None = None
) -> tuple[Reason, ...]:
    """Every fact by which one option is better than another, most points of the total first.

    A fact is left out when its numbers do not differ by more than their error, when they point the other way, or when
    it moves its criterion by less than a point.

    Raises
    ------
    ValueError
        When the two options do not have the same rooms.
    """
    numbers = numbers or rulebook().numbers
    rooms = [tuple(room.room.name for room in option.measures.rooms) for option in (better, worse)]
    if rooms[0] != rooms[1]:
        raise ValueError(f"options {better.option_id} and {worse.option_id} do not have the same rooms")
    found = chain(room_facts(better, worse, numbers), option_facts(better, worse, numbers))
    made = [_reason(item, better, worse, weights) for item in found if _matters(item, numbers)]
    return tuple(sorted(made, key=_order))


def _matters(item: Found, numbers: Judgements) -> bool:
    return facts()[item.fact].criterion is None or item.criterion_points >= numbers.least_points


def _order(reason: Reason) -> tuple[float, float, int]:
    return -reason.points, -reason.criterion_points, facts()[reason.fact].order


def _reason(item: Found, better: OptionScore, worse: OptionScore, weights: Weights) -> Reason:
    fact = facts()[item.fact]
    share = weights[fact.criterion] if fact.criterion else 0.0
    return Reason(
        fact=item.fact,
        criterion=fact.criterion,
        better_id=better.option_id,
        worse_id=worse.option_id,
        pairs=item.pairs,
        rooms=item.rooms,
        room_names=tuple(better.measures.rooms[index].room.name for index in item.rooms),
        points=share * item.criterion_points,
        criterion_points=item.criterion_points,
        audience=fact.audience,
    )


def compare_two(
    first: OptionScore, second: OptionScore, weights: Weights, numbers: Judgements | None = None
) -> Comparison:
    """Both directions of a pair: where the first is better, and where the second is."""
    return Comparison(
        first_id=first.option_id,
        second_id=second.option_id,
        for_first=reasons_for(first, second, weights, numbers),
        for_second=reasons_for(second, first, weights, numbers),
        lost=lost_points(second, first, weights),
        lead_points=first.total(weights) - second.total(weights),
        first_faults=first.fatal,
        second_faults=second.fatal,
    )


def where_it_loses(
    option: OptionScore, others: Iterable[OptionScore], weights: Weights, numbers: Judgements | None = None
) -> tuple[Reason, ...]:
    """For each fact the option that beats this one most, most points first. Rejected options do not count."""
    best: dict[str, Reason] = {}
    for other in others:
        if other.rejected or other.option_id == option.option_id:
            continue
        for reason in reasons_for(other, option, weights, numbers):
            kept = best.get(reason.fact)
            if kept is None or (reason.criterion_points, kept.better_id) > (kept.criterion_points, reason.better_id):
                best[reason.fact] = reason
    return tuple(sorted(best.values(), key=_order))


def winner_against(
    ranking: Ranking, shown: Sequence[OptionScore], numbers: Judgements | None = None
) -> tuple[Comparison, ...]:
    """The winner against every other shown option; empty when every option is rejected."""
    winner = ranking.winner
    if winner is None:
        return ()
    first = winner.option
    return tuple(
        compare_two(first, other, ranking.weights, numbers) for other in shown if other.option_id != first.option_id
    )


def for_audience(reasons: Iterable[Reason], audience: Audience) -> tuple[Reason, ...]:
    """Reasons that this audience may see; a designer sees all."""
    return tuple(reason for reason in reasons if audience is Audience.DESIGNER or reason.audience is audience)


def by_criterion(reasons: Iterable[Reason]) -> dict[Criterion, tuple[Reason, ...]]:
    """Scored reasons by criterion, in the order given."""
    found: dict[Criterion, list[Reason]] = {}
    for reason in reasons:
        if reason.criterion is not None:
            found.setdefault(reason.criterion, []).append(reason)
    return {criterion: tuple(items) for criterion, items in found.items()}


def reason_sentence(reason: Reason, better_name: str, worse_name: str, units: str = US) -> str:
    """A reason as one short sentence, with a second one when it holds for more rooms."""
    pair = reason.pairs[0]
    text = sentence(
        "reasons",
        reason.fact,
        a=better_name,
        b=worse_name,
        av=show(pair.better, pair.kind, units),
        bv=show(pair.worse, pair.kind, units),
        room=reason.room_names[0] if reason.room_names else "",
        rooms=names(reason.room_names),
    )
    if len(reason.rooms) > 1 and "{room}" in templates()["reasons"][reason.fact]:
        rest = reason.room_names[1:]
        text += sentence("reasons", "also", count=str(len(rest)), rooms=names(rest))
    return text
