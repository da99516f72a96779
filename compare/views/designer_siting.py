"""The room units of a DesignerView: places, ears, what the other types would be, and where controls hang."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from compare.air.control import control_place
from compare.air.draught.comfort import Air, Person, pmv, ppd_frac
from compare.air.draught.points import Aim, Draught, Listener, draught_at
from compare.air.ducts.room_air import register_speed_m_s
from compare.air.from_catalogue import output_range, sound_source
from compare.air.geometry import Point
from compare.air.noise.hours import level_curve
from compare.air.noise.room import schultz_loss_db
from compare.air.siting import Siting, space_on_level
from compare.air.tables import constant
from compare.options.option import Option
from compare.views.designer import ControlMark, HeadRow, KindRow, SitingSheet
from compare.views.designer_desk import Desk
from compare.zones.served import ServedZone, contest_of

CONTROL_HEIGHT_M = 1.5
MIDDLE = 0.5
LIGHT, WARM = Person(met=1.1, clo=0.5), Person(met=1.1, clo=1.0)
HUMIDITY_FRAC = 0.5
"""A person at rest in summer and winter clothes (ISO 7730 tables, from memory), at half humidity (our judgement)."""
WORDS = {"wall_head": "wall head", "floor_console": "floor console", "ceiling_cassette": "ceiling cassette"}


def siting_sheet(desk: Desk, zone: ServedZone, tag: str) -> SitingSheet:
    """One room unit."""
    siting, plan = zone.siting, desk.plan
    if siting is None:
        raise ValueError(f"{tag} blows into ducts; only room units have a siting sheet")
    return SitingSheet(
        tag=tag,
        unit=zone.pair.label,
        kind=WORDS[siting.kind],
        room=siting.room,
        room_name=plan.rooms[siting.room].name,
        label=siting.label,
        surveyed=siting.surveyed,
        at_m=(siting.x_m, siting.y_m),
        throws_deg=siting.throws_deg,
        throw_m=siting.throw_m,
        points=siting.points,
        feasible=siting.feasible,
        needs_pump=siting.needs_pump,
        heads=tuple(_heads(desk, zone, siting)),
        notes=siting.notes,
        others=tuple(f"{place.place.label}: {place.reason}" for place in siting.rejected),
        kinds=tuple(_kinds(desk, zone)),
    )


def _heads(desk: Desk, zone: ServedZone, siting: Siting) -> Iterator[HeadRow]:
    source = sound_source(desk.units, zone.pair.indoor)
    volume = sum(desk.plan.rooms[r].volume_m3 for r in space_on_level(desk.plan, siting.room))
    for head in siting.heads:
        curve = level_curve(source, schultz_loss_db(volume, max(head.distance_m, 0.3)))
        yield HeadRow(
            ear=head.label,
            distance_m=head.distance_m,
            cool_m_s=head.cool.speed_m_s,
            cool_frac=head.cool.rate_frac,
            heat_frac=head.heat.rate_frac,
            cool_dissatisfied_frac=None if head.bed else _dissatisfied(head.cool, "cool_room_c", LIGHT),
            heat_dissatisfied_frac=None if head.bed else _dissatisfied(head.heat, "heat_room_c", WARM),
            high_dba=curve.high_dba,
            quiet_dba=curve.quiet_dba,
        )


def _dissatisfied(draught: Draught, room: str, person: Person) -> float:
    """Share dissatisfied by the local air, with the room's surfaces at its set point."""
    air = Air(draught.air_c, constant(room), draught.speed_m_s, HUMIDITY_FRAC)
    return float(ppd_frac(pmv(air, person)))


def _kinds(desk: Desk, zone: ServedZone) -> Iterator[KindRow]:
    for other, points in contest_of(desk.basis, zone.sketch, zone.attached):
        siting = other.siting
        assert siting is not None
        short = "; does not cover the load" if other.selection.short else ""
        yield KindRow(
            kind=WORDS[siting.kind],
            feasible=other.feasible,
            points=points.total,
            extra_usd=points.extra_usd,
            worst_draught_frac=max((head.worst_frac for head in siting.heads), default=0.0),
            label=siting.label,
            why=(other.reasons[0] if other.reasons else "can be built") + short,
        )


def control_marks(desk: Desk, option: Option, tags: tuple[str, ...]) -> Iterator[ControlMark]:
    """A control for each indoor unit, in its room or, for ducts, in the room of the return."""
    for number, (zone, tag) in enumerate(zip(option.zones, tags, strict=True), start=1):
        room = _control_room(desk, zone)
        branches = zone.ducts.branches if zone.ducts is not None else ()
        outlets = [(branch.x_m, branch.y_m) for branch in branches]
        speed = partial(_speed, desk, zone, room)
        place = control_place(desk.plan, room, speed, outlets, desk.basis.plan_north_deg)
        yield ControlMark(
            tag=f"T{number}",
            serves=tag,
            room_name=desk.plan.rooms[room].name,
            level=desk.plan.rooms[room].level,
            at_m=(place.x_m, place.y_m),
            note=place.note,
        )


def _control_room(desk: Desk, zone: ServedZone) -> int:
    """The unit's own room; for ducts the served room with the largest load, which must not go short."""
    if zone.siting is not None:
        return zone.siting.room
    return max(zone.rooms, key=lambda room: (desk.plan.rooms[room].habitable, desk.basis.heat_w((room,))))


def _speed(desk: Desk, zone: ServedZone, room: int, at: Point) -> float:
    """Speed of a zone's air at a point of a room, at half output when cooling."""
    siting = zone.siting
    if siting is not None:
        duty = siting.unit.span.duty(MIDDLE, heating=False)
        ear = Listener("control", at[0], at[1], CONTROL_HEIGHT_M)
        aim = Aim(siting.x_m, siting.y_m, siting.throws_deg)
        return draught_at(siting.unit.outlet, aim, duty, ear, siting.air).speed_m_s
    ducts = zone.ducts
    assert ducts is not None
    branch = next(branch for branch in ducts.branches if branch.room == room)
    ear = Listener("control", at[0], at[1], CONTROL_HEIGHT_M)
    return register_speed_m_s(desk.plan, ducts, branch, (output_range(zone.pair), ear))
