"""What would change the answer: each change, made, does change it, and a little less of it does not."""

from __future__ import annotations

import numpy as np
import pytest

from compare.pipeline import Comparison
from compare.scoring.criteria import CRITERIA, Criterion
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import rescore, scores_matrix
from compare.scoring.weights import make_weights
from compare.search.flips import first_of, moved_curve, price_flips, score_flips, search, weight_flips
from compare.turning_points import flips_of


def alive_of(found: Comparison):
    return [item.option for item in found.rank().ranked if item.place]


@pytest.mark.parametrize("house", ["unit", "wing"])
def test_a_weight_flip_flips_and_less_of_it_does_not(house: str, request: pytest.FixtureRequest) -> None:
    found: Comparison = request.getfixturevalue(house)
    alive = alive_of(found)
    base = found.weights
    for flip in weight_flips(alive, base):
        criterion = Criterion(flip.subject)
        rest = {c: base[c] for c in CRITERIA if c is not criterion}
        total = sum(rest.values())

        firsts = []
        for share in (flip.after, flip.before + 0.97 * (flip.after - flip.before)):
            points = {c: v / total * (1.0 - share) for c, v in rest.items()} | {criterion: share}
            moved = make_weights("moved", points)
            firsts.append(first_of(alive, rescore(scores_matrix(alive), moved.array)).family)
        assert firsts[0] == flip.family != alive[0].family
        assert firsts[1] == alive[0].family


def test_a_price_flip_flips(wing: Comparison) -> None:
    alive, weights, book = alive_of(wing), wing.weights, rulebook()
    place = CRITERIA.index(Criterion.COST)
    for flip in price_flips(alive, weights, book):
        factor = flip.after / flip.before
        moved = scores_matrix(alive).copy()
        for k, option in enumerate(alive):
            ratio = option.measures.price_ratio * (factor if option.family == flip.subject else 1.0)
            moved[k, place] = book.curves["K"].points(ratio)
        assert first_of(alive, rescore(moved, weights.array)).option_id == flip.winner


def test_nothing_to_flip_where_one_kind_is_alone(unit: Comparison) -> None:
    alone = [option for option in unit.scores if option.family == "head_each"]
    assert score_flips(alone, unit.weights, rulebook()) == ()


def test_search_finds_the_nearest_crossing() -> None:
    class Option:
        def __init__(self, family: str) -> None:
            self.family = family

    found = search(np.linspace(0.0, 10.0, 11).tolist(), lambda x: Option("b" if x > 3.7 else "a"), "a")
    assert found is not None
    assert found[0] == pytest.approx(3.7, abs=1e-3)
    assert search([0.0, 1.0], lambda x: Option("a"), "a") is None


def test_moved_curve_moves_its_anchors() -> None:
    curve = rulebook().curves["N1"]
    milder = moved_curve(curve, 3.0, by_level=True)
    for x, points in zip(curve.xs, curve.ys, strict=True):
        assert milder.points(x + 3.0) == pytest.approx(points)
    stretched = moved_curve(rulebook().curves["L2"], 2.0, by_level=False)
    assert stretched.points(2.0 * 4000.0) == pytest.approx(80.0)


@pytest.mark.slow
def test_all_flips_of_a_house(unit: Comparison) -> None:
    """Only other kinds are named, and the view carries them once they are found."""
    family = unit.rank().winner.option.family
    flips = flips_of(unit)
    assert flips
    assert all(flip.family != family for flip in flips)
    assert len({flip.kind for flip in flips}) == len(flips)
    assert len(unit.customer_view().flips) == len(flips)
