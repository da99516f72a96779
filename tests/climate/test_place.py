"""Choosing the weather of a house, its design conditions, and the design days."""

from __future__ import annotations

import numpy as np
import pytest

from compare.climate.adjust import AdjustmentRefusedError
from compare.climate.clear_sky import OpticalDepths
from compare.climate.design import typed_design
from compare.climate.design_day import COOLING_WIND_M_S, cooling_design_day, cooling_design_days, heating_design_day
from compare.climate.embedded import embedded
from compare.climate.place import PlaceRequest, for_place
from compare.climate.places import PlaceError, Town, nearest_moisture, zip_area
from compare.climate.sun import sun_on
from compare.climate.year import DesignConditions, Site, WeatherSource
from tests.climate.faulty import lines

ATLANTA = DesignConditions(-3.5, 33.2, 23.2, 9.3, "Handbook example", 33.64, -84.43, -5.0, 308.0)


def test_own_file_comes_first() -> None:
    found = for_place(PlaceRequest(file="\n".join(lines()).encode(), embedded="miami", zip_code="60601"))
    assert found.year.source is WeatherSource.USER_FILE
    assert found.design is not None
    assert not found.design_is_suggested
    assert found.nudge == ""
    assert found.file is not None


def test_embedded_by_name_has_suggested_design_values() -> None:
    found = for_place(PlaceRequest(embedded="richmond"))
    assert found.year is embedded("richmond")
    assert found.design is not None
    assert found.design_is_suggested
    assert "suggested" in found.design.source
    assert "Richmond" in found.nudge


def test_zip_near_a_station_gets_the_real_year() -> None:
    assert for_place(PlaceRequest(zip_code="98362")).year is embedded("port_angeles")


def test_zip_elsewhere_gets_an_adjusted_year() -> None:
    found = for_place(PlaceRequest(zip_code="55401-1234"))
    assert found.year.source is WeatherSource.ADJUSTED
    assert not found.year.latent_ok
    assert found.design is not None
    assert found.design.heating_99_c < -18.0
    assert "km away" in found.nudge


def test_mild_coast_zip_is_refused() -> None:
    with pytest.raises(AdjustmentRefusedError, match="3C"):
        for_place(PlaceRequest(zip_code="94110"))


@pytest.mark.parametrize(
    ("code", "words"), [("1234", "five-digit"), ("abcde", "five-digit"), ("00000", "not in the table")]
)
def test_bad_zip(code: str, words: str) -> None:
    with pytest.raises(PlaceError, match=words):
        for_place(PlaceRequest(zip_code=code))


def test_nothing_given() -> None:
    with pytest.raises(PlaceError, match="give a weather file"):
        for_place(PlaceRequest())


def test_typed_town() -> None:
    site = Site(44.9, -93.2, -6.0, 254.0, "Some town")
    found = for_place(PlaceRequest(town=Town(site, 4100.0, 1550.0, -21.0, 31.1, "A")))
    assert "Some town" in found.year.provenance
    assert found.year.site == site
    for changes, words in (
        ((-5.0, 1550.0, -21.0, 31.1, "A"), "hdd18_k_d"),
        ((4100.0, 1550.0, 35.0, 31.1, "A"), "heating_99_c"),
        ((4100.0, 1550.0, 20.0, 10.0, "A"), "must lie above"),
        ((4100.0, 1550.0, -21.0, 31.1, "D"), "moisture"),
        ((float("nan"), 1550.0, -21.0, 31.1, "A"), "hdd18_k_d"),
    ):
        with pytest.raises(PlaceError, match=words):
            Town(site, *changes)


def test_zone_7_areas_borrow_a_moisture_letter() -> None:
    """Energy-code moisture map: Duluth in the humid north, Crested Butte in the dry Rockies, none in Alaska."""
    assert (zip_area("55802").zone, zip_area("55802").moisture) == ("7", "A")
    assert (zip_area("81224").zone, zip_area("81224").moisture) == ("7", "B")
    assert zip_area("99501").moisture == ""
    assert nearest_moisture(64.8, -147.7) == ""


