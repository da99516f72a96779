"""Ducts of one served zone, designed: routes, sizes, dampers, static, loss, return paths, fit."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from compare.air.ducts.fit import DuctUnit, branch_height_limit_m, unit_fit
from compare.air.ducts.friction import velocity_m_s
from compare.air.ducts.loss import DuctLoss, UnitDuty, duct_loss
from compare.air.ducts.remarks import notes_on, reasons_against
from compare.air.ducts.result import Branch, DuctDesign, DuctRequest, RoomLoad, Takeoff
from compare.air.ducts.route import Routes, Run, route, routes_from
from compare.air.ducts.sizing import (
    Face,
    Policy,
    branch_size_m,
    face_for,
    next_size_m,
    policy,
    round_sizes_m,
    runs_for,
)
from compare.air.ducts.stand import Row, UnitStand, stand_of
from compare.air.ducts.static import (
    BranchShape,
    ReturnPath,
    StaticBudget,
    actual_flow_m3_s,
    branch_parts,
    damper_angle_deg,
)
from compare.air.ducts.transfer import TransferPath, transfer_path
from compare.air.tables import constant, fitting
from compare.air.units_us import IN_M
from compare.house.plan import Plan, UnitSpace

STATIC_SHARE = 0.95
"""Branches are enlarged until the total keeps 5 % under the unit's static."""


def air_shares(loads: tuple[RoomLoad, ...]) -> tuple[float, ...]:
    """Share of the air per room: the larger of its heating and its cooling share, scaled to 1 (Manual D practice)."""
    heat, cool = sum(load.heat_w for load in loads), sum(load.cool_w for load in loads)
    if heat <= 0 and cool <= 0:
        raise ValueError("loads hold no heating and no cooling load; give each room its design loads")
    raw = [max(load.heat_w / heat if heat else 0.0, load.cool_w / cool if cool else 0.0) for load in loads]
    total = sum(raw)
    return tuple(value / total for value in raw)


def _branch(run: Run, flow_m3_s: float, runs: int, diameter_m: float, limits: Policy) -> Branch:
    each = flow_m3_s / runs
    flex = min(constant("flex_length_m"), run.length_m)
    shape = BranchShape(
        rigid_m=run.length_m - flex,
        flex_m=flex,
        elbows=run.elbows,
        diameter_m=diameter_m,
        face=face_for("register", each, limits.face_m_s),
    )
    return Branch(
        room=run.room,
        outlet=run.outlet,
        x_m=run.x_m,
        y_m=run.y_m,
        bearing_deg=run.bearing_deg,
        runs=runs,
        flow_m3_s=flow_m3_s,
        shape=shape,
        elbows=run.elbows,
        velocity_m_s=velocity_m_s(each, diameter_m),
        parts=branch_parts(shape, each),
        damper_pa=0.0,
        damper_deg=0.0,
    )


def _sized(run: Run, flow_m3_s: float, limits: Policy, most_m: float | None) -> Branch:
    """Size a room's branch; a size that the height forbids is parted into more runs (at most four)."""
    for runs in range(runs_for(flow_m3_s), 5):
        size = branch_size_m(flow_m3_s / runs, limits, most_m)
        if size is not None:
            return _branch(run, flow_m3_s, runs, size, limits)
    sizes = [size for size in round_sizes_m() if most_m is None or size <= most_m + 1e-9]
    return _branch(run, flow_m3_s, max(4, runs_for(flow_m3_s)), sizes[-1] if sizes else round_sizes_m()[0], limits)


def _enlarged(branch: Branch, size_m: float) -> Branch:
    shape = replace(branch.shape, diameter_m=size_m)
    return replace(
        branch,
        shape=shape,
        velocity_m_s=velocity_m_s(branch.run_flow_m3_s, size_m),
        parts=branch_parts(shape, branch.run_flow_m3_s),
    )


def _balanced(branches: list[Branch]) -> list[Branch]:
    """Volume damper at each plenum take-off takes what the branch lacks against the index branch."""
    index = max(branch.parts.total_pa for branch in branches)
    out = []
    for branch in branches:
        spare = index - branch.parts.total_pa
        out.append(replace(branch, damper_pa=spare, damper_deg=damper_angle_deg(spare, branch.velocity_m_s)))
    return out


