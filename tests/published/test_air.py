"""Moist air, air leakage and internal gains against published figures and a general-purpose library."""

import numpy as np
import psychrolib
import pytest

from compare.physics import moist_air
from compare.physics.gains import design_gains
from compare.physics.leakage import (
    Envelope,
    Tightness,
    basic_flow_m3_s,
    enhanced_flow_m3_s,
    shelter_frac,
    site_flow_m3_s,
    tightness_from_area,
    tightness_from_blower_door,
    unit_leakage_m2_m2,
)
from tests.physics.small_house import small_plan


def _envelope(storeys=1, shelter=3, crawlspace=False, flue=False):
    return Envelope(storeys=storeys, shelter=shelter, crawlspace=crawlspace, eaves_m=2.5 * storeys, flue=flue)


# ASHRAE Handbook-Fundamentals 2005, infiltration chapter, basic (Sherman-Grimsrud) model: coefficients in
# (L/s)^2/(cm4 K) and (L/s)^2/(cm4 (m/s)^2), rows 1-3 storeys, shelter classes 1-5; exact.
BASIC_STACK = [0.000145, 0.000290, 0.000435]
BASIC_WIND = [
    [0.000319, 0.000246, 0.000174, 0.000104, 0.000032],
    [0.000420, 0.000325, 0.000231, 0.000137, 0.000042],
    [0.000494, 0.000382, 0.000271, 0.000161, 0.000049],
]


