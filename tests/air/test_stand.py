"""Plenum, unit and return in their space; the return grille away from supplies; fan of the unit along the space."""

import math
from dataclasses import replace

import pytest

from compare.air.ducts.design import design_ducts
from compare.air.ducts.result import DuctRequest
from compare.air.ducts.stand import APART_M, Row, stand_of
from compare.air.units_us import FT_M, IN_M

from .ranch import HALL, ranch_plan, spaces
from .test_duct_design import ALL, BEDS, SLIM, design

PLAN = ranch_plan()


@pytest.mark.parametrize("policy", ["tight", "normal", "generous"])
@pytest.mark.parametrize("place", ["hall", "attic", "crawl"])
@pytest.mark.parametrize("loads", [BEDS, ALL], ids=["beds", "all"])
def test_return_stands_in_the_hall_clear_of_every_supply(policy, place, loads):
    got = design(policy, place, loads, reach_m=None)
    grille = (got.stand.return_x_m, got.stand.return_y_m)
    assert got.stand.return_room == HALL
    for branch in got.branches:
        assert math.dist(grille, (branch.x_m, branch.y_m)) >= APART_M - 1e-9


@pytest.mark.parametrize("start_ft", [22, 25, 30, 40, 46])
def test_the_row_lies_in_its_space(start_ft):
    """Wherever the plenum is wished, plenum, unit and return box stay within the hall's 24 ft."""
    row = Row(0.61, 25 * IN_M, 0.3)
    space = spaces()["hall"]
    got = stand_of(PLAN, space, (start_ft * FT_M, 12.75 * FT_M), row, ())
    sign = 1 if got.flow_deg == 90 else -1
    ends = (got.plenum_x_m + sign * row.ahead_m, got.plenum_x_m - sign * row.behind_m)
    assert space.x0_m - 1e-9 <= min(ends)
    assert max(ends) <= space.x1_m + 1e-9
    assert math.dist((got.plenum_x_m, 0), (got.unit_x_m, 0)) == pytest.approx(row.to_unit_m)


def test_a_short_drop_does_not_take_the_row():
    short = replace(spaces()["hall"], clear_length_m=1.2, x1_m=spaces()["hall"].x0_m + 1.2)
    got = design_ducts(PLAN, replace(_request(), space=short))
    assert any("in a row" in reason for reason in got.reasons)


def _request():
    return DuctRequest(spaces()["hall"], BEDS, SLIM)


def test_a_longer_way_back_costs_pressure():
    near, far = design("normal", "hall"), design("normal", "attic")
    assert far.stand.return_length_m >= near.stand.return_length_m
    assert far.return_path.length_m == far.stand.return_length_m
