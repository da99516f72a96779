"""The weather of a house: the user's own file, an embedded year by name, or an adjusted one.

Readers of files and the way to an adjusted year are imported where one is asked for: most houses take an embedded year.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from compare.climate.design import suggested_design
from compare.climate.embedded import embedded, stations
from compare.climate.places import PlaceError, Town, distance_km, nearest_town, zip_area
from compare.climate.year import DesignConditions, WeatherYear

if TYPE_CHECKING:
    from compare.climate.reader import WeatherFile

_NEAR_STATION_KM = 20.0
_FAR_TOWN_KM = 70.0


@dataclass(frozen=True, slots=True)
class PlaceRequest:
    """What the user gave; exactly one of the four is needed, and the first that is there decides."""

    file: str | Path | bytes | None = None
    embedded: str = ""
    zip_code: str = ""
    town: Town | None = None
    file_name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class PlaceWeather:
    """Year, design conditions and where they come from.

    `design` is None where nothing is known (a file without design values): the designer then types them.
    `design_is_suggested` is True for values of the station table. `nudge` says which free file would be better, blank
    where the user's own is in use.
    """

    year: WeatherYear
    design: DesignConditions | None
    design_is_suggested: bool = False
    nudge: str = ""
    file: WeatherFile | None = None


def for_place(request: PlaceRequest) -> PlaceWeather:
    """Choose and build the weather of a place.

    A ZIP area within 20 km of an embedded station gets that real year (our judgement), any other an adjusted one.
    Raises `WeatherFileError`, `PlaceError`, `AdjustmentRefusedError` or `ValueError`, each naming the cure.
    """
    if request.file is not None:
        return _from_file(request.file, request.file_name)
    if request.embedded:
        return _from_embedded(request.embedded)
    if request.zip_code:
        return _from_zip(request.zip_code)
    if request.town is not None:
        return _from_town(request.town, 0.0)
    raise PlaceError("weather: give a weather file, an embedded year, a ZIP code or the town's climate numbers.")


def _from_file(source: str | Path | bytes, name: str) -> PlaceWeather:
    from compare.climate.reader import load_weather

    found = load_weather(source, name)
    return PlaceWeather(found.year, found.design, file=found)


def _nudge(town: Town, distance: float) -> str:
    if not town.free_file:
        return "For local accuracy load a free typical-year EPW of the place."
    return f"For local accuracy load the free EPW for {town.site.name}, {distance:.0f} km away: {town.free_file}"


def _from_embedded(slug: str, point_deg: tuple[float, float] | None = None) -> PlaceWeather:
    """Embedded year, with design values of the station nearest to the house (else to the year's own place)."""
    year = embedded(slug)
    latitude_deg, longitude_deg = point_deg or (year.site.latitude_deg, year.site.longitude_deg)
    town, distance = nearest_town(latitude_deg, longitude_deg, stations()[slug].moisture)
    design = suggested_design(town, year)
    return PlaceWeather(year, design, nudge=_nudge(town, distance), design_is_suggested=True)


def _from_town(town: Town, distance: float) -> PlaceWeather:
    from compare.climate.adjust import adjusted_year

    found = adjusted_year(town)
    design = suggested_design(town, embedded(found.donor.slug))
    return PlaceWeather(found.year, design, nudge=_nudge(town, distance), design_is_suggested=True)


def _from_zip(code: str) -> PlaceWeather:
    area = zip_area(code)
    slugs = list(stations())
    latitudes = np.array([stations()[slug].site.latitude_deg for slug in slugs])
    longitudes = np.array([stations()[slug].site.longitude_deg for slug in slugs])
    apart = distance_km(area.latitude_deg, area.longitude_deg, latitudes, longitudes)
    if apart.min() <= _NEAR_STATION_KM:
        return _from_embedded(slugs[int(np.argmin(apart))], (area.latitude_deg, area.longitude_deg))
    town, distance = nearest_town(area.latitude_deg, area.longitude_deg, area.moisture)
    if area.zone + area.moisture == "3C":
        town = replace(town, zone="3C")
    if distance > _FAR_TOWN_KM:
        raise PlaceError(
            f"ZIP {area.code}: the nearest station with climate numbers, {town.site.name}, is {distance:.0f} km away. "
            "Give a weather file or type the town's numbers."
        )
    return _from_town(town, distance)
