"""Evidence of one option: temperatures, levels, draught, cover, cycling, energy and price, as scoring asks for them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
import numpy.typing as npt

from compare.air.tables import constant
from compare.equipment.outdoor import OutdoorGroup
from compare.equipment.partload import room_capacity_j_k
from compare.equipment.performance import Mode
from compare.equipment.year import UnitYear
from compare.house.plan import Plan
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.physics.network import YearTrace
from compare.scoring.evidence import (
    CompressorEvidence,
    Evidence,
    Fault,
    PriceEvidence,
    RoomEvidence,
    Source,
)
from compare.scoring.judgements import Judgements
from compare.scoring.room_measures import Pieces, RoomMeasures, with_pieces
from compare.scoring.season import Season, bed_hours, seat_hours
from compare.years.case import HouseCase
from compare.years.energy import Delivered, HouseNeed, energy_evidence
from compare.years.heads import Outside, reaching, swung_area_m2
from compare.years.humidity import damp_frac
from compare.years.sound import UnitHours, felt_frac, heard_dba, outdoor_dba, outdoor_hours, unit_hours
from compare.zones.attach import leaning_on, open_to_served
from compare.zones.ears import Ear
from compare.zones.served import ServedZone
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]

OUTDOOR_LIMIT_DBA = 50.0
"""Common night limit at a property line; the local ordinance decides (common practice)."""

SOURCES = {Rest.HEATER: Source.HEATER, Rest.OLD_HEAT: Source.OLD_HEAT}


@dataclass(frozen=True, eq=False)
class OptionRun:
    """An option's year by the hour: rooms and supplies, and what its units did."""

    option: Option
    trace: YearTrace
    run: Delivered

    @cached_property
    def unit_hours(self) -> tuple[UnitHours, ...]:
        """Of every zone's indoor unit, in zone order."""
        return unit_hours(self.option, self.run.units)

    @cached_property
    def outdoor_hours(self) -> tuple[UnitHours, ...]:
        """Of every outdoor unit."""
        return outdoor_hours(self.run.units)


@dataclass(frozen=True, slots=True, eq=False)
class Shared:
    """What the evidence of all options of a house shares."""

    case: HouseCase
    season: Season
    numbers: Judgements
    need: HouseNeed
    reference_usd: float
    """Price of this house's single wall head."""
    ears: dict[str, tuple[Ear, ...]]
    """By zone key: what each bed and seat gets of it."""


def evidence_of(shared: Shared, found: OptionRun, equal: Delivered) -> Evidence:
    """All of one option; `equal` is its year with cold bedrooms topped up (the same where none is cold)."""
    case, option = shared.case, found.option
    price = option.price
    return Evidence(
        option_id=option.key,
        family=option.family.value,
        name=option.key,
        rooms=_rooms(shared, found),
        compressors=compressors_of(case, found),
        outdoor_dba=outdoor_dba(option, found.outdoor_hours, shared.season, shared.numbers),
        outdoor_limit_dba=OUTDOOR_LIMIT_DBA,
        energy=energy_evidence(case, found.run, equal, shared.need),
        price=PriceEvidence(float(price.low_usd), float(price.mid_usd), float(price.high_usd), shared.reference_usd),
        heat_kwh=shared.need.heat_kwh,
        cool_kwh=shared.need.cool_kwh,
        visible_units=option.visible_units,
        outdoor_units=option.outdoor.count,
        damp_hours_frac=damp_frac(case, shared.season, found.trace, found.run.units),
        faults=tuple(Fault(finding.fatal, finding.code, finding.text) for finding in option.findings),
    )


