"""Leakage, its share by room, its combination with fans, and its levels."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.house.plan import Boundary
from compare.physics.leak_levels import leak_levels
from compare.physics.leakage import (
    Envelope,
    exposed_area_m2,
    room_shares_frac,
    site_flow_m3_s,
    site_wind_m_s,
    tightness_from_blower_door,
    tightness_from_class,
)
from compare.physics.ventilation import HouseAir, Ventilation, combined_flow_m3_s, ventilation_of
from tests.physics.small_house import small_plan

SUBURB = Envelope(storeys=1, shelter=3, crawlspace=False, eaves_m=2.5)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 40.0), st.floats(0.0, 15.0), st.floats(0.1, 5.0))
def test_more_drive_never_leaks_less(difference_k, wind_m_s, more):
    # Both models are sums of squares: flow rises with either drive (infiltration chapter, ASHRAE Fundamentals).
    house = tightness_from_blower_door(6.0, 300.0, SUBURB)
    flow = site_flow_m3_s(house, difference_k, wind_m_s)
    assert site_flow_m3_s(house, difference_k + more, wind_m_s) >= flow
    assert site_flow_m3_s(house, difference_k, wind_m_s + more) >= flow
    assert site_flow_m3_s(house, -difference_k, wind_m_s) == flow


def test_leakage_scales_with_the_blower_door():
    one = tightness_from_blower_door(5.0, 300.0, SUBURB)
    two = tightness_from_blower_door(10.0, 300.0, SUBURB)
    assert two.area_m2 == pytest.approx(2.0 * one.area_m2)
    np.testing.assert_allclose(site_flow_m3_s(two, 20.0, 4.0), 2.0 * site_flow_m3_s(one, 20.0, 4.0))


def test_wind_at_the_eaves():
    # Power-law profile by hand: (270/10)^0.14 (2.5/370)^0.22 = 0.528; in open country (2.5/10)^0.14 = 0.824.
    assert float(site_wind_m_s(SUBURB, 10.0)) == pytest.approx(5.28, abs=0.01)
    exposed = Envelope(storeys=1, shelter=1, crawlspace=False, eaves_m=2.5)
    assert float(site_wind_m_s(exposed, 10.0)) == pytest.approx(8.24, abs=0.01)


def test_shares_by_room():
    # Load factor method: by volume; a room without outside wall takes half its volume's share.
    rooms = small_plan().rooms
    shares = room_shares_frac(rooms)
    assert shares.sum() == pytest.approx(1.0, abs=1e-15)
    assert shares[2] / shares[0] == pytest.approx(14.0 / 30.0)
    assert shares[1] / shares[0] == pytest.approx(0.5 * 6.0 / 30.0)


def test_exposed_area_leaves_out_the_slab():
    rooms = small_plan().rooms
    expected = sum(face.area_m2 for room in rooms for face in room.surfaces if face.boundary is not Boundary.GROUND)
    assert exposed_area_m2(rooms) == pytest.approx(expected)


def _flow_of(storeys, shelter):
    envelope = Envelope(storeys, shelter, crawlspace=False, eaves_m=3.0)
    return site_flow_m3_s(tightness_from_blower_door(5.0, 300.0, envelope), 10.0, 3.0)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: tightness_from_blower_door(0.0, 300.0, SUBURB), "air.ach50"),
        (lambda: tightness_from_class("drafty", 300.0, SUBURB), "very leaky"),
        (lambda: ventilation_of("fan", 0.02), "balanced"),
        (lambda: _flow_of(4, 3), "storeys"),
        (lambda: _flow_of(1, 7), "shelter"),
    ],
)
def test_bad_input_names_the_cure(make, words):
    with pytest.raises(ValueError, match=words):
        make()


def test_fans_and_leakage_together():
    # ASHRAE Fundamentals 2021 ch. 17: max(unbalanced, leakage + half of it), then balanced times (1 - recovery).
    assert float(combined_flow_m3_s(0.010, Ventilation(unbalanced_m3_s=0.040), 0.0)) == pytest.approx(0.040)
    assert float(combined_flow_m3_s(0.030, Ventilation(unbalanced_m3_s=0.040), 0.0)) == pytest.approx(0.050)
    balanced = ventilation_of("balanced", 0.040, 0.75)
    assert float(combined_flow_m3_s(0.030, balanced, balanced.recovery_frac)) == pytest.approx(0.040)
    air = HouseAir(tightness_from_blower_door(5.0, 300.0, SUBURB), balanced)
    assert air.moisture_flow_m3_s(20.0, 3.0) > air.sensible_flow_m3_s(20.0, 3.0)


def test_levels_keep_the_heat_of_the_year():
    # A year of invented weather: the sum of conductance times difference is kept; an hour's error falls with levels.
    rng = np.random.default_rng(7)
    difference_k = 10.0 + 12.0 * np.cos(np.arange(8760) / 8760 * 2 * np.pi) + rng.normal(0.0, 4.0, 8760)
    wind_m_s = rng.weibull(2.0, 8760) * 4.0
    conductance = 1230.0 * site_flow_m3_s(tightness_from_blower_door(10.0, 300.0, SUBURB), difference_k, wind_m_s)
    errors = []
    for levels in (1, 3, 6, 12):
        found = leak_levels(conductance, difference_k, levels)
        assert found.heat_error_frac < 1e-10
        assert np.all(np.diff(found.level_w_k) >= 0.0)
        errors.append(found.hour_error_frac)
    assert errors == sorted(errors, reverse=True)
    assert errors[2] < 0.10


def test_levels_of_a_constant():
    found = leak_levels(np.full(48, 30.0), np.full(48, 10.0), 6)
    np.testing.assert_allclose(found.level_w_k[found.index], 30.0)
    with pytest.raises(ValueError, match="at least 1"):
        leak_levels(np.ones(3), np.ones(3), 0)
