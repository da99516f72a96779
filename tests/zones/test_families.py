"""Which layouts a plan is offered, and that neither names nor order in the file reach them."""

from __future__ import annotations

import copy
import random

import pytest

from compare.house.plan import Plan
from compare.zones.families import families
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneKind
from tests.houses import (
    Table,
    bed,
    chain,
    door,
    flat,
    plan,
    prepared,
    room,
    space,
    studio,
    tables,
    two_storeys,
)

SCENARIOS = ("ranch", "colonial", "cabin", "accessory_unit", "open_bungalow", "flat_roof_ranch", "day_wing")
OVER_LIVING = space("attic", (1, 1), (5, 3))


def keys(found: tuple[LayoutSketch, ...], family: Family | None = None) -> set[str]:
    return {layout.key for layout in found if family in (None, layout.family)}


def index(house: Plan, name: str) -> int:
    return next(i for i, one in enumerate(house.rooms) if one.name == name)


def test_one_room_has_one_layout() -> None:
    assert keys(families(plan(studio()))) == {"h0"}


def test_one_bedroom_gets_the_three_families_without_ducts() -> None:
    found = families(plan(flat()))
    assert keys(found, Family.SINGLE_HEAD) == {"h0"}
    assert keys(found, Family.HEAD_EACH) == {"h0-h1"}
    assert keys(found, Family.HEADS_AND_HEATERS) == {"h0-e1"}
    assert len(found) == 3


def test_a_place_for_a_hidden_unit_adds_ducts_and_a_mix() -> None:
    added = keys(families(plan(flat(unit_space=[OVER_LIVING])))) - keys(families(plan(flat())))
    assert added == {"d0.1@0", "h0-d1@0"}


@pytest.mark.parametrize("raw", [flat(), chain(), two_storeys()], ids=["flat", "chain", "two storeys"])
def test_no_place_for_a_hidden_unit_gives_no_ducts(raw: Table) -> None:
    found = families(plan(raw))
    assert not keys(found, Family.MIX)
    assert not keys(found, Family.DUCTED_ALL)
    assert all(zone.kind is ZoneKind.ROOM_UNIT for layout in found for zone in layout.zones)


def test_the_far_end_of_an_open_chain_is_offered_a_second_head_and_a_branch() -> None:
    """An open space of several rooms is not one node: the year decides on the head or branch at its far end."""
    house = plan(chain(unit_space=[space("attic", (3, 3), (9, 2))]))
    main, far = index(house, "Living"), index(house, "Kitchen")
    found = families(house)
    assert f"h{main}-h{far}" in keys(found, Family.FEW_HEADS)
    branches = [
        zone.rooms
        for layout in found
        if layout.family is Family.MIX
        for zone in layout.zones
        if zone.kind is ZoneKind.DUCTED
    ]
    assert any(far in rooms for rooms in branches)


def test_rooms_of_an_open_chain_are_not_closed_rooms() -> None:
    house = plan(chain())
    heads_and_heaters = [layout for layout in families(house) if layout.family is Family.HEADS_AND_HEATERS]
    in_the_open = {index(house, name) for name in ("Living", "Dining", "Kitchen")}
    for layout in heads_and_heaters:
        assert not in_the_open & {room for room, rest in layout.rest if rest is Rest.HEATER}


def test_each_storey_needs_a_place_of_its_own_for_ducts_everywhere() -> None:
    up, down = space("attic", (1, 1), (6, 3), level="upper"), space("below", (1, 1), (4, 4), kind="crawlspace")
    assert not keys(families(plan(two_storeys(unit_space=[up]))), Family.DUCTED_ALL)
    both = [lay for lay in families(plan(two_storeys(unit_space=[up, down]))) if lay.family is Family.DUCTED_ALL]
    assert [len(layout.zones) for layout in both] == [2]


def test_closed_rooms_without_a_reachable_place_keep_heads_in_a_mix() -> None:
    """Bedrooms on a level without a place for a ducted unit still get a source in every mix."""
    rooms = [*two_storeys()["room"], room("Study", "work", (0, -4), (5, 4))]
    doors = [*two_storeys()["door"], door("Living", "Study")]
    house = plan(
        two_storeys(room=rooms, door=doors, unit_space=[space("attic", (1, 1), (6, 3), level="upper")],
                    outdoor_spot=[{"name": "s", "at": [-1, 2], "side": "W"}])
    )  # fmt: skip
    mixes = [layout for layout in families(house) if layout.family is Family.MIX]
    assert mixes
    assert all(index(house, "Study") in layout.served for layout in mixes)


