"""Set points and rates tried at a table: the same units at other temperatures, and the same years at other prices."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house
from compare.whatif import at_rate, at_set_points, with_set_points

LOWER_K = 2.0
"""How much lower the house is held."""


@pytest.fixture(scope="module")
def found(scenarios: Path) -> Comparison:
    return compare_house(read_house(scenarios / "accessory_unit.toml"), scenarios)


def _held(found: Comparison, lower_k: float) -> Comparison:
    comfort = found.case.house.comfort
    return at_set_points(found, comfort.heating_c - lower_k, comfort.cooling_c, found.by_id)


@pytest.mark.slow
def test_the_same_set_points_give_the_same_year(found: Comparison) -> None:
    again = _held(found, 0.0)
    assert again.by_id.keys() == found.by_id.keys()
    for key, before in found.by_id.items():
        after = again.by_id[key]
        # doors are taken at the settled temperatures once more, so the two runs differ by their last step only
        assert after.score.measures.energy.electricity_kwh == pytest.approx(
            before.score.measures.energy.electricity_kwh, rel=0.01
        )
        assert after.score.measures.price == before.score.measures.price


@pytest.mark.slow
def test_heat_follows_degree_hours_to_the_balance_temperature(found: Comparison) -> None:
    """ASHRAE Handbook Fundamentals, energy estimating: heat is K times degree-hours below the balance temperature.

    The balance temperature is set so that the method meets the first year, then moved by the change of set point. The
    method has no storage and no solar hours, hence 8 % (our judgement).
    """
    case = found.case
    loss_w_k = case.loads.house.heat_w / (case.house.comfort.heating_c - case.design.heating_99_c)
    outdoor_c = case.weather.dry_bulb_c

    def heat_kwh(balance_c: float) -> float:
        return float(np.maximum(balance_c - outdoor_c, 0.0).sum()) * loss_w_k / 1000.0

    trial_c = np.arange(0.0, 25.0, 0.02)
    balance_c = float(trial_c[np.argmin([abs(heat_kwh(t) - found.need.heat_kwh) for t in trial_c])])
    lower = _held(found, LOWER_K)
    expected = heat_kwh(balance_c - LOWER_K) / heat_kwh(balance_c)
    assert lower.need.heat_kwh / found.need.heat_kwh == pytest.approx(expected, rel=0.08)


@pytest.mark.slow
def test_rooms_are_judged_by_the_new_set_point(found: Comparison) -> None:
    lower = _held(found, LOWER_K)
    view = lower.customer_view()
    assert view.house.heating_set_c == pytest.approx(found.case.house.comfort.heating_c - LOWER_K)
    gathering = [room.index for room in view.plan.rooms if room.use in {"living", "kitchen", "dining"}]
    targets = {room.morning_target_c for room in view.options[0].rooms if room.room in gathering}
    assert targets == {view.house.heating_set_c}


def test_a_rate_scales_bills_and_nothing_else(found: Comparison) -> None:
    rate = found.case.house.rates.electricity_usd_kwh
    dear = at_rate(found, 2.0 * rate)
    for key, before in found.by_id.items():
        after = dear.by_id[key]
        electric_usd = before.score.measures.energy.electricity_kwh * rate
        grown_usd = after.score.measures.energy.bill_usd - before.score.measures.energy.bill_usd
        assert grown_usd == pytest.approx(electric_usd, rel=1e-6)
        assert after.year is before.year
        assert after.score.scores == before.score.scores


@pytest.mark.slow
def test_how_sure_it_is_stays_known_at_another_rate(found: Comparison) -> None:
    certainty = found.certainty()
    before, after = found.customer_view().answer, at_rate(found, 0.41).customer_view().answer
    assert before.tries == certainty.draws
    assert (after.verdict, after.tries, after.tries_won) == (before.verdict, before.tries, before.tries_won)


def test_set_points_that_meet_are_refused(found: Comparison) -> None:
    with pytest.raises(ValueError, match=r"comfort\.cooling"):
        with_set_points(found.case.house, 23.0, 23.5)
