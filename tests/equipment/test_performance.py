"""Laws that hold for every unit at any temperature and load."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.equipment.catalogue import catalogue
from compare.equipment.fan import FanWatts, rated_fan
from compare.equipment.output import fixed_minimum, scaled
from compare.equipment.partload import CyclingLaw, part_load, power_w, room_starts_per_hour
from compare.equipment.performance import Mode, performance, running_power_w, with_fan
from compare.equipment.unit import UnitKind

PAIRS = catalogue().pairs
WALL_9 = catalogue().pair(UnitKind.WALL, 9)


@settings(max_examples=60, deadline=None)
@given(place=st.integers(0, len(PAIRS) - 1), outdoor_c=st.floats(-40, 50), mode=st.sampled_from(list(Mode)))
def test_output_and_power_are_ordered_and_finite(place, outdoor_c, mode):
    perf = performance(PAIRS[place].output, np.array([outdoor_c]), mode)
    assert 0 <= perf.min_w[0] <= perf.mid_w[0] <= perf.max_w[0]
    powers = np.array([perf.min_power_w[0], perf.mid_power_w[0], perf.max_power_w[0]])
    assert np.isfinite(powers).all()
    assert powers[0] <= powers[1] <= powers[2]


@settings(max_examples=60, deadline=None)
@given(place=st.integers(0, len(PAIRS) - 1), outdoor_c=st.floats(-24, 18))
def test_power_rises_with_load_and_never_beats_its_best_cop(place, outdoor_c):
    """Energy: more heat never takes less power; continuous where cycling turns into modulation."""
    perf = performance(PAIRS[place].output, np.array([outdoor_c]), Mode.HEAT)
    loads = np.linspace(0, perf.max_w[0], 400)
    many = performance(PAIRS[place].output, np.full(400, outdoor_c), Mode.HEAT)
    watts = power_w(many, loads)
    assert (np.diff(watts) >= -1e-6).all()
    edge = np.array([perf.min_w[0] * (1 - 1e-9), perf.min_w[0] * (1 + 1e-9)])
    both = performance(PAIRS[place].output, np.full(2, outdoor_c), Mode.HEAT)
    assert np.diff(power_w(both, edge))[0] == pytest.approx(0.0, abs=1e-3)


def test_cycling_costs_more_the_lighter_the_load():
    perf = performance(WALL_9.output, np.full(20, 8.0), Mode.HEAT)
    loads = perf.min_w * np.linspace(0.05, 1.0, 20)
    cop = loads / power_w(perf, loads)
    assert (np.diff(cop) > 0).all()
    assert cop[-1] == pytest.approx(perf.min_w[0] / perf.min_power_w[0])


def test_a_load_above_the_maximum_is_not_met():
    perf = performance(WALL_9.output, np.array([-15.0]), Mode.HEAT)
    run = part_load(perf, perf.max_w * 1.5)
    assert run.met_w == pytest.approx(perf.max_w)
    assert run.power_w == pytest.approx(perf.max_power_w)
    assert run.run_frac[0] == 1.0


def test_nothing_below_the_cut_off():
    perf = performance(WALL_9.output, np.array([WALL_9.output.cutoff_c - 0.1]), Mode.HEAT)
    run = part_load(perf, np.array([1000.0]))
    assert (run.met_w[0], run.power_w[0], perf.max_w[0]) == (0.0, 0.0, 0.0)


def test_frost_takes_output_between_17_and_45_degrees_f():
    """10 CFR 430 appendix M1: the frost line touches the dry line at 17 F and lies below it up to 45 F."""
    outdoor = np.array([-8.4, -8.3, 0.0, 7.0, 7.3])
    got = performance(WALL_9.output, outdoor, Mode.HEAT).max_w
    heat = WALL_9.output.heat
    dry = heat.max_w[1] + (heat.max_w[0] - heat.max_w[1]) * (outdoor + 25 / 3) / (50 / 3)
    assert got[1] == pytest.approx(dry[1], rel=1e-3)
    assert (got[2:4] < 0.96 * dry[2:4]).all()
    assert got[4] == pytest.approx(dry[4], rel=1e-9)


def test_the_rated_fan_in_and_out_changes_nothing():
    pair = catalogue().pair(UnitKind.DUCTED_LOW, 18)
    for mode in Mode:
        perf = performance(pair.output, np.array([-5.0, 5.0, 30.0]), mode)
        same = with_fan(perf, rated_fan(pair.indoor), rated_fan(pair.indoor))
        assert same.mid_w == pytest.approx(perf.mid_w)
        assert same.max_power_w == pytest.approx(perf.max_power_w)


def test_fan_heat_helps_heating_and_hurts_cooling():
    """First law: the fan's power ends in the air stream."""
    pair = catalogue().pair(UnitKind.DUCTED_LOW, 18)
    rated = rated_fan(pair.indoor)
    more = FanWatts(rated.quiet_w + 10, rated.high_w + 50)
    for mode, sign in ((Mode.HEAT, 1), (Mode.COOL, -1)):
        perf = performance(pair.output, np.array([5.0 if mode is Mode.HEAT else 35.0]), mode)
        real = with_fan(perf, rated, more)
        assert real.max_w - perf.max_w == pytest.approx(sign * 50)
        assert real.max_power_w - perf.max_power_w == pytest.approx(50)
        assert real.min_w - perf.min_w == pytest.approx(sign * 10)


