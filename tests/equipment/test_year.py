"""The year of one outdoor unit: energy adds up, starts and hours below minimum follow the laws."""

from __future__ import annotations

import numpy as np
import pytest

from compare.equipment.catalogue import catalogue
from compare.equipment.fan import FanWatts, sensible_frac
from compare.equipment.output import fixed_minimum
from compare.equipment.partload import room_capacity_j_k
from compare.equipment.performance import Mode
from compare.equipment.sound import sound_power_dba
from compare.equipment.system import (
    Auxiliary,
    Head,
    OutdoorSystem,
    head_performance,
    limits,
    outdoor_limits,
    total_cooling_w,
)
from compare.equipment.table import BTU_H_W
from compare.equipment.unit import UnitKind
from compare.equipment.year import unit_year

UNITS = catalogue()
HOURS = 8760
CLOCK = np.arange(HOURS)
OUTDOOR_C = 8.0 - 14.0 * np.cos(2 * np.pi * CLOCK / HOURS) - 5.0 * np.cos(2 * np.pi * (CLOCK - 3) / 24)
FT2_M2 = 0.09290304


def head(kind: UnitKind, size: float, area_ft2: float, **more: object) -> Head:
    return Head(UNITS.pair(kind, size), float(room_capacity_j_k(area_ft2 * FT2_M2)), **more)


def alone(one: Head, **more: object) -> OutdoorSystem:
    return OutdoorSystem(one.pair.output, (one,), **more)


def load_w(ua_w_k: float) -> np.ndarray:
    """Heating below 17 degC, cooling above 24 degC, linear."""
    return ua_w_k * (np.maximum(17 - OUTDOOR_C, 0) - np.maximum(OUTDOOR_C - 24, 0))


def test_energy_adds_up_hour_by_hour():
    year = unit_year(alone(head(UnitKind.WALL, 9, 200)), load_w(60)[:, None], OUTDOOR_C)
    energy = year.energy
    assert energy.electricity_kwh == pytest.approx(year.power_w.sum() / 1000, rel=1e-12)
    supply = load_w(60)
    counted = np.abs(supply) >= 1.0
    assert energy.heat_delivered_kwh == pytest.approx(supply[counted & (supply > 0)].sum() / 1000, rel=1e-9)
    assert energy.cool_delivered_kwh == pytest.approx(-supply[counted & (supply < 0)].sum() / 1000, rel=1e-9)
    assert 0 < energy.fan_kwh < 0.1 * energy.electricity_kwh
    assert 2.5 < energy.cop < 5.5


def test_nothing_asked_leaves_standby_only():
    """8 W outdoor and 3 W indoor all year (from memory): 96.4 kWh."""
    year = unit_year(alone(head(UnitKind.WALL, 6, 130)), np.zeros((HOURS, 1)), OUTDOOR_C)
    assert year.energy.electricity_kwh == pytest.approx(0.011 * HOURS)
    assert year.cycling.running_h == 0
    assert year.cycling.below_min_frac == 0
    assert year.energy.cop == 0


def test_base_pan_and_crankcase_heat_by_their_thermostats():
    aux = Auxiliary(base_pan_fitted=True, crankcase_w=30.0)
    plain = unit_year(alone(head(UnitKind.WALL, 6, 130)), np.zeros((HOURS, 1)), OUTDOOR_C)
    year = unit_year(alone(head(UnitKind.WALL, 6, 130), auxiliary=aux), np.zeros((HOURS, 1)), OUTDOOR_C)
    assert year.energy.base_pan_kwh == pytest.approx(0.1 * (OUTDOOR_C < 36 * 5 / 9 - 160 / 9).sum())
    extra = year.energy.standby_kwh - plain.energy.standby_kwh
    assert extra == pytest.approx(0.03 * (OUTDOOR_C < 10).sum())


def test_duct_loss_is_paid_in_electricity():
    """Output = delivered / 0.8 (definition): about 25 % more power while modulating."""
    cold = np.full(HOURS, -5.0)
    supply = np.full((HOURS, 1), 2200.0)
    inside = unit_year(alone(head(UnitKind.DUCTED_LOW, 12, 600)), supply, cold)
    attic = unit_year(alone(head(UnitKind.DUCTED_LOW, 12, 600, delivered_heat_frac=0.8)), supply, cold)
    assert attic.heating.load_w == pytest.approx(1.25 * inside.heating.load_w)
    assert 1.25 < attic.energy.heating_kwh / inside.energy.heating_kwh < 1.40


