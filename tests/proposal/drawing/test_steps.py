"""Steps of a room against its own target. Limits are our judgement; conversions by definition of the two scales."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compare.units import System
from proposal.drawing.steps import judge, room_step, shown

US, SI = System.US, System.SI


def c(value_f: float) -> float:
    """°F to °C by definition: 32 °F is 0 °C, 212 °F is 100 °C."""
    return (value_f - 32.0) * 100.0 / 180.0


@pytest.mark.parametrize(
    ("below_f", "step"), [(-3, 0), (0, 0), (1, 0), (2, 1), (3, 1), (4, 2), (7, 2), (8, 3), (22, 3)]
)
def test_winter_steps_in_whole_fahrenheit(below_f: float, step: int) -> None:
    assert room_step(c(66.0 - below_f), c(66.0), US) == step
    assert room_step(c(75.0 + below_f), c(75.0), US, summer=True) == step


@pytest.mark.parametrize(("below_k", "step"), [(0.0, 0), (0.5, 0), (0.6, 1), (1.5, 1), (1.6, 2), (4.0, 2), (4.1, 3)])
def test_winter_steps_in_tenths_of_celsius(below_k: float, step: int) -> None:
    assert room_step(19.0 - below_k, 19.0, SI) == step


def test_step_follows_the_shown_degrees() -> None:
    """1.8 degrees apart but shown 65 and 66 is step 0; 2.2 apart, shown 64 and 67, is step 1."""
    assert shown(c(64.6), US) == 65.0
    assert room_step(c(64.6), c(66.4), US) == 0
    assert room_step(c(64.4), c(66.6), US) == 1


def test_no_target_no_step() -> None:
    assert room_step(5.0, None, US) is None
    assert judge(5.0, None, 21.0, US).word == ""


def test_too_warm_only_beyond_the_set_point() -> None:
    assert judge(c(69.0), c(66.0), c(70.0), US).word == "as_wanted"
    assert judge(c(72.0), c(66.0), c(70.0), US).word == "as_wanted"
    assert judge(c(73.0), c(66.0), c(70.0), US).word == "too_warm"
    assert judge(c(72.0), c(75.0), c(75.0), US, summer=True).word == "too_cool"
    assert judge(c(48.0), c(66.0), c(70.0), US).word == "very_cold"
    assert judge(c(84.0), c(75.0), c(75.0), US, summer=True).word == "very_hot"


@given(st.floats(5.0, 30.0), st.floats(5.0, 30.0), st.floats(15.0, 24.0), st.sampled_from([US, SI]))
def test_a_colder_room_is_never_judged_warmer(one_c: float, other_c: float, target_c: float, units: System) -> None:
    colder, warmer = sorted((one_c, other_c))
    first, second = room_step(colder, target_c, units), room_step(warmer, target_c, units)
    assert first is not None
    assert second is not None
    assert first >= second