def test_running_power_at_the_three_nodes():
    perf = performance(WALL_9.output, np.array([-3.0]), Mode.HEAT)
    for output, watts in (
        (perf.min_w, perf.min_power_w), (perf.mid_w, perf.mid_power_w), (perf.max_w, perf.max_power_w),
    ):  # fmt: skip
        assert running_power_w(perf, output) == pytest.approx(watts)


def minute_starts(load_w: float, min_w: float, capacity_j_k: float, differential_k: float) -> float:
    """Starts an hour of a two-position thermostat on one capacity, stepped second by second over 400 hours."""
    temperature, on, starts = 0.0, False, 0
    for _ in range(400 * 360):
        temperature += ((min_w if on else 0.0) - load_w) * 10.0 / capacity_j_k
        if on and temperature >= differential_k / 2:
            on = False
        elif not on and temperature <= -differential_k / 2:
            on = True
            starts += 1
    return starts / 400


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.8])
def test_room_law_against_a_stepped_thermostat(share):
    """The closed law equals a direct simulation of the same thermostat within 5 %."""
    min_w, capacity, differential = 700.0, 300_000.0, 0.8333333
    law = CyclingLaw(differential_k=differential)
    got = room_starts_per_hour([share * min_w], [min_w], [capacity], law)[0]
    assert got == pytest.approx(minute_starts(share * min_w, min_w, capacity, differential), rel=0.05)


def test_room_law_is_capped_and_stops_at_minimum_output():
    starts = room_starts_per_hour([500.0, 1000.0, 2000.0], [1000.0] * 3, [1000.0] * 3)
    assert starts == pytest.approx([6.0, 0.0, 0.0])
    with pytest.raises(ValueError, match="capacity_j_k must be above 0"):
        room_starts_per_hour([1.0], [2.0], [0.0])


def test_fixed_minimum_and_scaled_points():
    output = WALL_9.output
    assert set(fixed_minimum(output, 400.0).heat.min_w) == {400.0}
    with pytest.raises(ValueError, match="min_w must lie between 0"):
        fixed_minimum(output, 9000.0)
    shaken = scaled(output, cop_frac=0.9, min_frac=1.2)
    assert shaken.heat.max_cop[2] == pytest.approx(0.9 * output.heat.max_cop[2])
    assert shaken.cool.min_w == pytest.approx(1.2 * output.cool.min_w)
    assert shaken.heat.max_w == output.heat.max_w
