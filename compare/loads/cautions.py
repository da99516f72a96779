"""What a designer should look at twice in a set of loads, in plain sentences. Limits are our judgement."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from compare.house.plan import Plan
from compare.loads.result import PARTS, HouseLoads
from compare.loads.third_opinion import ThirdOpinion

HOUSE_OFF_FRAC = 0.25
ROOM_OFF_FRAC = 0.40
ROOM_OFF_W = 300.0
SUN_FRAC = 0.6
APART_H = 5
HEAT_W_M2 = (8.0, 160.0)
"""Heating load per floor area outside which a room is looked at; a published worked house has 40 W/m2."""

_BTU_H_FT2 = 0.317
_OURS, _FACTORS, _OWN = "program", "load factors", "designer"


def warnings_of(
    plan: Plan, opinions: Mapping[str, HouseLoads], third: ThirdOpinion | None, *, latent_ok: bool
) -> tuple[str, ...]:
    """Warnings of a report, the weightiest first."""
    ours = opinions[_OURS]
    found = [*(third.warnings if third is not None else ())]
    for name in (_OWN, _FACTORS):
        if name in opinions:
            found += _house_apart(ours, opinions[name], name)
            found += _rooms_apart(ours, opinions[name], name)
    found += _odd_rooms(plan, ours)
    found += _sunny(ours)
    found += _hours_apart(ours)
    if not latent_ok:
        found.append("Latent loads rest on an estimated humidity of the place; type cooling_wet_bulb in [site.design].")
    return tuple(found)


def _house_apart(ours: HouseLoads, other: HouseLoads, name: str) -> Iterator[str]:
    """Whole-house disagreement, with the part that makes most of it where both methods have parts."""
    pairs = (
        ("Heating", ours.house.heat_w, other.house.heat_w, "heat_parts_w"),
        ("Sensible cooling", ours.house.cool_sensible_w, other.house.cool_sensible_w, "cool_parts_w"),
    )
    for season, mine_w, theirs_w, parts in pairs:
        if mine_w > 0.0 and abs(theirs_w / mine_w - 1.0) > HOUSE_OFF_FRAC:
            yield (
                f"{season} of the house by {_words(name)} is {_apart(theirs_w, mine_w)} than by the program"
                f"{_largest_part(ours, other, parts)}."
            )


def _words(name: str) -> str:
    return {_OWN: "the designer", _FACTORS: "load factors"}[name]


def _apart(theirs_w: float, mine_w: float) -> str:
    ratio = theirs_w / mine_w
    return f"{abs(ratio - 1.0):.0%} {'higher' if ratio > 1.0 else 'lower'}"


def _largest_part(ours: HouseLoads, other: HouseLoads, parts: str) -> str:
    gaps_w = {
        part: sum(getattr(room, parts).get(part, 0.0) for room in other.rooms)
        - sum(getattr(room, parts).get(part, 0.0) for room in ours.rooms)
        for part in PARTS
    }
    if not any(getattr(room, parts) for room in other.rooms):
        return ""
    part = max(gaps_w, key=lambda key: abs(gaps_w[key]))
    return f"; most of it is {part}"


def _rooms_apart(ours: HouseLoads, other: HouseLoads, name: str) -> Iterator[str]:
    heat, cool = [], []
    for mine, theirs in zip(ours.rooms, other.rooms, strict=True):
        if _far(mine.heat_w, theirs.heat_w):
            heat.append(f"{mine.name} ({_apart(theirs.heat_w, max(mine.heat_w, 1.0))})")
        if _far(mine.cool_sensible_w, theirs.cool_sensible_w):
            cool.append(f"{mine.name} ({_apart(theirs.cool_sensible_w, max(mine.cool_sensible_w, 1.0))})")
    if heat:
        yield f"Rooms whose heating by {_words(name)} is far from the program's: {', '.join(heat)}."
    if cool:
        yield f"Rooms whose sensible cooling by {_words(name)} is far from the program's: {', '.join(cool)}."


def _far(mine_w: float, theirs_w: float) -> bool:
    return abs(theirs_w - mine_w) > max(ROOM_OFF_W, ROOM_OFF_FRAC * mine_w)


def _odd_rooms(plan: Plan, ours: HouseLoads) -> Iterator[str]:
    low_w_m2, high_w_m2 = HEAT_W_M2
    odd = []
    for room, load in zip(plan.rooms, ours.rooms, strict=True):
        per_area_w_m2 = load.heat_w / room.area_m2
        if room.habitable and not low_w_m2 <= per_area_w_m2 <= high_w_m2:
            odd.append(f"{room.name} ({per_area_w_m2:.0f} W/m², {per_area_w_m2 * _BTU_H_FT2:.0f} Btu/h·ft²)")
    if odd:
        yield f"Heating per floor area is unusual; check walls, windows, what is above and below: {', '.join(odd)}."


def _sunny(ours: HouseLoads) -> Iterator[str]:
    sunny = [
        room.name
        for room in ours.rooms
        if room.cool_sensible_w > ROOM_OFF_W and room.cool_parts_w.get("sun", 0.0) > SUN_FRAC * room.cool_sensible_w
    ]
    if sunny:
        yield (
            f"Cooling here is mostly sun through glass; a shade changes it more than a larger unit: {', '.join(sunny)}."
        )


def _hours_apart(ours: HouseLoads) -> Iterator[str]:
    """Rooms that peak far from the house's hour, so that a shared thermostat misses them."""
    house_h = ours.house.peak_hour_h
    if house_h is None:
        return
    apart = [
        f"{room.name} (hour {room.peak_hour_h})"
        for room in ours.rooms
        if room.peak_hour_h is not None
        and room.cool_sensible_w > ROOM_OFF_W
        and _clock_gap_h(room.peak_hour_h, house_h) >= APART_H
    ]
    if apart:
        yield (
            f"These rooms need most cooling at other hours than the house (hour {house_h}); one thermostat elsewhere "
            f"misses them: {', '.join(apart)}."
        )


def _clock_gap_h(first_h: int, second_h: int) -> int:
    gap = abs(first_h - second_h) % 24
    return min(gap, 24 - gap)
