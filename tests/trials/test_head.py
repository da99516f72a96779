"""A unit tried on a wall is a layout like any other: the same years as in the comparison, and physics one expects."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from compare.air.geometry import nearest_on
from compare.house.plan import LinkKind, Use
from compare.pipeline import Comparison
from compare.scoring.weights import weights_from_priorities
from compare.trials.head import TRIED, Tried, try_head, with_doors_open
from compare.trials.told import tried_view
from compare.trials.walls import WallSpot, side_of, spot_at, wall_sides
from compare.trials.warmth import Way, arriving_w, cause_of, moments_of, way_to_supply
from compare.zones.sketch import Family


def room_of(found: Comparison, name: str) -> int:
    return next(index for index, room in enumerate(found.case.plan.rooms) if room.name == name)


def north(found: Comparison) -> float:
    return found.case.house.house.plan_north_deg


def outside_wall(found: Comparison, room: int) -> WallSpot:
    """The longest outside wall of a room, the best place on it."""
    sides = [side for side in wall_sides(found.case.plan, room, north(found)) if side.wall.outside]
    return WallSpot(room, max(sides, key=lambda side: side.wall.length_m).number)


def single(found: Comparison) -> tuple[str, WallSpot]:
    """The comparison's single wall head, and the wall on which it hangs."""
    option = next(one for one in found.options if one.family is Family.SINGLE_HEAD)
    siting = option.zones[0].siting
    assert siting is not None
    at = (siting.x_m, siting.y_m)
    sides = wall_sides(found.case.plan, siting.room, north(found))
    near = min(sides, key=lambda side: math.dist(nearest_on(side.wall.a, side.wall.b, at), at))
    return option.key, WallSpot(siting.room, near.number)


def morning(found: Comparison, tried: Tried) -> np.ndarray:
    assert tried.trace is not None
    return moments_of(found.case.plan, found.season, tried.trace).morning_c


@pytest.mark.parametrize("house", ["ranch", "small"])
def test_the_head_of_the_comparison_on_its_own_wall_is_that_layout(house: str, request: pytest.FixtureRequest) -> None:
    """Every measure, price and score comes out the same: nothing is looked up, nothing is left out."""
    found: Comparison = request.getfixturevalue(house)
    key, spot = single(found)
    tried = try_head(found, spot)
    assert tried.against == ()
    assert tried.result is not None
    assert tried.trace is not None
    known = found.by_id[key]
    assert tried.result.option.key == key
    np.testing.assert_array_equal(tried.trace.room_c, found.hours(key).trace.room_c)
    assert tried.result.score.scores == pytest.approx(known.score.scores, abs=1e-9)
    assert tried.result.score.price_usd == known.score.price_usd
    own, other = tried.result.option.zones[0].siting, known.option.zones[0].siting
    assert own is not None
    assert other is not None
    assert replace(own, rejected=()) == replace(other, rejected=())


def test_a_bedroom_behind_a_shut_door_stays_cold_and_its_own_unit_warms_it(ranch: Comparison) -> None:
    living, bedroom = room_of(ranch, "Open living"), room_of(ranch, "Bedroom 1")
    from_living, own = (morning(ranch, try_head(ranch, outside_wall(ranch, room))) for room in (living, bedroom))
    target_c = ranch.case.plan.rooms[bedroom].target_c
    assert from_living[bedroom] < target_c - 4.0
    assert own[bedroom] > target_c - 0.5
    assert own[living] < from_living[living]


def test_open_doors_warm_every_room_that_was_shut_off(ranch: Comparison) -> None:
    tried = try_head(ranch, outside_wall(ranch, room_of(ranch, "Open living")))
    opened = moments_of(ranch.case.plan, ranch.season, with_doors_open(ranch, tried)).morning_c
    shut = morning(ranch, tried)
    for index, room in enumerate(ranch.case.plan.rooms):
        if room.use is Use.BEDROOM:
            assert opened[index] > shut[index] + 0.5


def test_heat_through_walls_and_doors_comes_from_somewhere(ranch: Comparison) -> None:
    """What rooms give each other adds up to nothing (first law), and the coldest room is a taker."""
    tried = try_head(ranch, outside_wall(ranch, room_of(ranch, "Open living")))
    assert tried.trace is not None
    heat_w = arriving_w(ranch.case, ranch.season, tried.trace)
    assert abs(heat_w.sum()) < 1e-6 * np.abs(heat_w).sum()
    assert heat_w[int(morning(ranch, tried).argmin())] > 0.0


def test_a_tap_hangs_the_unit_there_and_a_blocked_tap_beside(ranch: Comparison) -> None:
    room = room_of(ranch, "Open living")
    for side in wall_sides(ranch.case.plan, room, north(ranch)):
        for share in (0.2, 0.5, 0.8):
            tried = try_head(ranch, WallSpot(room, side.number, share))
            assert math.dist(nearest_on(side.wall.a, side.wall.b, tried.at_m), tried.at_m) < 1e-6
            if tried.result is not None and not tried.pointed_against:
                assert math.dist(tried.at_m, side.wall.at(share * side.wall.length_m)) < 1e-6
            if tried.pointed_against:
                assert tried.moved_m > 0.0


