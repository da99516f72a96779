"""Internal gains: who is where, and that people and heat are conserved."""

import numpy as np
import pytest

from compare.house.plan import Use
from compare.physics.gains import design_gains, family_rooms, year_gains
from tests.physics.small_house import room, small_plan

PLAN = small_plan()


def test_people_sleep_in_the_regular_bed():
    # 200 Btu/h a sleeper (58.6 W) from 22 to 07, nobody in the guest room (gain rules: our judgement).
    gains = year_gains(PLAN.rooms, 48)
    night = np.r_[0:7, 22:31, 46:48]
    assert np.all(gains.people_w[night, 2] == pytest.approx(2 * 58.614))
    assert np.all(gains.people_w[7:22, 2] == 0.0)
    assert np.all(gains.people_w[:, 3] == 0.0)
    assert np.all(gains.people_w[night, 0] == 0.0)


def test_evening_and_day_of_the_family():
    # 230 Btu/h each and 900 Btu/h of appliances from 17 to 22; 120 and 250 by day; 0.7 Btu/h.ft2 always.
    btu_h = 0.293071
    gains = year_gains(PLAN.rooms, 24)
    base_w = 0.7 * btu_h / 0.09290304 * 30.0
    evening_w, day_w = (230.0 * 2 + 900.0) * btu_h, (120.0 * 2 + 250.0) * btu_h
    assert gains.sensible_w[18, 0] == pytest.approx(base_w + evening_w, rel=1e-3)
    assert gains.sensible_w[10, 0] == pytest.approx(base_w + day_w, rel=1e-3)
    assert gains.sensible_w[3, 0] == pytest.approx(base_w, rel=1e-3)
    np.testing.assert_allclose(gains.convective_w + gains.radiant_w, gains.sensible_w)
    np.testing.assert_allclose(gains.convective_w, 0.6 * gains.sensible_w)


def test_household_given_in_numbers():
    # The household fixes the people whatever the beds hold; they are conserved through the night.
    gains = year_gains(PLAN.rooms, 24, people=3.0)
    assert gains.people_w[2].sum() == pytest.approx(3.0 * 58.614)
    assert gains.latent_w[2].sum() == pytest.approx(3.0 * 58.614)
    assert gains.latent_w[19].sum() == pytest.approx(3.0 * 58.614)


def test_quarter_hours_repeat_the_hour():
    hourly, quarters = year_gains(PLAN.rooms, 24), year_gains(PLAN.rooms, 96, step_s=900.0)
    np.testing.assert_allclose(quarters.sensible_w[::4], hourly.sensible_w)
    np.testing.assert_allclose(quarters.sensible_w[3::4], hourly.sensible_w)


def test_family_rooms_fall_back():
    bed = room("bed", Use.BEDROOM, (3.0, 3.0), ())
    hall = room("hall", Use.HALL, (3.0, 3.0), ())
    dining = room("dining", Use.DINING, (3.0, 3.0), ())
    assert family_rooms((bed, hall, dining)) == (2,)
    assert family_rooms((bed, hall)) == (0, 1)
    with pytest.raises(ValueError, match="at least one room"):
        family_rooms(())


def test_house_without_beds():
    rooms = (room("bed", Use.BEDROOM, (3.0, 3.0), ()), room("living", Use.LIVING, (4.0, 4.0), ()))
    assert year_gains(rooms, 24).people_w.sum() == 0.0
    assert year_gains(rooms, 24, people=2.0).people_w[1, 0] == pytest.approx(2.0 * 58.614)
    alone = (room("studio", Use.LIVING, (4.0, 4.0), ()),)
    assert design_gains(alone, 24).people_w[1, 0] == pytest.approx(67.406)
