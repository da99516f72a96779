"""How a house begins: from a type of house of our own invention scaled to its floor area, or from nothing."""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from compare.climate.places import PlaceError, nearest_town, zip_area
from compare.units import Kind, System, from_si, to_si
from dashboard.survey.draft.edits import Edit, EditError, Raw, Set, Unset, applied
from dashboard.survey.draft.shape import items, point_u, shapes_of, snap, system_of

_FOLDER = "dashboard.survey.templates"
LEAST_AREA_FT2, MOST_AREA_FT2 = 150.0, 8000.0
_FT2_M2 = 0.09290304


@dataclass(frozen=True, slots=True)
class HouseType:
    """A type of house to begin with."""

    key: str
    name: str
    about: str
    area_u2: float
    text: str
    raw: Raw


@cache
def house_types() -> tuple[HouseType, ...]:
    """All types, smallest first; each is a house file without a place."""
    found = []
    for entry in files(_FOLDER).iterdir():
        if entry.name.endswith(".toml"):
            text = entry.read_text(encoding="utf-8")
            raw = tomllib.loads(text)
            area = sum(shape.area_u2 for shape in shapes_of(raw))
            about = raw["house"]["notes"]
            found.append(HouseType(entry.name.removesuffix(".toml"), raw["house"]["name"], about, area, text, raw))
    return tuple(sorted(found, key=lambda one: (one.area_u2, one.key)))


BLANK = """\
units = "{units}"

[house]
name = "{name}"
built = 1990

[[level]]
name = "ground"
height = {height}
below = "vented crawlspace"
above = "vented attic"
"""


def blank(name: str, system: System) -> str:
    """A house without rooms."""
    height = "8" if system is System.US else "2.4"
    return BLANK.format(units=system.value, name=name.replace("\\", "").replace('"', "”"), height=height)


def of_type(key: str, area: str, system: System, name: str) -> str:
    """The text of a new house of a type, its floor area as wished (ft² or m²), in the wished units.

    Raises
    ------
    EditError
        For an area that no house has.
    """
    kind = next((one for one in house_types() if one.key == key), None)
    if kind is None:
        raise EditError("Choose a type of house.")
    wish_ft2 = _area_ft2(area, system) or kind.area_u2
    raw = tomllib.loads(kind.text)
    factor = math.sqrt(wish_ft2 / kind.area_u2)
    edits: list[Edit] = [Set(("house", "name"), name or kind.name), Unset(("house", "notes"))]
    if system is System.SI:
        edits.append(Set(("units",), "SI"))
    edits += _scaled(raw, factor, system)
    return applied(kind.text, raw, edits)[0]


def _area_ft2(area: str, system: System) -> float | None:
    if not area.strip():
        return None
    try:
        wish_ft2 = to_si(area.strip().replace(",", ""), Kind.AREA, system) / _FT2_M2
    except ValueError:
        raise EditError("Type the floor area as a number, such as 1450.") from None
    if not LEAST_AREA_FT2 <= wish_ft2 <= MOST_AREA_FT2:
        raise EditError(f"A floor area lies between {LEAST_AREA_FT2:.0f} and {MOST_AREA_FT2:,.0f} ft².")
    return wish_ft2


def _scaled(raw: Raw, factor: float, system: System) -> list[Edit]:
    """Every place and size on the new grid; lines of wall stay lines of wall, because equal values stay equal."""
    per_ft = from_si(0.3048, Kind.LENGTH, system)

    def put(value: float) -> float:
        return snap(value * factor * per_ft, system)

    edits: list[Edit] = []
    for table in ("room", "door", "opening", "bed", "seat", "unit_space", "head_place", "outdoor_spot"):
        for position, item in items(raw, table):
            at, size = point_u(item.get("at"), System.US), point_u(item.get("size"), System.US)
            if at is None:
                continue
            low = (put(at[0]), put(at[1]))
            edits.append(Set((table, position, "at"), list(low)))
            if size is not None:
                far = (put(at[0] + size[0]), put(at[1] + size[1]))
                edits.append(Set((table, position, "size"), [round(far[k] - low[k], 4) for k in (0, 1)]))
    if system is System.SI:
        edits += [Set(("level", at, "height"), f"{item['height']} ft") for at, item in items(raw, "level")]
        for position, item in items(raw, "window"):
            edits += [Set(("window", position, key), f"{item[key]} ft") for key in ("width", "height") if key in item]
        for position, item in items(raw, "door"):
            if "room" in item:
                edits += [Set(("door", position, key), f"{item[key]} ft") for key in ("width", "height") if key in item]
    return edits


def zip_edits(raw: Raw, code: str) -> list[Edit]:
    """The place of a ZIP code: map, height, and the weather that follows from it.

    Raises
    ------
    EditError
        For a code that is none, or that the table does not have.
    """
    try:
        area = zip_area(code)
        town, _ = nearest_town(area.latitude_deg, area.longitude_deg)
    except PlaceError as error:
        raise EditError(_plain(str(error))) from None
    site = raw.get("site")
    old: dict[str, Any] = site if isinstance(site, dict) else {}
    elevation = from_si(town.site.elevation_m, Kind.LENGTH, system_of(raw))
    wanted = {
        "place": f"{area.state}, ZIP {area.code}"
        if not old.get("place") or "ZIP" in str(old.get("place"))
        else old["place"],
        "latitude": round(area.latitude_deg, 3),
        "longitude": round(area.longitude_deg, 3),
        "elevation": round(elevation),
        "zip": area.code,
    }
    edits: list[Edit] = [Set(("site", key), value) for key, value in wanted.items() if old.get(key) != value]
    if old.get("zip") != area.code:
        edits += [Unset(("site", key)) for key in ("weather",) if key in old]
        design = old.get("design")
        keys = ("heating_99", "cooling_1", "cooling_wet_bulb", "daily_range", "hdd18", "cdd10", "source")
        edits += [Unset(("site", "design", key)) for key in keys if isinstance(design, dict) and key in design]
    return edits


def _plain(message: str) -> str:
    return message.removeprefix("ZIP: ").removeprefix("ZIP ").replace("no five-digit", "not a five-digit")
