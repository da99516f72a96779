"""Sound of a ducted zone at the ear: from the discharge along each branch, and back through the return grille."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from compare.air.draught.points import Listener
from compare.air.ducts.friction import equivalent_diameter_m
from compare.air.ducts.result import Branch, DuctDesign
from compare.air.noise.bands import add_db
from compare.air.noise.fan import SoundSource, flow_at_m3_s, octave_power_db
from compare.air.noise.hours import LevelCurve, curve_from_octaves, speed_grid
from compare.air.noise.outlet import damper_added_db, outlet_power_db
from compare.air.noise.path import (
    elbow_db,
    end_reflection_db,
    flex_db,
    lined_rect_db,
    split_db,
    unlined_rect_db,
    unlined_round_db,
)
from compare.air.noise.room import door_loss_db, next_room_db, schultz_loss_db
from compare.air.tables import FloatArray, fitting
from compare.house.plan import LinkKind, Plan

DAMPERS = {"plenum": "upstream", "register": "neck"}
LINER_IN = 1.0


@dataclass(frozen=True, slots=True)
class SoundChoice:
    """How the ducts are built for sound: a lined or bare plenum, dampers at the plenum or at the register.

    `spare_pa` is what every damper takes beyond the balance: pressure left over where the unit's static is set higher
    than the ducts need.
    """

    lined: bool = True
    damper: str = "plenum"
    spare_pa: float = 0.0

    def __post_init__(self) -> None:
        """Refuse an unknown damper place."""
        if self.damper not in DAMPERS:
            raise ValueError(f"damper '{self.damper}' is not known; use plenum or register")


DEFAULT_CHOICE = SoundChoice()


def _plenum_db(design: DuctDesign, *, lined: bool) -> FloatArray:
    size = (design.plenum_w_m, design.plenum_h_m, design.plenum_length_m)
    return lined_rect_db(*size, LINER_IN) if lined else unlined_rect_db(*size)


def branch_loss_db(design: DuctDesign, branch: Branch, choice: SoundChoice = DEFAULT_CHOICE) -> dict[str, FloatArray]:
    """Loss of fan sound from the discharge to the open end of one run, part by part, each (8,).

    The end is the boot's face, taken as a flush opening of the face's equivalent diameter.
    """
    areas = sum(b.runs * b.diameter_m**2 for b in design.branches)
    face = branch.shape.face
    turns = branch.elbows + 1
    return {
        "plenum": _plenum_db(design, lined=choice.lined),
        "split": split_db(branch.diameter_m**2 / areas),
        "rigid duct": unlined_round_db(branch.shape.rigid_m),
        "elbows": elbow_db(branch.diameter_m, "round") * turns,
        "flexible duct": flex_db(branch.diameter_m, branch.shape.flex_m),
        "end reflection": end_reflection_db(equivalent_diameter_m(face.width_m, face.height_m)),
    }


def damper_rise_db(branch: Branch, choice: SoundChoice = DEFAULT_CHOICE) -> float:
    """What the branch's volume damper adds to its outlet's own noise, by its place."""
    outlet_pa = branch.parts.register_pa
    ratio = (branch.damper_pa + choice.spare_pa) / outlet_pa if outlet_pa > 0 else 0.0
    return damper_added_db(DAMPERS[choice.damper], ratio)


def register_octaves_db(
    design: DuctDesign, branch: Branch, discharge: SoundSource, choice: SoundChoice = DEFAULT_CHOICE
) -> tuple[FloatArray, FloatArray]:
    """Sound power entering the room through all runs of a branch: from the fan and made by the outlets.

    Both (41, 8) over `speed_grid`; airflow follows the unit's.
    """
    grid = speed_grid()
    loss = np.sum(list(branch_loss_db(design, branch, choice).values()), axis=0)
    several = 10 * math.log10(branch.runs)
    fan = octave_power_db(discharge, grid) - loss + several
    share = branch.run_flow_m3_s / design.design_flow_m3_s
    flow = flow_at_m3_s(discharge, grid) * share
    outlet = outlet_power_db(branch.shape.face.area_m2, flow, fitting("register_face"))
    return fan, outlet + damper_rise_db(branch, choice) + several


def distance_to_outlet_m(branch: Branch, ear: Listener, ceiling_m: float) -> float:
    """Straight distance from a branch's outlet to an ear."""
    height = {"register_floor": 0.05, "register_ceiling": ceiling_m}.get(branch.outlet, min(2.15, ceiling_m - 0.15))
    return math.dist((branch.x_m, branch.y_m, height), (ear.x_m, ear.y_m, ear.height_m))


