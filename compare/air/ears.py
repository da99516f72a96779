"""Sound of placed units at beds, seats, neighbours' rooms, windows and the property line."""

from __future__ import annotations

import math

import numpy as np

from compare.air.noise.fan import SoundSource, octave_power_db
from compare.air.noise.hours import LevelCurve, curve_from_octaves, level_curve, speed_grid
from compare.air.noise.outdoors import outdoor_curve
from compare.air.noise.room import door_loss_db, next_room_db, schultz_loss_db
from compare.air.siting import HeadResult, Siting, space_on_level
from compare.house.plan import LinkKind, OutdoorSpot, Plan

EDGE_GAP_M = 0.003


def space_volume_m3(plan: Plan, room: int) -> float:
    """Volume of the room's open space on its level."""
    return sum(plan.rooms[r].volume_m3 for r in space_on_level(plan, room))


def head_curve(plan: Plan, siting: Siting, head: HeadResult, source: SoundSource) -> LevelCurve:
    """Level of a room unit at one of its beds or seats against the share of its output range."""
    return level_curve(source, schultz_loss_db(space_volume_m3(plan, siting.room), head.distance_m))


def neighbour_curve(
    plan: Plan, siting: Siting, source: SoundSource, room: int, *, night: bool = True
) -> LevelCurve | None:
    """Level of a room unit in a room beyond a door or opening of its open space; None where none joins them.

    A door counts as open when it stands open at least half the time. The loudest way counts.
    """
    space = space_on_level(plan, siting.room)
    power = octave_power_db(source, speed_grid())
    volume = space_volume_m3(plan, siting.room)
    found: list[LevelCurve] = []
    for link in plan.links:
        ends = (link.a, link.b)
        if room not in ends or link.kind is LinkKind.STAIR or not any(end in space for end in ends):
            continue
        near = max(math.dist((siting.x_m, siting.y_m), (link.x_m, link.y_m)), 1.0)
        leaf_m2 = link.width_m * link.height_m
        shut = link.kind is LinkKind.DOOR and link.open_frac(night) < 0.5
        gap_m2 = link.width_m * link.undercut_m + 2 * link.height_m * EDGE_GAP_M
        loss = door_loss_db(leaf_m2, gap_m2) if shut else np.zeros(8)
        level = next_room_db(power - schultz_loss_db(volume, near), leaf_m2, loss, plan.rooms[room].volume_m3)
        found.append(curve_from_octaves(level))
    return max(found, key=lambda curve: curve.high_dba, default=None)


def line_curve(spot: OutdoorSpot, lw_rated_dba: float, *, heating: bool) -> LevelCurve:
    """Level of an outdoor unit at the property line: ground and the house wall behind it reflect."""
    return outdoor_curve(lw_rated_dba, spot.property_line_m, heating=heating, walls=1)


def window_curve(spot: OutdoorSpot, lw_rated_dba: float, *, heating: bool) -> LevelCurve | None:
    """Level outside the nearest bedroom window; None when its distance is not given."""
    if spot.bedroom_window_m is None:
        return None
    return outdoor_curve(lw_rated_dba, spot.bedroom_window_m, heating=heating, walls=1)
