"""The two tables of places, from open packages: ZIP areas with their zone, and stations with their climate numbers."""

from __future__ import annotations

import csv
import gzip
import json
import sqlite3
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

_STATES_FOLDER = "USA_United_States_of_America/"
_LEFT_OUT = frozenset({"745985"})
"""Stations whose name is a trade mark too."""
_TOWN_COLUMNS = (
    "name",
    "state",
    "station_number",
    "latitude_deg",
    "longitude_deg",
    "timezone_h",
    "elevation_m",
    "zone",
    "heating_99_c",
    "cooling_1_c",
    "hdd18_k_d",
    "cdd10_k_d",
    "period",
    "file",
)


def _write(path: Path, title: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(title)
        writer.writerows(rows)


def write_zips(wheel: zipfile.ZipFile, path: Path, folder: Path) -> None:
    """ZIP area, place, state, zone number and moisture letter (blank where the source has none)."""
    database = folder / "places.db"
    database.write_bytes(wheel.read("eeweather/resources/metadata.db"))
    query = (
        "select zcta_id, latitude, longitude, coalesce(state, ''), coalesce(iecc_climate_zone, ''), "
        "coalesce(iecc_moisture_regime, '') from zcta_metadata order by zcta_id"
    )
    connection = sqlite3.connect(database)
    try:
        found = connection.execute(query).fetchall()
    finally:
        connection.close()
    rows = [(code, f"{float(lat):.3f}", f"{float(lon):.3f}", *rest) for code, lat, lon, *rest in found]
    _write(path, ("zip", "latitude_deg", "longitude_deg", "state", "zone", "moisture"), rows)


def _period(url: str) -> str:
    """Years of record in the file's name; blank where it names none (the longest record)."""
    tail = url.rsplit("_TMYx", 1)[-1].removesuffix(".zip")
    return tail.lstrip(".")


def _zone(label: str) -> str:
    """Zone code; zones 7 and 8 carry no moisture letter."""
    code = label.split(" ", 1)[0]
    return code[:1] if code[:1] in "78" else code


def _town(record: dict[str, Any]) -> tuple[object, ...]:
    name = str(record["city"]).replace(".", " ").strip()
    zone = _zone(str(record["ashrae_climate_zone"]))
    place = (f"{record['latitude']:.3f}", f"{record['longitude']:.3f}", f"{record['timezone']:g}")
    height = f"{record['elevation']:.0f}"
    design = (record["heating_design_db_c"], record["cooling_design_db_c"], record["hdd18"], record["cdd10"])
    url = str(record["url"])
    file = url.split(_STATES_FOLDER, 1)[-1]
    return (name, record["state"], record["wmo"], *place, height, zone, *design, _period(url), file)


def write_towns(wheel: zipfile.ZipFile, path: Path) -> None:
    """One row a US station: the most recent period of record of each (several share an empty station number).

    Stations in `_LEFT_OUT` are not written.
    """
    stations = json.loads(gzip.decompress(wheel.read("idfkit/weather/data/stations.json.gz")))["stations"]
    latest: dict[tuple[str, str, str], dict[str, Any]] = {}
    for record in stations:
        if record["country"] != "USA" or _STATES_FOLDER not in record["url"] or record["wmo"] in _LEFT_OUT:
            continue
        key = (record["state"], record["city"], record["wmo"])
        if key not in latest or _period(record["url"]) > _period(latest[key]["url"]):
            latest[key] = record
    _write(path, _TOWN_COLUMNS, [_town(latest[key]) for key in sorted(latest)])
