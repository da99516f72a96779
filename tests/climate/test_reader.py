"""The reader on sound, packed, foreign and faulty files. The faults are those that trip general-purpose readers."""

from __future__ import annotations

import gzip
import io
import zipfile
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compare.climate.moist import dew_point_from_humidity_c, standard_pressure_pa
from compare.climate.reader import WeatherFileError, load_weather
from compare.climate.year import HOURS, WeatherSource
from tests.climate.faulty import Cells, header, lines, over, row, spoiled, stamps

SOUND = "\n".join(lines()).encode()


def _zip(files: dict[str, bytes]) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return buffer.getvalue()


def test_sound_file() -> None:
    found = load_weather(SOUND, "mine.epw")
    assert found.kind == "EPW"
    assert found.year.source is WeatherSource.USER_FILE
    assert "Local weather" in found.year.provenance
    assert "mine.epw" in found.year.provenance
    assert found.year.latent_ok
    assert found.year.hours == HOURS
    assert found.year.absent == ()
    assert found.design is not None
    assert (found.design.heating_99_c, found.design.cooling_1_c) == (-17.5, 31.9)
    assert (found.design.cooling_wet_bulb_c, found.design.daily_range_k) == (23.3, 10.6)
    assert found.ground[0].monthly_c == tuple(range(1, 13))
    assert found.year.ceiling_m is not None
    assert (found.year.ceiling_m == -1.0).all()


@pytest.mark.parametrize(
    "data",
    [
        gzip.compress(SOUND),
        _zip({"USA_x.epw": SOUND, "USA_x.stat": b"x", "USA_x.ddy": b"y"}),
        b"\xef\xbb\xbf" + SOUND,
        b"\n\n" + SOUND.replace(b"\n", b"\r\n"),
        bytearray(SOUND),
    ],
    ids=["gzip", "zip", "byte-order mark", "blank lines and CRLF", "bytearray"],
)
def test_wrappings_give_the_same_year(data: bytes) -> None:
    assert load_weather(data).year.key == load_weather(SOUND).year.key


def test_path_and_name(tmp_path: Path) -> None:
    path = tmp_path / "town.epw"
    path.write_bytes(SOUND)
    assert "town.epw" in load_weather(path).year.provenance
    assert load_weather(str(path)).sha256 == load_weather(SOUND).sha256


def test_latin_1_city() -> None:
    data = SOUND.replace(b"Testville", "Cañon City".encode("latin-1"))
    assert load_weather(data).year.site.name == "Cañon City, IL"


def test_leap_year_loses_29_february() -> None:
    leap = "\n".join(lines(leap=True)).encode()
    np.testing.assert_array_equal(load_weather(leap).year.dry_bulb_c, load_weather(SOUND).year.dry_bulb_c)


def test_short_gap_is_bridged() -> None:
    gap: dict[int, Cells] = {hour: {"db": 99.9, "wind": 999} for hour in (100, 101, 102)}
    found, sound = load_weather(spoiled(gap)).year, load_weather(SOUND).year
    ends = sound.dry_bulb_c[[99, 103]]
    assert found.dry_bulb_c[100:103] == pytest.approx(np.linspace(ends[0], ends[1], 5)[1:4])
    assert found.wind_m_s.max() < 5.0
    assert [note.split(":")[0] for note in found.notes] == ["dry bulb (°C)", "wind speed (m/s)"]
    assert sound.notes == ()


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ({"db": 99.9}, "dry bulb"),
        ({"ghi": 9999}, "global horizontal sun"),
        ({"dni": 9999}, "direct normal"),
        ({"dhi": ""}, "diffuse horizontal"),
        ({"wind": 999}, "wind speed"),
        ({"dp": 99.9, "rh": 999}, "dew point"),
    ],
)
def test_long_gap_is_refused(cells: Cells, words: str) -> None:
    with pytest.raises(WeatherFileError, match=rf"{words}.*4 hours in a row are missing from month 1, day 5, hour 5"):
        load_weather(spoiled(over(range(100, 104), cells)))


def test_dew_point_from_humidity_where_only_that_is_there() -> None:
    gap = over(range(100, 120), {"dp": 99.9, "rh": 50})
    year = load_weather(spoiled(gap)).year
    expected = dew_point_from_humidity_c(year.dry_bulb_c[100:120], 0.5)
    np.testing.assert_allclose(year.dew_point_c[100:120], expected)


def test_optional_columns_may_be_absent() -> None:
    blank: Cells = {"pressure": 999999, "total": 99, "opaque": 99, "ceiling": 99999}
    year = load_weather(spoiled(over(range(HOURS), blank))).year
    assert year.absent == ("pressure", "total sky cover", "opaque sky cover", "ceiling")
    assert year.pressure_pa[0] == standard_pressure_pa(201.0)
    assert any("infrared" in note for note in year.notes)
    # 300 W/m2 of black-body sky: (300 / 5.6697e-8)^(1/4) - 273.15 = -3.5 C
    assert year.sky_c == pytest.approx((300.0 / 5.6697e-8) ** 0.25 - 273.15)


