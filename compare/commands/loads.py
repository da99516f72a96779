"""`loads`: every opinion on the design loads, room by room and for rooms together."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from compare.climate.embedded import stations
from compare.commands.console import clear_errors, house_at, say, write_whole
from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.plan import Plan
from compare.loads.calendar_year import calendar_year_of
from compare.loads.case import load_case_of
from compare.loads.designers import read_designers
from compare.loads.groups import RoomGroup, served_group
from compare.loads.report import ReportExtras, loads_report
from compare.loads.report_text import report_text
from compare.physics.fabric.spaces import ground_of_year
from compare.units import System
from compare.years.case import design_of, weather_of
from compare.zones.families import families


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("loads")(loads)


def loads(
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    designer: Annotated[Path | None, typer.Option(help="CSV of the designer's own room loads, shown beside.")] = None,
    use_designer: Annotated[bool, typer.Option(help="Put the designer's loads in the place of ours.")] = False,
    json_file: Annotated[Path | None, typer.Option("--json", help="Also write everything as JSON.")] = None,
) -> None:
    """Print heating and cooling loads of every room by every method, their parts, groups of rooms, and warnings."""
    house = house_at(file)
    with clear_errors():
        plan = plan_of(house)
        place = weather_of(house, file.parent)
        case = load_case_of(house, plan, design_of(house, place), ground_of_year(place.year.dry_bulb_c))
        names = [room.name for room in plan.rooms]
        extras = ReportExtras(
            designers=read_designers(designer, names, house.units) if designer is not None else None,
            use_designers=use_designer,
            served=_served(plan),
            calendar_year=_calendar_year(house, file.parent),
        )
        report = loads_report(house, case, place.year, extras)
    other = System.SI if house.units is System.US else System.US
    say(report_text(report, house.units))
    say(f"\nThe same in {other.value} units\n\n{report_text(report, other)}")
    if json_file is not None:
        write_whole(json_file, json.dumps(report.as_dict(), indent=1, sort_keys=True, allow_nan=False) + "\n")
        say(f"wrote {json_file}")


def _served(plan: Plan) -> tuple[RoomGroup, ...]:
    """Every set of rooms that one ducted unit may serve in the families of layouts, each once."""
    sets = dict.fromkeys(zone.rooms for layout in families(plan) for zone in layout.zones if len(zone.rooms) > 1)
    return tuple(served_group(plan, rooms) for rooms in sets)


def _calendar_year(house: HouseFile, folder: Path) -> int | None:
    """The calendar year of the house's own weather file, when it holds a single real one."""
    name = house.site.weather
    return None if name is None or name in stations() else calendar_year_of(folder / name)
