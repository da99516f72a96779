"""The humidity balance against hand steady states, a psychrometric library and the moisture buffer test cycle."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from compare.physics.coil import CoilHours, Entering, apparatus_dew_point_c, coil_hours, no_coil, together
from compare.physics.leakage import Envelope, tightness_from_blower_door
from compare.physics.moist_air import (
    EVAPORATION_J_KG,
    SEA_LEVEL_PA,
    dew_point_c,
    dry_density_kg_m3,
    ratio_from_humidity_kg_kg,
)
from compare.physics.moisture import (
    MoistureHours,
    MoistureStore,
    cycle_share_frac,
    household_latent_w,
    indoor_humidity,
    store_of,
)
from compare.physics.ventilation import HouseAir, Ventilation, ventilation_of

psychrolib.SetUnitSystem(psychrolib.SI)
DENSITY = float(dry_density_kg_m3(SEA_LEVEL_PA))
STORE = store_of(360.0, 150.0, SEA_LEVEL_PA)
HOURS = 24 * 60


def steady(flow_m3_s=0.03, latent_w=200.0, outdoor=0.004, indoor_c=21.0, hours=HOURS):
    whole = np.ones(hours)
    return MoistureHours(indoor_c * whole, outdoor * whole, flow_m3_s * whole, latent_w * whole)


def test_steady_state_by_hand():
    # Hand: W = Wo + G / (rho Q hfg); 0.03 m3/s at 1.204 kg/m3 and 200 W of moisture: 0.004 + 0.002213; 1e-6.
    year = indoor_humidity(STORE, steady(), no_coil(HOURS), SEA_LEVEL_PA)
    by_hand = 0.004 + 200.0 / (DENSITY * 0.03 * EVAPORATION_J_KG)
    assert by_hand == pytest.approx(0.006214, abs=2e-6)
    assert year.ratio_kg_kg[-1] == pytest.approx(by_hand, rel=1e-4)


def test_relative_humidity_as_psychrolib_gives_it():
    # psychrolib 2.5: relative humidity from dry bulb, humidity ratio and pressure; 1e-6 relative.
    year = indoor_humidity(STORE, steady(), no_coil(HOURS), SEA_LEVEL_PA)
    for hour in (0, 100, HOURS - 1):
        expected = psychrolib.GetRelHumFromHumRatio(21.0, float(year.ratio_kg_kg[hour]), SEA_LEVEL_PA)
        assert year.humidity_frac[hour] == pytest.approx(expected, rel=2e-5)


@pytest.mark.parametrize(
    ("fans", "flow_m3_s"),
    [
        # ASHRAE Handbook-Fundamentals 2021, ch. 17: max(Qunbal, Qleak + 0.5 Qunbal) + Qbal (1 - recovery), by hand
        # with a leak of 0.020 m3/s: none 0.020; exhaust 0.030 -> 0.035; strong exhaust 0.050 -> 0.050 (fan governs);
        # balanced 0.025 -> 0.045; with half of the moisture kept 0.0325.
        (Ventilation(), 0.020),
        (ventilation_of("exhaust", 0.030), 0.035),
        (ventilation_of("exhaust", 0.050), 0.050),
        (ventilation_of("balanced", 0.025, 0.7), 0.045),
        (Ventilation(balanced_m3_s=0.025, recovery_frac=0.7, moisture_recovery_frac=0.5), 0.0325),
    ],
)
def test_ventilation_and_leakage_together(fans, flow_m3_s):
    leaky = tightness_from_blower_door(7.0, 360.0, Envelope(1, 3, crawlspace=False, eaves_m=2.6))
    at_one = float(HouseAir(leaky).moisture_flow_m3_s(20.0, 3.0))
    scaled = replace(leaky, coefficient_m3_s=leaky.coefficient_m3_s * 0.020 / at_one)
    flow = HouseAir(scaled, fans).moisture_flow_m3_s(np.full(HOURS, 20.0), np.full(HOURS, 3.0))
    assert flow[0] == pytest.approx(flow_m3_s, rel=1e-9)
    hours = replace(steady(), flow_m3_s=flow)
    year = indoor_humidity(STORE, hours, no_coil(HOURS), SEA_LEVEL_PA)
    assert year.ratio_kg_kg[-1] == pytest.approx(0.004 + 200.0 / (DENSITY * flow_m3_s * EVAPORATION_J_KG), rel=1e-3)


def test_more_fresh_air_is_drier_in_winter_and_wetter_in_summer():
    # Direction by hand: outdoor air drier than the room dries it, wetter air wets it once gains are small.
    low, high = (
        indoor_humidity(STORE, steady(flow), no_coil(HOURS), SEA_LEVEL_PA).ratio_kg_kg[-1] for flow in (0.02, 0.06)
    )
    assert high < low
    coil = CoilHours(np.full(HOURS, 0.05), np.full(HOURS, 0.009))
    low, high = (
        indoor_humidity(STORE, steady(flow, 100.0, 0.016, 24.0), coil, SEA_LEVEL_PA).ratio_kg_kg[-1]
        for flow in (0.02, 0.06)
    )
    assert high > low


def test_steady_state_with_a_coil_by_hand():
    # Hand: rho Q (Wo - W) + G/hfg = k (W - Ws).
    k, surface, flow = 0.03, 0.0085, DENSITY * 0.03
    by_hand = (flow * 0.015 + 300.0 / EVAPORATION_J_KG + k * surface) / (flow + k)
    coil = CoilHours(np.full(HOURS, k), np.full(HOURS, surface))
    year = indoor_humidity(STORE, steady(0.03, 300.0, 0.015, 24.0), coil, SEA_LEVEL_PA)
    assert year.ratio_kg_kg[-1] == pytest.approx(by_hand, rel=1e-4)
    assert year.removed_kg[-1] == pytest.approx(k * (by_hand - surface) * 3600.0, rel=1e-3)


def test_a_dry_room_gives_the_coil_nothing():
    coil = CoilHours(np.full(HOURS, 0.05), np.full(HOURS, 0.0085))
    year = indoor_humidity(STORE, steady(), coil, SEA_LEVEL_PA)
    assert year.removed_kg.max() == 0.0


@pytest.mark.parametrize("share", [0.65, 0.7, 0.75, 0.8, 0.9])
def test_apparatus_dew_point_beside_psychrolib(share):
    # ASHRAE Handbook-Fundamentals, Psychrometrics: the coil line meets saturation at the apparatus dew point. Own
    # construction with psychrolib's functions and scipy's root finder on enthalpies; 0.15 K (the line's slope is taken
    # per degree of dry bulb here, per unit of enthalpy there).
    air = Entering()
    ratio = psychrolib.GetHumRatioFromRelHum(air.dry_bulb_c, air.humidity_frac, SEA_LEVEL_PA)
    start = psychrolib.GetMoistAirEnthalpy(air.dry_bulb_c, ratio)

    def off(temp_c):
        end_ratio = psychrolib.GetSatHumRatio(temp_c, SEA_LEVEL_PA)
        sensible = start - psychrolib.GetMoistAirEnthalpy(temp_c, ratio)
        return sensible / (start - psychrolib.GetMoistAirEnthalpy(temp_c, end_ratio)) - share

    dew = psychrolib.GetTDewPointFromHumRatio(air.dry_bulb_c, ratio, SEA_LEVEL_PA)
    grid = np.linspace(dew - 0.01, -3.0, 400)
    signs = [off(temp) for temp in grid]
    place = next(i for i in range(399) if signs[i] * signs[i + 1] <= 0.0)
    expected = brentq(off, grid[place + 1], grid[place])
    assert float(apparatus_dew_point_c(air, share)) == pytest.approx(expected, abs=0.15)


@given(
    st.floats(0.05, 0.99),
    st.floats(20.0, 32.0),
    st.floats(0.35, 0.8),
    st.sampled_from([SEA_LEVEL_PA, 84000.0, 70000.0]),
)
def test_coil_line_meets_saturation_first_where_it_is_said_to(share, dry_bulb_c, humidity, pressure_pa):
    # Definition: on the way from the dew point down, the surface is where the straight line first meets the saturation
    # curve; the curve is checked against psychrolib in test_moist_air. 1e-10 kg/kg.
    air = Entering(dry_bulb_c, humidity, pressure_pa)
    slope = (1.0 - share) / share * (1006.0 + 1860.0 * air.ratio_kg_kg) / EVAPORATION_J_KG

    def over_line(temp_c):
        line = air.ratio_kg_kg - slope * (dry_bulb_c - temp_c)
        return float(ratio_from_humidity_kg_kg(temp_c, 1.0, pressure_pa)) - line

    dew = float(dew_point_c(air.ratio_kg_kg, pressure_pa))
    found = float(apparatus_dew_point_c(air, share))
    above = np.linspace(found, dew, 200)[1:-1]
    assert -5.0 <= found <= dew
    assert all(over_line(temp_c) > -1e-9 for temp_c in above)
    if found > -5.0:
        assert over_line(found) == pytest.approx(0.0, abs=1e-10)


def test_coil_gives_its_stated_latent_heat_at_the_stated_air():
    # Definition: at the entering state the removal is total less sensible.
    air = Entering(24.0, 0.5)
    coil = coil_hours(np.array([2000.0, 0.0, 1500.0]), np.array([2600.0, 0.0, 1500.0]), air)
    latent_w = coil.pull_kg_s * (air.ratio_kg_kg - coil.surface_kg_kg) * EVAPORATION_J_KG
    np.testing.assert_allclose(latent_w, [600.0, 0.0, 0.0], rtol=1e-9)


def test_two_coils_add():
    # Definition: removal of both at one humidity above both surfaces is the sum.
    first, second = CoilHours(np.array([0.02]), np.array([0.008])), CoilHours(np.array([0.05]), np.array([0.009]))
    both = together(first, second)
    assert both.pull_kg_s[0] * (0.011 - both.surface_kg_kg[0]) == pytest.approx(0.02 * 0.003 + 0.05 * 0.002)


def test_refusals_name_what_is_wrong():
    with pytest.raises(ValueError, match="total must be at least sensible"):
        coil_hours(np.array([2000.0]), np.array([1500.0]))
    with pytest.raises(ValueError, match="hours"):
        coil_hours(np.array([2000.0]), np.array([2500.0, 2500.0]))
    with pytest.raises(ValueError, match="equally long"):
        indoor_humidity(STORE, steady(), no_coil(24), SEA_LEVEL_PA)


def test_standard_buffer_cycle():
    # NORDTEST moisture buffer cycle: 8 h at 75 %, 16 h at 33 % RH; the table's 0.4 g/m2 per % on 3 m2 per m2 of floor
    # must come out as uptake per cycle. Run through the balance itself with so much outdoor air that the room stands at
    # the outdoor humidity; hourly steps, 5 %.
    period = np.where(np.arange(HOURS) % 24 < 8, 0.75, 0.33)
    outdoor = np.array([psychrolib.GetHumRatioFromRelHum(23.0, value, SEA_LEVEL_PA) for value in period])
    hours = MoistureHours(np.full(HOURS, 23.0), outdoor, np.full(HOURS, 50.0), np.zeros(HOURS))
    year = indoor_humidity(STORE, hours, no_coil(HOURS), SEA_LEVEL_PA)
    last = year.material_frac[-24:]
    uptake_g = (last.max() - last.min()) * STORE.material_kg * 1000.0
    assert uptake_g / (150.0 * 3.0) / 42.0 == pytest.approx(0.4, rel=0.05)
    assert cycle_share_frac(6.0 * 3600.0) == pytest.approx(0.697, abs=0.002)


def test_materials_calm_the_day():
    # Direction: a store damps the daily swing and leaves the mean as it is (1 %).
    gains = np.where(np.arange(HOURS) % 24 < 8, 600.0, 100.0)
    hours = replace(steady(), latent_w=gains)
    bare = indoor_humidity(replace(STORE, material_kg=1e-6), hours, no_coil(HOURS), SEA_LEVEL_PA)
    full = indoor_humidity(STORE, hours, no_coil(HOURS), SEA_LEVEL_PA)
    assert np.ptp(full.humidity_frac[-24:]) < 0.75 * np.ptp(bare.humidity_frac[-24:])
    assert full.ratio_kg_kg[-240:].mean() == pytest.approx(bare.ratio_kg_kg[-240:].mean(), rel=0.01)


def _stored_kg(store: MoistureStore, year, hour):
    return store.air_kg * year.ratio_kg_kg[hour] + store.material_kg * year.material_frac[hour]


@given(
    st.integers(0, 2**32 - 1),
    st.floats(0.005, 0.2),
    st.floats(0.0, 2000.0),
    st.floats(0.0, 0.08),
)
def test_water_is_conserved(seed, flow_m3_s, latent_w, pull):
    # Conservation: stored = outdoor air in less out + gains - coil - condensate, every hour, 1e-9 kg.
    dice = np.random.default_rng(seed)
    count = 96
    hours = MoistureHours(
        dice.uniform(16.0, 27.0, count),
        dice.uniform(0.001, 0.02, count),
        flow_m3_s * dice.uniform(0.2, 2.0, count),
        latent_w * dice.uniform(0.0, 1.0, count),
    )
    coil = CoilHours(pull * dice.uniform(0.0, 1.0, count), dice.uniform(0.006, 0.012, count))
    year = indoor_humidity(STORE, hours, coil, SEA_LEVEL_PA)
    assert np.all(year.humidity_frac <= 1.0)
    assert np.all(year.ratio_kg_kg > 0.0)
    for hour in range(1, count):
        moved = hours.flow_m3_s[hour] * DENSITY * (hours.outdoor_kg_kg[hour] - year.ratio_kg_kg[hour]) * 3600.0
        gain = hours.latent_w[hour] / EVAPORATION_J_KG * 3600.0
        left = moved + gain - year.removed_kg[hour] - year.condensed_kg[hour]
        assert _stored_kg(STORE, year, hour) - _stored_kg(STORE, year, hour - 1) == pytest.approx(left, abs=1e-9)


def test_damp_hours_and_household_moisture():
    # ANSI/ASHRAE 160 design rates (from memory) are 14 kg/d for four people in three bedrooms, an upper figure: breath
    # (200 Btu/h each, 19.2 h at home) with what is left of cooking and washing must stay under it and above half.
    breath_kg = 4.0 * 58.6 * 19.2 * 3600.0 / EVAPORATION_J_KG
    other_kg = household_latent_w(4.0) * 86400.0 / EVAPORATION_J_KG
    assert 7.0 < breath_kg + other_kg < 14.0
    year = indoor_humidity(STORE, steady(0.01, 600.0), no_coil(HOURS), SEA_LEVEL_PA)
    assert year.damp_frac() == 1.0
    assert year.damp_frac(np.zeros(HOURS, dtype=bool)) == 0.0
    assert year.damp_frac(limit_frac=1.0) == 0.0
