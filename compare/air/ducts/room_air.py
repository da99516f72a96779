"""Draught in a room from its registers."""

from __future__ import annotations

from compare.air.draught.jet import RoomAir
from compare.air.draught.outlets import AirOutlet
from compare.air.draught.points import Aim, DraughtCurve, Listener, OutputRange, draught_at, draught_curve
from compare.air.ducts.result import Branch, DuctDesign
from compare.air.geometry import clear_run_m, clear_width_m, unit_vector
from compare.air.tables import constant
from compare.house.plan import Plan


def run_range(design: DuctDesign, branch: Branch, span: OutputRange) -> OutputRange:
    """Airflow and output of one run: its share of the unit's."""
    share = branch.run_flow_m3_s / design.design_flow_m3_s
    return OutputRange(
        span.flow_quiet_m3_s * share,
        span.flow_high_m3_s * share,
        span.cool_least_w * share,
        span.cool_most_w * share,
        span.heat_least_w * share,
        span.heat_most_w * share,
    )


def _outlet_and_air(plan: Plan, branch: Branch) -> tuple[AirOutlet, Aim, RoomAir]:
    """A register of the branch, where it blows, and the room it blows into."""
    room = plan.rooms[branch.room]
    face = branch.shape.face
    outlet = AirOutlet(branch.outlet, face_m2=face.area_m2, face_w_m=face.width_m)
    east, north = unit_vector(branch.bearing_deg)
    start = (branch.x_m + 0.01 * east, branch.y_m + 0.01 * north)
    length = clear_run_m([room.outline_m], start, branch.bearing_deg)
    width = clear_width_m([room.outline_m], start, branch.bearing_deg)
    if outlet.radial:
        length += clear_run_m([room.outline_m], start, branch.bearing_deg + 180)
    air = RoomAir(length, width, room.height_m, constant("cool_room_c"))
    return outlet, Aim(branch.x_m, branch.y_m, branch.bearing_deg), air


def register_draught(plan: Plan, design: DuctDesign, branch: Branch, span: OutputRange, ear: Listener) -> DraughtCurve:
    """Draught at a bed or seat from one register of the branch, over the unit's whole output range `span`.

    Runs of one room are taken to stand apart, each alone at the head.
    """
    outlet, aim, air = _outlet_and_air(plan, branch)
    return draught_curve(outlet, aim, run_range(design, branch, span), ear, air)


def register_speed_m_s(
    plan: Plan, design: DuctDesign, branch: Branch, heard: tuple[OutputRange, Listener], fraction: float = 0.5
) -> float:
    """Speed of the air at a point from one register, cooling at a share of the output range."""
    span, point = heard
    outlet, aim, air = _outlet_and_air(plan, branch)
    duty = run_range(design, branch, span).duty(fraction, heating=False)
    return draught_at(outlet, aim, duty, point, air).speed_m_s
