"""Views of trials, field by field: what a customer may see of a unit tried on a wall and of a moved bed or seat."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from compare.air.geometry import nearest_on
from compare.air.places import RULES as SITING_RULES
from compare.air.tables import constant
from compare.house.plan import Use
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import Ranked, lost_points
from compare.scoring.weights import weights_from_priorities
from compare.trials.head import Tried, with_doors_open
from compare.trials.pieces import Listening, PieceFelt, pieces_felt, pieces_of
from compare.trials.places import Move, choices, facing_at
from compare.trials.walls import WallSide, wall_sides
from compare.trials.warmth import (
    SMALL_K,
    Moments,
    arriving_w,
    cause_of,
    gap_k,
    is_night,
    moments_of,
    way_to_supply,
)
from compare.views.cards_build import option_card
from compare.views.customer import OptionCard, RoomOutcome
from compare.views.shown import Shown
from compare.views.tried import (
    PieceLine,
    PieceTarget,
    PlaceChoice,
    RoomStay,
    SeatStory,
    Targets,
    TriedView,
    WallTarget,
)
from compare.whatif import bedrooms_not_cooled
from compare.years.moments import AFTERNOON_H, LATE_EVENING_H, MORNING_H

LINE_RULES = "line_rules"


def tried_view(
    found: Comparison, tried: Tried, priorities: Mapping[str, int], *, beside_id: str = "", cool_bedrooms: bool = True
) -> TriedView:
    """What a customer may see of a unit tried on a wall.

    Parameters
    ----------
    found
        The comparison in which it was tried.
    priorities
        The family's stops: they weigh the fit of its card.
    beside_id
        The option to which it was added.
    cool_bedrooms
        Whether the family asks for cool bedrooms.
    """
    case, side = found.case, tried.side
    room = case.plan.rooms[side.room]
    base = TriedView(
        target=_wall(found, side),
        level=room.level,
        at_m=tried.at_m,
        kind=tried.kind.value,
        beside=beside_id,
        against=tried.against,
        wall_against=tried.wall_against,
        pointed_against=tried.pointed_against,
        moved_m=tried.moved_m,
        room_area_m2=sum(case.plan.rooms[index].area_m2 for index in case.plan.space_of(side.room)),
        line_most_m=constant("line_max_m", LINE_RULES),
        wall_least_m=constant("head_ceiling_m", SITING_RULES),
    )
    if tried.result is None:
        return base
    card = _card(found, tried, priorities, cool_bedrooms=cool_bedrooms)
    cold, hot = _stays(found, tried, card, cool_bedrooms=cool_bedrooms)
    return base.model_copy(update={"card": card, "cold": cold, "hot": hot, "pieces": _tried_pieces(found, tried)})


def _wall(found: Comparison, side: WallSide) -> WallTarget:
    rooms = found.case.plan.rooms
    return WallTarget(
        room=side.room,
        wall=side.number,
        room_name=rooms[side.room].name,
        facing=side.facing,
        outside=side.wall.outside,
        beyond="" if side.beyond is None else rooms[side.beyond].name,
    )


def _card(found: Comparison, tried: Tried, priorities: Mapping[str, int], *, cool_bedrooms: bool) -> OptionCard:
    """The tried layout as a card, judged beside the options of the comparison."""
    assert tried.result is not None
    result = tried.result
    if not cool_bedrooms:
        result = bedrooms_not_cooled(replace(found, results=(result,))).results[0]
    weights = weights_from_priorities(dict(priorities))
    ranking = found.rank(weights)
    total = result.score.total(weights)
    best = ranking.winner.option if ranking.winner else result.score
    ahead = sum(bool(item.place) and item.total > total for item in ranking.ranked)
    place = 0 if result.score.rejected else ahead + 1
    item = Ranked(result.score, place, total, lost_points(result.score, best, weights), ())
    shown = Shown(
        case=found.case,
        season=found.season,
        results={**found.by_id, result.score.option_id: result},
        ranking=ranking,
        shown=(),
        placeholder_prices=False,
        demo=False,
        priorities=dict(priorities),
        simple_forms=(),
    )
    return option_card(shown, item)


def _stays(
    found: Comparison, tried: Tried, card: OptionCard, *, cool_bedrooms: bool
) -> tuple[tuple[RoomStay, ...], tuple[RoomStay, ...]]:
    """Rooms that stay cold and rooms that stay hot; the doors are opened only where any does."""
    assert tried.trace is not None
    plan, trace = found.case.plan, tried.trace
    lived_in = {
        index
        for index, room in enumerate(plan.rooms)
        if room.habitable and (cool_bedrooms or room.use is not Use.BEDROOM)
    }
    gaps = {
        hot: {
            outcome.room: gap
            for outcome in card.rooms
            if (gap := _gap_k(outcome, hot=hot)) >= SMALL_K and not (hot and outcome.room not in lived_in)
        }
        for hot in (False, True)
    }
    if not any(gaps.values()):
        return (), ()
    heat_w = arriving_w(found.case, found.season, trace)
    opened = moments_of(plan, found.season, with_doors_open(found, tried))
    stays = {hot: tuple(_each(found, tried, card, (gaps[hot], opened, heat_w), hot=hot)) for hot in gaps}
    return stays[False], stays[True]


def _gap_k(outcome: RoomOutcome, *, hot: bool) -> float:
    value, target = (outcome.hot_c, outcome.hot_limit_c) if hot else (outcome.morning_c, outcome.morning_target_c)
    return gap_k(value, target, hot=hot)


def _each(
    found: Comparison,
    tried: Tried,
    card: OptionCard,
    told: tuple[dict[int, float], Moments, Iterable[float]],
    *,
    hot: bool,
) -> Iterator[RoomStay]:
    assert tried.result is not None
    gaps, opened, heat_w = told
    arrives = list(heat_w)
    plan, layout = found.case.plan, tried.result.option.layout
    outcomes = {outcome.room: outcome for outcome in card.rooms}
    for room in sorted(gaps, key=lambda index: (-gaps[index], index)):
        here, way = outcomes[room], way_to_supply(plan, room, layout.served)
        value = here.hot_c if hot else here.morning_c
        target = here.hot_limit_c if hot else here.morning_target_c
        open_c = float((opened.hot_c if hot else opened.morning_c)[room])
        assert target is not None
        bedroom = plan.rooms[room].use is Use.BEDROOM
        hour = (LATE_EVENING_H if bedroom else AFTERNOON_H) if hot else MORNING_H
        gained = value - open_c if hot else open_c - value
        served = room in layout.served or (not hot and here.source in {"room heater", "old heat"})
        yield RoomStay(
            room=room,
            name=plan.rooms[room].name,
            value_c=value,
            target_c=target,
            cause=cause_of(way, gaps[room], gained, night=is_night(hour), served=served),
            open_c=open_c,
            shut_doors=len(way.shut(night=is_night(hour))) if way else 0,
            doorways=len(way.links) if way else 0,
            stairs=way.stairs if way else 0,
            way_m=way.length_m if way else 0.0,
            needs_w=float(found.case.heat_load_w[room]),
            arrives_w=float(arrives[room]),
        )


def _tried_pieces(found: Comparison, tried: Tried) -> tuple[PieceLine, ...]:
    """Beds and seats that the tried unit itself reaches, with all units of the layout together."""
    assert tried.result is not None
    plan, option = found.case.plan, tried.result.option
    own = {(ear.room, ear.bed, ear.at_m) for ear in tried.ears[option.zones[tried.zone].key]}
    pieces = pieces_of(plan)
    listening = Listening(plan, found.season, rulebook().numbers, tried.ears)
    return tuple(
        _line(found, felt)
        for felt in pieces_felt(listening, tried.result)
        if (pieces[felt.piece].room, pieces[felt.piece].bed, pieces[felt.piece].at_m) in own
    )


def _line(found: Comparison, felt: PieceFelt) -> PieceLine:
    piece = pieces_of(found.case.plan)[felt.piece]
    return PieceLine(
        piece=felt.piece,
        room_name=found.case.plan.rooms[piece.room].name,
        kind=piece.kind,
        bed=piece.bed,
        level_dba=felt.level_dba,
        felt_frac=felt.felt_frac,
    )


def targets_view(found: Comparison, moves: Iterable[Move] = ()) -> Targets:
    """All walls and pieces that can be pointed at; `found` has the moves in it already."""
    plan, north = found.case.plan, found.case.house.house.plan_north_deg
    moved = {move.piece for move in moves}
    walls = tuple(_wall(found, side) for room in range(len(plan.rooms)) for side in wall_sides(plan, room, north))
    pieces = tuple(
        PieceTarget(
            piece=number,
            room_name=plan.rooms[piece.room].name,
            level=plan.rooms[piece.room].level,
            kind=piece.kind,
            at_m=piece.at_m,
            corners_m=stood.corners_m,
            moved=number in moved,
            by_wall=facing_at(plan, number, north, piece.at_m),
            choices=tuple(PlaceChoice(facing=one.facing, at_m=one.at_m) for one in choices(plan, number, north)),
        )
        for number, (piece, stood) in enumerate(zip(pieces_of(plan), plan.furnishings, strict=True))
    )
    return Targets(walls=walls, pieces=pieces)


def seat_story(before: Comparison, after: Comparison, option_id: str, piece: int) -> SeatStory:
    """What moving a piece does to one option.

    Raises
    ------
    ValueError
        For an option or a piece that there is not.
    """
    if option_id not in before.by_id or option_id not in after.by_id:
        raise ValueError(f"no option {option_id!r}")
    if not 0 <= piece < len(pieces_of(after.case.plan)):
        raise ValueError(f"no bed or seat {piece}")
    old, new = (_felt_at(found, option_id, piece) for found in (before, after))
    places = [_unit_place(found, option_id, piece) for found in (before, after)]
    moved_m = math.dist(places[0][1], places[1][1]) if places[0] and places[1] else 0.0
    turned_deg = (places[1][2] - places[0][2] + 180.0) % 360.0 - 180.0 if places[0] and places[1] else 0.0
    return SeatStory(
        option=option_id,
        before=old,
        after=new,
        unit_before=places[0][0] if places[0] else "",
        unit_after=places[1][0] if places[1] else "",
        unit_moved_m=moved_m,
        unit_turned_deg=abs(turned_deg),
    )


def _felt_at(found: Comparison, option_id: str, piece: int) -> PieceLine | None:
    listening = Listening(found.case.plan, found.season, rulebook().numbers, found.ears)
    felt = pieces_felt(listening, found.by_id[option_id])
    return next((_line(found, one) for one in felt if one.piece == piece), None)


def _unit_place(found: Comparison, option_id: str, piece: int) -> tuple[str, tuple[float, float], float] | None:
    """Wall, place and way of blowing of the room unit in the piece's open space; None where none is there."""
    plan, north = found.case.plan, found.case.house.house.plan_north_deg
    space = plan.space_of(pieces_of(plan)[piece].room)
    for zone in found.by_id[option_id].option.zones:
        siting = zone.siting
        if siting is not None and siting.room in space:
            at_m = (siting.x_m, siting.y_m)
            sides = wall_sides(plan, siting.room, north)
            on = min(sides, key=lambda side: _away_m(side, at_m), default=None)
            hangs = on is not None and siting.kind != "ceiling_cassette"
            return on.facing if hangs and on is not None else "", at_m, siting.throws_deg
    return None


def _away_m(side: WallSide, at_m: tuple[float, float]) -> float:
    return math.dist(nearest_on(side.wall.a, side.wall.b, at_m), at_m)
