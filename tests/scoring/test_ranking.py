"""Order, ties, Pareto set, points lost, profile winners; and what must never change them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.scoring.certainty import Verdict, judge
from compare.scoring.criteria import CRITERIA, SIX, Criterion
from compare.scoring.evidence import PriceEvidence
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import (
    criterion_winner,
    dominators,
    order_by,
    pareto_rows,
    rank,
    rescore,
    scores_matrix,
    sort_options,
)
from compare.scoring.scores import OptionScore, score_measures, score_option
from compare.scoring.season import season
from compare.scoring.shown import always_shown
from compare.scoring.weights import balanced, make_weights, profiles
from tests.scoring.builders import calendar, evidence, price, room
from tests.scoring.draws import measures, options

NUMBERS = rulebook().numbers
YEAR = season(calendar(), NUMBERS)
BASE = score_option(evidence("base"), YEAR)


def fixed(option_id: str, scores: tuple[float, ...], usd: float = 10000.0, **other) -> OptionScore:
    """An option with given scores."""
    measured = replace(BASE.measures, option_id=option_id, price=price(usd), **other)
    return replace(BASE, measures=measured, scores=(*scores, 100.0), faults=())


def priced(option: OptionScore, usd: float, reference_usd: float | None = None) -> OptionScore:
    reference = reference_usd or option.measures.price.reference_usd
    found = PriceEvidence(0.85 * usd, usd, 1.2 * usd, reference)
    return score_measures(replace(option.measures, price=found, price_ratio=usd / reference))


A = fixed("a", (90.0, 80.0, 70.0, 90.0, 50.0, 60.0))
B = fixed("b", (90.0, 40.0, 80.0, 85.0, 60.0, 90.0))
C = fixed("c", (80.0, 40.0, 70.0, 85.0, 40.0, 60.0))


def test_totals_and_points_lost_by_hand() -> None:
    ranking = rank([C, A, B], balanced())
    # a: .15x90 + .10x80 + .15x70 + .30x90 + .20x50 + .10x60; b and c in the same way
    assert [item.option.option_id for item in ranking.ranked] == ["b", "a", "c"]
    assert [item.total for item in ranking.ranked] == pytest.approx([76.0, 75.0, 66.0])
    second = ranking.find("a")
    assert second.lost[:6] == pytest.approx((0.0, -4.0, 1.5, -1.5, 2.0, 3.0))
    assert math.fsum(second.lost) == pytest.approx(ranking.ranked[0].total - second.total)
    with pytest.raises(KeyError, match="there are b, a, c"):
        ranking.find("z")


def test_pareto_and_dominated_by_whom() -> None:
    ranking = rank([A, B, C], balanced())
    assert set(ranking.pareto) == {"a", "b"}
    assert ranking.find("c").dominated_by == ("b", "a")
    equal = dominators(np.array([[1.0, 2.0], [1.0, 2.0]]), ["x", "y"])
    assert equal == ((), ())


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 4)] * 3), min_size=1, max_size=25))
def test_pareto_set_against_its_definition(rows) -> None:
    scores = np.array(rows, dtype=float)
    expected = [
        i
        for i, row in enumerate(rows)
        if not any(all(b >= a for a, b in zip(row, other, strict=True)) and other != row for other in rows)
    ]
    assert pareto_rows(scores).tolist() == expected
    named = dominators(scores, [str(i) for i in range(len(rows))])
    for i, by in enumerate(named):
        assert bool(by) is (i not in expected)
        assert {int(k) for k in by} <= set(expected)
        assert all((scores[int(k)] >= scores[i]).all() and (scores[int(k)] > scores[i]).any() for k in by)


def test_ties_go_to_the_lower_price_then_the_id() -> None:
    same = (80.0,) * 6
    found = rank(
        [
            fixed("z", same, 9000.0, family="mix"),
            fixed("y", same, family="few_heads"),
            fixed("x", same, family="head_each"),
        ],
        balanced(),
    )
    assert [item.option.option_id for item in found.ranked] == ["z", "x", "y"]
    assert found.certainty is not None
    assert found.certainty.verdict is Verdict.TOO_CLOSE
    assert found.certainty.near == ("z", "x", "y")


def test_forms_of_one_layout_are_no_rivals() -> None:
    """The same layout with its ducts elsewhere does not make a recommendation uncertain; another family does."""
    found = rank(
        [
            fixed("attic", (85.0,) * 6, family="mix"),
            fixed("hall", (84.9,) * 6, family="mix"),
            fixed("heads", (80.0,) * 6, family="head_each"),
        ],
        balanced(),
    )
    assert found.certainty is not None
    assert found.certainty.lead_points == pytest.approx(5.0)
    assert found.certainty.near == ("attic",)


def test_rejected_options_stay_listed_last() -> None:
    cold = score_option(evidence("cold", rooms=(room("Bedroom", air_f=50.0),), price=price(6000.0)), YEAR)
    ranking = rank([cold, C], balanced())
    assert [item.place for item in ranking.ranked] == [1, 0]
    assert ranking.rejected[0].option.fatal[0].code == "cold_bedroom"
    nothing = rank([cold], balanced())
    assert nothing.winner is None
    assert nothing.certainty is None


def test_two_options_may_not_share_an_id() -> None:
    with pytest.raises(ValueError, match="a stand more than once"):
        rank([A, A], balanced())


def test_winner_under_each_profile() -> None:
    winners = dict(rank([A, B, C], balanced()).profile_winners)
    assert set(winners) == {p.weights.name for p in profiles()}
    assert winners["Low bills"][0] == "b"
    assert winners["Built to last"][0] == "a"
    assert winners["Balanced"] == ("b", "a")


@pytest.mark.parametrize(
    ("lead", "draws", "stays", "verdict"),
    [
        (2.99, 500, 500, Verdict.TOO_CLOSE),
        (3.0, 500, 400, Verdict.CLEAR),
        (9.0, 500, 399, Verdict.LIKELY),
        (9.0, 500, 300, Verdict.LIKELY),
        (9.0, 500, 299, Verdict.TOO_CLOSE),
        (9.0, 0, 0, Verdict.NOT_SAMPLED),
    ],
)
def test_how_sure(lead: float, draws: int, stays: int, verdict: Verdict) -> None:
    assert judge(lead, ("a",), NUMBERS, draws, stays).verdict is verdict


def test_more_draws_cannot_stay_than_were_made() -> None:
    with pytest.raises(ValueError, match="stays"):
        judge(5.0, ("a",), NUMBERS, 10, 11)


def test_always_shown_families() -> None:
    shown = [
        fixed("m2", (90.0,) * 6, family="mix", outdoor_units=2),
        fixed("m1", (85.0,) * 6, family="mix", outdoor_units=1),
        fixed("m3", (89.9,) * 6, family="mix", outdoor_units=2),
        fixed("e", (70.0,) * 6, family="head_each"),
        fixed("s", (60.0,) * 6, family="single_head"),
        fixed("h", (75.0,) * 6, family="heads_and_heaters"),
        fixed("d", (50.0,) * 6, family="ducted_all"),
        fixed("f", (40.0,) * 6, family="few_heads"),
        fixed("f2", (88.0,) * 6, family="few_heads"),
    ]
    found = [item.option.option_id for item in always_shown(rank(shown, balanced()), NUMBERS.tie_points)]
    assert found == ["m2", "f2", "m1", "h", "e", "s", "d"]  # m3 is the mix again, f is far behind


def test_rescore_agrees_with_the_totals() -> None:
    found = [A, B, C]
    weights = np.array([p.weights.array for p in profiles()])
    totals = rescore(scores_matrix(found), weights)
    assert totals.shape == (3, 5)
    for column, profile in enumerate(profiles()):
        assert totals[:, column] == pytest.approx([option.total(profile.weights) for option in found], abs=1e-9)
    first = order_by(totals[:, 0], np.array([o.price_usd for o in found]), [o.option_id for o in found])
    assert [found[i].option_id for i in first] == ["b", "a", "c"]


@settings(max_examples=60, deadline=None)
@given(options(2, 5, warm=True), st.sampled_from(SIX))
def test_all_weight_on_one_criterion_gives_its_order(found: list[OptionScore], criterion: Criterion) -> None:
    alone = make_weights("one", {criterion: 1.0})
    ranking = rank(found, alone)
    scores = [item.option.score(criterion) for item in ranking.ranked if item.place]
    assert all(a >= b - 1e-9 for a, b in pairwise(scores))
    best = criterion_winner(found, criterion, alone)
    assert best is not None
    assert ranking.winner is not None
    assert best.score(criterion) == pytest.approx(ranking.winner.option.score(criterion), abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(options(2, 5, warm=True), measures("h", warm=True), st.sampled_from(profiles()))
def test_adding_a_worse_option_changes_nothing(found, extra, profile) -> None:
    before = rank(found, profile.weights)
    winner = before.winner
    assert winner is not None
    new = score_measures(extra)
    worst = tuple(min(a, b) for a, b in zip(new.scores, winner.option.scores, strict=True))
    worse = replace(new, scores=worst, measures=replace(extra, price=price(winner.option.price_usd + 1.0)))
    after = rank([*found, worse], profile.weights)
    old = [item.option.option_id for item in before.ranked if item.place]
    assert after.winner is not None
    assert after.winner.option.option_id == winner.option.option_id
    assert [item.option.option_id for item in after.ranked if item.place and item.option.option_id != "h"] == old
    for option in found:
        assert after.find(option.option_id).total == before.find(option.option_id).total


@settings(max_examples=60, deadline=None)
@given(options(2, 5, warm=True), st.integers(0, 4), st.floats(1.0, 4.0), st.sampled_from(profiles()))
def test_a_dearer_option_never_gains(found, which, factor, profile) -> None:
    index = which % len(found)
    before = sort_options(found, profile.weights)
    dearer = priced(found[index], factor * found[index].price_usd)
    after = sort_options([*found[:index], dearer, *found[index + 1 :]], profile.weights)
    place = [o.option_id for o in before].index(dearer.option_id)
    assert dearer.total(profile.weights) <= found[index].total(profile.weights)
    assert [o.option_id for o in after].index(dearer.option_id) >= place


@settings(max_examples=60, deadline=None)
@given(options(2, 5, warm=True), st.sampled_from((0.25, 0.5, 2.0, 8.0, 1.37, 0.81)), st.sampled_from(profiles()))
def test_a_constant_price_factor_never_changes_the_order(found, factor, profile) -> None:
    scaled = [priced(o, factor * o.price_usd, factor * o.measures.price.reference_usd) for o in found]
    ids = [o.option_id for o in sort_options(found, profile.weights)]
    assert [o.option_id for o in sort_options(scaled, profile.weights)] == ids


@settings(max_examples=60, deadline=None)
@given(measures(), st.permutations(range(5)), st.permutations(range(3)))
def test_permuted_rooms_and_units_give_the_same_scores(found, rooms, units) -> None:
    units = [k for k in units if k < len(found.units)]
    moved = replace(
        found,
        rooms=tuple(replace(found.rooms[old], index=new) for new, old in enumerate(rooms)),
        units=tuple(found.units[k] for k in units),
    )
    one, other = score_measures(found), score_measures(moved)
    assert other.scores == one.scores
    assert other.rejected == one.rejected
    assert {f.code for f in other.faults} == {f.code for f in one.faults}


@settings(max_examples=60, deadline=None)
@given(options(3, 5, warm=True), st.permutations(range(5)))
def test_the_order_of_the_list_does_not_matter(found, order) -> None:
    mixed = [found[k] for k in order if k < len(found)]
    assert [i.option.option_id for i in rank(mixed, balanced()).ranked] == [
        i.option.option_id for i in rank(found, balanced()).ranked
    ]


@settings(max_examples=60, deadline=None)
@given(measures())
def test_scores_lie_within_0_and_100(found) -> None:
    option = score_measures(found)
    assert len(option.scores) == len(CRITERIA)
    assert all(-1e-9 <= score <= 100.0 + 1e-9 for score in option.scores)
