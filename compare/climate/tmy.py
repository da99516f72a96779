"""TMY3 comma-separated files and TMY2 fixed-width files.

Layouts: TMY3 manual NREL/TP-581-43156 and TMY2 manual NREL/SP-463-7668. Hour h of a row means the interval from h - 1
to h, local standard time, as in EPW.
"""

from __future__ import annotations

import csv
import re

import numpy as np

from compare.climate.columns import WeatherFileError
from compare.climate.parsed import Parsed, make_site
from compare.climate.table import number_columns
from compare.climate.year import FloatArray

_TMY3_NAMES = {
    "global_horizontal_w_m2": "GHI (W/m^2)",
    "direct_normal_w_m2": "DNI (W/m^2)",
    "diffuse_horizontal_w_m2": "DHI (W/m^2)",
    "total_sky_tenths": "TotCld (tenths)",
    "opaque_sky_tenths": "OpqCld (tenths)",
    "dry_bulb_c": "Dry-bulb (C)",
    "dew_point_c": "Dew-point (C)",
    "relative_humidity_frac": "RHum (%)",
    "pressure_pa": "Pressure (mbar)",
    "wind_m_s": "Wspd (m/s)",
    "ceiling_m": "CeilHgt (m)",
}
_OPTIONAL = {"total_sky_tenths", "opaque_sky_tenths", "relative_humidity_frac", "pressure_pa", "ceiling_m"}
_TMY3_SCALE = {"relative_humidity_frac": 0.01, "pressure_pa": 100.0}

_TMY2_PLACES = {
    "month": (4, 5, 1.0),
    "day": (6, 7, 1.0),
    "global_horizontal_w_m2": (18, 21, 1.0),
    "direct_normal_w_m2": (24, 27, 1.0),
    "diffuse_horizontal_w_m2": (30, 33, 1.0),
    "total_sky_tenths": (60, 61, 1.0),
    "opaque_sky_tenths": (64, 65, 1.0),
    "dry_bulb_c": (68, 71, 0.1),
    "dew_point_c": (74, 77, 0.1),
    "relative_humidity_frac": (80, 82, 0.01),
    "pressure_pa": (85, 88, 100.0),
    "wind_m_s": (96, 98, 0.1),
    "ceiling_m": (107, 111, 1.0),
}
"""First and last character of each field, counted from 1, and the factor to SI."""

_TMY2_HEADER = re.compile(
    r"^\s*(\d{5})\s+(.{22})\s(\w\w)\s+(-?\d+)\s+([NS])\s*(\d+)\s+(\d+)\s+([EW])\s*(\d+)\s+(\d+)\s+(-?\d+)\s*$"
)


def looks_like_tmy3(text: str) -> bool:
    """Whether the second line is the title row of a TMY3 file."""
    lines = text.splitlines()[:2]
    return len(lines) == 2 and lines[1].lstrip().lower().startswith("date (mm/dd/yyyy)")


def looks_like_tmy2(text: str) -> bool:
    """Whether the first line is the header of a TMY2 file."""
    return bool(_TMY2_HEADER.match(text.split("\n", 1)[0].rstrip("\r")))


def _scaled(values: FloatArray, factor: float) -> FloatArray:
    """Codes below -900 stay codes."""
    return np.asarray(np.where(values <= -900.0, values, np.round(values * factor, 6)))


def _titles(line: str) -> dict[str, int]:
    cells = [" ".join(cell.split()) for cell in next(csv.reader([line]))]
    places = {cell: place for place, cell in enumerate(cells)}
    absent = [title for name, title in _TMY3_NAMES.items() if name not in _OPTIONAL and title not in places]
    if absent:
        raise WeatherFileError(f"title row: column {', '.join(absent)} is not there. Use a complete TMY3 file.")
    return {name: places[title] for name, title in _TMY3_NAMES.items() if title in places}


def _tmy3_dates(text: str) -> tuple[FloatArray, FloatArray]:
    dates = [line.split("/", 2)[:2] for line in text.splitlines()[2:] if line.strip()]
    try:
        numbers = np.array([[float(month), float(day)] for month, day in dates])
    except ValueError:
        raise WeatherFileError("date column: a row does not start with MM/DD/YYYY. Repair that row.") from None
    return (numbers[:, 0], numbers[:, 1]) if numbers.size else (np.empty(0), np.empty(0))


def parse_tmy3(text: str) -> Parsed:
    """Read a TMY3 comma-separated text; raises `WeatherFileError` naming the field and the cure."""
    first, second = text.splitlines()[:2]
    try:
        station = [cell.strip() for cell in next(csv.reader([first]))]
        wanted = _titles(second)
    except (csv.Error, StopIteration) as fault:
        raise WeatherFileError(f"header: it cannot be read ({fault}). Download the file again.") from fault
    if len(station) < 7:
        raise WeatherFileError(
            "header, first line: station number, name, state, time zone, latitude, longitude and elevation are needed. "
            "Repair the first line."
        )
    site = make_site(f"{station[1]}, {station[2]}", (station[4], station[5], station[3], station[6]))
    columns = number_columns(text, 2, wanted)
    month, day = _tmy3_dates(text)
    for name, factor in _TMY3_SCALE.items():
        if name in columns:
            columns[name] = _scaled(columns[name], factor)
    return Parsed(kind="TMY3", site=site, columns=columns, month=month, day=day)


def _tmy2_columns(lines: list[str]) -> dict[str, FloatArray]:
    columns = {}
    for name, (first, last, factor) in _TMY2_PLACES.items():
        try:
            values = np.array([float(line[first - 1 : last]) for line in lines])
        except ValueError:
            words = name.replace("_", " ")
            raise WeatherFileError(
                f"column {words}: characters {first} to {last} of a row are no number. Download the file again."
            ) from None
        columns[name] = np.round(values * factor, 6)
    return columns


def parse_tmy2(text: str) -> Parsed:
    """Read a TMY2 fixed-width text; raises `WeatherFileError` naming the field and the cure."""
    lines = [line for line in text.splitlines() if line.strip()]
    match = _TMY2_HEADER.match(lines[0])
    if match is None:
        raise WeatherFileError("header, first line: it is no TMY2 station line. Use another file.")
    _, city, state, zone, north, lat_deg, lat_min, east, lon_deg, lon_min, elevation = match.groups()
    latitude = (int(lat_deg) + int(lat_min) / 60.0) * (1 if north == "N" else -1)
    longitude = (int(lon_deg) + int(lon_min) / 60.0) * (1 if east == "E" else -1)
    place = (f"{latitude:.3f}", f"{longitude:.3f}", zone, elevation)
    columns = _tmy2_columns(lines[1:])
    month, day = columns.pop("month"), columns.pop("day")
    return Parsed(kind="TMY2", site=make_site(f"{city.strip()}, {state}", place), columns=columns, month=month, day=day)
