"""Columns of every table of a unit catalogue: names, quantities and the range of each number in SI."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import resources
from typing import Final

from compare.equipment.rules import DATA_PACKAGE
from compare.equipment.table import Column

_POINTS: Final = (
    "c95_min", "c95_rated", "c95_max", "h47_min", "h47_rated", "h47_max",
    "h17_min", "h17_max", "h5_min", "h5_max", "hm5_min", "hm5_max",
)  # fmt: skip
SPEEDS: Final = ("quiet", "low", "medium", "high")
BANDS_HZ: Final = (63, 125, 250, 500, 1000, 2000, 4000, 8000)
"""Octave-band centre frequencies of the sound tables."""

_KIND = (Column("type", "text"),)
_SIZE = (Column("size", "size", 1.0, 120.0),)
_END = (Column("source", "text"), Column("model", "text", optional=True))
_CAPACITY = tuple(Column(name, "capacity", 50.0, 60_000.0) for name in _POINTS)
_COP = tuple(Column(f"cop_{name}", "ratio", 1.0, 15.0) for name in _POINTS)
_CUTOFF = (Column("cutoff", "temperature", -50.0, 5.0),)
_CABINET = tuple(Column(f"cab_{name}", "length", 0.05, 3.0) for name in ("w", "h", "d"))
_OUTDOOR = (
    Column("lw", "level", 20.0, 100.0),
    Column("circuit", "current", 5.0, 100.0),
    Column("volts", "text"),
    Column("charge", "mass", 0.05, 20.0),
    *_CABINET,
    Column("lift_max", "length", 1.0, 200.0),
)

TABLES: Final[Mapping[str, tuple[Column, ...]]] = {
    "capacity.csv": (*_KIND, *_SIZE, *_CAPACITY, *_CUTOFF, *_END),
    "cop.csv": (*_KIND, *_SIZE, *_COP, *_END),
    "indoor.csv": (
        *_KIND, *_SIZE,
        *(Column(f"air_{speed}", "flow", 0.005, 3.0) for speed in SPEEDS),
        *(Column(f"lw_{speed}", "level", 10.0, 100.0) for speed in SPEEDS),
        Column("fan_specific", "fan", 0.0, 3000.0), Column("esp", "static", 0.0, 500.0), *_CABINET, *_END,
    ),
    "outdoor_single.csv": (*_SIZE, *_OUTDOOR, Column("line_max", "length", 1.0, 300.0), *_END),
    "outdoor_shared.csv": (
        *_SIZE, Column("ports", "ratio", 2.0, 12.0), Column("conn_min", "size", 0.0, 300.0),
        Column("conn_max", "size", 1.0, 300.0), *_CAPACITY, *_CUTOFF, *_OUTDOOR,
        Column("line_total", "length", 1.0, 500.0), Column("line_branch", "length", 1.0, 300.0), *_END,
    ),
    "cop_shared.csv": (*_SIZE, *_COP, *_END),
    "spectra.csv": (
        Column("shape", "text"), Column("speed", "text"),
        *(Column(f"b{band}", "level", -60.0, 40.0) for band in BANDS_HZ), Column("source", "text"),
    ),
}  # fmt: skip
"""File name -> columns of every table of a catalogue."""


def bundled(name: str) -> str:
    """Text of a bundled table."""
    return resources.files(DATA_PACKAGE).joinpath(name).read_text(encoding="utf-8")
