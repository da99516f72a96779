"""Duct design on an invented ranch: properties, limits of practice, and what must be flagged."""

import numpy as np
import pytest

from compare.air.ducts import sizing, static
from compare.air.ducts.design import air_shares, design_ducts, design_until_enough
from compare.air.ducts.fit import DuctUnit, unit_fit
from compare.air.ducts.friction import friction_pa_m, velocity_m_s
from compare.air.ducts.result import DuctRequest, RoomLoad
from compare.air.ducts.route import branch_lengths_m
from compare.air.ducts.transfer import transfer_path
from compare.air.units_us import CFM_M3_S, FPM_M_S, FT_M, IN_M, IN_WC_PA

from .ranch import BATH, BED_1, BED_2, BED_3, HALL, LIVING, ranch_plan, spaces

PLAN = ranch_plan()
BEDS = (RoomLoad(BED_1, 720, 760), RoomLoad(BED_2, 557, 548), RoomLoad(BED_3, 720, 777))
ALL = (*BEDS, RoomLoad(BATH, 250, 150), RoomLoad(HALL, 150, 130), RoomLoad(LIVING, 2800, 2600))
SLIM = DuctUnit(175 * CFM_M3_S, 280 * CFM_M3_S, 0.2 * IN_WC_PA, 28 * IN_M, 8 * IN_M, 25 * IN_M, 2900, 2640)


def design(policy="normal", place="hall", loads=BEDS, unit=SLIM, **more):
    return design_ducts(PLAN, DuctRequest(spaces()[place], loads, unit, policy, **more))


def test_bedroom_cluster_in_a_hall_drop():
    got = design()
    assert got.feasible
    assert got.reasons == ()
    assert [branch.room for branch in got.branches] == [BED_1, BED_2, BED_3]
    assert sum(branch.flow_m3_s for branch in got.branches) == pytest.approx(SLIM.flow_high_m3_s, rel=1e-12)
    assert got.actual_flow_m3_s == SLIM.flow_high_m3_s
    assert sum(share for _, share in got.air_shares) == pytest.approx(1.0, abs=1e-12)


def test_dampers_even_out_the_branches():
    """Each branch with its damper takes the same pressure: 0.1 Pa (and by construction far less)."""
    for policy in ("tight", "normal", "generous"):
        got = design(policy)
        totals = [branch.parts.total_pa + branch.damper_pa for branch in got.branches]
        assert totals == pytest.approx([got.static.index_branch_pa] * 3, abs=1e-9)
        assert min(branch.damper_pa for branch in got.branches) == pytest.approx(0.0, abs=1e-12)


def test_static_is_the_sum_of_its_parts():
    budget = design().static
    parts = budget.filter_pa + budget.grille_pa + budget.return_box_pa + budget.plenum_pa + budget.index_branch_pa
    assert budget.total_pa == pytest.approx(parts)
    assert budget.total_pa <= budget.available_pa


def test_generous_keeps_its_practice_limits():
    """Common practice: at most 350 fpm in branches and at the face, at most 150 fpm through the filter."""
    got = design("generous")
    for branch in got.branches:
        assert branch.velocity_m_s <= 350 * FPM_M_S * sizing.SLACK
        assert branch.run_flow_m3_s / branch.shape.face.area_m2 <= 350 * FPM_M_S * sizing.SLACK
    assert got.design_flow_m3_s / got.return_path.filter_face.area_m2 <= 150 * FPM_M_S * sizing.SLACK


def test_generosity_orders_static_and_size():
    """Wider ducts lose less: static falls from tight to normal to generous; some branch is smaller in normal."""
    runs = [design(policy, "attic") for policy in ("tight", "normal", "generous")]
    assert runs[0].static.total_pa > runs[1].static.total_pa > runs[2].static.total_pa
    narrow, wide = (design(policy, "hall") for policy in ("normal", "generous"))
    assert any(a.diameter_m < b.diameter_m for a, b in zip(narrow.branches, wide.branches, strict=True))


def test_tight_return_overloads_a_slim_unit():
    """D5-D7 of trade practice: an undersized return uses up a 0.2 in. w.c. unit; it is flagged, and air is short."""
    got = design("tight")
    assert not got.feasible
    assert any("static" in reason for reason in got.reasons)
    assert got.actual_flow_m3_s < got.design_flow_m3_s
    assert got.static.filter_pa + got.static.return_box_pa > got.static.index_branch_pa


def test_until_enough_mends_a_short_static():
    got = design_until_enough(PLAN, DuctRequest(spaces()["hall"], BEDS, SLIM, "tight"))
    assert got.feasible
    assert any("sizing needs" in note or "filter" in note for note in got.notes)


def test_wider_duct_loses_less():
    """Friction falls by about 2^5 with twice the diameter at equal flow (Darcy-Weisbach)."""
    flow = 100 * CFM_M3_S
    ratio = friction_pa_m(flow, 6 * IN_M) / friction_pa_m(flow, 12 * IN_M)
    assert 24 < ratio < 36


def test_two_half_ducts_equal_one():
    """A room parted into equal runs loses what one such run of half the flow loses (parallel ducts at one pressure)."""
    branch = design("generous", loads=(RoomLoad(LIVING, 1000, 1000),), reach_m=None).branches[0]
    assert branch.runs > 1
    alone = static.branch_parts(branch.shape, branch.flow_m3_s / branch.runs)
    assert branch.parts.total_pa == pytest.approx(alone.total_pa)
    area_all = branch.runs * branch.diameter_m**2
    assert branch.flow_m3_s / area_all == pytest.approx(branch.run_flow_m3_s / branch.diameter_m**2)


