"""Jets and draught at a head: laws of free jets (handbook) and the order that practice expects."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.air.draught.comfort import Air, Person, pmv
from compare.air.draught.jet import Jet, RoomAir, axis_height_m, axis_speed_m_s, jet_air, return_stream_m_s
from compare.air.draught.outlets import AirOutlet, supply_shift_k
from compare.air.draught.points import Aim, Duty, Listener, OutputRange, draught_at, draught_curve, plan_offsets_m

JET = Jet(0.10, 0.04, 0.67, 4.2, 2.05, -8.0, 0.0, 16.0)
ROOM = RoomAir(4.0, 3.5, 2.44, 23.0)
HEAD = AirOutlet("wall_head", cabinet_w_m=0.79)
SPAN = OutputRange(0.064, 0.137, 600, 2200, 600, 2600)


def test_axis_speed_falls_with_distance():
    """Vx = K Q/(x sqrt A): half at twice the distance beyond the core (handbook)."""
    assert axis_speed_m_s(JET, 4.0) == pytest.approx(axis_speed_m_s(JET, 2.0) / 2)
    assert axis_speed_m_s(JET, 0.2) == JET.outlet_m_s


def test_cold_air_falls_and_warm_air_rises():
    cold = axis_height_m(JET, 3.0, 2.44, 23)
    warm = axis_height_m(replace(JET, delta_k=8.0), 3.0, 2.44, 23)
    level = axis_height_m(replace(JET, delta_k=0.0), 3.0, 2.44, 23)
    assert cold < level < warm
    assert level == pytest.approx(2.05)


def test_bend_grows_with_the_cube_of_the_distance():
    """Own derivation of the Koestel form: drop ~ x^3 at constant outlet speed."""
    drops = [2.05 - axis_height_m(JET, x, 10.0, 23) for x in (1.0, 2.0)]
    assert drops[1] / drops[0] == pytest.approx(8.0)


def test_a_faster_cold_jet_drops_less():
    slow, fast = (axis_height_m(replace(JET, flow_m3_s=q), 3.0, 2.44, 23) for q in (0.07, 0.14))
    assert fast > slow


@given(shift=st.floats(1.0, 12.0), height=st.floats(0.3, 2.0), along=st.floats(0.5, 3.8))
def test_cold_is_draughtier_than_warm_at_equal_speed(shift, height, along):
    """ISO 7730: at the same speed the colder air gives the greater draught rate."""
    from compare.air.draught.comfort import draught_rate_frac

    found = jet_air(replace(JET, delta_k=0.0), along, 0.0, height, ROOM)
    colder = draught_rate_frac(23 - shift * 0.1, max(found.speed_m_s, 0.06))
    warmer = draught_rate_frac(23 + shift * 0.1, max(found.speed_m_s, 0.06))
    assert float(colder) > float(warmer) or float(warmer) == 1.0


def test_same_stream_cold_against_warm():
    """A head blown at from in front: cooling draws more complaint than heating at one room temperature and louver."""
    jet = replace(JET, aim_deg=20.0)
    cold = jet_air(replace(jet, delta_k=-6.0), 3.0, 0.0, 0.9, ROOM)
    warm = jet_air(replace(jet, delta_k=6.0), 3.0, 0.0, 0.9, ROOM)
    assert cold.speed_m_s > warm.speed_m_s
    assert cold.shift_k < 0 < warm.shift_k


def test_nothing_beyond_the_wall_or_behind():
    assert jet_air(JET, 4.5, 0.0, 1.0, ROOM).speed_m_s == 0.0
    assert jet_air(JET, -1.0, 0.0, 1.0, ROOM).speed_m_s == 0.0


def test_return_stream():
    """0.78 U0 sqrt(A0)/sqrt(HB) (from memory): slower in a larger section, proportional to the airflow."""
    big = replace(ROOM, width_m=14.0)
    assert return_stream_m_s(JET, 1, big) == pytest.approx(return_stream_m_s(JET, 1, ROOM) / 2)
    assert return_stream_m_s(replace(JET, flow_m3_s=0.2), 1, ROOM) == pytest.approx(2 * return_stream_m_s(JET, 1, ROOM))


def test_aimed_at_the_bed_against_turned_away():
    """Trade rule: not blowing at people. The aimed bed is the worse one."""
    bed = Listener("bed", 0.0, 3.0, 0.6)
    duty = Duty(0.10, -1200)
    aimed = draught_at(HEAD, Aim(0, 0, 0), duty, bed, ROOM)
    away = draught_at(HEAD, Aim(0, 0, 40), duty, bed, ROOM)
    assert aimed.rate_frac > away.rate_frac
    assert away.rate_frac > 0


def test_speed_grows_with_airflow_off_the_axis():
    bed = Listener("bed", 2.0, 1.0, 0.6)
    rates = [draught_at(HEAD, Aim(0, 0, 0), Duty(q, -400 * q / 0.06), bed, ROOM).speed_m_s for q in (0.06, 0.1, 0.14)]
    assert rates == sorted(rates)


def test_curve_is_read_between_its_points():
    bed = Listener("bed", 1.5, 2.5, 0.6)
    curve = draught_curve(HEAD, Aim(0, 0, 0), SPAN, bed, ROOM)
    assert curve.rate_frac(0.5, heating=False) == pytest.approx(curve.cool_frac[5])
    assert 0 <= float(np.min(curve.cool_frac)) <= float(np.max(curve.heat_frac)) <= 1


def test_plan_bearings():
    """0 is plan-north, 90 east."""
    assert plan_offsets_m(Aim(0, 0, 90), Listener("p", 2.0, 0.0, 1.0)) == pytest.approx((2.0, 0.0))
    assert plan_offsets_m(Aim(0, 0, 0), Listener("p", 0.0, 2.0, 1.0)) == pytest.approx((2.0, 0.0))


def test_supply_shift():
    """1 kW in 0.083 m3/s of standard air is close to 10 K (heat balance)."""
    assert supply_shift_k(1000, 0.083) == pytest.approx(9.97, abs=0.05)


@pytest.mark.parametrize(
    ("call", "word"),
    [
        (lambda: AirOutlet("wall_head").area_m2(), "cabinet_w_m"),
        (lambda: AirOutlet("register_wall").area_m2(), "face_m2"),
        (lambda: AirOutlet("ridge vent").streams, "register_ceiling"),
        (lambda: supply_shift_k(1000, 0.0), "flow_m3_s"),
        (lambda: Person(met=9.0), "met"),
        (lambda: pmv(Air(22, 22, 0.1, 40), Person()), "humidity_frac"),
    ],
)
def test_bad_input_names_the_field(call, word):
    with pytest.raises(ValueError, match=word):
        call()