def test_small_room_cycles_and_more_of_them_on_a_shared_unit():
    """Order seen by practitioners: one bedroom on a shared unit starts most, a bedroom pair less, a group least."""
    bedroom = load_w(18)
    areas = (130, 130, 130)
    shared = OutdoorSystem(UNITS.shared_unit(18).output, tuple(head(UnitKind.WALL, 6, area) for area in areas[:2]))
    on_shared = unit_year(shared, np.stack([bedroom, bedroom], axis=1), OUTDOOR_C).cycling
    own = unit_year(alone(head(UnitKind.WALL, 6, 130)), bedroom[:, None], OUTDOOR_C).cycling
    group = unit_year(alone(head(UnitKind.DUCTED_LOW, 9, 520)), 4 * bedroom[:, None], OUTDOOR_C).cycling
    assert on_shared.starts > own.starts > group.starts
    assert on_shared.below_min_frac > 0.95
    assert own.below_min_frac > group.below_min_frac


@pytest.mark.parametrize("design_btu_h", [2000, 3000])
def test_a_bedroom_on_the_smallest_unit_runs_most_hours_below_minimum(design_btu_h):
    """Common practice: 2-3 kBtu/h bedroom against a smallest room unit near 7 kBtu/h rated: over half its hours."""
    ua = design_btu_h * BTU_H_W / (17 - OUTDOOR_C.min())
    got = unit_year(alone(head(UnitKind.WALL, 7, 130)), load_w(ua)[:, None], OUTDOOR_C).cycling
    assert got.below_min_frac > 0.5


def test_fixed_output_head_over_a_year():
    """1,500 Btu/h minimum, room of at most 500 Btu/h (owners' report): run share never above a third."""
    pair = UNITS.pair(UnitKind.WALL, 6)
    output = fixed_minimum(pair.output, 1500 * BTU_H_W)
    one = head(UnitKind.WALL, 6, 130)
    supply = np.clip(load_w(1.0), 0.0, None)
    supply *= 500 * BTU_H_W / supply.max()
    outdoor = np.minimum(OUTDOOR_C, 47 / 1.8 - 32 / 1.8)
    year = unit_year(OutdoorSystem(output, (one,)), supply[:, None], outdoor)
    assert year.heating.run_frac.max() <= 1 / 3 + 1e-9
    assert year.cycling.below_min_frac == 1.0


def test_oversize_means_more_starts_and_more_power():
    """Trade reports of 1.6 to 2.1 times the load: more low-load cycling (same load, next sizes up)."""
    supply = load_w(60)[:, None]
    years = [unit_year(alone(head(UnitKind.WALL, size, 300)), supply, OUTDOOR_C) for size in (9, 18)]
    assert years[1].cycling.starts > years[0].cycling.starts
    assert years[1].cycling.below_min_h > years[0].cycling.below_min_h
    assert years[1].energy.cycling_loss_kwh > years[0].energy.cycling_loss_kwh


def test_one_zone_hot_and_one_cold_on_a_shared_unit():
    """One outdoor unit has one mode: the larger call is met, the other counted."""
    system = OutdoorSystem(UNITS.shared_unit(18).output, (head(UnitKind.WALL, 6, 130), head(UnitKind.WALL, 9, 200)))
    supply = np.tile([[500.0, -800.0]], (10, 1))
    year = unit_year(system, supply, np.full(10, 15.0))
    assert year.limits.conflict_h == 10
    assert year.limits.conflict_kwh == pytest.approx(5.0)
    assert year.energy.heat_delivered_kwh == 0
    assert year.energy.cool_delivered_kwh == pytest.approx(8.0)


def test_a_shared_unit_that_is_too_small_counts_what_is_missing():
    system = OutdoorSystem(UNITS.shared_unit(18).output, (head(UnitKind.WALL, 12, 300), head(UnitKind.WALL, 12, 300)))
    year = unit_year(system, np.full((4, 2), 3000.0), np.full(4, -15.0))
    most_w = 17.5 * 1000 * BTU_H_W
    assert year.limits.short_h == 4
    assert year.limits.short_kwh == pytest.approx(4 * (6000 - most_w) / 1000, rel=1e-6)
    assert year.energy.heat_delivered_kwh == pytest.approx(4 * most_w / 1000, rel=1e-6)


