"""Draught in a room from its registers."""

from __future__ import annotations

from compare.air.draught.jet import RoomAir
from compare.air.draught.outlets import AirOutlet
from compare.air.draught.points import Aim, DraughtCurve, Listener, OutputRange, draught_curve
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


def register_draught(plan: Plan, design: DuctDesign, branch: Branch, span: OutputRange, ear: Listener) -> DraughtCurve:
    """Draught at a bed or seat from one register of the branch, over the unit's whole output range `span`.

    Runs of one room are taken to stand apart, each alone at the head.
    """
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
    aim = Aim(branch.x_m, branch.y_m, branch.bearing_deg)
    return draught_curve(outlet, aim, run_range(design, branch, span), ear, air)
