"""Backup heat: what is missing by room, the owner who switches off in the cold (V17), the unit that failed (V18)."""

from __future__ import annotations

import numpy as np
import pytest

from compare.house.reading import read_house_text
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.whatif import doors_at_night
from compare.years.backup import ALARM, UNMET_K, Backup, backup_of
from compare.years.case import prepare
from compare.years.energy import fuels
from compare.years.habits import coldest_month, failed_in, months, off_below, owners_off_below_c
from compare.years.supplies import factory_of
from tests.houses import SCENARIOS, changed, compared, compared_text, scenario_text


def best(found: Comparison) -> Option:
    winner = found.rank().winner
    assert winner is not None
    return found.by_id[winner.option.option_id].option


def of_family(found: Comparison, family: str) -> Option:
    return next(option for option in found.options if option.family.value == family)


def backup(found: Comparison, option: Option, on_frac: np.ndarray | None = None) -> Backup:
    return backup_of(found.case, factory_of(found.case), option, on_frac)


def test_one_head_leaves_shut_bedrooms_to_backup_and_a_full_layout_does_not() -> None:
    """Practitioners: a shut bedroom beside one head gets cold overnight; a layout that serves every room holds it."""
    found = compared("ranch")
    single, full = backup(found, of_family(found, "single_head")), backup(found, best(found))
    bedrooms = [room for room in single.rooms if found.case.plan.rooms[room.room].use.value == "bedroom"]
    assert min(room.unmet_h for room in bedrooms) > 500
    assert single.backup_kwh > 0.15 * single.heat_pump_kwh
    assert full.backup_kwh < 0.01 * full.heat_pump_kwh


def test_backup_holds_what_was_missing() -> None:
    """Energy balance: heat of a mixed year lies between that of heaters alone (2 F lower) and the heat pump's own."""
    found = compared("ranch")
    option = best(found)
    all_year_off = np.zeros(found.case.weather.hours)
    heaters_only = backup(found, option, all_year_off)
    together = backup(found, option, off_below(found.case.weather, 2.0))
    assert heaters_only.heat_pump_kwh == 0.0
    whole = together.heat_pump_kwh + together.backup_kwh
    assert heaters_only.backup_kwh < whole < backup(found, option).heat_pump_kwh
    assert all(room.coldest_c < found.case.plan.rooms[room.room].target_c - UNMET_K for room in heaters_only.rooms)


def test_cost_is_heat_at_its_price() -> None:
    """kWh at the house's rate; old gas heat at price of a therm over its heat and efficiency (definition)."""
    found = compared("ranch")
    rates, old = found.case.house.rates, found.case.house.existing_heat
    got = backup(found, of_family(found, "single_head"))
    assert got.resistance_usd == pytest.approx(got.backup_kwh * rates.electricity_usd_kwh)
    assert old is not None
    assert old.fuel.value == "gas"
    price = found.case.house.fuel_price_usd
    assert price is not None
    expected = got.backup_kwh / old.efficiency_frac * price / fuels()["gas"].heat_kwh
    assert got.old_heat_usd == pytest.approx(expected)


def test_cut_out_hours_are_counted_in_the_weather() -> None:
    found = compared("cabin")
    got = backup(found, best(found))
    assert got.cut_out_h == int((found.case.weather.dry_bulb_c < got.cut_out_c).sum())


# V17 -------------------------------------------------------------------------------------------------------------


def test_the_survey_line_goes_through_its_points() -> None:
    """Half of the owners off at 15 F, 70 % at 1 F (state programme survey in Maine)."""
    at = owners_off_below_c([0.5, 0.7]) * 1.8 + 32.0
    assert at == pytest.approx([15.0, 1.0], abs=1e-9)


def lost_frac(found: Comparison, shares: tuple[float, ...]) -> float:
    option, weather = best(found), found.case.weather
    naive = backup(found, option).heat_pump_kwh
    kept = [backup(found, option, off_below(weather, float(c))).heat_pump_kwh for c in owners_off_below_c(shares)]
    return 1.0 - float(np.mean(kept)) / naive


def test_owners_who_switch_off_take_a_large_part_of_the_delivered_heat() -> None:
    """Field: delivered heat 40 % under the model (Maine). The switching alone gives a quarter to 45 %, most where cold.

    The rest of the survey's gap has other causes (units sized for one room, other heat left on), which this run leaves
    out; Richmond is milder and loses less.
    """
    shares = (0.1, 0.3, 0.5, 0.7, 0.9)
    maine = changed(scenario_text("cabin"), ('weather = "golden"', 'zip = "04401"'))
    mild, cold = lost_frac(compared("ranch"), shares), lost_frac(compared_text(maine), shares)
    assert 0.15 < mild < cold
    assert 0.25 < cold < 0.45


def test_the_heat_that_is_switched_off_moves_to_the_backup() -> None:
    found = compared("cabin")
    option = best(found)
    left, off = backup(found, option), backup(found, option, off_below(found.case.weather, -5.0))
    missing = left.heat_pump_kwh - off.heat_pump_kwh
    assert 0.8 * missing < off.backup_kwh - left.backup_kwh < missing
    assert off.resistance_usd > left.resistance_usd


# V18 -------------------------------------------------------------------------------------------------------------


def test_a_failed_unit_carried_by_resistance_makes_the_big_bill() -> None:
    """Owners report $500 to 1,000 a month (complaints, resistance carrying a house of this kind in winter).

    The two-storey house in Pittsburgh needs about 2,700 kWh of heat in January; at $0.17 to 0.35/kWh that is the band.
    """
    found = compared("colonial")
    month = coldest_month(found.case.weather)
    got = backup(found, best(found), failed_in(month))
    assert np.argmax(got.monthly_kwh) == month - 1
    low, high = got.monthly_kwh.max() * 0.17, got.monthly_kwh.max() * 0.35
    assert 400.0 < low < high < 1_100.0
    usual = found.by_id[best(found).key].score.measures.energy.electricity_kwh
    assert got.monthly_kwh.max() > 0.4 * usual
    assert got.backup_h > 500
    assert "alarm" in ALARM


def test_months_are_those_of_a_common_year() -> None:
    assert np.bincount(months())[1:].tolist() == [744, 672, 744, 720, 744, 720, 744, 744, 720, 744, 720, 744]
    with pytest.raises(ValueError, match="month must lie between"):
        failed_in(13)


def test_open_doors_need_less_backup() -> None:
    house = doors_at_night(read_house_text(scenario_text("ranch"), "test"), shut=False)
    case, found = prepare(house, SCENARIOS), compared("ranch")
    single = of_family(found, "single_head")
    assert backup_of(case, factory_of(case), single).backup_kwh < backup(found, single).backup_kwh
