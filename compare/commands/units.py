"""`units`: every unit of an option against what is asked of it, both ways of grouping, backup, energy, warnings."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, progress_bar, say
from compare.commands.tables import option_name
from compare.commands.unit_lines import backup_lines, energy_lines, option_lines, ways_lines
from compare.equipment.catalogue import catalogue
from compare.offer import Sources
from compare.options.option import Option
from compare.pipeline import Comparison, compare_house
from compare.prices.price_list import load_price_list
from compare.units import Kind, show
from compare.years.backup import backup_of
from compare.years.habits import coldest_month, failed_in, off_below
from compare.years.supplies import factory_of
from compare.years.ways import both_ways

OFF_BELOW_C = (15.0 - 32.0) / 1.8
"""Half of the owners of one survey had switched off at 15 degF."""


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("units")(units)


def units(
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    option: Annotated[
        str | None, typer.Option("--option", help="Id of one option; those always shown when left out.")
    ] = None,
    tables: Annotated[
        Path | None, typer.Option("--catalogue", help="Folder or CSV file with unit tables of your own.")
    ] = None,
) -> None:
    """Print each option's units: need against output, cycling, backup, ratings, refrigerant, sizes, energy."""
    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        sources = Sources(catalogue(tables), load_price_list())
        found = compare_house(house, file.parent, sources=sources, progress=tell)
        keys = _keys(found, option)
    say(units_text(found, keys))


def _keys(found: Comparison, option: str | None) -> list[str]:
    if option is None:
        return [item.option.option_id for item in found.shown(found.rank())]
    if option not in found.by_id:
        raise ValueError(f"--option {option!r}: no such option; ids are {', '.join(list(found.by_id)[:8])} ...")
    return [option]


def units_text(found: Comparison, keys: list[str]) -> str:
    """The units of some options of a comparison as text."""
    lines = [
        f"{found.case.house.house.name} - {found.case.house.site.place}",
        found.case.weather.provenance,
        f"Units: {found.sources.units.label}.",
    ]
    for key in keys:
        lines += ["", *_option(found, key)]
    lines += ["", *_ways(found, keys), "", *_what_ifs(found, keys[0])]
    return "\n".join(lines)


def _name(found: Comparison, option: Option) -> str:
    return option_name(option, [room.name for room in found.case.plan.rooms])


def _option(found: Comparison, key: str) -> list[str]:
    result, run = found.by_id[key], found.hours(key)
    head = f"== {_name(found, result.option)}  [{key}]"
    backup = backup_of(found.case, factory_of(found.case), result.option)
    return [
        head,
        *option_lines(found.case, result, run),
        *backup_lines(found.case, backup),
        *energy_lines(found.case, run),
    ]


def _ways(found: Comparison, keys: list[str]) -> list[str]:
    """Both groupings of each printed layout with several indoor units, once per layout."""
    layouts = dict.fromkeys(
        found.by_id[key].option.layout.key for key in keys if len(found.by_id[key].option.zones) > 1
    )
    lines = ["== Outdoor units both ways"] if layouts else []
    for layout in layouts:
        found_ways = both_ways(found.results, layout)
        lines += ways_lines(_name(found, found.by_id[found_ways.apart.key].option), found_ways, found.case)
    return lines


def _what_ifs(found: Comparison, key: str) -> list[str]:
    """The first printed option with an owner who switches off in the cold, and with a unit that failed."""
    case, option = found.case, found.by_id[key].option
    factory, month = factory_of(case), coldest_month(case.weather)
    cold = show(OFF_BELOW_C, Kind.TEMPERATURE, case.house.units)
    lines = [f"== What if, {_name(found, option)}"]
    for words, on_frac in (
        (f"switched off whenever it is colder than {cold}", off_below(case.weather, OFF_BELOW_C)),
        (f"out of order all of month {month}", failed_in(month)),
    ):
        lines.append(f"  {words}:")
        lines += backup_lines(case, backup_of(case, factory, option, on_frac))
    return lines
