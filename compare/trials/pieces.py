"""Beds and seats of a house by number, and what each hears and feels in one option's year."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compare.house.plan import Plan, RoomPlan
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import percentile_level_dba
from compare.scoring.season import Season, bed_hours, seat_hours
from compare.years.bench import Result
from compare.years.sound import UnitHours, felt_frac, heard_dba
from compare.zones.ears import Ear


@dataclass(frozen=True, slots=True)
class PieceAt:
    """A bed (at its pillow) or a seat. `number` counts the beds, or the seats, of its room."""

    room: int
    kind: str
    bed: bool
    number: int
    at_m: tuple[float, float]


@dataclass(frozen=True, slots=True)
class PieceFelt:
    """What one piece gets: 95th percentile night or evening level, and share of people whom the air would bother."""

    piece: int
    level_dba: float
    felt_frac: float


def pieces_of(plan: Plan) -> tuple[PieceAt, ...]:
    """All beds and seats, room by room, beds first: the order of `Plan.furnishings`."""
    found: list[PieceAt] = []
    for index, room in enumerate(plan.rooms):
        found += [PieceAt(index, "bed", True, n, (bed.x_m, bed.y_m)) for n, bed in enumerate(room.beds)]
        found += [PieceAt(index, seat.kind, False, n, (seat.x_m, seat.y_m)) for n, seat in enumerate(room.seats)]
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class Listening:
    """What listening needs besides the option: the plan, the year, what each bed and seat gets of a zone."""

    plan: Plan
    season: Season
    numbers: Judgements
    ears: Mapping[str, tuple[Ear, ...]]
    """By zone key."""


def pieces_felt(listening: Listening, found: Result) -> tuple[PieceFelt, ...]:
    """Level and draught at every bed and seat that a unit of the option is heard at."""
    hours = [running.unpacked() for running in found.year.heads]
    heard: dict[tuple[int, bool, tuple[float, float]], list[tuple[Ear, UnitHours]]] = {}
    for zone, running in zip(found.option.zones, hours, strict=True):
        for ear in listening.ears[zone.key]:
            heard.setdefault((ear.room, ear.bed, ear.at_m), []).append((ear, running))
    return tuple(
        _felt(listening, number, piece, heard[piece.room, piece.bed, piece.at_m])
        for number, piece in enumerate(pieces_of(listening.plan))
        if (piece.room, piece.bed, piece.at_m) in heard
    )


def _felt(listening: Listening, number: int, piece: PieceAt, pairs: list[tuple[Ear, UnitHours]]) -> PieceFelt:
    season, numbers = listening.season, listening.numbers
    hours = used_hours(listening.plan.rooms[piece.room], numbers, bed=piece.bed)
    level = percentile_level_dba(heard_dba(pairs), hours, season, numbers)
    return PieceFelt(number, level, max(felt_frac(ear, running, season, hours) for ear, running in pairs))


def used_hours(room: RoomPlan, numbers: Judgements, *, bed: bool) -> frozenset[int]:
    """Hours in which a bed, or a seat, of a room is judged."""
    return bed_hours(room, numbers) if bed else seat_hours(room, numbers)