def _rooms(shared: Shared, found: OptionRun) -> tuple[RoomEvidence, ...]:
    case, option, plan = shared.case, found.option, shared.case.plan
    hours = found.unit_hours
    heard = _heard_by_room(shared, option, hours)
    by_day = open_to_served(plan, option.layout, night=False)
    by_night = open_to_served(plan, option.layout, night=True)
    people = people_fracs(case)
    zone_by_room = _zone_by_room(plan, option)
    room_c = np.ascontiguousarray(found.trace.room_c.T, dtype=np.float64)
    rooms = []
    for index, room in enumerate(plan.rooms):
        zone = zone_by_room.get(index)
        cover = option.cover(zone) if zone is not None else None
        pieces = _pieces(shared, index, heard[index])
        rooms.append(
            RoomEvidence(
                room=room,
                source=_source(option, index, by_day | by_night),
                open_by_day=index in by_day or index in option.layout.served,
                open_by_night=index in by_night or index in option.layout.served,
                heat_load_w=float(case.heat_load_w[index]),
                cool_load_w=float(case.loads.rooms[index].cool_total_w),
                heat_cover_frac=cover.heat_frac if cover else math.nan,
                cool_cover_frac=cover.cool_frac if cover else math.nan,
                air_c=room_c[index],
                bed_dba=pieces.bed_dba,
                seat_dba=pieces.seat_dba,
                bed_draught_frac=pieces.bed_draught_frac,
                seat_draught_frac=pieces.seat_draught_frac,
                people_frac=float(people[index]),
                cool_set_c=case.house.comfort.cooling_c,
            )
        )
    return tuple(rooms)


def heard_anew(
    shared: Shared, option: Option, hours: Sequence[UnitHours], rooms: Sequence[RoomMeasures], which: frozenset[int]
) -> tuple[RoomMeasures, ...]:
    """The measures of rooms, in some of which beds and seats, and what they get of the units, are taken anew.

    `hours` are those of every zone's indoor unit, in zone order.
    """
    heard = _heard_by_room(shared, option, hours)
    return tuple(
        with_pieces(room, _pieces(shared, index, heard[index]), shared.season, shared.numbers)
        if index in which
        else room
        for index, room in enumerate(rooms)
    )


def _pieces(shared: Shared, index: int, heard: Heard) -> Pieces:
    """Level and draught at the worst bed and the worst seat of a room."""
    plan, room = shared.case.plan, shared.case.plan.rooms[index]
    beds, seats = ([pair for pair in heard if pair[0].bed == bed] for bed in (True, False))
    sleep, sit = bed_hours(room, shared.numbers), seat_hours(room, shared.numbers)
    return Pieces(
        room=room,
        bed_dba=_worst_level(shared, plan, index, beds, bed=True),
        seat_dba=_worst_level(shared, plan, index, seats, bed=False),
        bed_draught_frac=_worst_draught(shared, beds, sleep, bool(room.beds)),
        seat_draught_frac=_worst_draught(shared, seats, sit, bool(room.seats)),
    )


def _zone_by_room(plan: Plan, option: Option) -> dict[int, int]:
    """The zone that serves each room or that it leans on."""
    served = {room: index for index, zone in enumerate(option.zones) for room in zone.rooms}
    return {**leaning_on(plan, option.layout), **served}


def _source(option: Option, room: int, open_rooms: frozenset[int]) -> Source:
    if room in option.layout.served:
        return Source.SERVED
    rest = dict(option.layout.rest)[room]
    if rest in SOURCES:
        return SOURCES[rest]
    return Source.BORROWED if room in open_rooms else Source.NOTHING


Heard = list[tuple[Ear, UnitHours]]


def _heard_by_room(shared: Shared, option: Option, hours: Sequence[UnitHours]) -> list[Heard]:
    heard: list[Heard] = [[] for _ in shared.case.plan.rooms]
    for zone, running in zip(option.zones, hours, strict=True):
        for ear in shared.ears[zone.key]:
            heard[ear.room].append((ear, running))
    return heard


def _worst_level(shared: Shared, plan: Plan, room: int, pairs: Heard, *, bed: bool) -> FloatArray | None:
    """Hourly level at the loudest pillow or seat, all units together; the bare background where none is heard."""
    places = plan.rooms[room].beds if bed else plan.rooms[room].seats
    if not places:
        return None
    if not pairs:
        return _quiet_dba(shared.season.outdoor_c.shape[0], constant("background_dba"))
    by_place: dict[tuple[float, float], Heard] = {}
    for ear, hours in pairs:
        by_place.setdefault(ear.at_m, []).append((ear, hours))
    levels = np.stack([heard_dba(heard) for heard in by_place.values()])
    return np.asarray(levels.max(axis=0), dtype=np.float64)


