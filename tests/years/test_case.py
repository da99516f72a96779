"""A house made ready: its weather, design conditions and shared arrays."""

from __future__ import annotations

import numpy as np
import pytest

from compare.climate.places import PlaceError
from compare.house.problems import HouseFileError
from compare.years.case import HouseCase, prepare
from tests.houses import Table, house, prepared, studio


def at(site: Table, drop: tuple[str, ...] = ()) -> Table:
    """The studio on another site."""
    kept = {key: value for key, value in studio()["site"].items() if key not in drop}
    return studio() | {"site": kept | site}


@pytest.mark.parametrize("name", ["ranch", "accessory_unit"])
def test_arrays_have_the_rooms_and_hours_of_the_house(name: str) -> None:
    case: HouseCase = prepared(name)
    rooms, hours = len(case.plan.rooms), case.weather.hours
    assert hours == 8760
    assert case.heat_load_w.shape == (rooms,)
    assert case.cool_load_w.shape[1] == rooms
    assert case.gains.radiant_w.shape == (hours, rooms)
    assert case.network.rooms == rooms
    assert case.network.hours == hours


def test_typed_design_temperatures_are_used() -> None:
    case = prepare(house(studio()))
    assert case.design.heating_99_c == -5.5
    assert case.design.cooling_1_c == 33


def test_a_colder_design_day_asks_for_more_heat() -> None:
    design = studio()["site"]["design"]
    colder = prepare(house(at({"design": design | {"heating_99": -15.0}})))
    assert colder.loads.house.heat_w > prepare(house(studio())).loads.house.heat_w


def test_unknown_weather_lists_the_embedded_years() -> None:
    with pytest.raises(PlaceError, match=r"site\.weather = 'nowhere'.*richmond"):
        prepare(house(at({"weather": "nowhere"})))


def test_a_town_is_found_where_no_weather_is_named() -> None:
    case = prepare(house(at({}, drop=("weather",))))
    assert case.weather.hours == 8760
    assert np.isfinite(case.weather.dry_bulb_c).all()


def test_a_zip_code_that_is_in_no_table_is_refused() -> None:
    with pytest.raises(PlaceError):
        prepare(house(at({"zip": "00000"}, drop=("weather",))))


def test_a_plan_that_does_not_hold_together_is_refused() -> None:
    raw = studio()
    raw["room"].append(raw["room"][0] | {"name": "Far away", "at": [40, 40]})
    with pytest.raises(HouseFileError, match="falls into 2 parts"):
        prepare(house(raw))
