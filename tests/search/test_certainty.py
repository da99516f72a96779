"""How sure: draws that repeat, a rule that holds, spreads that are those that were asked for."""

from __future__ import annotations

import numpy as np
import pytest

from compare.pipeline import Comparison
from compare.prices.items import families
from compare.scoring.certainty import Verdict
from compare.scoring.criteria import Criterion
from compare.scoring.judgements import rulebook
from compare.scoring.weights import balanced, make_weights
from compare.search.certainty import Sampler
from compare.search.check import check_draws
from compare.search.draws import CREDIT, SIGMAS, draw_weights, make_draws


def test_draws_have_their_spread_and_repeat() -> None:
    numbers = rulebook().numbers
    one, two = (make_draws(families(), numbers, 4096) for _ in range(2))
    for name, sigma in SIGMAS.items():
        logs = np.log(one.factor[name])
        assert np.array_equal(one.factor[name], two.factor[name])
        assert one.factor[name][0] == 1.0
        if name != "shared_cop":  # that one also has its even factor
            assert logs.std() == pytest.approx(sigma, rel=0.05)
    assert one.ducted_db.std() == pytest.approx(5.0, rel=0.05)
    assert CREDIT[0] <= one.credit.min() < one.credit.max() <= CREDIT[1]
    independent = np.corrcoef([np.log(one.factor[name]) for name in SIGMAS])
    assert np.abs(independent - np.eye(len(SIGMAS))).max() < 0.06


def test_weights_are_drawn_around_the_chosen_ones() -> None:
    """Mean and variance of a Dirichlet law: m and m (1 - m) / (concentration + 1) (Johnson and Kotz, from memory)."""
    base = balanced()
    drawn = draw_weights(base, 20000)
    assert np.allclose(drawn.sum(axis=1), 1.0)
    assert np.allclose(drawn.mean(axis=0), base.array, atol=0.005)
    assert np.allclose(drawn.var(axis=0), base.array * (1 - base.array) / 41.0, rtol=0.06, atol=1e-9)
    only = draw_weights(make_weights("cost", {Criterion.COST: 1.0}), 10)
    assert np.allclose(only[:, 4], 1.0)


@pytest.fixture(scope="module")
def sampled(unit: Comparison) -> Comparison:
    unit.certainty()
    return unit


def test_verdict_follows_the_rule(sampled: Comparison) -> None:
    found = sampled.certainty()
    assert found.draws >= 500
    assert found.stays_frac + sum(share for _, share in found.others) == pytest.approx(1.0)
    if found.lead_points < 3.0:
        assert found.verdict is Verdict.TOO_CLOSE
    for key, low, high in found.bands:
        assert 0.0 <= low <= high <= 100.0, key


def test_same_seed_same_answer(sampled: Comparison, unit: Comparison) -> None:
    again = Sampler(unit.kit)
    ids = [key for key, _, _ in sampled.certainty().bands]
    again.draw([unit.by_id[key] for key in ids])
    assert again.judged(unit.rank(), ids) == sampled.certainty()


def test_one_weight_alone_makes_that_order_sure(sampled: Comparison) -> None:
    """All weight on price: the cheapest option stays first in every draw where prices alone decide."""
    weights = make_weights("price only", {Criterion.COST: 1.0})
    found = sampled.certainty(weights)
    assert sampled.rank(weights).winner.option.price_usd == min(o.price_usd for o in sampled.scores if not o.rejected)
    assert found.stays_frac > 0.8


@pytest.mark.slow
def test_scaled_draws_against_full_simulation(wing: Comparison) -> None:
    """Twenty draws with the house built anew: within 1.5 points of the total, under half a point on average."""
    ids = [item.option.option_id for item in wing.shown(wing.rank()) if not item.option.rejected]
    draws = make_draws(families(), rulebook().numbers, 64)
    found = check_draws(wing.kit, [wing.by_id[key] for key in ids], draws, wing.weights.array)
    assert found.draws == 20
    assert found.mean_points < 0.5
    assert found.most_points < 1.5
    assert found.order_kept_frac >= 0.8
