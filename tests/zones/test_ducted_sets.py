"""Sets of rooms that a ducted unit may serve: each refused for a reason that is true, each other one offered."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from compare.house.geometry import plan_of
from compare.house.plan import Plan, SpaceKind, Use
from compare.house.reading import read_house
from compare.zones.ducted_sets import MOST_IN_GROUP, DuctedSets, Refusal
from compare.zones.layouts import Layer, all_layouts, room_offers


def plan_at(scenarios: Path, name: str) -> Plan:
    return plan_of(read_house(scenarios / f"{name}.toml"))


def habitable(plan: Plan) -> list[int]:
    return [index for index, room in enumerate(plan.rooms) if room.habitable]


def test_no_place_on_the_level_is_the_reason(scenarios: Path) -> None:
    plan = plan_at(scenarios, "flat_roof_ranch")
    refused = DuctedSets(plan).refused(habitable(plan))
    assert {item.reason for item in refused} == {Refusal.NO_PLACE}
    assert len(refused) == 2 ** len(habitable(plan)) - 1


def test_a_vault_cuts_the_living_half_off(scenarios: Path) -> None:
    """No place reaches the living half: every set with it is refused for that, and no other set is."""
    plan = plan_at(scenarios, "vaulted_ranch")
    living = next(index for index, room in enumerate(plan.rooms) if room.use is Use.LIVING)
    refused = DuctedSets(plan).refused(habitable(plan))
    assert {item.reason for item in refused} == {Refusal.UNREACHED}
    assert all(living in item.rooms for item in refused)
    assert len(refused) == 2 ** (len(habitable(plan)) - 1)


@pytest.mark.parametrize("name", ["ranch", "day_wing", "cabin", "colonial", "tight_new"])
def test_refused_and_offered_are_all_sets_of_a_level(scenarios: Path, name: str) -> None:
    plan = plan_at(scenarios, name)
    sets = DuctedSets(plan)
    refused = {item.rooms for item in sets.refused(habitable(plan))}
    used = {
        tuple(room for room in zone.rooms if plan.rooms[room].habitable)
        for item in all_layouts(plan, layers=frozenset(Layer))
        for zone in item.layout.zones
        if zone.space >= 0
    }
    for level in {room.level for room in plan.rooms}:
        rooms = [index for index in habitable(plan) if plan.rooms[index].level == level]
        for size in range(1, len(rooms) + 1):
            for pick in combinations(rooms, size):
                assert (pick in refused) is (sets.refusal(pick) is not None)
                assert (pick in used) is (pick not in refused)


def test_rooms_on_two_levels_or_too_many_are_refused(scenarios: Path) -> None:
    plan = plan_at(scenarios, "colonial")
    sets = DuctedSets(plan)
    low, high = (next(i for i in habitable(plan) if plan.rooms[i].level == level) for level in (0, 1))
    assert sets.refusal((low, high)) is Refusal.LEVELS
    upper = [index for index, room in enumerate(plan.rooms) if room.level == 1]
    assert len(upper) > MOST_IN_GROUP
    assert sets.refusal(upper) is Refusal.MANY


def test_a_ceiling_drop_takes_one_unit_and_an_attic_more(scenarios: Path) -> None:
    plan = plan_at(scenarios, "ranch")
    sets = DuctedSets(plan)
    kinds = {space.kind: index for index, space in enumerate(plan.unit_spaces)}
    assert not sets.room_for((kinds[SpaceKind.HALL_DROP],) * 2)
    assert sets.room_for((kinds[SpaceKind.ATTIC],) * 2)


def test_an_upper_hall_is_offered_a_unit_and_never_a_branch(scenarios: Path) -> None:
    plan = plan_at(scenarios, "colonial")
    hall = next(i for i, room in enumerate(plan.rooms) if room.use is Use.HALL and room.level == 1)
    assert set(room_offers(plan)[hall]) == {"h", "b"}
    layouts = [item.layout for item in all_layouts(plan, layers=frozenset(Layer))]
    having = sum(any(zone.rooms == (hall,) and zone.space < 0 for zone in layout.zones) for layout in layouts)
    assert having * 2 == len(layouts)
    assert not any(hall in zone.rooms for layout in layouts for zone in layout.zones if zone.space >= 0)


def test_a_ground_floor_hall_and_a_bath_go_by_rule(scenarios: Path) -> None:
    plan = plan_at(scenarios, "ranch")
    offers = room_offers(plan)
    for index, room in enumerate(plan.rooms):
        assert bool(offers[index]) is room.habitable