def supply_octaves_db(
    plan: Plan, design: DuctDesign, branch: Branch, heard: tuple[SoundSource, Listener], choice: SoundChoice
) -> FloatArray:
    """Octave levels (41, 8) at an ear in the branch's room from its registers; `heard` is discharge source and ear."""
    source, ear = heard
    room = plan.rooms[branch.room]
    fan, outlet = register_octaves_db(design, branch, source, choice)
    loss = schultz_loss_db(room.volume_m3, distance_to_outlet_m(branch, ear, room.height_m))
    return add_db(fan, outlet) - loss


def branch_curve(
    plan: Plan,
    design: DuctDesign,
    branch: Branch,
    heard: tuple[SoundSource, Listener],
    choice: SoundChoice = DEFAULT_CHOICE,
) -> LevelCurve:
    """Level at an ear against the share of the unit's output range; `heard` is discharge source and ear."""
    return curve_from_octaves(supply_octaves_db(plan, design, branch, heard, choice))


def zone_curve(
    plan: Plan,
    design: DuctDesign,
    branch: Branch,
    sources: tuple[SoundSource, SoundSource],
    ear: Listener,
) -> LevelCurve:
    """Level at an ear from its room's registers and from the return grille beyond its shut door.

    `sources` is the unit's discharge and its inlet.
    """
    discharge, inlet = sources
    level = supply_octaves_db(plan, design, branch, (discharge, ear), DEFAULT_CHOICE)
    back = return_through_door_db(plan, design, inlet, branch.room)
    return curve_from_octaves(level if back is None else add_db(level, back))


def return_loss_db(design: DuctDesign, *, lined: bool = True) -> dict[str, FloatArray]:
    """Loss of inlet sound from the unit to the open face of the return grille, part by part, each (8,)."""
    back = design.return_path
    side, face = back.box_side_m, back.filter_face
    box = lined_rect_db(side, side, back.length_m, LINER_IN) if lined else unlined_rect_db(side, side, back.length_m)
    return {
        "return box": box,
        "two elbows": 2 * elbow_db(side, "square_lined" if lined else "square"),
        "end reflection": end_reflection_db(equivalent_diameter_m(face.width_m, face.height_m)),
    }


def return_grille_octaves_db(design: DuctDesign, inlet: SoundSource, *, lined: bool = True) -> FloatArray:
    """Sound power (41, 8) that leaves the return grille: the fan through the box, and the air through the grille."""
    loss = np.sum(list(return_loss_db(design, lined=lined).values()), axis=0)
    flow = flow_at_m3_s(inlet, speed_grid()) * design.actual_flow_m3_s / design.design_flow_m3_s
    own = outlet_power_db(design.return_path.filter_face.area_m2, flow, fitting("return_grille_face"))
    return add_db(octave_power_db(inlet, speed_grid()) - loss, own)


def return_through_door_db(
    plan: Plan, design: DuctDesign, inlet: SoundSource, room: int, *, shut: bool = True
) -> FloatArray | None:
    """Octave levels (41, 8) in a room from the return grille in the room beyond its door; None without such a door.

    The door's gap is its undercut and a 3 mm edge. Casing sound through the ceiling is left out.
    """
    for link in plan.links:
        if link.kind is not LinkKind.DOOR or room not in (link.a, link.b):
            continue
        beyond = link.b if link.a == room else link.a
        if beyond != design.stand.return_room:
            continue
        reach = math.dist((design.stand.return_x_m, design.stand.return_y_m), (link.x_m, link.y_m))
        at_door = return_grille_octaves_db(design, inlet) - schultz_loss_db(
            plan.rooms[beyond].volume_m3, max(reach, 1.0)
        )
        leaf_m2 = link.width_m * link.height_m
        gap_m2 = link.width_m * link.undercut_m + 0.003 * 2 * link.height_m
        loss = door_loss_db(leaf_m2, gap_m2) if shut else np.zeros(8)
        return next_room_db(at_door, leaf_m2, loss, plan.rooms[room].volume_m3)
    return None
