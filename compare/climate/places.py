"""Where a house is, in climate terms: ZIP areas, towns with their published numbers, and distances between them."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

from compare.climate.year import FloatArray, Site

_FOLDER = "compare.data.climate"
_EARTH_RADIUS_KM = 6371.0
FREE_FILES_ADDRESS = (
    "https://climate.onebuilding.org/WMO_Region_4_North_and_Central_America/USA_United_States_of_America/"
)


class PlaceError(ValueError):
    """A place that cannot be found or used; the message names the field and the cure."""


@dataclass(frozen=True, slots=True)
class ZipArea:
    """A ZIP area's middle, state, zone number and moisture letter (A humid, B dry, C marine, blank unknown)."""

    code: str
    latitude_deg: float
    longitude_deg: float
    state: str
    zone: str
    moisture: str


@dataclass(frozen=True, slots=True)
class Town:
    """A place with the four numbers that a year is adjusted to.

    Degree-days in K d (base 18 °C for heating, 10 °C for cooling), 99 % and 1 % dry bulb in °C. `moisture` is A, B, C
    or blank (Alaska and where unknown); `zone` may be blank.
    """

    site: Site
    hdd18_k_d: float
    cdd10_k_d: float
    heating_99_c: float
    cooling_1_c: float
    moisture: str
    zone: str = ""
    source: str = "typed"
    free_file: str = ""

    def __post_init__(self) -> None:
        """Ranges that any place on land meets."""
        limits = {
            "hdd18_k_d": (self.hdd18_k_d, 0.0, 15000.0),
            "cdd10_k_d": (self.cdd10_k_d, 0.0, 8000.0),
            "heating_99_c": (self.heating_99_c, -60.0, 30.0),
            "cooling_1_c": (self.cooling_1_c, 0.0, 50.0),
            "latitude_deg": (self.site.latitude_deg, -90.0, 90.0),
            "longitude_deg": (self.site.longitude_deg, -180.0, 180.0),
            "timezone_h": (self.site.timezone_h, -12.0, 14.0),
            "elevation_m": (self.site.elevation_m, -450.0, 6000.0),
        }
        for name, (value, low, high) in limits.items():
            if not low <= value <= high:
                raise PlaceError(f"town, {name}: {value:g} is outside {low:g} to {high:g}. Correct it.")
        if self.moisture not in ("A", "B", "C", ""):
            raise PlaceError(f"town, moisture: {self.moisture!r} must be A (humid), B (dry), C (marine) or blank.")
        if self.cooling_1_c <= self.heating_99_c:
            raise PlaceError("town: the 1 % cooling dry bulb must lie above the 99 % heating dry bulb.")


@cache
def _zip_text() -> str:
    return resources.files(_FOLDER).joinpath("zips.csv").read_text(encoding="utf-8")


def _area(line: str) -> ZipArea:
    code, latitude, longitude, state, zone, moisture = line.split(",")
    return ZipArea(code, float(latitude), float(longitude), state, zone, moisture)


def zip_area(code: str) -> ZipArea:
    """The area of a five-digit ZIP code (a +4 ending is ignored). Raises `PlaceError` where it is none or unknown.

    Where the table has no moisture letter (zone 7 outside Alaska), the nearest area with a letter lends it.
    """
    short = code.strip().split("-")[0]
    if len(short) != 5 or not short.isdecimal() or not short.isascii():
        raise PlaceError(f"ZIP: {code!r} is no five-digit ZIP code. Type five digits, such as 60601.")
    text = _zip_text()
    start = text.find(f"\n{short},")
    if start < 0:
        raise PlaceError(
            f"ZIP: {short} is not in the table of ZIP areas (post-box codes are not). Use the code of a neighbouring "
            "street, give a weather file, or type the town's climate numbers."
        )
    area = _area(text[start + 1 : text.find("\n", start + 1)])
    if area.moisture or area.state == "AK":
        return area
    letter = nearest_moisture(area.latitude_deg, area.longitude_deg)
    return ZipArea(area.code, area.latitude_deg, area.longitude_deg, area.state, area.zone, letter)