def test_walls_that_are_no_place_say_why(ranch: Comparison) -> None:
    """The way from the living space to the hall is no wall; the baths' door takes their short wall."""
    plan = ranch.case.plan
    living, hall, bath = (room_of(ranch, name) for name in ("Open living", "Hall", "Bath"))
    way = next(side for side in wall_sides(plan, living, north(ranch)) if side.beyond == hall)
    opening = try_head(ranch, WallSpot(living, way.number))
    assert opening.against == ("opening",)
    assert opening.result is None
    door = next(side for side in wall_sides(plan, bath, north(ranch)) if side.beyond == hall)
    assert try_head(ranch, WallSpot(bath, door.number)).against == ("door",)


def test_a_unit_beside_a_layout_takes_the_place_of_what_served_its_room(ranch: Comparison) -> None:
    room = room_of(ranch, "Bedroom 1")
    ducted = next(one.key for one in ranch.options if one.family is Family.DUCTED_ALL)
    tried = try_head(ranch, outside_wall(ranch, room), ducted)
    assert tried.result is not None
    option = tried.result.option
    assert option.family is Family.MIX
    served = [room_ for zone in option.zones for room_ in zone.rooms]
    assert sorted(served) == sorted(set(served))
    assert option.zones[tried.zone].rooms == (room,)
    assert morning(ranch, tried)[room] > ranch.case.plan.rooms[room].target_c - 0.5


def test_causes_follow_door_and_way() -> None:
    """A word for each case; doors that would do when open are told from those that would not (our judgement)."""
    assert cause_of(None, 5.0, 0.0, night=True, served=False) == "walls"
    assert cause_of(None, 5.0, 0.0, night=True, served=True) == "short"
    assert cause_of(Way((), 4.0, 0), 5.0, 0.0, night=True, served=False) == "way"


def test_cause_of_the_shut_bedrooms_is_their_door(ranch: Comparison) -> None:
    plan, served = ranch.case.plan, [room_of(ranch, "Open living")]
    way = way_to_supply(plan, room_of(ranch, "Bedroom 3"), served)
    assert way is not None
    assert [link.kind for link in way.links] == [LinkKind.DOOR, LinkKind.OPENING]
    assert way.shut(night=True)
    assert cause_of(way, 10.0, 9.8, night=True, served=False) == "door"
    assert cause_of(way, 10.0, 4.0, night=True, served=False) == "door_and_way"


def test_the_view_tells_the_cold_rooms_coldest_first(ranch: Comparison) -> None:
    priorities = ranch.case.house.priorities.model_dump()
    tried = try_head(ranch, outside_wall(ranch, room_of(ranch, "Open living")))
    view = tried_view(ranch, tried, priorities)
    assert view.card is not None
    assert view.card.id == TRIED
    gaps = [stay.target_c - stay.value_c for stay in view.cold]
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[-1] > 0.0
    shown = {outcome.room: outcome.morning_c for outcome in view.card.rooms}
    assert all(shown[stay.room] == stay.value_c for stay in view.cold)
    assert all(stay.cause in {"door", "door_and_way", "way", "short"} for stay in view.cold)
    uncooled = tried_view(ranch, tried, priorities, cool_bedrooms=False)
    assert not any("Bedroom" in stay.name for stay in uncooled.hot)
    assert tried.result is not None
    assert view.card.total == tried.result.score.total(weights_from_priorities(priorities))


def test_pointing_inside_a_room_means_its_nearest_wall(ranch: Comparison) -> None:
    plan = ranch.case.plan
    for index, room in enumerate(plan.rooms):
        for side in wall_sides(plan, index, north(ranch)):
            x_m, y_m = side.wall.at(side.wall.length_m / 2.0)
            turn = math.radians(side.wall.inward_deg)
            spot = spot_at(plan, room.level, (x_m + 0.2 * math.sin(turn), y_m + 0.2 * math.cos(turn)), north(ranch))
            assert spot is not None
            assert (spot.room, spot.wall) == (index, side.number)
            assert spot.along_frac == pytest.approx(0.5, abs=0.01)
    assert spot_at(plan, 0, (-40.0, -40.0), north(ranch)) is None


@pytest.mark.parametrize("spot", [WallSpot(99, 0), WallSpot(0, 99), WallSpot(-1, 0), WallSpot(0, 0, 1.5)])
def test_walls_that_there_are_not_are_refused(ranch: Comparison, spot: WallSpot) -> None:
    with pytest.raises(ValueError, match=r"room|wall"):
        side_of(ranch.case.plan, spot, 0.0)
    with pytest.raises(ValueError, match="option"):
        try_head(ranch, WallSpot(0, 0), "no such option")