@dataclass(frozen=True, slots=True)
class _Trunk:
    """The parts that all branches share."""

    return_path: ReturnPath
    plenum_w_m: float
    plenum_h_m: float

    def budget(self, unit: DuctUnit, branches: list[Branch]) -> StaticBudget:
        flow = unit.flow_high_m3_s
        speed = flow / (self.plenum_w_m * self.plenum_h_m)
        heads = 0.5 * constant("air_density_kg_m3") * speed**2
        back = self.return_path
        return StaticBudget(
            filter_pa=back.filter_pa(flow),
            grille_pa=back.grille_pa(flow),
            return_box_pa=back.box_pa(flow),
            plenum_pa=fitting("transition") * heads,
            index_branch_pa=max(branch.parts.total_pa for branch in branches),
            available_pa=unit.static_pa,
        )


def _box_side_m(unit: DuctUnit, limits: Policy) -> float:
    """Side of the square return box, in whole inches."""
    return math.ceil(math.sqrt(unit.flow_high_m3_s / limits.return_duct_m_s) / IN_M) * IN_M


def _trunk(request: DuctRequest, limits: Policy, stand: UnitStand) -> _Trunk:
    unit = request.unit
    back = ReturnPath(
        filter_face=request.return_face or face_for("filter", unit.flow_high_m3_s, limits.filter_m_s),
        filter_depth_in=request.filter_depth_in,
        box_side_m=_box_side_m(unit, limits),
        radius_turns=limits.name == "generous",
        length_m=stand.return_length_m,
        filter_load_frac=request.filter_load_frac or constant("filter_loaded_frac"),
    )
    return _Trunk(back, 0.9 * unit.cabinet_w_m, 0.9 * unit.cabinet_h_m)


def _placed(plan: Plan, request: DuctRequest, limits: Policy) -> tuple[Routes, UnitStand]:
    """Routes from the plenum, once the row of plenum, unit and return has found its place in the space."""
    space, rooms = request.space, tuple(load.room for load in request.loads)
    row = Row(constant("plenum_length_m"), request.unit.cabinet_d_m, _box_side_m(request.unit, limits))
    routes = route(plan, space, rooms)
    start = (routes.start_x_m, routes.start_y_m)
    for _ in range(2):
        outlets = tuple((run.x_m, run.y_m) for run in routes.runs)
        stand = stand_of(plan, space, start, row, outlets)
        if math.dist(start, (stand.plenum_x_m, stand.plenum_y_m)) < 0.01:
            break
        start = (stand.plenum_x_m, stand.plenum_y_m)
        routes = routes_from(plan, space, rooms, start)
    return routes, stand


def _can_grow(branch: Branch, most_m: float | None) -> bool:
    """A branch may grow until it is as slow as generous sizing: beyond that the return, not the branch, is at fault."""
    fast = branch.velocity_m_s > policy("generous").branch_m_s
    return fast and next_size_m(branch.diameter_m, most_m) is not None


def _lowered(branches: list[Branch], trunk: _Trunk, unit: DuctUnit, most_m: float | None) -> tuple[list[Branch], int]:
    """Enlarge the index branch size by size until the total fits the unit's static or it cannot grow."""
    steps = 0
    while trunk.budget(unit, branches).total_pa > STATIC_SHARE * unit.static_pa:
        worst = max(range(len(branches)), key=lambda i: branches[i].parts.total_pa)
        size = next_size_m(branches[worst].diameter_m, most_m)
        if size is None or not _can_grow(branches[worst], most_m):
            break
        branches = [_enlarged(b, size) if i == worst else b for i, b in enumerate(branches)]
        steps += 1
    return branches, steps


