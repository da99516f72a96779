"""Read the small tables of films, glass, ground and layers, each number with its unit and source beside it."""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields
from functools import cache
from importlib.resources import files


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """All rows of one table in `compare/data/fabric` (header names as keys)."""
    text = (files("compare.data") / "fabric" / name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def values(name: str) -> dict[str, float]:
    """Name to number for a table with columns `name,value,unit,meaning,source`."""
    return {row["name"]: float(row["value"]) for row in rows(name)}


@dataclass(frozen=True, slots=True)
class Films:
    """Coefficients at inside and outside surfaces; meanings and sources stand in `films.csv`."""

    inside_wall_w_m2k: float
    inside_ceiling_w_m2k: float
    inside_floor_w_m2k: float
    inside_glass_w_m2k: float
    outside_wall_w_m2k: float
    outside_roof_w_m2k: float
    outside_glass_w_m2k: float
    outside_underside_w_m2k: float
    space_wall_w_m2k: float
    space_up_w_m2k: float
    space_down_w_m2k: float
    rated_inside_wall_m2k_w: float
    rated_inside_up_m2k_w: float
    rated_inside_down_m2k_w: float
    rated_outside_m2k_w: float
    emissivity_frac: float
    glass_emissivity_frac: float
    inside_absorptance_frac: float
    mean_outside_c: float
    mean_inside_c: float


@cache
def films() -> Films:
    """The films of the table."""
    table = values("films.csv")
    return Films(**{f.name: table[f.name] for f in fields(Films)})