def test_a_head_alone_on_a_shared_unit_blows_harder_than_on_its_own():
    """The shared minimum goes through one small head: more air and more sound while it runs (energy balance)."""
    one = head(UnitKind.WALL, 6, 130)
    supply, outdoor = np.full((1, 1), 450.0), np.array([8.0])
    own = unit_year(alone(one), supply, outdoor).heating
    pair = OutdoorSystem(UNITS.shared_unit(18).output, (one, head(UnitKind.WALL, 6, 130)))
    on_shared = unit_year(pair, np.array([[450.0, 0.0]]), outdoor).heating
    assert own.airflow_m3_s[0, 0] == pytest.approx(one.pair.indoor.airflow_m3_s.quiet)
    assert on_shared.airflow_m3_s[0, 0] > 1.3 * own.airflow_m3_s[0, 0]
    assert on_shared.airflow_m3_s[0, 1] == 0
    flows = (own.airflow_m3_s[0, 0], on_shared.airflow_m3_s[0, 0])
    quiet, pushed = (float(sound_power_dba(one.pair.indoor, flow)) for flow in flows)
    assert pushed > quiet + 3


def test_limits_after_duct_loss_and_without_moisture():
    one = head(UnitKind.DUCTED_LOW, 12, 600, delivered_heat_frac=0.85, delivered_cool_frac=0.8)
    got = limits(one, np.array([-15.0, 35.0]))
    assert got.heat_w[0] == pytest.approx(0.85 * 12.2 * 1000 * BTU_H_W)
    assert got.cool_total_w[1] == pytest.approx(0.8 * 13.0 * 1000 * BTU_H_W)
    share = float(sensible_frac(one.pair.indoor.airflow_m3_s.high, 13.0 * 1000 * BTU_H_W))
    assert got.cool_sensible_w[1] == pytest.approx(share * got.cool_total_w[1])


def test_total_cooling_is_the_inverse_of_the_sensible_share():
    one = head(UnitKind.WALL, 12, 300)
    perf = head_performance(one, np.full(50, 33.0), Mode.COOL)
    sensible = np.linspace(1.0, limits(one, np.array([33.0])).cool_sensible_w[0], 50)
    total = total_cooling_w(one, sensible, perf)
    flow = one.pair.indoor.airflow_m3_s
    rate = np.clip((np.maximum(total, perf.min_w) - perf.min_w) / (perf.max_w - perf.min_w), 0, 1)
    running = np.maximum(total, perf.min_w)
    share = sensible_frac(flow.quiet + rate * (flow.high - flow.quiet), running)
    assert total * share == pytest.approx(sensible, rel=2e-3)
    assert total[-1] == pytest.approx(perf.max_w[-1], rel=1e-9)


def test_a_stronger_fan_costs_power():
    weak = head(UnitKind.DUCTED_LOW, 12, 600)
    strong = head(UnitKind.DUCTED_LOW, 12, 600, real_fan=FanWatts(40.0, 140.0))
    supply = np.clip(load_w(110), None, 0)[:, None]
    a, b = (unit_year(alone(one), supply, OUTDOOR_C).energy for one in (weak, strong))
    assert b.cooling_kwh > a.cooling_kwh
    assert b.fan_kwh > 1.5 * a.fan_kwh


@pytest.mark.parametrize(
    ("supply", "message"), [(np.zeros((5, 2)), "supply_w has shape"), (np.full((4, 1), np.nan), "must be finite")]
)
def test_bad_input_is_named(supply, message):
    with pytest.raises(ValueError, match=message):
        unit_year(alone(head(UnitKind.WALL, 6, 130)), supply, np.zeros(4))


def test_a_head_without_capacity_is_refused():
    with pytest.raises(ValueError, match="capacity_j_k must be above 0"):
        head(UnitKind.WALL, 6, 0.0)
    with pytest.raises(ValueError, match="delivered_heat_frac"):
        head(UnitKind.WALL, 6, 100.0, delivered_heat_frac=0.0)


def test_outdoor_limits_of_a_shared_unit_are_its_points():
    """Catalogue row of the shared 24 at 5 and 95 F (identity)."""
    heat, cool = outdoor_limits(UNITS.shared_unit(24).output, np.array([-15.0, 35.0]))
    assert heat[0] == pytest.approx(23.0 * 1000 * BTU_H_W)
    assert cool[1] == pytest.approx(27.0 * 1000 * BTU_H_W)
