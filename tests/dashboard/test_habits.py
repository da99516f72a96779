"""Numbers that a family tries: limits, steps, units. Limits are the page's own (our judgement)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.units import System
from dashboard.habits import SCALES, Habit, Habits, nearest, scale_of, shown, stepped, with_value

OWN = Habits(heating_c=(70.0 - 32.0) / 1.8, cooling_c=(75.0 - 32.0) / 1.8, electricity_usd_kwh=0.165)


def test_numbers_are_shown_in_the_units_of_the_page() -> None:
    # 70 degF is 21.1 degC and 75 degF is 23.9 degC (definition of the scales)
    assert [shown(OWN, habit, System.US) for habit in Habit] == [70.0, 75.0, 16.5]
    assert [shown(OWN, habit, System.SI) for habit in Habit] == [21.1, 23.9, 16.5]


@given(
    habit=st.sampled_from(list(Habit)), units=st.sampled_from(list(System)), part=st.floats(0.0, 1.0, allow_nan=False)
)
def test_a_value_within_its_limits_is_shown_as_typed(habit: Habit, units: System, part: float) -> None:
    scale = scale_of(OWN, habit, units)
    value = round(scale.least + part * (scale.most - scale.least), 1)
    changed = with_value(OWN, habit, value, units)
    assert shown(changed, habit, units) == pytest.approx(value)
    assert changed.cooling_c - changed.heating_c > 0.99
    others = [other for other in Habit if other is not habit]
    assert [shown(changed, other, units) for other in others] == [shown(OWN, other, units) for other in others]


@pytest.mark.parametrize("units", list(System))
@pytest.mark.parametrize("habit", list(Habit))
def test_values_outside_their_limits_are_refused(habit: Habit, units: System) -> None:
    scale = scale_of(OWN, habit, units)
    for value in (scale.least - 0.2, scale.most + 0.2, -1e9, math.inf, math.nan):
        with pytest.raises(ValueError, match=habit.value):
            with_value(OWN, habit, value, units)


@pytest.mark.parametrize("units", list(System))
@pytest.mark.parametrize("habit", list(Habit))
def test_steps_walk_to_the_limits_and_end_there(habit: Habit, units: System) -> None:
    for way, end in ((1, "most"), (-1, "least")):
        habits, seen = OWN, []
        while (value := stepped(habits, habit, way, units)) is not None:
            habits = with_value(habits, habit, value, units)
            seen.append(value)
            assert len(seen) < 200
        limit = getattr(scale_of(habits, habit, units), end)
        assert abs(limit - seen[-1]) < SCALES[habit, units].step
        assert seen == sorted(set(seen), reverse=way < 0)
        assert all(
            value / SCALES[habit, units].step == pytest.approx(round(value / SCALES[habit, units].step))
            for value in seen
        )


def test_heating_never_meets_cooling() -> None:
    warm = with_value(OWN, Habit.HEATING, 73.0, System.US)
    assert stepped(warm, Habit.HEATING, 1, System.US) is None
    assert scale_of(warm, Habit.COOLING, System.US).least == 75.0


def test_rounding_alone_is_no_change() -> None:
    typed = with_value(with_value(OWN, Habit.HEATING, 69.0, System.US), Habit.HEATING, 70.0, System.US)
    assert nearest(typed, OWN) == OWN
    assert nearest(with_value(OWN, Habit.RATE, 17.0, System.US), OWN) != OWN
