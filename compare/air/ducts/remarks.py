"""What stands against a duct design, and what must be read with it."""

from __future__ import annotations

from collections.abc import Iterator

from compare.air.draught.jet import Jet, throw_m
from compare.air.ducts.result import Branch, DuctRequest
from compare.air.ducts.sizing import Face, policy
from compare.air.ducts.stand import UnitStand
from compare.air.ducts.static import ReturnPath, StaticBudget
from compare.air.geometry import clear_run_m, unit_vector
from compare.air.tables import constant, row
from compare.air.units_us import CFM_M3_S, FPM_M_S, both_m
from compare.house.plan import Plan, SpaceKind

FEEL_M_S = 0.254
"""Speed to which throws are given: 50 fpm, the threshold of feeling (handbook chapter on jets)."""
OVER = 1.01


def static_reason(static: StaticBudget) -> str | None:
    """Why the unit cannot move the air through these ducts, with the part that takes most."""
    if static.enough:
        return None
    part, most = max(static.parts, key=lambda item: item[1])
    return (
        f"static {static.total_pa:.0f} Pa at design flow is above the unit's {static.available_pa:.0f} Pa; "
        f"most of it in the {part} ({most:.0f} Pa)"
    )


def reasons_against(
    plan: Plan, request: DuctRequest, branches: list[Branch], static: StaticBudget, stand: UnitStand
) -> Iterator[str]:
    """Fatal lacks, rooms first."""
    space = request.space
    for branch in branches:
        name = plan.rooms[branch.room].name
        if space.serves and branch.room not in space.serves:
            yield f"{name}: ducts from {space.name} do not reach it"
        elif not space.serves and plan.rooms[branch.room].level != space.level:
            yield f"{name}: on another level than {space.name} serves"
        if request.reach_m is not None and branch.length_m > request.reach_m + 1e-9:
            yield f"{name}: branch of {both_m(branch.length_m)} is beyond {both_m(request.reach_m)}"
    longest = max(space.clear_length_m, space.clear_width_m)
    if space.kind is SpaceKind.HALL_DROP and stand.row_m > longest + 1e-9:
        need = both_m(stand.row_m)
        yield f"{space.name}: plenum, unit and return box need {need} in a row, clear is {both_m(longest)}"
    if (reason := static_reason(static)) is not None:
        yield reason


def notes_on(plan: Plan, request: DuctRequest, branches: list[Branch], steps: int, back: ReturnPath) -> Iterator[str]:
    """Remarks that do not stop the work."""
    limits = policy(request.policy)
    if steps:
        yield f"branches enlarged {steps} times past {limits.name} sizing to keep the unit's static"
    for branch in branches:
        name = plan.rooms[branch.room].name
        if branch.velocity_m_s > limits.branch_m_s * OVER:
            cfm, fpm = branch.run_flow_m3_s / CFM_M3_S, branch.velocity_m_s / FPM_M_S
            yield f"{name}: {fpm:.0f} fpm at {cfm:.0f} cfm is above {limits.name} sizing"
        if (warning := throw_warning(plan, branch)) is not None:
            yield warning
    if (warning := return_warning(back.filter_face, request.unit.flow_high_m3_s)) is not None:
        yield warning
    if request.space.kind is SpaceKind.ATTIC and not request.space.inside_envelope:
        yield (
            f"{request.space.name}: ducts lose heat here; snow can melt over them and freeze at the eave (ice dam), "
            "and cold ducts sweat in summer: seal, insulate, keep the vapour barrier whole"
        )


def return_warning(face: Face, flow_m3_s: float) -> str | None:
    """A filter face above 300 fpm (ACCA, as read second-hand) is undersized: pressure and noise."""
    limit = constant("filter_limit_m_s")
    speed = flow_m3_s / face.area_m2
    if speed <= limit * OVER:
        return None
    return (
        f"return undersized: {speed / FPM_M_S:.0f} fpm through the filter at {flow_m3_s / CFM_M3_S:.0f} cfm, "
        f"at most {limit / FPM_M_S:.0f} fpm: pressure and noise at the grille"
    )


def register_jet(branch: Branch, ceiling_m: float) -> Jet:
    """The isothermal jet of one register at design flow."""
    entry = row("jets", "kind", branch.outlet)
    face = branch.shape.face
    return Jet(
        flow_m3_s=branch.run_flow_m3_s,
        area_m2=constant("register_free_frac") * face.area_m2,
        width_m=face.width_m,
        throw_k=float(entry["throw_k"]),
        height_m=min(float(entry["height_cool_m"]), ceiling_m),
        delta_k=0.0,
        aim_deg=0.0,
        half_spread_deg=float(entry["half_spread_deg"]),
        radial=entry["radial"] == "1",
    )


def throw_and_way_m(plan: Plan, branch: Branch) -> tuple[float, float]:
    """Throw to 50 fpm at design flow, and the length of room in front of the register (half of it for a radial one)."""
    room = plan.rooms[branch.room]
    east, north = unit_vector(branch.bearing_deg)
    start = (branch.x_m + 0.01 * east, branch.y_m + 0.01 * north)
    way = clear_run_m([room.outline_m], start, branch.bearing_deg)
    return throw_m(register_jet(branch, room.height_m), FEEL_M_S), way


def throw_warning(plan: Plan, branch: Branch) -> str | None:
    """A throw far shorter than the room leaves its far side unstirred; floor outlets rise instead."""
    if branch.outlet == "register_floor":
        return None
    throw, way = throw_and_way_m(plan, branch)
    if throw >= constant("throw_least_frac") * way:
        return None
    name = plan.rooms[branch.room].name
    return f"{name}: the register throws {both_m(throw)} into {both_m(way)} of room: too little to stir it"
