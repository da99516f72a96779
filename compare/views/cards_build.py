"""One option as a card: its counts, facts, rooms, reasons and drawing."""

from __future__ import annotations

import math

from compare.house.model import HouseFile
from compare.house.plan import RoomPlan, Use
from compare.scoring.criteria import CRITERIA
from compare.scoring.evidence import Fault
from compare.scoring.facts import Audience, Reason
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import Ranked, Ranking
from compare.scoring.reasons import for_audience, reasons_for, where_it_loses
from compare.scoring.room_measures import RoomMeasures
from compare.scoring.scores import OptionScore
from compare.views.bands import unit_bands
from compare.views.customer import FaultLine, Number, OptionCard, OptionFacts, ReasonLine, RoomOutcome
from compare.views.drawing_build import option_drawing
from compare.views.shown import Shown
from compare.years.moments import EVENING_H, MORNING_H, RoomMoments
from compare.zones.sketch import Rest, ZoneKind

COLD = frozenset({"cold_bedroom", "cool_bedroom"})
"""Findings of the coldest night hours; customers read the morning's figure everywhere."""
GATHERING = frozenset({Use.LIVING, Use.DINING, Use.KITCHEN})


def option_card(found: Shown, item: Ranked) -> OptionCard:
    """All of one option that a customer may see."""
    score = item.option
    result = found.results[score.option_id]
    option, plan = result.option, found.case.plan
    winner = found.ranking.winner.option if found.ranking.winner else score
    names = [room.name for room in plan.rooms]
    ducted = [zone for zone in option.zones if zone.sketch.kind is ZoneKind.DUCTED]
    heads = [zone for zone in option.zones if zone.sketch.kind is ZoneKind.ROOM_UNIT]
    heaters = [room for room, rest in option.layout.rest if rest is Rest.HEATER]
    rooms = zip(result.year.moments, score.measures.rooms, strict=True)
    certainty = found.ranking.certainty
    return OptionCard(
        id=score.option_id,
        family=score.family,
        heads=len(heads),
        hidden=len(ducted),
        heaters=len(heaters),
        old_heat=any(rest is Rest.OLD_HEAT for _, rest in option.layout.rest),
        shared_outdoor=any(group.shared for group in option.outdoor.groups),
        places=tuple(dict.fromkeys(zone.ducts.space.name for zone in ducted if zone.ducts is not None)),
        head_rooms=tuple(names[zone.rooms[0]] for zone in heads),
        ducted_rooms=tuple(names[room] for zone in ducted for room in zone.rooms),
        heater_rooms=tuple(names[room] for room in heaters),
        status="left out" if score.rejected else "offered",
        total=item.total,
        criteria={c.value: s for c, s in zip(CRITERIA, score.scores, strict=True)},
        facts=_facts(score),
        rooms=tuple(_room(found, index, room, measures) for index, (room, measures) in enumerate(rooms)),
        bands=unit_bands(found.case, result),
        drawing=option_drawing(plan, option, found.case.house.house.plan_north_deg),
        faults=tuple(_fault(fault, score, names) for fault in score.faults),
        weak_point=_weak_point(found, score),
        better_than_winner=_lines(found, score, winner),
        worse_than_winner=_lines(found, winner, score),
        band=certainty.band(score.option_id) if certainty else None,
    )


def _lines(found: Shown, better: OptionScore, worse: OptionScore) -> tuple[ReasonLine, ...]:
    return reason_lines(found.ranking, better, worse)


def reason_lines(ranking: Ranking, better: OptionScore, worse: OptionScore) -> tuple[ReasonLine, ...]:
    """Facts by which one option is better, that everyone may see; none of an option against itself."""
    if better.option_id == worse.option_id:
        return ()
    reasons = for_audience(reasons_for(better, worse, ranking.weights), Audience.EVERYONE)
    return tuple(_line(reason) for reason in reasons)


def _line(reason: Reason) -> ReasonLine:
    numbers = []
    for pair in reason.pairs:
        numbers.append(Number(role=f"{pair.name}.better", value=pair.better, kind=pair.kind.value))
        numbers.append(Number(role=f"{pair.name}.worse", value=pair.worse, kind=pair.kind.value))
    return ReasonLine(
        code=reason.fact,
        criterion=reason.criterion.value if reason.criterion else "",
        better=reason.better_id,
        worse=reason.worse_id,
        numbers=tuple(numbers),
        rooms=reason.room_names,
        points=reason.points,
    )