@lru_cache(maxsize=4)
def _quiet_dba(hours: int, level_dba: float) -> FloatArray:
    """A year without a unit in hearing; many rooms of many options share it."""
    found = np.full(hours, level_dba)
    found.flags.writeable = False
    return found


def _worst_draught(shared: Shared, pairs: Heard, use_hours: frozenset[int], exists: bool) -> float:
    if not exists:
        return math.nan
    return max((felt_frac(ear, hours, shared.season, use_hours) for ear, hours in pairs), default=0.0)


def compressors_of(case: HouseCase, found: OptionRun) -> tuple[CompressorEvidence, ...]:
    """Every outdoor unit's year as scoring reads it."""
    return tuple(_compressor(case, found.option, place, year) for place, year in enumerate(found.run.units))


def _compressor(case: HouseCase, option: Option, place: int, year: UnitYear) -> CompressorEvidence:
    group = option.outdoor.groups[place]
    tags = zone_tags(option.zones)
    weights = head_weights(option, group)
    areas = np.array([swung_area_m2(case.plan, option.zones[zone]) for zone in group.zones])
    outside = Outside.of(case.weather)
    heat_frac, cool_frac = (delivered_by_hour(option, group, mode, outside) for mode in (Mode.HEAT, Mode.COOL))
    return CompressorEvidence(
        name=f"{outdoor_tag(place)} ({', '.join(tags[zone] for zone in group.zones)})",
        rooms=tuple(room for zone in group.zones for room in option.zones[zone].rooms),
        heads=len(group.zones),
        heat_w=_part(year.heating.load_w, heat_frac),
        cool_w=_part(year.cooling.load_w, cool_frac),
        heat_min_w=_part(year.heating.performance.min_w, heat_frac),
        cool_min_w=_part(year.cooling.performance.min_w, cool_frac),
        heat_capacity_j_k=float(weights @ room_capacity_j_k(areas)),
    )


def _part(values: FloatArray, frac: FloatArray | float) -> FloatArray:
    """A share of values; the same array where all of it reaches the rooms."""
    return values if isinstance(frac, float) and frac == 1.0 else values * frac


def head_weights(option: Option, group: OutdoorGroup) -> FloatArray:
    """Parts of the design heating load that the heads of an outdoor unit carry, sum 1."""
    loads = np.array([option.zones[zone].demand.heat_w for zone in group.zones])
    total = float(loads.sum())
    return loads / total if total > 0.0 else np.full(loads.shape, 1.0 / len(loads))


def delivered_frac(option: Option, group: OutdoorGroup, mode: Mode) -> float:
    """Share of an outdoor unit's output that reaches rooms at the design hour, its heads weighted by their load."""
    parts = [float(reaching(option.zones[zone], mode)) for zone in group.zones]
    return float(head_weights(option, group) @ np.array(parts))


def delivered_by_hour(option: Option, group: OutdoorGroup, mode: Mode, outside: Outside) -> FloatArray | float:
    """The same in every hour of the year."""
    weights = head_weights(option, group)
    parts = [reaching(option.zones[zone], mode, outside) for zone in group.zones]
    return sum((weight * part for weight, part in zip(weights, parts, strict=True)), start=0.0)


def people_fracs(case: HouseCase) -> FloatArray:
    """Share of the household's hours that are spent in each room, from the people's heat of the ordinary day, (R,)."""
    hours = case.gains.people_w.sum(axis=0)
    total = float(hours.sum())
    return hours / total if total > 0.0 else np.full(hours.shape, 1.0 / hours.shape[0])


def zones_of(options: Sequence[Option]) -> dict[str, ServedZone]:
    """Every zone of the options by its key."""
    return {zone.key: zone for option in options for zone in option.zones}
