"""Where a room unit goes: places along the room's walls compared by draught, throw, line and drain."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from compare.air.blocked import opening_reason
from compare.air.draught.jet import Jet, RoomAir, throw_m
from compare.air.draught.outlets import AirOutlet, jet_of
from compare.air.draught.points import (
    Aim,
    Draught,
    DraughtCurve,
    Duty,
    Listener,
    OutputRange,
    draught_curve,
    draught_of,
    jet_at,
    stream_offsets_m,
)
from compare.air.geometry import clear_space_m
from compare.air.places import RULES, Place, RejectedPlace, candidates, reason_against
from compare.air.sight import in_sight_of
from compare.air.tables import constant, row
from compare.house.plan import Plan

THROW_END_M_S = 0.25
MID = 0.5
JUDGED_SHARES = (0.0, 0.25, 0.5, 0.75)
"""Shares of the output range at which a place is judged; full output is rare (our judgement)."""
WORSE_SHOWN = 4


@dataclass(frozen=True, slots=True)
class RoomUnit:
    """A wall head, floor console or cassette as siting sees it."""

    outlet: AirOutlet
    span: OutputRange


@dataclass(frozen=True, slots=True)
class HeadResult:
    """One bed or seat: distance from the unit, and the worst draught up to three quarters of the output by mode."""

    label: str
    room: int
    bed: bool
    ear: Listener
    distance_m: float
    cool: Draught
    heat: Draught

    @property
    def worst_frac(self) -> float:
        """The greater draught rate of both modes."""
        return max(self.cool.rate_frac, self.heat.rate_frac)


@dataclass(frozen=True, slots=True)
class Siting:
    """The chosen place. `throws_deg` is the plan bearing of the air, side vanes turned by `vane_deg` included."""

    room: int
    unit: RoomUnit
    x_m: float
    y_m: float
    height_m: float
    throws_deg: float
    vane_deg: float
    outside_wall: bool
    label: str
    surveyed: bool
    air: RoomAir
    heads: tuple[HeadResult, ...]
    throw_m: float
    line_run_m: float
    needs_pump: bool
    points: float
    draught_points: float
    sight_points: float
    """Parts of `points`."""
    feasible: bool
    notes: tuple[str, ...]
    rejected: tuple[RejectedPlace, ...]

    @property
    def kind(self) -> str:
        """Kind of outlet."""
        return self.unit.outlet.kind

    def draught(self, head: HeadResult) -> DraughtCurve:
        """Draught at one of its heads over the unit's whole output range."""
        aim = Aim(self.x_m, self.y_m, self.throws_deg)
        return draught_curve(self.unit.outlet, aim, self.unit.span, head.ear, self.air)


@dataclass(frozen=True, slots=True)
class _Trial:
    place: Place
    vane_deg: float
    heads: tuple[HeadResult, ...]
    air: RoomAir
    throw_m: float
    line_m: float
    points: float
    seen: tuple[str, ...]


def heads_of(plan: Plan, rooms: tuple[int, ...]) -> list[tuple[int, bool, Listener]]:
    """Beds and seats of the rooms: (room, is a bed, head)."""
    found = []
    for room in rooms:
        here = plan.rooms[room]
        for number, bed in enumerate(here.beds, 1):
            ear = Listener(f"{here.name}: bed {number}", bed.x_m, bed.y_m, constant("pillow_height_m"))
            found.append((room, True, ear))
        for number, seat in enumerate(here.seats, 1):
            label = f"{here.name}: {seat.kind or 'seat'} {number}"
            found.append((room, False, Listener(label, seat.x_m, seat.y_m, constant("seat_head_height_m"))))
    return found


def space_on_level(plan: Plan, room: int) -> tuple[int, ...]:
    """Rooms of the room's open space that lie on its level."""
    level = plan.rooms[room].level
    return tuple(r for r in plan.space_of(room) if plan.rooms[r].level == level)


def line_run_m(plan: Plan, place: Place) -> float:
    """Shortest rectilinear way on the plan to an outdoor spot, nan without spots."""
    runs = [abs(s.x_m - place.x_m) + abs(s.y_m - place.y_m) for s in plan.outdoor_spots]
    return min(runs, default=math.nan)


def room_air(plan: Plan, rooms: tuple[int, ...], place: Place, bearing: float, ceiling_m: float) -> RoomAir:
    """The open space as a jet from a place meets it."""
    outlines = tuple(plan.rooms[r].outline_m for r in rooms)
    length_m, width_m = clear_space_m(outlines, (place.x_m, place.y_m), bearing)
    return RoomAir(length_m, width_m, ceiling_m, constant("cool_room_c"))