def test_no_cloud_and_no_infrared_falls_back_on_the_sun() -> None:
    blank: Cells = {"total": 99, "opaque": 99, "ceiling": 99999, "ir": 9999}
    year = load_weather(spoiled(over(range(HOURS), blank))).year
    assert any("estimated from the sun" in note for note in year.notes)
    assert np.all(year.sky_c < year.dry_bulb_c)
    assert np.all(year.sky_c > year.dry_bulb_c - 40.0)


def test_constant_pressure_is_a_filler() -> None:
    year = load_weather(spoiled(over(range(HOURS), {"pressure": 101200}))).year
    assert "pressure" in year.absent


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "file format"),
        (b"\x00\x01\x02", "file format"),
        (b"hello, world\n1,2,3\n", "file format"),
        (b"LOCATION,x\n", "header: fewer than 8"),
        ("\n".join(lines()[:5000]).encode(), "8760 are needed"),
        ("\n".join([*lines(), row(12, 31, 24)]).encode(), "8760 are needed"),
        ("\n".join(header()).encode(), "data rows"),
        ("\n".join(header() + [row(*stamp) for stamp in stamps() for _ in range(2)]).encode(), "2 records an hour"),
        ("\n".join(lines()[:8] + lines()[32:] + lines()[8:32]).encode(), "date columns"),
        (spoiled({5: {"db": "abc"}}), r"column dry bulb c: row 6 holds 'abc'"),
        (spoiled({5: {"db": 75.0}}), r"dry bulb \(°C\): 75 at month 1, day 1, hour 6 is outside"),
        (spoiled({5: {"pressure": 1012}}), "station pressure"),
        (spoiled({5: {"total": 12}}), "total sky cover"),
        (spoiled(over(range(HOURS), {"ghi": 0})), "zero all year"),
        (SOUND.replace(b"-87.92,-6.0", b"87.92,-6.0"), "do not belong together"),
        (SOUND.replace(b"41.98", b"north"), "header, latitude"),
        (SOUND.replace(b"41.98", b"141.98"), "header, latitude"),
        (SOUND.replace(b"-6.0,201.0", b"-6.0,99999"), "header, elevation"),
        (SOUND.replace(b"PERIODS,1,1,Data", b"PERIODS,1,4,Data"), "4 records an hour"),
        (SOUND.replace(b",999999,41.98,-87.92,-6.0,201.0", b""), "LOCATION line"),
        (gzip.compress(SOUND)[:-2000], "cannot be unpacked"),
        (_zip({"a.epw": SOUND, "b.epw": SOUND}), "exactly one weather file"),
        (_zip({"a.txt": b"x"}), "found none"),
        (b"PK\x03\x04 broken", "cannot be unpacked"),
    ],
)
def test_faulty_files(data: bytes, words: str) -> None:
    with pytest.raises(WeatherFileError, match=words):
        load_weather(data)


def test_sun_at_night_is_refused() -> None:
    """A file in universal time: the sun of 18:00 UTC stands in a row that local time calls 18:00."""
    rows = [row(*stamp) for stamp in stamps()]
    cells = [line.split(",") for line in rows]
    for place, line in enumerate(cells):
        source = rows[(place - 6) % HOURS].split(",")
        line[13:16] = source[13:16]
    data = "\n".join(header() + [",".join(line) for line in cells]).encode()
    with pytest.raises(WeatherFileError, match="below the horizon"):
        load_weather(data)


def test_missing_file_and_folder(tmp_path: Path) -> None:
    for path in (tmp_path / "none.epw", tmp_path):
        with pytest.raises(WeatherFileError, match="is no file"):
            load_weather(path)


def test_header_without_design_values() -> None:
    found = load_weather(SOUND.replace(b"\n" + lines()[1].encode(), b"\nDESIGN CONDITIONS,0"))
    assert found.header is None
    assert found.design is None


def _refused_or_whole(data: bytes) -> bool:
    """Whether the reader ends in its own error or in a full year of finite hours; any other error passes through."""
    try:
        year = load_weather(data).year
    except WeatherFileError as error:
        return bool(str(error))
    return year.hours == HOURS and all(
        np.isfinite(values).all() for values in (year.dry_bulb_c, year.dew_point_c, year.sky_c, year.wind_m_s)
    )


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cut=st.integers(0, len(SOUND)), start=st.integers(0, 3000))
def test_any_piece_is_refused_or_whole(cut: int, start: int) -> None:
    """However a file is cut short, the reader refuses it with its own error or reads a full year."""
    assert _refused_or_whole(SOUND[start:cut])


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    hour=st.integers(0, HOURS - 1),
    length=st.integers(1, 6),
    name=st.sampled_from(["db", "dp", "ghi", "dni", "dhi", "wind", "pressure", "total", "ceiling"]),
    cell=st.sampled_from(["", "nan", "inf", "-inf", "99.9", "9999", "-9900", "1e999", "-1", "x", "1;2", "99999"]),
)
def test_any_bad_cell_is_refused_or_repaired(hour: int, length: int, name: str, cell: str) -> None:
    bad: dict[int, Cells] = {place: {name: cell} for place in range(hour, min(hour + length, HOURS))}
    assert _refused_or_whole(spoiled(bad))


@settings(max_examples=50, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes_are_refused(data: bytes) -> None:
    with pytest.raises(WeatherFileError):
        load_weather(data)
