"""The thirteen typical years that come with the tool; origin in compare/data/climate/NOTICE.md."""

from __future__ import annotations

import csv
import difflib
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

from compare.climate.series import Label, Series, build_year
from compare.climate.year import FloatArray, Site, WeatherSource, WeatherYear

_FOLDER = "compare.data.climate"
_DIVISORS = {"dry_bulb_c": 10.0, "dew_point_c": 10.0, "wind_m_s": 10.0, "pressure_pa": 0.1}
_REQUIRED = (
    "dry_bulb_c",
    "dew_point_c",
    "global_horizontal_w_m2",
    "direct_normal_w_m2",
    "diffuse_horizontal_w_m2",
    "wind_m_s",
)
_OPTIONAL = ("pressure_pa", "total_sky_tenths", "opaque_sky_tenths", "ceiling_m")


@dataclass(frozen=True, slots=True)
class Station:
    """An embedded year's place and the climate numbers of its own hours (never design values)."""

    slug: str
    site: Site
    kind: str
    zone: str
    moisture: str
    lower_48_donor: bool
    hdd18_k_d: float
    cdd10_k_d: float
    low_99_c: float
    high_1_c: float


@cache
def stations() -> dict[str, Station]:
    """All embedded years by slug, in the order of the table."""
    text = resources.files(_FOLDER).joinpath("embedded.csv").read_text(encoding="utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        site = Site(
            latitude_deg=float(row["latitude_deg"]),
            longitude_deg=float(row["longitude_deg"]),
            timezone_h=float(row["timezone_h"]),
            elevation_m=float(row["elevation_m"]),
            name=row["name"],
        )
        found[row["slug"]] = Station(
            slug=row["slug"],
            site=site,
            kind=row["kind"],
            zone=row["zone"],
            moisture=row["moisture"],
            lower_48_donor=row["lower_48_donor"] == "yes",
            hdd18_k_d=float(row["hdd18_k_d"]),
            cdd10_k_d=float(row["cdd10_k_d"]),
            low_99_c=float(row["heating_99_c"]),
            high_1_c=float(row["cooling_1_c"]),
        )
    return found


def embedded_names() -> tuple[str, ...]:
    """Slugs that `embedded` takes."""
    return tuple(stations())


def station(name: str) -> Station:
    """The station of a slug. Raises `ValueError` that lists the nearest slug and all others."""
    found = stations().get(name)
    if found is not None:
        return found
    near = difflib.get_close_matches(name.lower(), embedded_names(), n=1, cutoff=0.4)
    hint = f" Did you mean {near[0]}?" if near else ""
    raise ValueError(f"embedded year: {name!r} is not one of {', '.join(embedded_names())}.{hint}")


@cache
def embedded_series(name: str) -> Series:
    """Hourly columns of an embedded year; shared, so treat the arrays as read-only."""
    path = resources.files(_FOLDER).joinpath(f"{station(name).slug}.npz")
    with path.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
        columns: dict[str, FloatArray] = {
            item: np.asarray(stored[item], dtype=np.float64) / _DIVISORS.get(item, 1.0)
            for item in (*_REQUIRED, *_OPTIONAL)
            if item in stored
        }
    return Series(
        dry_bulb_c=columns["dry_bulb_c"],
        dew_point_c=columns["dew_point_c"],
        global_horizontal_w_m2=columns["global_horizontal_w_m2"],
        direct_normal_w_m2=columns["direct_normal_w_m2"],
        diffuse_horizontal_w_m2=columns["diffuse_horizontal_w_m2"],
        wind_m_s=columns["wind_m_s"],
        pressure_pa=columns.get("pressure_pa"),
        total_sky_tenths=columns.get("total_sky_tenths"),
        opaque_sky_tenths=columns.get("opaque_sky_tenths"),
        ceiling_m=columns.get("ceiling_m"),
    )


@cache
def embedded(name: str) -> WeatherYear:
    """A real typical year by slug, humidity included. Raises `ValueError` for an unknown slug."""
    place = station(name)
    label = Label(
        source=WeatherSource.EMBEDDED,
        provenance=f"Typical year of {place.site.name} ({place.kind}, NREL/DOE), which comes with the tool.",
    )
    return build_year(place.site, embedded_series(name), label)
