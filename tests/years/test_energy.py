"""Energy of an option's year: what it adds up from, and what equal service adds to it."""

from __future__ import annotations

import numpy as np
import pytest

from compare.house.model import HouseFile
from compare.house.reading import house_of
from compare.pipeline import Comparison
from compare.scoring.evidence import EnergyEvidence
from compare.years.energy import OldHeat
from compare.zones.sketch import Rest
from tests.houses import changed, compared, compared_text, scenario_text, studio

SCENARIOS = ("ranch", "accessory_unit", "open_bungalow")


@pytest.fixture(scope="module")
def ranch() -> Comparison:
    return compared("ranch")


def energy(found: Comparison, key: str) -> EnergyEvidence:
    return found.by_id[key].score.measures.energy


@pytest.mark.parametrize("name", SCENARIOS)
def test_electricity_is_units_and_room_heaters(name: str) -> None:
    for result in compared(name).results:
        units = sum(unit.energy.electricity_kwh for unit in result.year.units)
        found = result.score.measures.energy
        assert found.electricity_kwh == pytest.approx(units + found.resistance_heat_kwh, rel=1e-12)


@pytest.mark.parametrize("name", SCENARIOS)
def test_heat_delivered_is_the_sum_of_all_supplies(name: str) -> None:
    """Where no outdoor unit is shared, so that none ever has to choose between warm and cold."""
    compared_house = compared(name)
    for result in compared_house.results:
        if any(group.shared for group in result.option.outdoor.groups):
            continue
        supply = compared_house.hours(result.option.key).trace.supply_w.astype(float)
        assert result.score.measures.energy.heat_kwh == pytest.approx(np.maximum(supply, 0).sum() / 1000, rel=2e-3)
        assert result.score.measures.energy.cool_kwh == pytest.approx(np.maximum(-supply, 0).sum() / 1000, rel=2e-3)


@pytest.mark.parametrize("name", SCENARIOS)
def test_a_shared_outdoor_unit_delivers_no_more_than_its_heads_were_given(name: str) -> None:
    compared_house = compared(name)
    for result in compared_house.results:
        supply = compared_house.hours(result.option.key).trace.supply_w.astype(float)
        assert result.score.measures.energy.heat_kwh <= np.maximum(supply, 0).sum() / 1000 * (1 + 1e-9) + 1e-6


@pytest.mark.parametrize("name", SCENARIOS)
def test_equal_service_never_takes_less_than_the_year_as_it_runs(name: str) -> None:
    more = 0
    for result in compared(name).results:
        found = result.score.measures.energy
        as_run = found.electricity_kwh + found.old_fuel_kwh
        assert found.equal_service_kwh >= as_run * (1.0 - 1e-6)
        more += found.equal_service_kwh > 1.05 * as_run
    print(f"{name}: {more} options need more for equal service")


def test_equal_service_changes_only_layouts_with_cold_bedrooms(ranch: Comparison) -> None:
    for result in ranch.results:
        found, rest = result.score.measures.energy, dict(result.option.layout.rest)
        bedrooms = [i for i, room in enumerate(ranch.case.plan.rooms) if room.sleepers]
        borrowing = [room for room in bedrooms if rest.get(room) is Rest.NEIGHBOUR]
        if not borrowing:
            assert found.equal_service_kwh == found.electricity_kwh


def test_the_need_is_the_same_for_every_option_and_more_than_a_cold_one_delivers(ranch: Comparison) -> None:
    assert {result.score.measures.energy.equal_service_heat_kwh for result in ranch.results} == {ranch.need.heat_kwh}
    assert energy(ranch, "h0").heat_kwh < ranch.need.heat_kwh


def test_bills_are_electricity_at_the_houses_rate(ranch: Comparison) -> None:
    rate = ranch.case.house.rates.electricity_usd_kwh
    for result in ranch.results:
        used = result.score.measures.energy
        assert used.bill_usd == pytest.approx(used.electricity_kwh * rate)


def test_kept_old_heat_counts_at_its_efficiency_and_in_equal_service() -> None:
    """A furnace of efficiency 0.8 burns heat / 0.8, and counts so at site."""
    found = compared_text(changed(scenario_text("ranch"), ("keep = false", "keep = true")))
    kept = [result for result in found.results if Rest.OLD_HEAT in dict(result.option.layout.rest).values()]
    assert kept
    for result in kept:
        energy = result.score.measures.energy
        supply = found.hours(result.option.key).trace.supply_w.astype(float)[:, len(result.option.zones) :]
        assert energy.old_fuel_kwh == pytest.approx(np.maximum(supply, 0).sum() / 1000 / 0.8, rel=1e-9)
        assert energy.equal_service_kwh >= energy.electricity_kwh + energy.old_fuel_kwh - 1e-6
        electric = energy.electricity_kwh * found.case.house.rates.electricity_usd_kwh
        assert energy.bill_usd - electric == pytest.approx(energy.old_fuel_kwh * 1.45 / 29.3001, rel=1e-9)


def heated_by(**heat: object) -> HouseFile:
    return house_of(studio() | ({"existing_heat": heat} if heat else {}), "test")


def test_fuels_by_their_heat_content() -> None:
    """Heat contents by the US Energy Information Administration: therm 29.3 kWh, oil 138,500 Btu a gallon."""
    gas = OldHeat.of(heated_by(fuel="gas", efficiency=0.95, price=1.5))
    oil = OldHeat.of(heated_by(fuel="oil", efficiency=0.85, price=4.06))
    assert gas.usd_kwh == pytest.approx(1.5 / 29.3, rel=1e-4)
    assert gas.efficiency_frac == 0.95
    assert oil.usd_kwh == pytest.approx(4.06 / (138_500 * 1.05506 / 3600), rel=1e-3)


def test_no_old_heat_counts_as_electric_resistance() -> None:
    house = heated_by()
    assert OldHeat.of(house) == OldHeat(1.0, house.rates.electricity_usd_kwh, house.rates.carbon_kg_kwh)