def _by_size(pairs: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    sizes = sorted({size for size, _ in pairs})
    return tuple((size, sum(length for s, length in pairs if s == size)) for size in sizes)


def _takeoff(branches: list[Branch], face: Face, transfers: tuple[TransferPath, ...]) -> Takeoff:
    return Takeoff(
        rigid_m=_by_size([(b.diameter_m, b.runs * b.shape.rigid_m) for b in branches]),
        flex_m=_by_size([(b.diameter_m, b.runs * b.shape.flex_m) for b in branches]),
        registers=sum(b.runs for b in branches),
        dampers=sum(b.runs for b in branches),
        elbows=sum(b.runs * b.elbows for b in branches),
        filter_face=face,
        transfer_grilles=sum(path.remedy == "transfer grille" for path in transfers),
        undercuts=sum(path.remedy == "undercut" for path in transfers),
    )


def _drain_run_m(plan: Plan, space: UnitSpace, start: tuple[float, float]) -> float:
    """Straight run to the nearest edge of the level's extent."""
    corners = [c for r in plan.rooms if r.level == space.level for c in r.outline_m] or [start]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return max(min(start[0] - min(xs), max(xs) - start[0], start[1] - min(ys), max(ys) - start[1]), 0.0)


def _loss(request: DuctRequest, branches: list[Branch], trunk: _Trunk) -> DuctLoss:
    unit = request.unit
    plenum = 2 * (trunk.plenum_w_m + trunk.plenum_h_m) * constant("plenum_length_m")
    supply = plenum + sum(math.pi * b.diameter_m * b.length_m * b.runs for b in branches)
    back = 4 * trunk.return_path.box_side_m * trunk.return_path.length_m
    return duct_loss(request.space, supply, back, UnitDuty(unit.flow_high_m3_s, unit.heat_w, unit.cool_w))


def design_ducts(plan: Plan, request: DuctRequest) -> DuctDesign:
    """Design the ducts of one served zone; rooms stand in the order of `request.loads`.

    Raises ValueError for empty loads, unknown rooms or an unknown policy; a zone that cannot be built comes back
    with `feasible` False and its reasons.
    """
    unit, limits = request.unit, policy(request.policy)
    routes, stand = _placed(plan, request, limits)
    most = branch_height_limit_m(request.space)
    flows = [share * unit.flow_high_m3_s for share in air_shares(request.loads)]
    sized = [_sized(run, flow, limits, most) for run, flow in zip(routes.runs, flows, strict=True)]
    trunk = _trunk(request, limits, stand)
    lowered, steps = _lowered(sized, trunk, unit, most)
    branches = _balanced(lowered)
    static = trunk.budget(unit, branches)
    transfers = tuple(transfer_path(plan, branch.room, branch.flow_m3_s) for branch in branches)
    start = (routes.start_x_m, routes.start_y_m)
    fit = unit_fit(unit, request.space, _drain_run_m(plan, request.space, start))
    reasons = (*fit.reasons, *reasons_against(plan, request, branches, static, stand))
    loss = _loss(request, branches, trunk)
    return DuctDesign(
        space=request.space,
        policy=limits.name,
        start_x_m=start[0],
        start_y_m=start[1],
        stand=stand,
        branches=tuple(branches),
        return_path=trunk.return_path,
        static=static,
        design_flow_m3_s=unit.flow_high_m3_s,
        actual_flow_m3_s=actual_flow_m3_s(unit.flow_high_m3_s, static.total_pa, unit.static_pa),
        plenum_w_m=trunk.plenum_w_m,
        plenum_h_m=trunk.plenum_h_m,
        plenum_length_m=constant("plenum_length_m"),
        loss=loss,
        heat_delivered_frac=float(loss.heat_frac(request.heat_outdoor_c)),
        cool_delivered_frac=float(loss.cool_frac(request.cool_outdoor_c)),
        transfers=transfers,
        needs_pump=fit.needs_pump,
        feasible=not reasons,
        reasons=reasons,
        notes=(*fit.notes, *notes_on(plan, request, branches, steps, trunk.return_path)),
        takeoff=_takeoff(branches, trunk.return_path.filter_face, transfers),
    )


def design_until_enough(plan: Plan, request: DuctRequest) -> DuctDesign:
    """Design as asked; where only the static is short, try a 4 in. filter, then generous sizing, then both.

    The first that can be built comes back with a note of what was changed; else the design as asked.
    """
    asked = design_ducts(plan, request)
    if asked.feasible or asked.static.enough or len(asked.reasons) > 1:
        return asked
    tries = (
        (replace(request, filter_depth_in=4), "4 in. filter"),
        (replace(request, policy="generous"), "generous sizing"),
        (replace(request, policy="generous", filter_depth_in=4), "generous sizing and a 4 in. filter"),
    )
    for changed, words in tries:
        found = design_ducts(plan, changed)
        if found.feasible:
            note = f"{words}: {request.policy} sizing needs {asked.static.total_pa:.0f} Pa, more than the unit's static"
            return replace(found, notes=(*found.notes, note))
    return asked