@pytest.mark.parametrize("shelter", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("storeys", [1, 2, 3])
def test_basic_coefficients(storeys, shelter):
    # With 1 cm2 and unit drive the squared flow in L/s is the coefficient itself.
    by_wind_m3_s = basic_flow_m3_s(1e-4, _envelope(storeys, shelter), 0.0, 1.0)
    by_stack_m3_s = basic_flow_m3_s(1e-4, _envelope(storeys, shelter), 1.0, 0.0)
    assert (float(by_wind_m3_s) * 1000.0) ** 2 == pytest.approx(BASIC_WIND[storeys - 1][shelter - 1], rel=1e-9)
    assert (float(by_stack_m3_s) * 1000.0) ** 2 == pytest.approx(BASIC_STACK[storeys - 1], rel=1e-9)


@pytest.mark.parametrize(("storeys", "litres_s"), [(1, 37.7), (2, 48.7)])
def test_basic_model(storeys, litres_s):
    # Same model by hand: 500 cm2, 20 K, 4 m/s, shelter class 3; 0.1 L/s.
    flow_m3_s = basic_flow_m3_s(0.05, _envelope(storeys, 3), 20.0, 4.0)
    assert float(flow_m3_s) * 1000.0 == pytest.approx(litres_s, abs=0.1)


def test_enhanced_model():
    # Same chapter, enhanced (AIM-2) model: c 0.05, one storey on a slab, shelter 0.5, 20 K, 4 m/s; 0.1 L/s.
    house = Tightness(0.05, 0.67, _envelope(1, 4))
    assert float(enhanced_flow_m3_s(house, 20.0, 0.0)) * 1000.0 == pytest.approx(20.1, abs=0.1)
    assert float(enhanced_flow_m3_s(house, 0.0, 4.0)) * 1000.0 == pytest.approx(19.7, abs=0.1)
    assert float(enhanced_flow_m3_s(house, 20.0, 4.0)) * 1000.0 == pytest.approx(28.2, abs=0.1)


# Same chapter, coefficient tables of the enhanced model.
ENHANCED = [
    (1, False, False, 0.054, 0.156), (2, False, False, 0.078, 0.170), (3, False, False, 0.098, 0.170),
    (1, True, False, 0.069, 0.142), (2, True, False, 0.089, 0.156), (3, True, False, 0.107, 0.167),
    (1, False, True, 0.054, 0.128), (2, False, True, 0.078, 0.142), (3, False, True, 0.098, 0.151),
]  # fmt: skip


@pytest.mark.parametrize(("storeys", "flue", "crawlspace", "stack", "wind"), ENHANCED)
def test_enhanced_coefficients(storeys, flue, crawlspace, stack, wind):
    # With c = 1 and unit drive the flow is the coefficient itself; exact.
    house = Tightness(1.0, 0.67, _envelope(storeys, 1, crawlspace, flue))
    assert float(enhanced_flow_m3_s(house, 1.0, 0.0)) == pytest.approx(stack, rel=1e-12)
    assert float(enhanced_flow_m3_s(house, 0.0, 1.0)) == pytest.approx(wind, rel=1e-12)


@pytest.mark.parametrize(("shelter", "factor"), [(1, 1.0), (2, 0.9), (3, 0.7), (4, 0.5), (5, 0.3)])
def test_shelter_factor(shelter, factor):
    # Same chapter, shelter factors without a flue; exact.
    assert shelter_frac(shelter) == factor


@pytest.mark.parametrize(
    ("word", "cm2_m2"), [("tight", 0.7), ("good", 1.4), ("average", 2.8), ("leaky", 5.6), ("very leaky", 10.4)]
)
def test_unit_leakage(word, cm2_m2):
    # ASHRAE Handbook-Fundamentals 2021, chapter 17, unit leakage areas; exact.
    assert unit_leakage_m2_m2(word) == pytest.approx(cm2_m2 * 1e-4, rel=1e-12)


def test_leakage_area_definition():
    # ASHRAE Handbook-Fundamentals: AL = Q(4 Pa) / sqrt(2 x 4 / density), discharge coefficient 1. A hole of that area
    # passes the same 4 Pa flow; exact.
    house = tightness_from_blower_door(7.0, 400.0, _envelope())
    orifice_m3_s = house.area_m2 * np.sqrt(2.0 * 4.0 / 1.204)
    assert house.flow_50_m3_s == pytest.approx(7.0 * 400.0 / 3600.0, rel=1e-12)
    assert house.coefficient_m3_s * 4.0**0.67 == pytest.approx(orifice_m3_s, rel=1e-12)
    assert tightness_from_area(house.area_m2, _envelope()).coefficient_m3_s == pytest.approx(house.coefficient_m3_s)


def test_blower_door_shortcut():
    # Rule of thumb: air changes at 50 Pa over about 20 (14-26) give the natural rate (from memory). It stems from the
    # basic model: one-storey house, moderate shelter, mild winter. (The enhanced model gives about two thirds of it.)
    house = tightness_from_blower_door(10.0, 300.0, _envelope(1, 3))
    flow_m3_s = basic_flow_m3_s(house.area_m2, house.envelope, 12.0, 3.5)
    assert 14.0 < 10.0 / (float(flow_m3_s) * 3600.0 / 300.0) < 26.0


def test_enhanced_model_beside_the_load_factor_method():
    # ASHRAE Handbook-Fundamentals 2021, chapter 17, worked house: 36 L/s from 499 cm2 at 23 K and a design wind of
    # 6.7 m/s, heavy shelter. Two methods with their own assumptions: 25 %.
    house = tightness_from_area(0.0499, Envelope(storeys=1, shelter=4, crawlspace=False, eaves_m=2.5))
    assert float(site_flow_m3_s(house, 23.0, 6.7)) * 1000.0 == pytest.approx(36.0, rel=0.25)


@pytest.mark.parametrize(
    ("factor", "printed"),
    [
        (moist_air.sensible_factor_j_m3k() / 1000.0, 1.23),
        (moist_air.latent_factor_j_m3() / 1000.0, 3010.0),
        (moist_air.total_factor_kg_m3(), 1.2),
    ],
)
def test_air_factors(factor, printed):
    # ASHRAE Handbook-Fundamentals 2021, chapter 17: Cs, Cl, Ct per L/s at sea level; 1 %.
    assert factor == pytest.approx(printed, rel=0.01)


def test_air_factor_of_the_european_standard():
    # EN 12831: 0.34 Wh/(m3 K) (from memory); printed to two digits.
    assert moist_air.sensible_factor_j_m3k() / 3600.0 == pytest.approx(0.34, abs=0.005)


def test_indoor_condition():
    # psychrolib 2.5: 24 degC, 50 %, 101,325 Pa; 0.5 %.
    ratio = moist_air.ratio_from_humidity_kg_kg(24.0, 0.5, 101325.0)
    assert float(ratio) == pytest.approx(0.00930, rel=0.005)
    assert float(moist_air.enthalpy_j_kg(24.0, ratio)) == pytest.approx(47810.0, rel=0.005)
    assert float(moist_air.wet_bulb_c(24.0, ratio, 101325.0)) == pytest.approx(17.07, abs=0.02)
    assert float(moist_air.dew_point_c(ratio, 101325.0)) == pytest.approx(12.95, abs=0.02)
    assert float(moist_air.ratio_from_humidity_kg_kg(20.0, 0.3, 101325.0)) == pytest.approx(0.00434, rel=0.005)


STATES = [
    (-20.0, 0.8, 84000.0),
    (0.0, 0.5, 101325.0),
    (5.0, 0.9, 90000.0),
    (20.0, 0.3, 101325.0),
    (33.0, 0.44, 97600.0),
    (43.0, 0.1, 96000.0),
]


@pytest.mark.parametrize(("dry_c", "humidity", "pressure_pa"), STATES)
def test_moist_air_against_library(dry_c, humidity, pressure_pa):
    # psychrolib 2.5 as referee: same humidity ratio, enthalpy, density; wet bulb within its own 0.001 K.
    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(dry_c, humidity, pressure_pa)
    assert float(moist_air.ratio_from_humidity_kg_kg(dry_c, humidity, pressure_pa)) == pytest.approx(ratio, rel=1e-6)
    assert float(moist_air.enthalpy_j_kg(dry_c, ratio)) == pytest.approx(
        psychrolib.GetMoistAirEnthalpy(dry_c, ratio), abs=1.0
    )
    assert float(moist_air.density_kg_m3(dry_c, ratio, pressure_pa)) == pytest.approx(
        psychrolib.GetMoistAirDensity(dry_c, ratio, pressure_pa), rel=1e-6
    )
    assert float(moist_air.wet_bulb_c(dry_c, ratio, pressure_pa)) == pytest.approx(
        psychrolib.GetTWetBulbFromHumRatio(dry_c, ratio, pressure_pa), abs=0.002
    )
    assert float(moist_air.dew_point_c(ratio, pressure_pa)) == pytest.approx(
        psychrolib.GetTDewPointFromHumRatio(dry_c, ratio, pressure_pa), abs=0.002
    )


@pytest.mark.parametrize("elevation_m", [0.0, 315.0, 1655.0])
def test_standard_pressure(elevation_m):
    # psychrolib 2.5, standard atmosphere; 1 Pa.
    psychrolib.SetUnitSystem(psychrolib.SI)
    assert moist_air.standard_pressure_pa(elevation_m) == pytest.approx(
        psychrolib.GetStandardAtmPressure(elevation_m), abs=1.0
    )


def test_humidity_difference_of_the_worked_house():
    # ASHRAE Handbook-Fundamentals 2021, chapter 17: 33/23.2 degC at 315 m against 24 degC, 50 %: 0.0050 read from a
    # chart (0.00488 recomputes); 3 %.
    pressure_pa = moist_air.standard_pressure_pa(315.0)
    outdoor = moist_air.ratio_from_wet_bulb_kg_kg(33.0, 23.2, pressure_pa)
    indoor = moist_air.ratio_from_humidity_kg_kg(24.0, 0.5, pressure_pa)
    assert float(outdoor - indoor) == pytest.approx(0.0050, rel=0.03)


def test_people_of_the_design_day():
    # North American residential practice: 230 Btu/h sensible and 200 latent a person, bedrooms plus one, appliances
    # 1,200 Btu/h (from memory); exact. 1 Btu/h = 0.293071 W.
    plan = small_plan()
    gains = design_gains(plan.rooms, 24)
    people = 2 + 1
    assert gains.people_w.sum(axis=1) == pytest.approx(people * 230.0 * 0.293071, rel=1e-4)
    assert gains.latent_w.sum(axis=1) == pytest.approx(people * 200.0 * 0.293071, rel=1e-4)
    assert gains.appliances_w.sum(axis=1).max() == pytest.approx(1200.0 * 0.293071, rel=1e-4)