@dataclass(frozen=True, slots=True)
class _Blown:
    """What a unit blows at one duty, and the room temperature that goes with it."""

    jet: Jet | None
    room_c: float

    @classmethod
    def of(cls, unit: RoomUnit, duty: Duty, ceiling_m: float) -> _Blown:
        return cls(jet_at(unit.outlet, duty, ceiling_m), duty.room_c())


@dataclass(frozen=True, slots=True)
class _Asked:
    """What every place of a unit in a room is judged by."""

    unit: RoomUnit
    rooms: tuple[int, ...]
    heads: tuple[tuple[int, bool, Listener], ...]
    cooling: tuple[_Blown, ...]
    heating: tuple[_Blown, ...]
    ceiling_m: float
    up_m: float

    @classmethod
    def of(cls, plan: Plan, room: int, unit: RoomUnit) -> _Asked:
        rooms, ceiling_m = space_on_level(plan, room), plan.rooms[room].height_m
        cooling, heating = (
            tuple(_Blown.of(unit, unit.span.duty(share, heating=warm), ceiling_m) for share in JUDGED_SHARES)
            for warm in (False, True)
        )
        up_m = _outlet_height_m(unit, ceiling_m)
        return cls(unit, rooms, tuple(heads_of(plan, rooms)), cooling, heating, ceiling_m, up_m)

    def airs(self, air: RoomAir) -> dict[float, RoomAir]:
        """The air of the room at each temperature at which the unit is judged."""
        temperatures_c = {blown.room_c for blown in (*self.cooling, *self.heating)}
        return {room_c: replace(air, room_c=room_c) for room_c in temperatures_c}


def _head_result(
    asked: _Asked, aim: Aim, airs: Mapping[float, RoomAir], head: tuple[int, bool, Listener]
) -> HeadResult:
    room, bed, ear = head
    outlet = asked.unit.outlet
    offsets_m = stream_offsets_m(outlet, aim, ear)

    def worst(duties: Sequence[_Blown]) -> Draught:
        trials = [draught_of(blown.jet, outlet, offsets_m, ear.height_m, airs[blown.room_c]) for blown in duties]
        return max(trials, key=lambda draught: draught.rate_frac)

    gap = math.dist((aim.x_m, aim.y_m, asked.up_m), (ear.x_m, ear.y_m, ear.height_m))
    return HeadResult(ear.label, room, bed, ear, gap, worst(asked.cooling), worst(asked.heating))


def _outlet_height_m(unit: RoomUnit, ceiling_m: float) -> float:
    return min(float(row("jets", "kind", unit.outlet.kind)["height_cool_m"]), ceiling_m - 0.05)


def _trials(plan: Plan, asked: _Asked, places: Sequence[Place]) -> list[_Trial]:
    """Every place with every aim of the vanes; what a place shows does not hang on its aim."""
    found = []
    for place in places:
        seen = in_sight_of(plan, asked.rooms, (place.x_m, place.y_m))
        found += [_trial(plan, asked, place, vane, seen) for vane in _vanes(asked.unit.outlet.kind)]
    return found


def _trial(plan: Plan, asked: _Asked, place: Place, vane: float, seen: tuple[str, ...]) -> _Trial:
    unit = asked.unit
    bearing = (place.bearing_deg + vane) % 360
    air = room_air(plan, asked.rooms, place, bearing, asked.ceiling_m)
    aim = Aim(place.x_m, place.y_m, bearing)
    airs = asked.airs(air) if asked.heads else {}
    heads = tuple(_head_result(asked, aim, airs, head) for head in asked.heads)
    duty = unit.span.duty(MID, heating=False)
    jet = jet_of(unit.outlet, duty.flow_m3_s, duty.output_w, asked.ceiling_m)
    reach = min(throw_m(jet, THROW_END_M_S), air.length_m)
    line = line_run_m(plan, place)
    points = _points(unit, place, heads, (reach, line)) + constant("sight_points", RULES) * len(seen)
    return _Trial(place, vane, heads, air, reach, line, points, seen)


def _points(unit: RoomUnit, place: Place, heads: tuple[HeadResult, ...], runs: tuple[float, float]) -> float:
    """Points against a place; the least wins. Weights are the rows of `siting_rules`."""
    reach, line = runs
    total = constant("draught_points", RULES) * max((head.worst_frac for head in heads), default=0.0)
    total += 0.0 if math.isnan(line) else constant("line_points_m", RULES) * line
    wall_unit = unit.outlet.kind != "ceiling_cassette"
    if wall_unit and not place.outside_wall:
        total += constant("inside_wall_points", RULES)
    if not place.surveyed:
        total += constant("unsurveyed_points", RULES)
    if wall_unit and reach < constant("short_throw_m", RULES):
        total += constant("short_throw_points", RULES)
    return total


def _vanes(kind: str) -> tuple[float, ...]:
    turn = constant("vane_deg", RULES)
    return (0.0,) if kind == "ceiling_cassette" else (0.0, -turn, turn)


