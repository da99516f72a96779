"""The sound of one branch at one ear, part by part in the order in which the air meets them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from compare.air.draught.points import Listener
from compare.air.ducts.result import Branch, DuctDesign
from compare.air.ducts.sound import (
    DEFAULT_CHOICE,
    SoundChoice,
    branch_loss_db,
    damper_rise_db,
    distance_to_outlet_m,
    return_through_door_db,
)
from compare.air.noise.bands import add_db, level_dba
from compare.air.noise.criteria import NcRating, nc_rating
from compare.air.noise.fan import SoundSource, flow_at_m3_s, octave_power_db
from compare.air.noise.outlet import outlet_power_db
from compare.air.noise.room import schultz_loss_db
from compare.air.tables import FloatArray, fitting
from compare.house.plan import Plan

NONE_DB = -300.0
"""Stands for no sound in a sum of levels."""


@dataclass(frozen=True, slots=True)
class Sources:
    """Sound power of a concealed unit at its outlet and at its inlet."""

    discharge: SoundSource
    inlet: SoundSource


@dataclass(frozen=True, slots=True)
class SoundStep:
    """One part: what it does to the octave levels (63 Hz to 8 kHz), and the A-weighted level after it."""

    part: str
    change_db: tuple[float, ...]
    after_dba: float


@dataclass(frozen=True, slots=True)
class SoundBudget:
    """From the fan to one ear at one speed. `steps` are sound power up to the register, then pressure at the ear."""

    room: int
    ear: str
    fraction: float
    steps: tuple[SoundStep, ...]
    level_db: tuple[float, ...]
    level_dba: float
    rating: NcRating


def _dba(octave: FloatArray) -> float:
    return float(level_dba(octave[None, :])[0])


def sound_budget(
    plan: Plan,
    design: DuctDesign,
    branch: Branch,
    heard: tuple[Sources, Listener, float],
    choice: SoundChoice = DEFAULT_CHOICE,
) -> SoundBudget:
    """Budget of one branch; `heard` is the unit's sound, the ear, and the share of the output range (0 quiet, 1 high).

    The sum equals `zone_curve` of the same branch at that share.
    """
    sources, ear, fraction = heard
    share = np.array([fraction])
    room = plan.rooms[branch.room]
    level = octave_power_db(sources.discharge, share)[0]
    steps = [SoundStep("unit", tuple(level.tolist()), _dba(level))]
    for part, loss in branch_loss_db(design, branch, choice).items():
        level = level - loss
        steps.append(SoundStep(part, tuple((-loss).tolist()), _dba(level)))
    several = 10 * math.log10(branch.runs)
    flow = flow_at_m3_s(sources.discharge, share) * branch.run_flow_m3_s / design.design_flow_m3_s
    own = outlet_power_db(branch.shape.face.area_m2, flow, fitting("register_face"))[0]
    for part, base, added in (
        ("register", level + several, own + several),
        ("damper", None, _damper_db(own, damper_rise_db(branch, choice)) + several),
    ):
        before = level
        level = add_db(level if base is None else base, added)
        steps.append(SoundStep(part, tuple((level - before).tolist()), _dba(level)))
    effect = schultz_loss_db(room.volume_m3, distance_to_outlet_m(branch, ear, room.height_m))
    level = level - effect
    steps.append(SoundStep("room", tuple((-effect).tolist()), _dba(level)))
    back = return_through_door_db(plan, design, sources.inlet, branch.room)
    if back is not None:
        index = round(fraction * (len(back) - 1))
        both = add_db(level, back[index])
        steps.append(SoundStep("return through the door", tuple((both - level).tolist()), _dba(both)))
        level = both
    return SoundBudget(
        branch.room, ear.label, fraction, tuple(steps), tuple(level.tolist()), _dba(level), nc_rating(level)
    )


def _damper_db(own: FloatArray, rise_db: float) -> FloatArray:
    """What a damper adds to an outlet's own noise, as levels to be summed with it."""
    if rise_db <= 0:
        return np.full_like(own, NONE_DB)
    return np.asarray(own + 10 * math.log10(10 ** (rise_db / 10) - 1), dtype=float)


def position_penalty_db(
    plan: Plan,
    design: DuctDesign,
    branch: Branch,
    heard: tuple[Sources, Listener, float],
    *,
    full_static: bool = False,
) -> float:
    """How much louder the ear hears the branch with its damper at the register than at the plenum.

    With `full_static` the unit is left at the highest static it can give, and the dampers take what the ducts do not.
    """
    spare = max(design.static.available_pa - design.static.total_pa, 0.0) if full_static else 0.0
    plenum, register = (
        sound_budget(plan, design, branch, heard, SoundChoice(damper=place, spare_pa=spare))
        for place in ("plenum", "register")
    )
    return register.level_dba - plenum.level_dba
