"""Which zone a room without a supply hangs on."""

from __future__ import annotations

from compare.house.plan import Plan
from compare.zones.attach import attached_rooms, leaning_on, open_to_served
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneSketch
from tests.houses import chain, plan
from tests.physics.small_house import small_plan

LIVING, HALL, BEDROOM, GUEST = range(4)


def layout(house: Plan, *heads: int, heaters: tuple[int, ...] = ()) -> LayoutSketch:
    rest = tuple(
        (i, Rest.HEATER if i in heaters else Rest.NEIGHBOUR) for i in range(len(house.rooms)) if i not in heads
    )
    return LayoutSketch(Family.FEW_HEADS, tuple(ZoneSketch((head,)) for head in heads), rest)


def test_a_room_behind_an_opening_borrows() -> None:
    house = small_plan()
    assert attached_rooms(house, layout(house, LIVING)) == ((HALL,),)


def test_a_door_kept_open_day_and_night_passes_load_on_through_the_hall() -> None:
    house = small_plan(night_open_frac=1.0)
    assert attached_rooms(house, layout(house, LIVING)) == ((HALL, BEDROOM),)


def test_a_heater_of_its_own_takes_a_room_off_the_unit() -> None:
    house = small_plan(night_open_frac=1.0)
    assert attached_rooms(house, layout(house, LIVING, heaters=(BEDROOM,))) == ((HALL,),)


def test_a_shut_room_hangs_on_nothing_though_its_neighbour_is_served() -> None:
    house = small_plan()
    assert attached_rooms(house, layout(house, BEDROOM)) == ((),)


def test_a_room_between_two_heads_hangs_on_the_nearer_one() -> None:
    house = plan(chain())
    name = {one.name: i for i, one in enumerate(house.rooms)}
    sketch = layout(house, name["Living"], name["Kitchen"])
    owned = dict(zip((zone.rooms[0] for zone in sketch.zones), attached_rooms(house, sketch), strict=True))
    assert owned[name["Kitchen"]] == (name["Dining"],)
    assert owned[name["Living"]] == ()


def test_open_to_served_follows_the_door_by_day_and_by_night() -> None:
    house = small_plan(night_open_frac=0.0)
    assert open_to_served(house, layout(house, LIVING), night=False) == {HALL, BEDROOM}
    assert open_to_served(house, layout(house, LIVING), night=True) == {HALL}


def test_a_room_open_only_by_day_leans_on_the_unit_without_being_in_its_load() -> None:
    house = small_plan(night_open_frac=0.0)
    sketch = layout(house, LIVING)
    assert BEDROOM not in attached_rooms(house, sketch)[0]
    assert leaning_on(house, sketch) == {HALL: 0, BEDROOM: 0}


def test_a_room_that_is_never_open_leans_on_nothing() -> None:
    house = small_plan(night_open_frac=1.0)
    assert GUEST not in leaning_on(house, layout(house, LIVING))
