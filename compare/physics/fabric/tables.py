"""Read the small tables of films, glass, ground and layers, each number with its unit and source beside it."""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from compare.physics.fabric.drivers import radiation_w_m2k


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


def films_in_wind(winter: bool) -> Films:
    """The films with outside convection for the wind of a design day, 6.7 m/s (winter) or 3.4 m/s (summer).

    The handbook's coefficients hold radiation for emissivity 0.9; that part is taken out. Undersides stay sheltered.
    """
    usual = films()
    whole_w_m2k = values("films.csv")["design_winter_w_m2k" if winter else "design_summer_w_m2k"]
    convection_w_m2k = whole_w_m2k - usual.emissivity_frac * radiation_w_m2k(usual.mean_outside_c)
    return replace(
        usual,
        outside_wall_w_m2k=convection_w_m2k,
        outside_roof_w_m2k=convection_w_m2k,
        outside_glass_w_m2k=convection_w_m2k,
    )
