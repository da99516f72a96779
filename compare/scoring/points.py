"""Measures through their curves: points 0-100 of every room, unit and option-wide number."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.scoring.evidence import Source
from compare.scoring.judgements import Rulebook
from compare.scoring.measures import Measures
from compare.scoring.room_measures import RoomMeasures


@dataclass(frozen=True, slots=True)
class RoomPoints:
    """Points of one room with the weights that hold for it. nan where a measure does not exist."""

    index: int
    habitable: bool
    regular: bool
    heat_load_w: float
    cool_load_w: float
    people_frac: float
    sleepers: float
    heat: float
    cool: float
    bed: float
    seat: float
    cold: float
    """The lower of C1 and C2."""
    hot: float
    draught: float


@dataclass(frozen=True, slots=True)
class UnitPoints:
    """Points of one outdoor unit."""

    hours: float
    starts: float
    heat_kwh: float


@dataclass(frozen=True, slots=True)
class Points:
    """All points of one option, before any mean is taken."""

    rooms: tuple[RoomPoints, ...]
    units: tuple[UnitPoints, ...]
    outdoor: float
    damp: float
    cost: float
    energy: float
    sight: float
    cool_share_frac: float


def _on_unit(room: RoomMeasures) -> bool:
    """Whether a unit's capacity counts for this room: its own, or one it is open to by day and by night."""
    return room.source is Source.SERVED or room.open_always


def _credit(room: RoomMeasures, book: Rulebook) -> float:
    if room.source is Source.HEATER:
        return book.numbers.heater_credit
    return book.numbers.old_heat_credit if room.source is Source.OLD_HEAT else 0.0


def heat_points(room: RoomMeasures, book: Rulebook) -> float:
    """Load match in heating: the curve of the unit that carries the room, or the credit of a room on other heat."""
    credit = _credit(room, book)
    if not _on_unit(room):
        return credit
    if math.isnan(room.heat_cover):
        raise ValueError(f"{room.room.name}: heat_cover_frac is missing for a room on a unit")
    return max(credit, book.curves["M1"].points(room.heat_cover))


def cool_points(room: RoomMeasures, book: Rulebook) -> float:
    """Load match in cooling: the curve of the unit that carries the room, else 0."""
    if not _on_unit(room):
        return 0.0
    if math.isnan(room.cool_cover):
        raise ValueError(f"{room.room.name}: cool_cover_frac is missing for a room on a unit")
    return book.curves["M2"].points(room.cool_cover)


def _maybe(book: Rulebook, measure: str, value: float) -> float:
    return math.nan if math.isnan(value) else book.curves[measure].points(value)


def room_points(room: RoomMeasures, book: Rulebook) -> RoomPoints:
    """Points of one room."""
    habitable = room.room.habitable
    cold = math.nan
    if room.judged:
        cold = min(_maybe(book, "C1", room.morning_drop_k), _maybe(book, "C2", room.cold_frac))
    return RoomPoints(
        index=room.index,
        habitable=habitable,
        regular=room.room.regular,
        heat_load_w=room.heat_load_w,
        cool_load_w=room.cool_load_w,
        people_frac=room.people_frac,
        sleepers=room.sleepers,
        heat=heat_points(room, book) if habitable else math.nan,
        cool=cool_points(room, book) if habitable else math.nan,
        bed=_maybe(book, "N1", room.bed_dba),
        seat=_maybe(book, "N2", room.seat_dba),
        cold=cold,
        hot=_maybe(book, "C3", room.hot_frac),
        draught=_maybe(book, "C4", room.draught_frac) if room.judged else math.nan,
    )


def outdoor_points(level_dba: float, limit_dba: float, book: Rulebook) -> float:
    """N3 on its curve, which moves with the local limit: 50 points at the limit, 0 at the limit plus 10."""
    limit = book.numbers.outdoor_limit_dba if math.isnan(limit_dba) else limit_dba
    return _maybe(book, "N3", level_dba - limit + book.numbers.outdoor_limit_dba)


def all_points(measures: Measures, book: Rulebook) -> Points:
    """Points of every part of an option.

    Raises
    ------
    ValueError
        When a room on a unit lacks its cover.
    """
    curves = book.curves
    return Points(
        rooms=tuple(room_points(room, book) for room in measures.rooms),
        units=tuple(
            UnitPoints(curves["L1"].points(u.below_min_frac), curves["L2"].points(u.starts_per_y), u.heat_kwh)
            for u in measures.units
        ),
        outdoor=outdoor_points(measures.outdoor_dba, measures.outdoor_limit_dba, book),
        damp=_maybe(book, "C5", measures.damp_frac),
        cost=curves["K"].points(measures.price_ratio),
        energy=curves["E"].points(measures.cop),
        sight=curves["V"].points(float(measures.visible_units)),
        cool_share_frac=measures.cool_share_frac,
    )
