"""Weather against open files and published values.

Sources: header lines and hours of open EPW files (NREL TMY3; the Denver year goes with ANSI/ASHRAE Standard 140-2020);
totals computed from those files by an independent script; ZIP zones of an open table; ASHRAE Handbook of Fundamentals
2021, chapter 14 (station appendix, table 6); psychrolib and pvlib as general-purpose referees.
"""

from __future__ import annotations

import csv
import hashlib
import io
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from compare.climate.adjust import choose_donor, hdd65_f_d
from compare.climate.design import coincident_wet_bulb_c
from compare.climate.design_day import cooling_design_day, daily_course_c
from compare.climate.embedded import embedded, embedded_names, stations
from compare.climate.morph import climate_of
from compare.climate.places import nearest_town, zip_area
from compare.climate.reader import hottest_month, load_weather, mean_daily_swing_k
from compare.climate.year import DesignConditions, WeatherYear

# station, HDD65, CDD65 (F d), 1st and 99th percentile (C), GHI, DNI, DHI (kWh/m2), HDD18, CDD10 (K d), mean, min, max C
EMBEDDED = """
chicago_ohare,6325,842,-17.2,31.1,1407,1294,660,3430,1743,9.99,-22.8,35.0
denver_aurora,6220,756,-18.0,33.0,1660,1996,566,3369,1593,10.02,-23.0,39.4
golden,6175,543,-13.0,32.0,1620,1867,578,3338,1395,9.76,-25.0,36.0
new_york_jfk,4874,1077,-7.8,30.6,1430,1348,646,2627,1984,12.55,-13.9,36.7
pittsburgh,5258,598,-8.9,28.3,1229,1013,646,2834,1643,11.24,-16.7,32.7
port_angeles,5978,15,-2.0,22.0,1262,1165,616,3201,587,9.26,-6.0,30.0
tucson_davis_monthan,1246,3461,3.0,39.0,2002,2437,539,642,4295,21.71,-1.1,42.0
tucson_intl,1690,3057,1.1,39.4,2062,2547,523,885,3902,20.41,-3.3,41.7
richmond,3849,1448,-6.7,33.3,1554,1498,672,2069,2467,14.68,-17.8,36.7
greensboro,3876,1306,-9.4,32.2,1566,1477,682,2082,2381,14.42,-16.7,35.6
miami,130,4059,11.1,31.7,1793,1505,810,64,5225,24.31,3.3,33.9
sand_point,9140,0,-8.0,15.5,829,819,461,4956,128,4.42,-10.6,19.4
northway,15006,9,-42.7,23.8,837,787,496,8217,389,-4.49,-46.0,28.9
"""
FILES = """
burlington_vt_726170_tmy3,7298,422,-18.3,28.9,1341,1233,651,3958,1285,7.87,-27.8,37.2
minneapolis_mn_726580_tmy3,7721,756,-22.2,31.1,1399,1503,586,4202,1532,7.73,-31.1,37.2
charlotte_nc_723140_tmy3,3140,1598,-3.3,32.8,1632,1600,664,1677,2645,15.99,-7.2,35.6
houston_tx_722430_tmy3,1471,2802,0.6,35.0,1627,1417,733,774,3915,20.36,-6.1,39.4
portland_or_726985_tmy3,4392,326,1.7,31.0,1285,1183,614,2342,1327,12.14,-3.0,41.0
denver_co_725650_standard140,5783,884,-11.1,33.3,1670,1978,556,3129,1707,10.88,-19.4,40.0
"""
SWINGS = {"burlington": 11.3, "minneapolis": 10.5, "charlotte": 10.7, "houston": 10.2, "portland": 13.1, "denver": 17.1}

# edition, heating 99.6 and 99 %, range, cooling 0.4, 1, 2 % dry bulb and coincident wet bulb, C and K (header lines)
HEADERS = {
    "burlington_vt_726170_tmy3": ("2009", -22.4, -19.7, 10.7, 31.3, 21.7, 29.6, 20.9, 28.0, 20.1),
    "minneapolis_mn_726580_tmy3": ("2009", -25.2, -22.0, 9.9, 32.8, 23.0, 31.0, 22.4, 29.4, 21.4),
    "charlotte_nc_723140_tmy3": ("2009", -6.4, -4.1, 10.1, 34.5, 23.7, 33.1, 23.4, 31.9, 23.0),
    "houston_tx_722430_tmy3": ("2009", -1.6, 0.5, 10.1, 36.0, 24.8, 35.0, 24.8, 34.0, 24.8),
    "denver_co_725650_standard140": ("2013", -17.5, -14.1, 15.3, 34.6, 15.5, 33.2, 15.5, 31.8, 15.4),
}


