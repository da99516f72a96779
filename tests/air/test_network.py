"""The duct network solved for flow, against a general root finder and against the design it must return to."""

import numpy as np
import pytest
from scipy.optimize import fsolve

from compare.air.ducts.design import design_ducts
from compare.air.ducts.fit import DuctUnit
from compare.air.ducts.friction import velocity_m_s, velocity_pressure_pa
from compare.air.ducts.network import damper_heads, notches_open, solve_design
from compare.air.ducts.result import DuctRequest, RoomLoad
from compare.air.ducts.static import branch_parts
from compare.air.tables import constant, fitting
from compare.air.units_us import CFM_M3_S, IN_M, IN_WC_PA

from .ranch import BATH, BED_1, BED_2, BED_3, LIVING, ranch_plan, spaces

PLAN = ranch_plan()
LOADS = (RoomLoad(BED_1, 720, 760), RoomLoad(BED_2, 557, 548), RoomLoad(BED_3, 720, 777), RoomLoad(BATH, 250, 150))
SLIM = DuctUnit(175 * CFM_M3_S, 280 * CFM_M3_S, 0.2 * IN_WC_PA, 28 * IN_M, 8 * IN_M, 25 * IN_M, 2900, 2640)


def design(policy="normal", place="hall", loads=LOADS, **more):
    return design_ducts(PLAN, DuctRequest(spaces()[place], loads, SLIM, policy, **more))


def by_root_finder(got, heads):
    """The same equations given to scipy: every branch takes one plenum pressure, flows add up, the fan meets both."""
    section = got.plenum_w_m * got.plenum_h_m
    design_flow, setting, spare = got.design_flow_m3_s, got.static.setting_pa, constant("fan_spare_pa")

    def drop(branch, flow, extra):
        each = flow / branch.runs
        vp = velocity_pressure_pa(velocity_m_s(each, branch.diameter_m))
        return branch_parts(branch.shape, each).total_pa + extra * vp

    def trunk(flow):
        return got.return_path.total_pa(flow) + fitting("transition") * velocity_pressure_pa(flow / section)

    def equations(values, limited):
        flows, plenum = np.abs(values[:-1]) * design_flow, values[-1] * 10
        loops = [drop(b, float(q), k) - plenum for b, q, k in zip(got.branches, flows, heads, strict=True)]
        total = float(np.sum(flows))
        if not limited:
            return [*loops, total / design_flow - 1]
        return [*loops, plenum + trunk(total) - setting - spare * (1 - (total / design_flow) ** 2)]

    start = [*(share for _, share in got.air_shares), got.static.index_branch_pa / 10]
    free = fsolve(equations, start, args=(False,), xtol=1e-13)
    if free[-1] * 10 + trunk(design_flow) <= setting * (1 + 1e-9):
        return np.abs(free[:-1]) * design_flow
    return np.abs(fsolve(equations, start, args=(True,), xtol=1e-13)[:-1]) * design_flow


@pytest.mark.parametrize("policy", ["normal", "generous"])
@pytest.mark.parametrize("place", ["hall", "attic", "crawl"])
def test_dampers_give_each_room_its_design_flow(policy, place):
    """Flow to 1e-9 of itself and pressure to 0.1 Pa, at the recommended setting."""
    got = design(policy, place)
    if not got.static.enough:
        pytest.skip("static short: no damper setting gives the design flow")
    flows = solve_design(got)
    assert flows.room_m3_s == pytest.approx([branch.flow_m3_s for branch in got.branches], rel=1e-9)
    assert flows.flow_residual_frac < 1e-9
    assert flows.pressure_residual_pa < 0.1
    assert flows.static_pa == pytest.approx(got.static.total_pa, abs=0.1)


@pytest.mark.parametrize("policy", ["tight", "normal", "generous"])
@pytest.mark.parametrize("open_dampers", [False, True])
def test_flows_are_those_of_a_general_root_finder(policy, open_dampers):
    """scipy.optimize.fsolve on the same balance, from the design flows. 1e-6."""
    got = design(policy)
    heads = [0.0 if open_dampers else damper_heads(branch) for branch in got.branches]
    solved = solve_design(got, open_dampers=open_dampers)
    assert solved.room_m3_s == pytest.approx(by_root_finder(got, heads).tolist(), rel=1e-6)


def test_wide_open_the_near_rooms_take_from_the_far():
    """Without dampers the whole flow stays and the branch that lost most against the others gets less."""
    got = design("generous")
    flows = solve_design(got, open_dampers=True)
    worst = max(range(4), key=lambda i: got.branches[i].parts.total_pa)
    assert sum(flows.room_m3_s) == pytest.approx(got.design_flow_m3_s, rel=1e-9)
    assert flows.room_m3_s[worst] < got.branches[worst].flow_m3_s
    assert max(q / b.flow_m3_s for q, b in zip(flows.room_m3_s, got.branches, strict=True)) > 1.05


def test_a_loaded_filter_starves_every_room_alike():
    """Beyond the unit's static the fan's limit curve holds: all rooms lose about the same share."""
    got = design("normal", filter_load_frac=8.0)
    assert not got.static.enough
    flows = solve_design(got)
    shares = [q / b.flow_m3_s for q, b in zip(flows.room_m3_s, got.branches, strict=True)]
    assert max(shares) < 0.97
    assert max(shares) - min(shares) < 0.01
    limit = got.static.setting_pa + constant("fan_spare_pa") * (1 - (flows.total_m3_s / got.design_flow_m3_s) ** 2)
    assert flows.static_pa == pytest.approx(limit, abs=0.1)


def test_setting_is_the_next_step_above_what_the_ducts_take():
    got = design("generous")
    step = constant("static_step_pa")
    assert got.static.total_pa <= got.static.setting_pa < got.static.total_pa + step
    assert design("tight").static.setting_pa == pytest.approx(SLIM.static_pa)


def test_one_room_alone_needs_no_damper():
    got = design(loads=(RoomLoad(LIVING, 1000, 900),), place="attic", reach_m=None)
    assert got.branches[0].damper_pa == 0
    assert notches_open(got.branches[0].damper_deg) == constant("damper_notches")


@pytest.mark.parametrize(("angle", "notches"), [(0, 5), (20, 4), (40, 3), (60, 2), (89, 1), (90, 1)])
def test_notches(angle, notches):
    """Five notches over a quarter turn; never shut altogether."""
    assert notches_open(angle) == notches