def _notes(plan: Plan, room: int, trial: _Trial, unit: RoomUnit) -> tuple[str, ...]:
    found = []
    place = trial.place
    if place.surveyed and place.wall is not None:
        spot = (place.wall, (place.x_m, place.y_m))
        reason = opening_reason(plan, room, unit.outlet.kind, spot, unit.outlet.cabinet_w_m / 2)
        if reason is not None:
            found.append(f"surveyed place, but the plan supposes it {reason}: measure the window on site")
    worst = max(trial.heads, key=lambda head: head.worst_frac, default=None)
    if worst is not None and worst.worst_frac > 0.20:
        found.append(f"{worst.label}: {worst.worst_frac:.0%} dissatisfied by draught")
    if not trial.place.surveyed:
        found.append("generated place: windows, furniture and framing not yet checked on site")
    if unit.outlet.kind == "ceiling_cassette":
        found.append("drain lifted by the unit's own pump; joists checked before cutting")
    elif not trial.place.outside_wall:
        found.append("inside wall: drain needs a condensate pump or a wet wall with fall")
    if trial.seen:
        found.append(f"in sight of the {' and the '.join(trial.seen)}")
    if trial.vane_deg:
        found.append(f"side vanes set {abs(trial.vane_deg):.0f} degrees to spare beds and seats")
    return tuple(found)


def _ranked(trials: list[_Trial]) -> list[_Trial]:
    return sorted(trials, key=lambda t: (round(t.points, 6), t.place.x_m, t.place.y_m, abs(t.vane_deg), t.vane_deg))


def _best_by_place(trials: list[_Trial]) -> list[_Trial]:
    seen: dict[Place, _Trial] = {}
    for trial in _ranked(trials):
        seen.setdefault(trial.place, trial)
    return list(seen.values())


def _passed_over(best: list[_Trial]) -> list[RejectedPlace]:
    out = []
    for trial in best[1 : 1 + WORSE_SHOWN]:
        worst = max((head.worst_frac for head in trial.heads), default=0.0)
        gap = trial.points - best[0].points
        reason = f"{gap:.1f} points behind: draught {worst:.0%}, line {trial.line_m:.1f} m"
        out.append(RejectedPlace(trial.place, reason))
    return out


def place_room_unit(plan: Plan, room: int, unit: RoomUnit, plan_north_deg: float = 0.0) -> Siting:
    """Choose the place and the side-vane aim of a room unit with the fewest points against it.

    Ruled out beforehand: above a bed head or a door, too near a corner, a floor unit behind a bed or seat, a
    cassette without an attic above. When nothing is left the least bad place comes back with `feasible` False.
    `plan_north_deg` is the true bearing of the plan's y axis.
    """
    if not 0 <= room < len(plan.rooms):
        raise ValueError(f"room {room} must be an index into the plan's {len(plan.rooms)} rooms")
    kind = unit.outlet.kind
    return best_of(plan, room, unit, candidates(plan, room, kind, plan_north_deg, unit.outlet.cabinet_w_m))


def best_of(plan: Plan, room: int, unit: RoomUnit, tried: Sequence[Place]) -> Siting:
    """The place of some, and the side-vane aim, with the fewest points against it; see `place_room_unit`."""
    kind = unit.outlet.kind
    against = {place: reason_against(plan, room, kind, place, unit.outlet.cabinet_w_m) for place in tried}
    good = [place for place in tried if against[place] is None]
    feasible = bool(good)
    best = _best_by_place(_trials(plan, _Asked.of(plan, room, unit), good or tried))
    first = best[0]
    ruled_out = [RejectedPlace(place, why) for place, why in against.items() if why is not None]
    notes = _notes(plan, room, first, unit)
    if not feasible:
        notes = (f"no good place: {against[first.place]}", *notes)
    return Siting(
        room=room,
        unit=unit,
        x_m=first.place.x_m,
        y_m=first.place.y_m,
        height_m=_outlet_height_m(unit, plan.rooms[room].height_m),
        throws_deg=(first.place.bearing_deg + first.vane_deg) % 360,
        vane_deg=first.vane_deg,
        outside_wall=first.place.outside_wall,
        label=first.place.label,
        surveyed=first.place.surveyed,
        air=first.air,
        heads=first.heads,
        throw_m=first.throw_m,
        line_run_m=first.line_m,
        needs_pump=kind == "ceiling_cassette" or not first.place.outside_wall,
        points=first.points,
        draught_points=constant("draught_points", RULES) * max((h.worst_frac for h in first.heads), default=0.0),
        sight_points=constant("sight_points", RULES) * len(first.seen),
        feasible=feasible,
        notes=notes,
        rejected=(*ruled_out, *_passed_over(best)),
    )
