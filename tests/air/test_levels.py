"""Sound levels at the ear: properties that follow from the definitions and handbook laws named beside them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.air.noise import bands, hours, room
from compare.air.noise.fan import SoundSource, octave_power_db, power_dba
from compare.air.noise.outdoors import outdoor_curve

CFM = 0.3048**3 / 60
QUIET = (10.4, 6.4, 3.4, -2.6, -7.6, -11.6, -15.6, -19.6)
HIGH = (-0.2, -1.2, -0.2, -1.2, -5.2, -9.2, -16.2, -23.2)
HEAD = SoundSource(31, 48, QUIET, HIGH, 135 * CFM, 290 * CFM)


def test_octaves_sum_to_the_stated_power():
    """Definition of A-weighted power; the shapes are stated to 0.1 dB."""
    for share in (0.0, 0.3, 0.7, 1.0):
        total = float(bands.level_dba(octave_power_db(HEAD, np.array([share])))[0])
        assert total == pytest.approx(float(power_dba(HEAD, np.array([share]))[0]), abs=0.4)


def test_speed_law_between_the_ends():
    """Handbook fan law 50 log(flow), from memory: within 1 dB of the two stated powers."""
    share = np.linspace(0, 1, 11)
    flow = 135 + share * 155
    assert power_dba(HEAD, share) == pytest.approx(31 + 50 * np.log10(flow / 135), abs=1.0)


def test_curve_follows_the_exact_octave_sum():
    """The tabulated curve against the direct sum at shares between its points (own identity). 0.02 dB."""
    loss = room.schultz_loss_db(32.6, 3.0)
    curve = hours.level_curve(HEAD, loss)
    share = np.linspace(0, 1, 97)
    exact = bands.level_dba(octave_power_db(HEAD, share) - loss)
    assert curve.on_dba(share) == pytest.approx(exact, abs=0.02)
    assert curve.quiet_dba < curve.high_dba


def test_bedroom_head_stays_under_the_night_limit_at_quiet():
    """WHO 1999: 30 dB(A) by night. A 31 dB(A) quiet power at 3 m in a bedroom is under it."""
    assert hours.level_curve(HEAD, room.schultz_loss_db(32.6, 3.0)).quiet_dba < 30


@given(run=st.floats(0.0, 1.0), share=st.floats(-0.5, 1.5))
def test_hourly_level_lies_between_background_and_full_run(run, share):
    curve = hours.level_curve(HEAD, room.schultz_loss_db(32.6, 3.0))
    level = float(hours.hourly_level_dba(curve, np.array([share]), np.array([run]))[0])
    full = float(hours.hourly_level_dba(curve, np.array([share]), np.array([1.0]))[0])
    assert 18 - 1e-9 <= level <= full + 1e-9


def test_off_is_background():
    curve = hours.level_curve(HEAD, room.schultz_loss_db(32.6, 3.0))
    levels = hours.hourly_level_dba(curve, np.zeros(8760), np.zeros(8760))
    assert levels.shape == (8760,)
    assert levels == pytest.approx(np.full(8760, 18.0))


def test_two_equal_units_add_three_decibels():
    """Energy sum (definition), background counted once."""
    loud = np.full(4, 40.0)
    assert hours.several_units_dba([loud, loud]) == pytest.approx(np.full(4, 43.0), abs=0.05)


def test_nights_of_a_year():
    """One value a night, energy mean of 22-07 h: one loud hour of nine at +30 dB sets the night (definition)."""
    levels = np.full(8760, 20.0)
    levels[23] = 50.0
    nights = hours.night_levels_dba(levels)
    assert nights.shape == (365,)
    assert nights[0] == pytest.approx(10 * np.log10((8 * 10**2 + 10**5) / 9))
    assert nights[1:] == pytest.approx(np.full(364, 20.0))


def test_nights_need_whole_days():
    with pytest.raises(ValueError, match="multiple of 24"):
        hours.night_levels_dba(np.zeros(100))


def test_shut_door_protects_the_next_room():
    """A shut hollow-core door takes 10 dB and more from the level of an open one; a wider gap takes less."""
    at_door = np.full(8, 40.0)
    leaf, tight, wide = 1.65, 0.01, 0.05
    opened = room.next_room_db(at_door, leaf, np.zeros(8), 32.6)
    shut = room.next_room_db(at_door, leaf, room.door_loss_db(leaf, tight), 32.6)
    gappy = room.next_room_db(at_door, leaf, room.door_loss_db(leaf, wide), 32.6)
    assert np.all(opened - shut >= 10)
    assert np.all(shut < gappy)
    assert np.all(gappy < opened)


def test_outdoor_unit_at_the_line():
    """Published line: 67 dB(A) power gives 60 at 3 ft over ground (AHRI 275-style table). 0.7 dB."""
    curve = outdoor_curve(64, 0.9144, heating=True, walls=0)
    assert curve.high_dba == pytest.approx(60, abs=0.7)
    assert curve.quiet_dba == pytest.approx(curve.high_dba - 8)


@pytest.mark.parametrize("change", [{"shape_quiet_db": (1.0,)}, {"flow_quiet_m3_s": 1.0}])
def test_bad_sources_are_refused(change):
    values = {
        "lw_quiet_dba": 31,
        "lw_high_dba": 48,
        "shape_quiet_db": QUIET,
        "shape_high_db": HIGH,
        "flow_quiet_m3_s": 0.06,
        "flow_high_m3_s": 0.13,
    }
    with pytest.raises(ValueError, match=r"shape_quiet_db|flow_quiet_m3_s"):
        SoundSource(**{**values, **change})
