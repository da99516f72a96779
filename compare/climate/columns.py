"""Limits and codes of hourly weather columns, and how gaps in them are closed.

Missing-value codes and ranges: the EPW data dictionary of the open weather-file format, the TMY3 manual
(NREL/TP-581-43156) and the TMY2 manual (NREL/SP-463-7668). Ranges of radiation and wind are ours, wide enough for any
place on land.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.climate.sky import CEILING_MISSING, NO_CEILING, THIN_HIGH
from compare.climate.year import HOURS, FloatArray

BoolArray = npt.NDArray[np.bool_]

MAX_GAP_H = 3


class WeatherFileError(ValueError):
    """A weather file that cannot be used; the message names the field and the cure."""


@dataclass(frozen=True, slots=True)
class Column:
    """One quantity: its words, its range in SI and the value from which on it counts as missing."""

    words: str
    low: float
    high: float
    missing_from: float


# Thresholds lie below the codes of all three formats once in SI: pressure 999999 Pa or 9999 mbar, wind 999 or 99.9 m/s.
COLUMNS = {
    "dry_bulb_c": Column("dry bulb (°C)", -75.0, 60.0, 99.9),
    "dew_point_c": Column("dew point (°C)", -95.0, 45.0, 99.9),
    "relative_humidity_frac": Column("relative humidity", 0.0, 1.1, 9.99),
    "pressure_pa": Column("station pressure (Pa)", 45000.0, 110000.0, 500000.0),
    "infrared_w_m2": Column("horizontal infrared (W/m2)", 20.0, 700.0, 9999.0),
    "global_horizontal_w_m2": Column("global horizontal sun (W/m2)", 0.0, 1500.0, 9999.0),
    "direct_normal_w_m2": Column("direct normal sun (W/m2)", 0.0, 1400.0, 9999.0),
    "diffuse_horizontal_w_m2": Column("diffuse horizontal sun (W/m2)", 0.0, 1000.0, 9999.0),
    "wind_m_s": Column("wind speed (m/s)", 0.0, 80.0, 99.0),
    "total_sky_tenths": Column("total sky cover (tenths)", 0.0, 10.0, 99.0),
    "opaque_sky_tenths": Column("opaque sky cover (tenths)", 0.0, 10.0, 99.0),
}
_LOWEST_CODE = -900.0
_CEILING_CODES = {77777: NO_CEILING, 88888: THIN_HIGH, 99999: CEILING_MISSING}
_HIGHEST_CEILING_M = 32000.0


def blank_codes(name: str, values: FloatArray) -> FloatArray:
    """Missing-value codes (too high, or -990 and the like of TMY3 files) as NaN."""
    column = COLUMNS[name]
    gone = ~np.isfinite(values) | (values >= column.missing_from) | (values <= _LOWEST_CODE)
    return np.asarray(np.where(gone, np.nan, values))


def ceiling_with_codes(values: FloatArray) -> FloatArray | None:
    """Ceiling in m with our codes; None where the file has no ceiling at all."""
    rounded = np.where(np.isfinite(values), np.rint(values), 99999)
    result = np.where((rounded < 0) | (rounded >= _HIGHEST_CEILING_M), CEILING_MISSING, rounded)
    for code, ours in _CEILING_CODES.items():
        result = np.where(rounded == code, ours, result)
    if np.all(result == CEILING_MISSING):
        return None
    return np.asarray(result, dtype=np.float64)


def longest_gap(missing: BoolArray) -> tuple[int, int]:
    """Length and first hour of the longest run of True; (0, 0) if there is none."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], missing.astype(np.int8), [0]))))
    if edges.size == 0:
        return 0, 0
    lengths = edges[1::2] - edges[0::2]
    worst = int(np.argmax(lengths))
    return int(lengths[worst]), int(edges[2 * worst])


def when(hour: int) -> str:
    """Month, day and hour of an entry of the year, for messages."""
    moment = np.datetime64("2001-01-01T00", "h") + np.timedelta64(int(hour), "h")
    text = str(moment)
    return f"month {int(text[5:7])}, day {int(text[8:10])}, hour {int(text[11:13]) + 1}"


def _fill(values: FloatArray, missing: BoolArray) -> FloatArray:
    hours = np.arange(values.size)
    return np.interp(hours, hours[~missing], values[~missing])


def cleaned_optional(name: str, values: FloatArray) -> FloatArray | None:
    """As `cleaned`, but None where the column has a gap too long to bridge."""
    gap_h, _ = longest_gap(np.isnan(blank_codes(name, values)))
    return None if gap_h > MAX_GAP_H else cleaned(name, values)


def cleaned(name: str, values: FloatArray) -> FloatArray:
    """The column without gaps and inside its range.

    Gaps of three hours or less are closed by straight lines. Raises `WeatherFileError` for a longer gap and for a
    value outside the range.
    """
    column = COLUMNS[name]
    values = blank_codes(name, values)
    missing = np.isnan(values)
    gap_h, start = longest_gap(missing)
    if gap_h > MAX_GAP_H:
        raise WeatherFileError(
            f"{column.words}: {gap_h} hours in a row are missing from {when(start)} on; at most {MAX_GAP_H} can be "
            "bridged. Fill the gap or use another file of the same place."
        )
    if gap_h:
        values = _fill(values, missing)
    outside = (values < column.low) | (values > column.high)
    if outside.any():
        first = int(np.argmax(outside))
        raise WeatherFileError(
            f"{column.words}: {values[first]:g} at {when(first)} is outside {column.low:g} to {column.high:g} "
            f"({int(outside.sum())} hours in all). Check the units and the column order of the file."
        )
    return values


def demand_year(rows: int) -> None:
    """Exactly 8760 rows, with words for the usual other counts."""
    if rows == HOURS:
        return
    if rows > 0 and rows % HOURS == 0:
        raise WeatherFileError(
            f"data rows: {rows} found, which is {rows // HOURS} records an hour or years; one typical year of hourly "
            "rows (8760) is needed. Export the file again as hourly data of one year."
        )
    raise WeatherFileError(
        f"data rows: {rows} found, 8760 are needed (8784 with 29 February also work). The file is cut short or has "
        "extra lines: download it again."
    )


def drop_leap_day(month: FloatArray, day: FloatArray) -> BoolArray:
    """True for the rows to keep: all but 29 February of a year of 8784 rows."""
    if month.size != HOURS + 24:
        return np.ones(month.size, dtype=bool)
    return np.asarray(~((month == 2) & (day == 29)))


def demand_calendar(month: FloatArray, day: FloatArray) -> None:
    """Rows run from 1 January to 31 December, hour by hour."""
    stamps = np.datetime64("2001-01-01T00", "h") + np.arange(HOURS).astype("timedelta64[h]")
    months = stamps.astype("datetime64[M]").astype(int) % 12 + 1
    days = (stamps.astype("datetime64[D]") - stamps.astype("datetime64[M]").astype("datetime64[D]")).astype(int) + 1
    wrong = (months != month) | (days != day)
    if wrong.any():
        first = int(np.argmax(wrong))
        raise WeatherFileError(
            f"date columns: row {first + 1} is dated month {month[first]:g} day {day[first]:g} where {when(first)} is "
            "due. The rows must run from 1 January, hour 1, to 31 December, hour 24; sort the file or use another."
        )
