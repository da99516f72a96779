"""`loads`: design loads room by room, by two methods."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.climate.year import WeatherYear
from compare.commands.console import clear_errors, house_at, say
from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.loads.case import load_case_of
from compare.loads.house_loads import design_loads
from compare.loads.result import PARTS, HouseLoads
from compare.loads.second_opinion import second_opinion
from compare.physics.fabric.spaces import ground_of_year
from compare.units import Kind, System, show
from compare.years.case import design_of, weather_of


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("loads")(loads)


def loads(file: Annotated[Path, typer.Argument(help="House file (TOML).")]) -> None:
    """Print heating and cooling design loads of every room with their parts, and a second opinion."""
    house = house_at(file)
    with clear_errors():
        plan = plan_of(house)
        place = weather_of(house, file.parent)
        design = design_of(house, place)
        case = load_case_of(house, plan, design, ground_of_year(place.year.dry_bulb_c))
        ours, other = design_loads(case), second_opinion(case)
    say(_head(house, place.year, (design.heating_99_c, design.cooling_1_c, design.source)))
    for line in _table(ours, other, house.units):
        say(line)
    for line in _parts(ours, house.units):
        say(line)


def _head(house: HouseFile, year: WeatherYear, design: tuple[float, float, str]) -> str:
    heat, cool = (show(value, Kind.TEMPERATURE, house.units) for value in design[:2])
    return f"{house.house.name}. Heating at {heat}, cooling at {cool} outdoors ({design[2]}). {year.provenance}"


def _table(ours: HouseLoads, other: HouseLoads, units: System) -> list[str]:
    rows = [f"{'room':<28}{'heating':>14}{'second':>14}{'cooling':>14}{'second':>14}{'peak':>6}   (cooling sensible)"]
    for mine, theirs in zip(ours.rooms, other.rooms, strict=True):
        numbers = (mine.heat_w, theirs.heat_w, mine.cool_sensible_w, theirs.cool_sensible_w)
        hour = f"{mine.peak_hour_h:>4} h" if mine.peak_hour_h is not None else ""
        rows.append(f"{mine.name:<28}" + "".join(f"{_power(value, units):>14}" for value in numbers) + hour)
    house, second = ours.house, other.house
    numbers = (house.heat_w, second.heat_w, house.cool_sensible_w, second.cool_sensible_w)
    hour = f"{house.peak_hour_h:>4} h" if house.peak_hour_h is not None else ""
    rows.append(f"{'house, together':<28}" + "".join(f"{_power(value, units):>14}" for value in numbers) + hour)
    rows.append(f"Ours: {ours.method}. Second opinion: {other.method}.")
    return rows


def _parts(ours: HouseLoads, units: System) -> list[str]:
    rows = []
    for title, parts in (
        ("heating by part", [room.heat_parts_w for room in ours.rooms]),
        ("sensible cooling by part, at each room's own peak", [room.cool_parts_w for room in ours.rooms]),
    ):
        names = [name for name in PARTS if any(name in found for found in parts)]
        rows.append(f"{title}: " + ", ".join(names))
        for room, found in zip(ours.rooms, parts, strict=True):
            figures = "".join(f"{_power(found.get(name, 0.0), units):>14}" for name in names)
            rows.append(f"{room.name:<28}{figures}")
    return rows


def _power(value_w: float, units: System) -> str:
    return show(value_w, Kind.CAPACITY, units, 0)