def test_typed_design_conditions() -> None:
    site = embedded("richmond").site
    full = typed_design(site, -8.0, 33.5, cooling_wet_bulb_c=24.0, daily_range_k=11.0)
    assert full.source == "typed by the designer"
    filled = typed_design(site, -8.0, 33.5, year=embedded("richmond"))
    assert "estimated from the hourly year of Richmond" in filled.source
    assert 20.0 < filled.cooling_wet_bulb_c < 26.0
    with pytest.raises(ValueError, match="daily range"):
        typed_design(site, -8.0, 33.5, cooling_wet_bulb_c=24.0)
    with pytest.raises(ValueError, match="coincident wet bulb"):
        typed_design(site, -8.0, 33.5, cooling_wet_bulb_c=34.0, daily_range_k=11.0)
    with pytest.raises(ValueError, match="must lie above"):
        typed_design(site, 20.0, 10.0, cooling_wet_bulb_c=9.0, daily_range_k=11.0)
    with pytest.raises(ValueError, match="99 % heating"):
        typed_design(site, float("nan"), 33.5, cooling_wet_bulb_c=24.0, daily_range_k=11.0)
    adjusted = for_place(PlaceRequest(zip_code="55401")).year
    with pytest.raises(ValueError, match="no humidity of the place"):
        typed_design(site, -8.0, 33.5, daily_range_k=11.0, year=adjusted)


def test_cooling_design_day() -> None:
    day = cooling_design_day(ATLANTA)
    assert day.hours == 24
    assert day.first_day == 201  # 21 July
    assert day.source is WeatherSource.DESIGN_DAY
    assert day.dry_bulb_c.max() == pytest.approx(33.2)
    assert float(np.ptp(day.dry_bulb_c)) == pytest.approx(9.3, abs=0.2)  # hourly means shave the minimum
    assert (day.dew_point_c <= day.dry_bulb_c).all()
    assert (day.sky_c < day.dry_bulb_c).all()
    assert np.all(day.wind_m_s == COOLING_WIND_M_S)
    assert day.direct_normal_w_m2[[0, 4, 21]].max() == 0.0
    west, east = sun_on(day, 90.0, 270.0), sun_on(day, 90.0, 90.0)
    assert int(np.argmax(west.beam_w_m2)) > 14
    assert int(np.argmax(east.beam_w_m2)) < 11


def test_clear_sky_models_are_near_each_other() -> None:
    """Turbidity map against the Handbook's depths for Atlanta in July: noon beam within 12 %, daily sum within 10 %."""
    map_day = cooling_design_day(ATLANTA, 7)
    depth_day = cooling_design_day(ATLANTA, 7, OpticalDepths(0.515, 2.066))
    assert map_day.direct_normal_w_m2[12] == pytest.approx(depth_day.direct_normal_w_m2[12], rel=0.12)
    total = map_day.global_horizontal_w_m2.sum()
    assert total == pytest.approx(depth_day.global_horizontal_w_m2.sum(), rel=0.10)
    assert map_day.key != depth_day.key


def test_autumn_sun_is_lower_on_south_glass() -> None:
    july, october = cooling_design_days(ATLANTA, (7, 10))
    assert sun_on(october, 90.0, 180.0).beam_w_m2.max() > 2.0 * sun_on(july, 90.0, 180.0).beam_w_m2.max()
    with pytest.raises(ValueError, match="month"):
        cooling_design_day(ATLANTA, 13)


def test_south_of_the_equator_january_is_hot() -> None:
    there = DesignConditions(5.0, 33.0, 22.0, 10.0, "test", -34.0, 151.0, 10.0, 20.0)
    day = cooling_design_day(there)
    assert day.first_day == 20
    assert sun_on(day, 90.0, 0.0).beam_w_m2.sum() > sun_on(day, 90.0, 180.0).beam_w_m2.sum()


def test_heating_design_day() -> None:
    day = heating_design_day(ATLANTA)
    assert np.all(day.dry_bulb_c == -3.5)
    assert day.global_horizontal_w_m2.sum() == 0.0
    assert np.all(day.sky_c == day.dry_bulb_c)


@pytest.mark.parametrize(("beam", "diffuse", "words"), [(5.0, 2.0, "beam"), (0.4, 9.0, "diffuse")])
def test_bad_depths(beam: float, diffuse: float, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        OpticalDepths(beam, diffuse)