def _rows(text: str) -> list[tuple[str, tuple[float, ...]]]:
    return [(row[0], tuple(map(float, row[1:]))) for row in csv.reader(io.StringIO(text.strip()))]


def _check_totals(year: WeatherYear, row: tuple[float, ...]) -> None:
    hdd65, cdd65, low, high, ghi, dni, dhi, hdd18, cdd10, mean, least, most = row
    found = climate_of(year.dry_bulb_c)
    daily_f = year.dry_bulb_c.reshape(-1, 24).mean(axis=1) * 1.8 + 32.0
    # Tolerances: half a unit of the printed totals plus a unit of rounding; percentiles 0.1 K.
    assert hdd65_f_d(year.dry_bulb_c) == pytest.approx(hdd65, abs=1.0)
    assert np.maximum(daily_f - 65.0, 0.0).sum() == pytest.approx(cdd65, abs=1.0)
    assert found.hdd18_k_d == pytest.approx(hdd18, abs=1.0)
    assert found.cdd10_k_d == pytest.approx(cdd10, abs=1.0)
    assert (found.low_99_c, found.high_1_c) == pytest.approx((low, high), abs=0.1)
    assert year.global_horizontal_w_m2.sum() / 1e3 == pytest.approx(ghi, abs=1.0)
    assert year.direct_normal_w_m2.sum() / 1e3 == pytest.approx(dni, abs=1.0)
    assert year.diffuse_horizontal_w_m2.sum() / 1e3 == pytest.approx(dhi, abs=1.0)
    dry_c = year.dry_bulb_c
    assert (dry_c.mean(), dry_c.min(), dry_c.max()) == pytest.approx((mean, least, most), abs=0.01)


@pytest.mark.parametrize(("slug", "row"), _rows(EMBEDDED))
def test_embedded_totals(slug: str, row: tuple[float, ...]) -> None:
    _check_totals(embedded(slug), row)


@pytest.mark.parametrize(("name", "row"), _rows(FILES))
def test_file_totals(name: str, row: tuple[float, ...], shared_weather: Path) -> None:
    year = load_weather(shared_weather / f"{name}.epw").year
    _check_totals(year, row)
    month = hottest_month(year.dry_bulb_c)
    assert month == (6 if name.startswith("denver") else 7)
    assert mean_daily_swing_k(year.dry_bulb_c, month) == pytest.approx(SWINGS[name.partition("_")[0]], abs=0.06)


@pytest.mark.parametrize("name", HEADERS)
def test_header_design_values(name: str, shared_weather: Path) -> None:
    header = load_weather(shared_weather / f"{name}.epw").header
    assert header is not None
    edition, *values = HEADERS[name]
    assert edition in header.edition
    found = [
        header.heating_996_c,
        header.heating_99_c,
        header.daily_range_k,
        header.cooling_04_c,
        header.cooling_04_wet_bulb_c,
        header.cooling_1_c,
        header.cooling_1_wet_bulb_c,
        header.cooling_2_c,
        header.cooling_2_wet_bulb_c,
    ]
    assert found == values
    assert header.hottest_month == 7


def test_portland_has_no_design_values(shared_weather: Path) -> None:
    # Its header line reads "DESIGN CONDITIONS,0".
    found = load_weather(shared_weather / "portland_or_726985_tmy3.epw")
    assert found.header is None
    assert found.design is None


def test_standard_140_year_is_the_right_one(shared_weather: Path) -> None:
    # sha256 and line count of the year that goes with the 2020 ranges of ANSI/ASHRAE Standard 140.
    data = (shared_weather / "denver_co_725650_standard140.epw").read_bytes()
    assert hashlib.sha256(data).hexdigest() == "1d0402144460a26265555a18a9cdfe4f0f7d9b4f57d6194847af7959b518571f"
    assert len(data.splitlines()) == 8768
    found = load_weather(data)
    assert found.sha256 == hashlib.sha256(data).hexdigest()
    assert [round(ground.depth_m, 1) for ground in found.ground] == [0.5, 2.0, 4.0]
    assert found.ground[0].monthly_c[:3] == (0.36, 2.33, 6.17)