def _weak_point(found: Shown, score: OptionScore) -> ReasonLine | None:
    """Where an option loses most to the recommended one; for the recommended one, to a rival of another family."""
    winner = found.ranking.winner
    if winner is None:
        return None
    if score.option_id != winner.option.option_id:
        lines = _lines(found, winner.option, score)
        return lines[0] if lines else None
    rivals = [item.option for item in found.cards if item.place and item.option.family != score.family]
    loses = for_audience(where_it_loses(score, rivals, found.ranking.weights), Audience.EVERYONE)
    return _line(loses[0]) if loses else None


def _facts(score: OptionScore) -> OptionFacts:
    measures, energy = score.measures, score.measures.energy
    error_frac = rulebook().numbers.limit_energy_frac
    beds = [room for room in measures.rooms if room.regular_bedroom]
    coldest = min(beds, key=lambda room: room.morning_c, default=None)
    loudest = max((r for r in beds if not math.isnan(r.bed_dba)), key=lambda room: room.bed_dba, default=None)
    return OptionFacts(
        coldest_bedroom=coldest.room.name if coldest else None,
        coldest_bedroom_c=coldest.morning_c if coldest else None,
        pillow_dba=loudest.bed_dba if loudest else None,
        pillow_room=loudest.room.name if loudest else None,
        price_low_usd=measures.price.low_usd,
        price_usd=measures.price.mid_usd,
        price_high_usd=measures.price.high_usd,
        bill_usd=energy.bill_usd,
        bill_low_usd=energy.bill_usd * (1.0 - error_frac),
        bill_high_usd=energy.bill_usd * (1.0 + error_frac),
        electricity_kwh=energy.electricity_kwh,
        equal_service_kwh=energy.equal_service_kwh,
        equal_service_cop=measures.cop,
        old_fuel_kwh=energy.old_fuel_kwh,
        resistance_share=measures.backup_frac,
        starts_per_year=max((unit.starts_per_y for unit in measures.units), default=0.0),
        below_minimum_share=max((unit.below_min_frac for unit in measures.units), default=0.0),
        outdoor_dba=_known(measures.outdoor_dba),
        outdoor_units=measures.outdoor_units,
        visible_units=measures.visible_units,
    )


def _room(found: Shown, index: int, moments: RoomMoments, measures: RoomMeasures) -> RoomOutcome:
    house, room = found.case.house, measures.room
    return RoomOutcome(
        room=index,
        source=measures.source.value,
        morning_c=moments.morning_c,
        morning_target_c=_target_c(house, room, MORNING_H),
        evening_c=moments.evening_c,
        evening_target_c=_target_c(house, room, EVENING_H),
        hot_c=moments.hot_c,
        hot_limit_c=house.comfort.cooling_c if room.use_hours else None,
        bed_dba=_known(measures.bed_dba),
        seat_dba=_known(measures.seat_dba),
    )


def _target_c(house: HouseFile, room: RoomPlan, hour: int) -> float | None:
    """A room's own target at an hour; rooms where people gather are held at the set point all day and night."""
    if room.use in GATHERING:
        return house.comfort.heating_c
    return room.target_c if hour in room.use_hours else None


def _fault(fault: Fault, score: OptionScore, names: list[str]) -> FaultLine:
    """A finding; of a cold bedroom with the figure and the room of the card, at 6 on the coldest mornings."""
    room, value = fault.room, fault.value
    if fault.code in COLD:
        coldest = min((m for m in score.measures.rooms if m.regular_bedroom), key=lambda measured: measured.morning_c)
        room, value = coldest.index, coldest.morning_c
    found = (("value", value), ("limit", fault.limit))
    numbers = tuple(Number(role=role, value=v, kind=fault.kind) for role, v in found if not math.isnan(v))
    rooms = () if room < 0 else (names[room],)
    return FaultLine(code=fault.code, fatal=fault.fatal, text=fault.text, numbers=numbers, rooms=rooms)


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value
