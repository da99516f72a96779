"""A unit tried on a wall that somebody points at: a layout like any other, sized, placed, run and scored.

Alone it is the house's only unit; beside an option it takes the place of what served its room there. The unit hangs as
near to the pointed place as the rules of siting let it; where no place on the wall is left, the reason is told.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from compare.air.places import Place, candidates, reason_against
from compare.air.siting import RoomUnit, Siting, best_of
from compare.equipment.unit import UnitKind
from compare.offer import basis_of_case
from compare.options.build import Offer, assembled
from compare.options.option import Option
from compare.physics.network import YearTrace
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.trials.layout import alone, beside
from compare.trials.walls import WallSide, WallSpot, side_of
from compare.trials.warmth import opened
from compare.views.shown import NOT_BUILDABLE
from compare.years.bench import Bench, Result
from compare.years.gather import Shared
from compare.years.run import settle
from compare.years.supplies import factory_of
from compare.zones.attach import attached_rooms
from compare.zones.basis import DesignBasis
from compare.zones.ears import Ear, ears_of
from compare.zones.served import ServedZone, design_zone, room_unit_zone
from compare.zones.sketch import LayoutSketch, ZoneSketch

TRIED = "tried"
"""Option id of what is tried, whatever the comparison calls the same layout."""
STEP_M = 0.1
KINDS = (UnitKind.WALL, UnitKind.FLOOR)
"""A wall unit is tried first; where none can hang, a low unit at the foot of the wall."""
REASONS = {
    "above a door": "door",
    "in front of a door": "door",
    "in the swing of a door": "door",
    "across an opening": "opening",
    "above the head of a bed": "bed",
    "over a window": "window",
    "a window with a low sill": "window",
    "wall too short": "short",
    "too near a corner": "short",
    "wall too low": "low",
}
"""What siting says against a place, by its beginning, as a word; anything else stands in front of the wall."""
IN_FRONT = "furniture"


@dataclass(frozen=True, slots=True, eq=False)
class Tried:
    """What came of it. Without a result the wall is no place for a unit, for the reasons in `against`."""

    side: WallSide
    kind: UnitKind
    at_m: tuple[float, float]
    """Where it hangs; where it was wanted, on a wall that is no place."""
    against: tuple[str, ...]
    """Words of `REASONS`, or codes of findings of design; the first is the one to tell."""
    wall_against: str
    """Why not a wall unit, where a low unit was tried in its place; empty else."""
    moved_m: float
    """How far along the wall from the pointed place it hangs."""
    pointed_against: str = ""
    """What stands against the pointed place itself, where the unit hangs beside it."""
    zone: int = 0
    """Place of the tried unit among the zones of its option."""
    result: Result | None = None
    trace: YearTrace | None = None
    """Its year by the hour."""
    ears: Mapping[str, tuple[Ear, ...]] = field(default_factory=dict)
    """What beds and seats get of the zones of its option, by zone key."""


@dataclass(frozen=True, slots=True, eq=False)
class _Hung:
    zone: ServedZone
    against: str
    pointed_against: str
    moved_m: float

    @property
    def at_m(self) -> tuple[float, float]:
        siting = self.zone.siting
        assert siting is not None
        return siting.x_m, siting.y_m


def try_head(found: Comparison, spot: WallSpot, beside_id: str | None = None) -> Tried:
    """Try a unit on a wall.

    Parameters
    ----------
    found
        The comparison of the house.
    spot
        The wall, and where on it.
    beside_id
        Option of the comparison to which the unit is added; the house's only unit when None.

    Raises
    ------
    ValueError
        For a wall or an option that there is not.
    """
    case = found.case
    side = side_of(case.plan, spot, case.house.house.plan_north_deg)
    if beside_id is not None and beside_id not in found.by_id:
        raise ValueError(f"no option {beside_id!r} to add a unit to")
    base = found.by_id[beside_id].option if beside_id is not None else None
    layout = alone(case.plan, spot.room) if base is None else beside(case.plan, base.layout, spot.room)
    basis = basis_of_case(case, found.sources)
    attached = attached_rooms(case.plan, layout)
    place = layout.zones.index(ZoneSketch((spot.room,)))
    tried = [_on_wall(basis, attached[place], kind, side, spot) for kind in KINDS[:1]]
    if tried[0].against:
        tried += [_on_wall(basis, attached[place], kind, side, spot) for kind in KINDS[1:]]
    hung = next((one for one in tried if not one.against), tried[0])
    wall_against = "" if hung is tried[0] else tried[0].against
    if hung.against:
        return Tried(side, hung.zone.pair.kind, hung.at_m, (hung.against,), wall_against, 0.0)
    option = _option(found, basis, layout, _zones(basis, layout, attached, base, hung.zone))
    fatal = tuple(item.code for item in option.findings if item.fatal and item.code in NOT_BUILDABLE)
    outcome = Tried(
        side=side,
        kind=hung.zone.pair.kind,
        at_m=hung.at_m,
        against=fatal,
        wall_against=wall_against,
        moved_m=hung.moved_m,
        pointed_against=hung.pointed_against,
        zone=place,
    )
    if fatal:
        return outcome
    ears = _ears(found, option, place)
    result, trace = _result(found, option, ears)
    return replace(outcome, result=result, trace=trace, ears=ears)


def with_doors_open(found: Comparison, tried: Tried) -> YearTrace:
    """The year of a tried layout with every door open, its unit sized for all that then lean on it.

    Raises
    ------
    ValueError
        Where nothing was tried.
    """
    if tried.result is None or tried.trace is None:
        raise ValueError("no unit was tried on this wall")
    layout = tried.result.option.layout
    case = opened(found.case, tried.trace)
    basis = basis_of_case(case, found.sources)
    attached = attached_rooms(case.plan, layout)
    zones = list(tried.result.option.zones)
    own = zones[tried.zone]
    siting = own.siting
    assert siting is not None
    zones[tried.zone] = room_unit_zone(basis, own.sketch, attached[tried.zone], own.pair.kind, lambda _unit: siting)
    option = _option(found, basis, layout, tuple(zones))
    return settle(case, factory_of(found.case).of_option(option), tried.trace)


def _on_wall(basis: DesignBasis, attached: tuple[int, ...], kind: UnitKind, side: WallSide, spot: WallSpot) -> _Hung:
    against, pointed = "", ""

    def site(unit: RoomUnit) -> Siting:
        nonlocal against, pointed
        places, against, pointed = _places(basis, unit, side, spot)
        return best_of(basis.plan, side.room, unit, places)

    zone = replace(room_unit_zone(basis, ZoneSketch((side.room,)), attached, kind, site), reasons=())
    assert zone.siting is not None
    moved_m = 0.0 if spot.along_frac is None or against else _off_m(side, spot, zone.siting)
    return _Hung(zone, against, pointed, moved_m)


def _off_m(side: WallSide, spot: WallSpot, siting: Siting) -> float:
    assert spot.along_frac is not None
    return math.dist(side.wall.at(spot.along_frac * side.wall.length_m), (siting.x_m, siting.y_m))


def _places(basis: DesignBasis, unit: RoomUnit, side: WallSide, spot: WallSpot) -> tuple[list[Place], str, str]:
    """Places among which the best is taken: those of the whole wall, or the one nearest to the pointed place.

    Then what stands against the wall, and what against the pointed place; empty where nothing does.
    """
    plan, kind, wide_m = basis.plan, unit.outlet.kind, unit.outlet.cabinet_w_m
    if spot.along_frac is None:
        known = candidates(plan, side.room, kind, basis.plan_north_deg, wide_m)
        whole = [place for place in known if place.wall == side.wall]
        good = [place for place in whole if reason_against(plan, side.room, kind, place, wide_m) is None]
        if good:
            return good, "", ""
    fine = [_place(side, along_m) for along_m in _steps(side, spot)]
    reasons = [reason_against(plan, side.room, kind, place, wide_m) for place in fine]
    free = next((place for place, reason in zip(fine, reasons, strict=True) if reason is None), None)
    if free is None:
        return fine[:1], _worst([reason for reason in reasons if reason]), ""
    return [free], "", reason_word(reasons[0]) if reasons[0] and spot.along_frac is not None else ""


def _steps(side: WallSide, spot: WallSpot) -> list[float]:
    """Distances along the wall, the pointed one first, then ever farther from it; from the middle where none is."""
    length_m = side.wall.length_m
    wanted_m = (0.5 if spot.along_frac is None else spot.along_frac) * length_m
    count = int(length_m / STEP_M) + 1
    steps = [wanted_m + sign * number * STEP_M for number in range(1, count + 1) for sign in (1.0, -1.0)]
    return [wanted_m, *(along_m for along_m in steps if 0.0 <= along_m <= length_m)]


def _place(side: WallSide, along_m: float) -> Place:
    wall = side.wall
    return Place(*wall.at(along_m), wall.inward_deg, wall.outside, f"{side.facing} wall", surveyed=False, wall=wall)


def _worst(reasons: Sequence[str]) -> str:
    """The word for what takes most of a wall; corners only where nothing else is in the way."""
    words = Counter(reason_word(reason) for reason in reasons)
    others = [(count, word) for word, count in words.items() if word != "short"]
    return max(others, default=(0, "short"))[1]


def reason_word(reason: str) -> str:
    """A reason of siting as a word of `REASONS`."""
    return next((word for start, word in REASONS.items() if reason.startswith(start)), IN_FRONT)


def _zones(
    basis: DesignBasis,
    layout: LayoutSketch,
    attached: tuple[tuple[int, ...], ...],
    base: Option | None,
    hung: ServedZone,
) -> tuple[ServedZone, ...]:
    """Zones of the layout: the tried one, those of the option that it is added to, the others designed anew."""
    kept = {(zone.sketch, zone.attached): zone for zone in base.zones} if base is not None else {}
    return tuple(
        hung if sketch == hung.sketch else kept.get((sketch, borrowers)) or design_zone(basis, sketch, borrowers)
        for sketch, borrowers in zip(layout.zones, attached, strict=True)
    )


def _option(found: Comparison, basis: DesignBasis, layout: LayoutSketch, zones: tuple[ServedZone, ...]) -> Option:
    """The first grouping outdoors that can be built; else the first of all, with its findings."""
    offer = Offer(basis, found.sources.prices, found.case.house.panel.free_spaces)
    options = list(assembled(offer, layout, zones))
    return next((one for one in options if not any(item.fatal for item in one.findings)), options[0])


def _ears(found: Comparison, option: Option, place: int) -> dict[str, tuple[Ear, ...]]:
    """Ears of all zones; those of the tried one are taken anew, because it hangs elsewhere under the same key."""
    plan, units, fresh = found.case.plan, found.sources.units, option.zones[place]
    others = [zone for zone in option.zones if zone is not fresh]
    ears = {zone.key: found.ears.get(zone.key) or ears_of(plan, zone, units) for zone in others}
    return {**ears, fresh.key: ears_of(plan, fresh, units)}


def _result(found: Comparison, option: Option, ears: dict[str, tuple[Ear, ...]]) -> tuple[Result, YearTrace]:
    """The year of the tried layout by the same steps as every other."""
    numbers = rulebook().numbers
    bench = Bench(found.case, factory_of(found.case), found.season, numbers)
    year = bench.settled_alone(option)
    shared = Shared(found.case, found.season, numbers, found.need, reference_usd(found), ears)
    return bench.result(year, shared, settled=True, name=TRIED), year.run.trace


def reference_usd(found: Comparison) -> float:
    """Price of the house's single wall head, with which every price is compared."""
    return found.results[0].score.measures.price.reference_usd
