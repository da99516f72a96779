"""EPW files: eight header lines, then one comma-separated row an hour.

Layout: the open EPW data dictionary. Hour h of a row means the interval from h - 1 to h, local standard time.
"""

from __future__ import annotations

import csv
import math

from compare.climate.columns import WeatherFileError
from compare.climate.parsed import GroundTemperatures, HeaderDesign, Parsed, make_site
from compare.climate.table import number_columns
from compare.climate.year import Site

_HEADER_LINES = 8
_PLACES = {
    "month": 1,
    "day": 2,
    "dry_bulb_c": 6,
    "dew_point_c": 7,
    "relative_humidity_frac": 8,
    "pressure_pa": 9,
    "infrared_w_m2": 12,
    "global_horizontal_w_m2": 13,
    "direct_normal_w_m2": 14,
    "diffuse_horizontal_w_m2": 15,
    "wind_m_s": 21,
    "total_sky_tenths": 22,
    "opaque_sky_tenths": 23,
    "ceiling_m": 25,
}


def looks_like_epw(text: str) -> bool:
    """Whether the text starts as an EPW file does."""
    return text.lstrip()[:9].upper() == "LOCATION,"


def _cells(line: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader([line]), [])]


def _header(text: str) -> dict[str, list[str]]:
    lines = text.splitlines()[:_HEADER_LINES]
    if len(lines) < _HEADER_LINES:
        raise WeatherFileError("header: fewer than 8 lines. The file is cut short: download it again.")
    try:
        rows = [_cells(line) for line in lines]
    except csv.Error as fault:
        raise WeatherFileError(f"header: it cannot be read ({fault}). Download the file again.") from fault
    return {row[0].upper(): row for row in rows if row}


def _site(row: list[str]) -> Site:
    if len(row) < 10:
        raise WeatherFileError(
            f"header, LOCATION line: {len(row)} cells, 10 are needed (city, state, country, source, station number, "
            "latitude, longitude, time zone, elevation). Repair the first line."
        )
    name = ", ".join(cell for cell in row[1:3] if cell and cell != "-")
    return make_site(name, (row[6], row[7], row[8], row[9]))


def _optional(row: list[str], place: int) -> float | None:
    try:
        value = float(row[place])
    except (ValueError, IndexError):
        return None
    return value if math.isfinite(value) and abs(value) < 100.0 else None


def design_from_line(row: list[str]) -> HeaderDesign | None:
    """Design values of the DESIGN CONDITIONS line; None where it holds none."""
    words = [cell.lower() for cell in row]
    if "heating" not in words and "cooling" not in words:
        return None
    heating = words.index("heating") if "heating" in words else len(row)
    cooling = words.index("cooling") if "cooling" in words else len(row)
    month = _optional(row, cooling + 1)
    return HeaderDesign(
        edition=row[2] if len(row) > 2 and row[2] else "source not named",
        heating_996_c=_optional(row, heating + 2),
        heating_99_c=_optional(row, heating + 3),
        hottest_month=int(month) if month is not None and 1 <= month <= 12 else None,
        daily_range_k=_optional(row, cooling + 2),
        cooling_04_c=_optional(row, cooling + 3),
        cooling_04_wet_bulb_c=_optional(row, cooling + 4),
        cooling_1_c=_optional(row, cooling + 5),
        cooling_1_wet_bulb_c=_optional(row, cooling + 6),
        cooling_2_c=_optional(row, cooling + 7),
        cooling_2_wet_bulb_c=_optional(row, cooling + 8),
    )


def _ground(row: list[str]) -> tuple[GroundTemperatures, ...]:
    """Blocks of depth, three soil values and twelve months; a block that is no set of numbers is left out."""
    blocks = []
    for start in range(2, len(row) - 15, 16):
        values = [_optional(row, place) for place in (start, *range(start + 4, start + 16))]
        numbers = [value for value in values if value is not None]
        if len(numbers) == 13:
            blocks.append(GroundTemperatures(numbers[0], tuple(numbers[1:])))
    return tuple(blocks)


def _demand_hourly(row: list[str] | None) -> None:
    if row is None or len(row) < 3:
        return
    records = _optional(row, 2)
    if records is not None and records != 1.0:
        raise WeatherFileError(
            f"header, DATA PERIODS line: {records:g} records an hour; hourly rows are needed. Export the file hourly."
        )


def parse_epw(text: str) -> Parsed:
    """Read an EPW text; raises `WeatherFileError` naming the field and the cure."""
    text = text.lstrip()
    header = _header(text)
    site = _site(header["LOCATION"])
    _demand_hourly(header.get("DATA PERIODS"))
    columns = number_columns(text, _HEADER_LINES, _PLACES)
    month, day = columns.pop("month"), columns.pop("day")
    columns["relative_humidity_frac"] = columns["relative_humidity_frac"] / 100.0
    return Parsed(
        kind="EPW",
        site=site,
        columns=columns,
        month=month,
        day=day,
        header=design_from_line(header.get("DESIGN CONDITIONS", [])),
        ground=_ground(header.get("GROUND TEMPERATURES", [])),
    )