def distance_km(latitude_deg: float, longitude_deg: float, latitudes: FloatArray, longitudes: FloatArray) -> FloatArray:
    """Great-circle distance from one point to many."""
    lat, lats = math.radians(latitude_deg), np.radians(latitudes)
    half_lon = 0.5 * (np.radians(longitudes) - math.radians(longitude_deg))
    chord = np.sin(0.5 * (lats - lat)) ** 2 + math.cos(lat) * np.cos(lats) * np.sin(half_lon) ** 2
    return np.asarray(2.0 * _EARTH_RADIUS_KM * np.arcsin(np.sqrt(np.clip(chord, 0.0, 1.0))))


@cache
def _lettered() -> tuple[FloatArray, FloatArray, tuple[str, ...]]:
    areas = [_area(line) for line in _zip_text().splitlines()[1:]]
    areas = [area for area in areas if area.moisture]
    latitudes = np.array([area.latitude_deg for area in areas])
    longitudes = np.array([area.longitude_deg for area in areas])
    return latitudes, longitudes, tuple(area.moisture for area in areas)


def nearest_moisture(latitude_deg: float, longitude_deg: float) -> str:
    """Moisture letter of the nearest ZIP area that has one; blank if none lies within 200 km (Alaska, abroad)."""
    latitudes, longitudes, letters = _lettered()
    distances = distance_km(latitude_deg, longitude_deg, latitudes, longitudes)
    nearest = int(np.argmin(distances))
    return letters[nearest] if distances[nearest] <= 200.0 else ""


@dataclass(frozen=True, slots=True, eq=False)
class _Towns:
    """Rows of the station table as they stand in the file, and where they are: few are ever looked at."""

    columns: tuple[str, ...]
    rows: tuple[list[str], ...]
    latitudes_deg: FloatArray
    longitudes_deg: FloatArray

    def row(self, place: int) -> dict[str, str]:
        """One row by the names of its columns."""
        return dict(zip(self.columns, self.rows[place], strict=True))


@cache
def _towns() -> _Towns:
    """Land stations with a number and a recent record; 99 starts the numbers of buoys, tide gauges and the like."""
    text = resources.files(_FOLDER).joinpath("towns.csv").read_text(encoding="utf-8")
    columns, *rows = csv.reader(text.splitlines())
    number, period, latitude, longitude = (
        columns.index(name) for name in ("station_number", "period", "latitude_deg", "longitude_deg")
    )
    kept = [row for row in rows if row[number] and not row[number].startswith("99") and row[period]]
    latitudes, longitudes = (np.array([float(row[column]) for row in kept]) for column in (latitude, longitude))
    return _Towns(tuple(columns), tuple(kept), latitudes, longitudes)


def _town(row: dict[str, str], moisture: str) -> Town:
    period = row["period"] or "longest record"
    return Town(
        site=Site(
            latitude_deg=float(row["latitude_deg"]),
            longitude_deg=float(row["longitude_deg"]),
            timezone_h=float(row["timezone_h"]),
            elevation_m=float(row["elevation_m"]),
            name=f"{row['name']}, {row['state']}",
        ),
        hdd18_k_d=float(row["hdd18_k_d"]),
        cdd10_k_d=float(row["cdd10_k_d"]),
        heating_99_c=float(row["heating_99_c"]),
        cooling_1_c=float(row["cooling_1_c"]),
        moisture=moisture,
        zone=row["zone"],
        source=f"station table, degree-days {period}",
        free_file=FREE_FILES_ADDRESS + row["file"],
    )


def nearest_town(latitude_deg: float, longitude_deg: float, moisture: str | None = None) -> tuple[Town, float]:
    """The station nearest to a point and its distance in km; `moisture` None takes the nearest ZIP area's letter."""
    towns = _towns()
    distances = distance_km(latitude_deg, longitude_deg, towns.latitudes_deg, towns.longitudes_deg)
    nearest = int(np.argmin(distances))
    letter = nearest_moisture(latitude_deg, longitude_deg) if moisture is None else moisture
    return _town(towns.row(nearest), letter), float(distances[nearest])
