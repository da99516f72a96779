"""Fatal and amber findings that follow from the measures; others come with the evidence."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from compare.scoring.criteria import Kind
from compare.scoring.evidence import Fault, Source
from compare.scoring.judgements import Judgements
from compare.scoring.measures import Measures
from compare.scoring.phrases import names, sentence, show
from compare.scoring.room_measures import RoomMeasures

_OWN_HEAT = frozenset({Source.SERVED, Source.HEATER, Source.OLD_HEAT})


def _room_fault(
    code: str,
    found: Sequence[RoomMeasures],
    value: Callable[[RoomMeasures], float],
    limit: float,
    kind: Kind,
    fatal: bool = False,
) -> tuple[Fault, ...]:
    """One finding for all rooms that share a code, worst room first (lowest value; pass negatives to reverse)."""
    if not found:
        return ()
    worst = sorted(found, key=lambda room: (value(room), room.index))
    number = abs(value(worst[0])) if kind is not Kind.TEMPERATURE else value(worst[0])
    text = sentence(
        "faults", code, room=worst[0].room.name, value=show(number, kind, digits=1), limit=show(limit, kind)
    )
    if worst[1:]:
        text += sentence("faults", "also", rooms=names([room.room.name for room in worst[1:]]))
    return (Fault(fatal, code, text, worst[0].index, number, limit, kind.value),)


def temperature_faults(measures: Measures, numbers: Judgements) -> tuple[Fault, ...]:
    """Regular bedrooms that are too cold in the coldest night hours: under 58 degF fatal, under 62 degF amber.

    They are told by their temperature on the coldest mornings, the figure that every table and paper shows of them.
    """
    bedrooms = [room for room in measures.rooms if room.regular_bedroom and not math.isnan(room.coldest_night_c)]
    fatal = [room for room in bedrooms if room.coldest_night_c < numbers.fatal_below_c]
    amber = [room for room in bedrooms if numbers.fatal_below_c <= room.coldest_night_c < numbers.amber_below_c]

    def value(room: RoomMeasures) -> float:
        return room.morning_c

    return (
        *_room_fault("cold_bedroom", fatal, value, numbers.fatal_below_c, Kind.TEMPERATURE, fatal=True),
        *_room_fault("cool_bedroom", amber, value, numbers.amber_below_c, Kind.TEMPERATURE),
    )


def source_faults(measures: Measures) -> tuple[Fault, ...]:
    """Regular bedrooms without a source of their own: fatal when nothing opens to a served space, else amber."""
    without = [room for room in measures.rooms if room.regular_bedroom and room.source not in _OWN_HEAT]
    found: list[Fault] = []
    for code, fatal, rooms in (
        ("no_source", True, [room for room in without if not room.open_ever]),
        ("relies_on_door", False, [room for room in without if room.open_ever]),
    ):
        if rooms:
            text = sentence("faults", code, rooms=names([room.room.name for room in rooms]))
            found.append(Fault(fatal, code, text, rooms[0].index))
    return tuple(found)


def limit_faults(measures: Measures, numbers: Judgements) -> tuple[Fault, ...]:
    """Amber: heat cover, draught and bed level beyond their limits."""
    on_unit = [room for room in measures.rooms if room.source is Source.SERVED or room.open_always]
    short = [room for room in on_unit if room.room.habitable and room.heat_cover < numbers.amber_cover]
    draughty = [room for room in measures.rooms if room.judged and room.draught_frac > numbers.amber_draught_frac]
    loud = [room for room in measures.rooms if room.bed_dba > numbers.amber_bed_dba]
    return (
        *_room_fault("heat_short", short, lambda room: room.heat_cover, numbers.amber_cover, Kind.RATIO),
        *_room_fault("draught", draughty, lambda room: -room.draught_frac, numbers.amber_draught_frac, Kind.SHARE),
        *_room_fault("loud_bed", loud, lambda room: -room.bed_dba, numbers.amber_bed_dba, Kind.LEVEL),
    )


def starts_faults(measures: Measures, numbers: Judgements) -> tuple[Fault, ...]:
    """Amber: a compressor that would start more than 6 times in some hour if its timer let it."""
    worst = max(measures.units, key=lambda unit: unit.peak_starts_per_h)
    peak = worst.peak_starts_per_h
    if peak <= numbers.amber_starts_per_h:
        return ()
    limit = show(numbers.amber_starts_per_h, Kind.COUNT)
    text = sentence("faults", "short_cycling", unit=worst.name, value=show(peak, Kind.STARTS_H), limit=limit)
    return (
        Fault(
            fatal=False,
            code="short_cycling",
            text=text,
            value=peak,
            limit=numbers.amber_starts_per_h,
            kind=Kind.STARTS_H.value,
        ),
    )


def find_faults(measures: Measures, numbers: Judgements) -> tuple[Fault, ...]:
    """Every finding of an option: those of the evidence and those of the measures, fatal ones first."""
    found = (
        *measures.faults,
        *source_faults(measures),
        *temperature_faults(measures, numbers),
        *limit_faults(measures, numbers),
        *starts_faults(measures, numbers),
    )
    return tuple(sorted(found, key=lambda fault: not fault.fatal))
