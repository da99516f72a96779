"""What beds and seats get of a zone."""

from __future__ import annotations

import math

from compare.equipment.catalogue import catalogue
from compare.house.plan import SpaceKind, Use
from compare.zones.ears import Ear, ears_of
from compare.zones.served import design_zone
from compare.zones.sketch import ZoneSketch
from tests.houses import basis_of, prepared

CASE = "ranch"


def bedrooms() -> list[int]:
    return [i for i, room in enumerate(prepared(CASE).plan.rooms) if room.use is Use.BEDROOM]


def head_in(room: int) -> tuple[Ear, ...]:
    plan = prepared(CASE).plan
    return ears_of(plan, design_zone(basis_of(prepared(CASE)), ZoneSketch((room,)), ()), catalogue())


def ducts_into(rooms: list[int], kind: SpaceKind) -> tuple[Ear, ...]:
    plan = prepared(CASE).plan
    space = next(i for i, one in enumerate(plan.unit_spaces) if one.kind is kind)
    zone = design_zone(basis_of(prepared(CASE)), ZoneSketch(tuple(sorted(rooms)), space), ())
    return ears_of(plan, zone, catalogue())


def test_every_bed_and_seat_of_the_served_rooms_has_one_ear() -> None:
    plan = prepared(CASE).plan
    everywhere = list(range(len(plan.rooms)))
    reached = [i for i in everywhere if plan.rooms[i].use not in {Use.LAUNDRY, Use.HALL}]
    ears = ducts_into(reached, SpaceKind.HALL_DROP)
    assert sum(ear.bed for ear in ears) == sum(len(plan.rooms[i].beds) for i in reached)
    assert sum(not ear.bed for ear in ears) == sum(len(plan.rooms[i].seats) for i in reached)


def test_a_head_in_a_bedroom_is_heard_there_and_nowhere_else() -> None:
    for room in bedrooms():
        assert {ear.room for ear in head_in(room)} == {room}


def test_more_output_is_louder_and_feels_no_weaker() -> None:
    for ear in (*head_in(bedrooms()[0]), *ducts_into(bedrooms(), SpaceKind.HALL_DROP)):
        levels = [float(ear.level.on_dba(share)) for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
        assert levels == sorted(levels)
        rates = [float(ear.draught.rate_frac(share, heating=False)) for share in (0.0, 1.0)]
        assert all(math.isfinite(rate) and 0.0 <= rate <= 1.0 for rate in rates)