def test_a_landing_is_offered_a_head() -> None:
    house = plan(two_storeys())
    assert f"h{index(house, 'Living')}-h{index(house, 'Landing')}" in keys(families(house), Family.FEW_HEADS)


def test_old_heat_is_kept_only_where_it_reaches_every_closed_room() -> None:
    house = plan(chain())
    closed = [index(house, "Bed A"), index(house, "Bed B")]
    kept = [lay for lay in families(house, old_heat_rooms=closed) if Rest.OLD_HEAT in dict(lay.rest).values()]
    assert kept
    assert all({r for r, rest in lay.rest if rest is Rest.OLD_HEAT} == set(closed) for lay in kept)
    part = families(house, old_heat_rooms=closed[:1])
    assert not any(Rest.OLD_HEAT in dict(layout.rest).values() for layout in part)


def test_a_house_of_bedrooms_alone_is_offered_more_than_one_head() -> None:
    rooms = [room("A", "bedroom", (0, 0), (4, 4)), room("B", "bedroom", (4, 0), (3, 4))]
    house = plan(tables(rooms, door=[door("A", "B")], bed=[bed("A", (1, 1)), bed("B", (5, 1))]))
    found = families(house)
    assert keys(found, Family.SINGLE_HEAD) == {"h0"}
    assert keys(found, Family.HEAD_EACH) == {"h0-h1"}
    assert keys(found, Family.HEADS_AND_HEATERS) == {"h0-e1"}


def test_a_house_where_nobody_lives_gets_no_layout() -> None:
    assert families(plan(tables([room("Store", "storage", (0, 0), (4, 4))]))) == ()


@pytest.mark.parametrize("name", SCENARIOS)
def test_every_room_is_accounted_for_once(name: str) -> None:
    house = prepared(name).plan
    found = families(house, old_heat_rooms=range(len(house.rooms)))
    assert len(keys(found)) == len(found)
    for layout in found:
        with_supply = [one for zone in layout.zones for one in zone.rooms]
        assert len(set(with_supply)) == len(with_supply)
        assert sorted([*with_supply, *(one for one, _ in layout.rest)]) == list(range(len(house.rooms)))


@pytest.mark.parametrize("name", SCENARIOS)
def test_ducts_go_only_where_their_place_reaches(name: str) -> None:
    house = prepared(name).plan
    for layout in families(house):
        for zone in layout.zones:
            if zone.kind is ZoneKind.DUCTED:
                place = house.unit_spaces[zone.space]
                assert {house.rooms[one].level for one in zone.rooms} == {place.level}
                assert not place.serves or set(zone.rooms) <= set(place.serves)


@pytest.mark.parametrize("name", SCENARIOS)
def test_ducts_everywhere_leave_no_habitable_room_out(name: str) -> None:
    house = prepared(name).plan
    habitable = {i for i, one in enumerate(house.rooms) if one.habitable}
    for layout in families(house):
        if layout.family is Family.DUCTED_ALL:
            assert habitable <= layout.served


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("raw", [chain(unit_space=[OVER_LIVING]), two_storeys()], ids=["chain", "two storeys"])
def test_names_and_order_do_not_reach_the_ids(raw: Table, seed: int) -> None:
    other = _renamed(raw, seed)
    assert [layout.key for layout in families(plan(other))] == [layout.key for layout in families(plan(raw))]


def _renamed(raw: Table, seed: int) -> Table:
    """The same house with other names, its tables in another order."""
    draw = random.Random(seed)
    names = [one["name"] for one in raw["room"]]
    new = dict(zip(names, draw.sample([f"Z{k}" for k in range(len(names))], len(names)), strict=True))
    other = copy.deepcopy(raw)
    for rows in other.values():
        for row in rows if isinstance(rows, list) else []:
            for key in ("room", "lower", "upper"):
                row[key] = new.get(row[key], row[key]) if key in row else None
                if row[key] is None:
                    del row[key]
            if "between" in row:
                row["between"] = [new[one] for one in row["between"]]
    for one in other["room"]:
        one["name"] = new[one["name"]]
    for key in ("room", "door", "opening", "bed"):
        draw.shuffle(other.get(key, []))
    return other
