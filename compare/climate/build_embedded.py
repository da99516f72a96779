"""Build the embedded weather years and the tables of places. Run by hand: `python -m compare.climate.build_embedded`.

Downloads the packages named in `embedded_sources.csv` (and two more for the tables) into a temporary folder with pip,
checks every weather file against its sha256, and writes compact arrays and `embedded.csv` to `compare/data/climate`.
Needs a package index; the tool itself never downloads anything.
"""

from __future__ import annotations

import csv
import hashlib
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from compare.climate.build_tables import write_towns, write_zips
from compare.climate.opening import decoded
from compare.climate.parsed import clean_series
from compare.climate.reader import parse_text
from compare.climate.series import Series
from compare.climate.year import FloatArray, Site

_TABLE_PACKAGES = {"eeweather": "0.3.30", "idfkit": "1.1.1"}
_SCALES = {
    "dry_bulb_c": 10.0,
    "dew_point_c": 10.0,
    "global_horizontal_w_m2": 1.0,
    "direct_normal_w_m2": 1.0,
    "diffuse_horizontal_w_m2": 1.0,
    "wind_m_s": 10.0,
    "pressure_pa": 0.1,
    "total_sky_tenths": 1.0,
    "opaque_sky_tenths": 1.0,
    "ceiling_m": 1.0,
}
_BYTES = {"total_sky_tenths", "opaque_sky_tenths"}
_SITE_COLUMNS = ("latitude_deg", "longitude_deg", "timezone_h", "elevation_m")
_CLIMATE_COLUMNS = ("hdd18_k_d", "cdd10_k_d", "heating_99_c", "cooling_1_c")


def download(package: str, version: str, folder: Path) -> zipfile.ZipFile:
    """One wheel, whatever Python it asks for."""
    command = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--only-binary=:all:"]
    command += ["--python-version", "3.13", "--dest", str(folder), f"{package}=={version}"]
    subprocess.run(command, check=True)  # noqa: S603  (fixed words and the committed package table)
    (wheel,) = folder.glob(f"{package}-{version}-*.whl")
    return zipfile.ZipFile(wheel)


def checked(wheel: zipfile.ZipFile, row: Mapping[str, str]) -> bytes:
    """The weather file of a row, or an error where its checksum differs."""
    data = wheel.read(row["file"])
    found = hashlib.sha256(data).hexdigest()
    if found != row["sha256"]:
        raise ValueError(f"sha256 of {row['file']}: found {found}, the table says {row['sha256']}.")
    return data


def compact(series: Series) -> dict[str, npt.NDArray[np.int16] | npt.NDArray[np.int8]]:
    """Scaled integers of every column that the source has."""
    arrays: dict[str, npt.NDArray[np.int16] | npt.NDArray[np.int8]] = {}
    for name, scale in _SCALES.items():
        values: FloatArray | None = getattr(series, name)
        if values is None:
            continue
        whole = np.rint(values * scale)
        arrays[name] = whole.astype(np.int8) if name in _BYTES else whole.astype(np.int16)
        if not np.array_equal(arrays[name], whole):
            raise ValueError(f"{name} does not fit into its integer type.")
    return arrays


def climate_row(dry_bulb_c: FloatArray) -> list[str]:
    """Degree-days (K d) and the 99 % and 1 % hours of a file, for the choice of a donor only."""
    daily = dry_bulb_c.reshape(-1, 24).mean(axis=1)
    hdd18, cdd10 = np.maximum(18.0 - daily, 0.0).sum(), np.maximum(daily - 10.0, 0.0).sum()
    low, high = np.percentile(dry_bulb_c, [1.0, 99.0])
    return [f"{hdd18:.0f}", f"{cdd10:.0f}", f"{low:.1f}", f"{high:.1f}"]


def write_licences(wheels: Mapping[str, zipfile.ZipFile], path: Path) -> None:
    """The licence text of every package, as it must accompany what was taken from it."""
    parts = []
    for package, wheel in sorted(wheels.items()):
        (name,) = [item for item in wheel.namelist() if item.endswith("/LICENSE")]
        lines = (line.rstrip() for line in decoded(wheel.read(name)).strip().splitlines())
        parts.append(f"{package}\n{'-' * len(package)}\n" + "\n".join(lines))
    path.write_text("\n\n\n".join(parts) + "\n", encoding="utf-8")


def _site_cells(site: Site) -> list[str]:
    return [f"{getattr(site, name):g}" for name in _SITE_COLUMNS]


def build(folder: Path, target: Path) -> None:
    """Download, check, convert and write everything."""
    with (target / "embedded_sources.csv").open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    wheels: dict[str, zipfile.ZipFile] = {}
    table = [["slug", "name", "kind", "zone", "moisture", "lower_48_donor", *_SITE_COLUMNS, *_CLIMATE_COLUMNS]]
    for row in rows:
        package = row["package"]
        wheels.setdefault(package, download(package, row["version"], folder))
        parsed = parse_text(decoded(checked(wheels[package], row)))
        series = clean_series(parsed)
        arrays: dict[str, Any] = dict(compact(series))
        np.savez_compressed(target / f"{row['slug']}.npz", **arrays)
        start = [row[name] for name in table[0][:6]]
        table.append([*start, *_site_cells(parsed.site), *climate_row(series.dry_bulb_c)])
    with (target / "embedded.csv").open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream, lineterminator="\n").writerows(table)
    for package, version in _TABLE_PACKAGES.items():
        wheels[package] = download(package, version, folder)
    write_zips(wheels["eeweather"], target / "zips.csv", folder)
    write_towns(wheels["idfkit"], target / "towns.csv")
    write_licences(wheels, target / "LICENSES.txt")


def main() -> None:
    """Entry point of the hand-run build."""
    with tempfile.TemporaryDirectory() as folder, resources.as_file(resources.files("compare.data.climate")) as target:
        build(Path(folder), target)


if __name__ == "__main__":
    main()