def test_sky_temperature_of_the_standard_140_year(shared_weather: Path) -> None:
    # Published sky-temperature column of that year: mean -5.9, minimum -46.9, maximum 24.6 C. Tolerance: its rounding.
    sky_c = load_weather(shared_weather / "denver_co_725650_standard140.epw").year.sky_c
    assert (sky_c.mean(), sky_c.min(), sky_c.max()) == pytest.approx((-5.9, -46.9, 24.6), abs=0.05)


def test_sources_table_is_complete() -> None:
    text = resources.files("compare.data.climate").joinpath("embedded_sources.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    assert [row["slug"] for row in rows] == list(embedded_names())
    assert all(len(row["sha256"]) == 64 and row["licence"] and row["package"] and row["file"] for row in rows)


def test_tmy3_file_of_a_general_library_equals_the_embedded_hours() -> None:
    """Row i of a TMY3 file is entry i (no lag), read here by pvlib from its own package data."""
    import pvlib

    path = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    if not path.is_file():
        pytest.skip("this pvlib has no sample TMY3 file")
    ours = load_weather(path).year
    theirs, _ = pvlib.iotools.read_tmy3(path, coerce_year=2001, map_variables=True)
    stored = embedded("greensboro")
    pairs = {
        "temp_air": "dry_bulb_c",
        "temp_dew": "dew_point_c",
        "ghi": "global_horizontal_w_m2",
        "dni": "direct_normal_w_m2",
        "dhi": "diffuse_horizontal_w_m2",
        "wind_speed": "wind_m_s",
    }
    for column, name in pairs.items():
        np.testing.assert_array_equal(getattr(ours, name), theirs[column].to_numpy(float))
        np.testing.assert_array_equal(getattr(stored, name), getattr(ours, name))
    np.testing.assert_allclose(ours.pressure_pa, theirs["pressure"].to_numpy(float) * 100.0)
    np.testing.assert_allclose(stored.pressure_pa, ours.pressure_pa, atol=5.0)


def test_tmy2_file_of_a_general_library_equals_the_embedded_hours() -> None:
    """TMY2 fields by position, against pvlib's own reader."""
    import pvlib

    path = Path(pvlib.__file__).parent / "data" / "12839.tm2"
    if not path.is_file():
        pytest.skip("this pvlib has no sample TMY2 file")
    ours = load_weather(path)
    theirs, meta = pvlib.iotools.read_tmy2(path)
    assert ours.kind == "TMY2"
    assert ours.year.site.latitude_deg == pytest.approx(meta["latitude"], abs=0.001)
    assert ours.year.site.longitude_deg == pytest.approx(meta["longitude"], abs=0.001)
    np.testing.assert_allclose(ours.year.dry_bulb_c, theirs["DryBulb"].to_numpy(float) / 10.0)
    np.testing.assert_allclose(ours.year.wind_m_s, theirs["Wspd"].to_numpy(float) / 10.0)
    np.testing.assert_array_equal(ours.year.direct_normal_w_m2, theirs["DNI"].to_numpy(float))
    np.testing.assert_array_equal(embedded("miami").dry_bulb_c, ours.year.dry_bulb_c)


@pytest.mark.parametrize("name", ["minneapolis_mn_726580_tmy3", "denver_co_725650_standard140"])
def test_epw_columns_against_a_general_library(name: str, shared_weather: Path) -> None:
    from pvlib.iotools import read_epw

    path = shared_weather / f"{name}.epw"
    theirs, _ = read_epw(path, coerce_year=2001)
    ours = load_weather(path).year
    pairs = {
        "temp_air": ours.dry_bulb_c,
        "temp_dew": ours.dew_point_c,
        "atmospheric_pressure": ours.pressure_pa,
        "ghi": ours.global_horizontal_w_m2,
        "dni": ours.direct_normal_w_m2,
        "dhi": ours.diffuse_horizontal_w_m2,
        "wind_speed": ours.wind_m_s,
        "total_sky_cover": ours.total_sky_tenths,
        "opaque_sky_cover": ours.opaque_sky_tenths,
    }
    for column, values in pairs.items():
        assert values is not None
        np.testing.assert_array_equal(values, theirs[column].to_numpy(float), err_msg=column)


ZIPS = {
    "05401": "6A",
    "55401": "6A",
    "60601": "5A",
    "02118": "5A",
    "97201": "4C",
    "30303": "3A",
    "77002": "2A",
    "85003": "2B",
    "80202": "5B",
}


@pytest.mark.parametrize(("code", "zone"), ZIPS.items())
def test_zip_zones(code: str, zone: str) -> None:
    area = zip_area(code)
    assert area.zone + area.moisture == zone


def test_station_table_examples() -> None:
    # 99 % and 1 % dry bulb in the open station index the table was cut from.
    for latitude, longitude, low, high in (
        (41.96, -87.92, -15.3, 31.5),
        (44.883, -93.229, -20.6, 31.4),
        (44.468, -73.15, -18.1, 30.1),
        (39.833, -104.658, -14.2, 33.8),
        (33.428, -112.004, 5.7, 42.8),
    ):
        town, distance = nearest_town(latitude, longitude)
        assert distance < 5.0
        assert (town.heating_99_c, town.cooling_1_c) == (low, high)


# ASHRAE Handbook of Fundamentals 2021, chapter 14 appendix: place, coordinates, 1 % dry bulb and coincident wet bulb C.
COINCIDENT = {
    "Miami": (25.8, -80.3, 32.7, 25.4),
    "Tampa": (27.96, -82.54, 33.0, 25.0),
    "Phoenix": (33.43, -112.0, 42.5, 20.6),
    "Atlanta": (33.64, -84.4, 33.1, 23.1),
    "Sacramento": (38.51, -121.5, 36.1, 20.2),
    "St Louis": (38.75, -90.37, 34.2, 24.9),
    "Boston": (42.36, -71.01, 30.9, 22.0),
    "Chicago": (41.96, -87.9, 31.4, 22.7),
    "Denver": (39.83, -104.66, 33.5, 15.4),
    "Boise": (43.57, -116.2, 35.5, 17.2),
    "Minneapolis": (44.88, -93.23, 31.1, 22.2),
    "Duluth": (46.84, -92.2, 27.5, 19.7),
}


def test_suggested_coincident_wet_bulbs() -> None:
    """The estimate from the donor's humidity: half within 1 K, none beyond 2.5 K (our judgement for a hint)."""
    misses = []
    for latitude, longitude, dry_c, wet_c in COINCIDENT.values():
        town, _ = nearest_town(latitude, longitude)
        misses.append(abs(coincident_wet_bulb_c(embedded(choose_donor(town).slug), dry_c) - wet_c))
    assert np.median(misses) < 1.0
    assert max(misses) < 2.5


def test_daily_course() -> None:
    # Handbook of Fundamentals, chapter 14, table 6: range fractions at hours 1-24; exact.
    course = daily_course_c(33.2, 9.3)
    assert course[13] == course[14] == 33.2
    assert course[4] == pytest.approx(33.2 - 9.3)
    assert course[[0, 8, 23]] == pytest.approx([33.2 - 0.88 * 9.3, 33.2 - 0.55 * 9.3, 33.2 - 0.82 * 9.3])


def test_design_day_keeps_the_coincident_humidity() -> None:
    """Peak hour of an Atlanta day (33.2 / 23.2 C): humidity ratio by psychrolib, within 0.5 %."""
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    design = DesignConditions(-3.5, 33.2, 23.2, 9.3, "Handbook example", 33.64, -84.43, -5.0, 308.0)
    day = cooling_design_day(design, 7)
    pressure_pa = float(day.pressure_pa[14])
    expected = psychrolib.GetHumRatioFromTWetBulb(33.2, 23.2, pressure_pa)
    found = psychrolib.GetHumRatioFromTDewPoint(float(day.dew_point_c[14]), pressure_pa)
    assert found == pytest.approx(expected, rel=0.005)
    assert day.dry_bulb_c.max() == pytest.approx(33.2)


def test_embedded_letters_and_zones() -> None:
    # Zones of the stations' counties as published with the files.
    assert {slug: place.zone for slug, place in stations().items() if place.zone in ("1A", "4C", "7", "8")} == {
        "port_angeles": "4C",
        "miami": "1A",
        "sand_point": "7",
        "northway": "8",
    }
