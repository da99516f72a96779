"""The small data tables behind the house file, read once from the package's own CSV files."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

from compare.house.plan import Use
from compare.units import Kind, System, show, to_si


def _rows(name: str) -> list[dict[str, str]]:
    text = files("compare").joinpath("data", "house", name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@dataclass(frozen=True, slots=True)
class Field:
    """One number of the house file: what it measures, its range and its default, all SI."""

    name: str
    kind: Kind
    low: float
    high: float
    default: float | None
    mark: str
    """Where the default comes from."""
    sentence: str
    """What is assumed when the number is left out, in plain words."""

    def span(self, system: System) -> str:
        """The range as people write it, such as `between 6 ft and 20 ft`."""
        low, high = (_plain(end, self.kind, system) for end in (self.low, self.high))
        return f"between {low} and {high}"


def _plain(value_si: float, kind: Kind, system: System) -> str:
    """A limit with as many decimals as it needs, shares as plain numbers."""
    if kind in {Kind.SHARE, Kind.NUMBER}:
        return f"{value_si:g}"
    for decimals in range(4):
        text = show(value_si, kind, system, decimals)
        if abs(to_si(text.replace(",", ""), kind, system) - value_si) <= 1e-9 * max(1.0, abs(value_si)):
            return text
    return show(value_si, kind, system, 2)


def _si(text: str, kind: Kind, unit: str) -> float:
    worded = text if not unit or text[-1:].isalpha() else f"{text} {unit}"
    return to_si(worded, kind, System.US)


@lru_cache(maxsize=1)
def fields() -> Mapping[str, Field]:
    """Every number of the house file by name, such as `room.height`."""
    table: dict[str, Field] = {}
    for row in _rows("fields.csv"):
        kind, unit = Kind(row["kind"]), row["unit"]
        default = _si(row["default"], kind, unit) if row["default"] else None
        low, high = _si(row["low"], kind, unit), _si(row["high"], kind, unit)
        table[row["field"]] = Field(row["field"], kind, low, high, default, row["mark"], row["sentence"])
    return MappingProxyType(table)


def default_of(name: str) -> float:
    """The SI default of a field that has one."""
    value = fields()[name].default
    if value is None:
        raise LookupError(f"{name} has no default")
    return value


@dataclass(frozen=True, slots=True)
class AgePreset:
    """Constructions typical of houses built in a span of years, by field of `[fabric]`, SI."""

    age: str
    first_year: int
    last_year: int
    values: Mapping[str, float]
    leakage: str
    source: str


_PRESET_FIELDS = ("wall_u", "ceiling_u", "roof_u", "floor_u", "slab_edge", "window_u", "window_shgc", "door_u")


@lru_cache(maxsize=1)
def age_presets() -> Mapping[str, AgePreset]:
    """Age presets by their name, oldest first."""
    table: dict[str, AgePreset] = {}
    for row in _rows("age_presets.csv"):
        values = {name: _si(row[name], fields()[f"fabric.{name}"].kind, "") for name in _PRESET_FIELDS}
        first, last = int(row["first_year"]), int(row["last_year"])
        preset = AgePreset(row["age"], first, last, MappingProxyType(values), row["leakage"], row["source"])
        table[preset.age] = preset
    return MappingProxyType(table)


def preset_of_year(year: int) -> AgePreset:
    """The preset whose span of years holds `year`."""
    return next(preset for preset in age_presets().values() if preset.first_year <= year <= preset.last_year)


@dataclass(frozen=True, slots=True)
class LeakageClass:
    """A word for how leaky a house is, and the blower-door figure taken for it."""

    leakage: str
    unit_area_cm2_m2: float
    ach50_1_h: float


@lru_cache(maxsize=1)
def leakage_classes() -> Mapping[str, LeakageClass]:
    """Leakage classes by their word, tightest first."""
    return MappingProxyType(
        {
            row["leakage"]: LeakageClass(row["leakage"], float(row["unit_area_cm2_m2"]), float(row["ach50_1_h"]))
            for row in _rows("leakage_classes.csv")
        }
    )


@dataclass(frozen=True, slots=True)
class UseRow:
    """Clock hours in which a room of this use is judged, and which `[comfort]` temperature is its target."""

    hours: frozenset[int]
    target: str


@lru_cache(maxsize=1)
def uses() -> Mapping[Use, UseRow]:
    """What each use of a room implies."""
    return MappingProxyType(
        {Use(row["use"]): UseRow(clock_hours(row["hours"]), row["target"]) for row in _rows("uses.csv")}
    )


def clock_hours(text: str) -> frozenset[int]:
    """Clock hours of spans such as `09-17` or `06-08, 19-22`; a span may run past midnight (`22-07`).

    Raises
    ------
    ValueError
        When the text is not a list of spans of whole hours 00 to 24.
    """
    hours: set[int] = set()
    for span in text.split(",") if text.strip() else []:
        first, dash, last = span.strip().partition("-")
        if not dash or not all(part.isascii() and part.isdigit() and len(part) <= 2 for part in (first, last)):
            raise ValueError("write spans of whole hours, such as 09-17 or 06-08, 19-22")
        start, end = int(first), int(last)
        if start > 23 or end > 24 or start == end:
            raise ValueError("hours run from 00 to 24, and a span needs two different hours")
        hours.update(hour % 24 for hour in range(start, end if end > start else end + 24))
    return frozenset(hours)


@lru_cache(maxsize=1)
def sentences() -> Mapping[str, tuple[str, str, str]]:
    """Value, source and sentence for words and tables that a file may leave out."""
    return MappingProxyType(
        {row["field"]: (row["value"], row["mark"], row["sentence"]) for row in _rows("sentences.csv")}
    )
