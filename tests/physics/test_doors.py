"""Shut and open doors, stairs, and the linear law that replaces the doorway law."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.house.plan import Link, LinkKind
from compare.physics.doors import (
    DoorModel,
    door_conductance_w_k,
    first_open_w_k,
    link_laws,
    secant_error_frac,
    secant_w_k,
    secants_w_k,
    shut_conductance_w_k,
)

DOOR = Link(LinkKind.DOOR, 0, 1, 0.8128, 2.032)
STAIR = Link(LinkKind.STAIR, 0, 1, 0.9, 2.4)
LAWS = link_laws((DOOR, STAIR, Link(LinkKind.OPENING, 0, 1, 1.07, 2.2)), DoorModel())


def test_shut_door_parts():
    # Leaf: hollow-core door, still air both sides, about 2.2 W/m2K (from memory) on 1.65 m2. Air: two orifices of a
    # 0.0103 m2 undercut and a 0.0024 m2 head gap plus jamb gaps; bounds from the undercut alone against the best case
    # in which the head gap equals it, Q = Cd A sqrt(g h dT / T).
    total = shut_conductance_w_k(DOOR)
    leaf = 2.2 * 0.8128 * 2.032
    best = 0.6 * 0.0103 * np.sqrt(9.81 * 2.032 * 5.0 / 294.0) / 5.0 * 1211.0
    assert leaf < total < leaf + best
    sealed = Link(LinkKind.DOOR, 0, 1, 0.8128, 2.032, undercut_m=0.0)
    assert leaf < shut_conductance_w_k(sealed) < total


@settings(max_examples=40, deadline=None)
@given(st.floats(0.5, 2.0), st.floats(1.9, 2.6), st.floats(0.0, 0.05), st.floats(0.2, 10.0))
def test_open_passes_more_than_shut(width_m, height_m, undercut_m, difference_k):
    link = Link(LinkKind.DOOR, 0, 1, width_m, height_m, undercut_m=undercut_m)
    assert door_conductance_w_k(width_m, height_m, difference_k) > shut_conductance_w_k(link)


def test_conductance_has_a_floor_near_zero_difference():
    assert door_conductance_w_k(0.8, 2.0, 0.0) == pytest.approx(door_conductance_w_k(0.8, 2.0, 0.167))


def test_thin_air_carries_less():
    assert door_conductance_w_k(0.8, 2.0, 2.0, pressure_pa=83_000.0) == pytest.approx(
        door_conductance_w_k(0.8, 2.0, 2.0) * 83_000.0 / 101_325.0
    )


def test_secant_carries_the_same_heat():
    # Definition: linear heat summed over the run equals that of the dT^1.5 law (Brown and Solvason 1962).
    rng = np.random.default_rng(1)
    a_c, b_c = 21.0 + rng.normal(0.0, 0.5, 500), 18.0 + rng.normal(0.0, 1.0, 500)
    law = LAWS[0]
    difference = np.abs(a_c - b_c)
    assert difference.min() > 0.167
    exact_w = (law.open_w_k15 * difference**1.5).sum()
    assert secant_w_k(law, a_c, b_c) * difference.sum() == pytest.approx(exact_w)


def test_secant_of_a_steady_difference_is_the_law_itself():
    law = LAWS[0]
    a_c, b_c = np.full(10, 21.0), np.full(10, 17.0)
    conductance = secant_w_k(law, a_c, b_c)
    assert conductance == pytest.approx(door_conductance_w_k(0.8128, 2.032, 4.0))
    assert secant_error_frac(law, conductance, a_c, b_c) == pytest.approx(0.0, abs=1e-12)
    assert secant_error_frac(law, 1.2 * conductance, a_c, b_c) == pytest.approx(0.2)


def test_states_of_a_link_are_secants_of_their_hours():
    # Definition: each state's conductance is that of its own hours; a state without hours keeps the first one.
    rng = np.random.default_rng(2)
    a_c, b_c = 20.0 + rng.normal(0.0, 1.0, 96), 20.0 + rng.normal(0.0, 2.0, 96)
    night = np.arange(96) % 24 < 7
    states = np.array([~night, night, np.zeros(96)]).astype(np.float64)
    for law in LAWS:
        expected = [secant_w_k(law, a_c[chosen], b_c[chosen]) for chosen in (~night, night, slice(0))]
        np.testing.assert_allclose(secants_w_k(law, a_c, b_c, states), expected, rtol=1e-12)


def test_stair_carries_a_fifth_downwards():
    # Lower room (a) warmer: whole exchange; upper room warmer: 0.2 of it (our judgement).
    warm, cool = np.full(5, 22.0), np.full(5, 20.0)
    assert secant_w_k(LAWS[1], cool, warm) == pytest.approx(0.2 * secant_w_k(LAWS[1], warm, cool))
    assert secant_w_k(LAWS[0], cool, warm) == pytest.approx(secant_w_k(LAWS[0], warm, cool))


def test_first_conductances():
    first = first_open_w_k(LAWS, (False, True))
    assert first.shape == (2, 3)
    np.testing.assert_allclose(first[0, [0, 2]], first[1, [0, 2]])
    assert first[1, 1] == pytest.approx(0.2 * first[0, 1])
    assert secant_w_k(LAWS[0], np.empty(0), np.empty(0)) == pytest.approx(first[0, 0])
    assert first_open_w_k((), (False, True)).shape == (2, 0)