def test_branch_lengths_are_real():
    """Rectilinear distances on the plan: hall-side registers are near, the attic ones add their rise."""
    hall = branch_lengths_m(PLAN, spaces()["hall"], (BED_1, BED_2, BED_3))
    attic = branch_lengths_m(PLAN, spaces()["attic"], (BED_1, BED_2, BED_3))
    assert max(hall.values()) <= 25 * FT_M
    assert all(attic[room] > hall[room] for room in hall)


def test_hall_registers_stand_on_the_hall_walls():
    for branch in design().branches:
        assert branch.outlet == "register_wall"
        assert branch.y_m in (pytest.approx(11 * FT_M), pytest.approx(14.5 * FT_M))


def test_long_branch_is_out_of_reach():
    got = design(place="crawl", loads=ALL)
    assert not got.feasible
    assert any("beyond 7.6 m" in reason for reason in got.reasons)
    assert not any("beyond" in reason for reason in design(place="crawl", loads=ALL, reach_m=None).reasons)


def test_rooms_that_the_space_does_not_reach():
    got = design(loads=(RoomLoad(4, 300, 300), *BEDS))
    assert any("do not reach" in reason for reason in got.reasons)


def test_inside_delivers_more_than_attic():
    """Trade: ducts outside the envelope lose about a fifth; inside 0.97. At design the attic lies within 0.70-0.90."""
    inside, attic = design(), design("generous", "attic", heat_outdoor_c=-3.9, cool_outdoor_c=31)
    assert (inside.heat_delivered_frac, inside.cool_delivered_frac) == (0.97, 0.97)
    assert 0.70 < attic.heat_delivered_frac < 0.90
    assert 0.70 < attic.cool_delivered_frac < attic.heat_delivered_frac


def test_attic_loss_by_the_hour():
    loss = design("generous", "attic").loss
    heat = loss.heat_frac(np.array([-15.0, 0.0, 15.0]))
    assert np.all(np.diff(heat) > 0)
    cool = loss.cool_frac(np.array([30.0, 30.0]), np.array([1.0, 0.0]))
    assert cool[0] < cool[1]


def test_cabinet_must_fit_with_its_pan():
    """Pan 3 in. wider on each side (common practice); an 8 in. cabinet and 1 in. of hangers fill 9 in. clear."""
    assert unit_fit(SLIM, spaces()["hall"], 3.0).reasons == ()
    low = unit_fit(SLIM, spaces(hall_height_in=8.9)["hall"], 3.0)
    assert "height" in low.reasons[0]
    wide = DuctUnit(0.1, 0.2, 50, 40 * IN_M, 8 * IN_M, 36 * IN_M, 5000, 5000)
    assert "on plan" in unit_fit(wide, spaces()["hall"], 3.0).reasons[0]


def test_drain_without_fall_needs_a_pump():
    """1/8 in. per ft (2006 IRC M1411.3): 20 ft need 2.5 in.; 3 in. of fall reach 24 ft."""
    assert not unit_fit(SLIM, spaces()["hall"], 20 * FT_M).needs_pump
    assert unit_fit(SLIM, spaces()["hall"], 25 * FT_M).needs_pump
    assert unit_fit(SLIM, spaces()["crawl"], 1.0).needs_pump


def test_air_follows_the_loads():
    shares = air_shares((RoomLoad(0, 1000, 0), RoomLoad(1, 3000, 0)))
    assert shares == pytest.approx((0.25, 0.75))
    with pytest.raises(ValueError, match="loads"):
        air_shares((RoomLoad(0, 0, 0),))


def test_return_path_of_a_shut_bedroom():
    """ENERGY STAR 3 Pa: a half-inch undercut does not hold 100 cfm; a small branch needs an undercut at most."""
    big = transfer_path(PLAN, BED_1, 100 * CFM_M3_S)
    assert big.pressure_as_is_pa > 3
    assert big.remedy == "transfer grille"
    assert big.pressure_pa <= 3
    assert transfer_path(PLAN, BED_1, 40 * CFM_M3_S).remedy in ("none", "undercut")
    assert transfer_path(PLAN, LIVING, 400 * CFM_M3_S).remedy == "open"


def test_takeoff_counts_what_was_designed():
    got = design("normal", "attic")
    total = sum(length for _, length in got.takeoff.rigid_m) + sum(length for _, length in got.takeoff.flex_m)
    assert total == pytest.approx(sum(branch.length_m * branch.runs for branch in got.branches))
    assert got.takeoff.registers == got.takeoff.dampers == 3


def test_height_limit_parts_a_branch():
    """A ceiling drop of 9 in. takes no duct over 8 in.: a large room is served by more runs, not by a faster one."""
    got = design("generous", loads=ALL, unit=DuctUnit(0.18, 0.35, 50, 0.7, 0.2, 0.6, 7000, 7000), reach_m=None)
    living = got.branches[-1]
    assert living.diameter_m <= 8 * IN_M + 1e-9
    assert living.runs > 1
    assert velocity_m_s(living.run_flow_m3_s, living.diameter_m) <= 350 * FPM_M_S * sizing.SLACK


@pytest.mark.parametrize(
    ("change", "word"),
    [({"policy": "lavish"}, "generous"), ({"loads": ()}, "loads|rooms"), ({"loads": (RoomLoad(99, 1, 1),)}, "rooms")],
)
def test_bad_requests_are_named(change, word):
    with pytest.raises(ValueError, match=word):
        design(**change)


def test_unit_without_static_is_refused():
    with pytest.raises(ValueError, match="static_pa"):
        DuctUnit(0.1, 0.2, 0.0, 0.7, 0.2, 0.6, 3000, 3000)
