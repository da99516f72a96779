"""`check` and `schema`: the house file, read and drawn, with every problem at once."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, say, write_whole
from compare.house.defaults import assumptions
from compare.house.geometry import plan_of
from compare.house.model import house_schema
from compare.units import Kind, show


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("check")(check)
    app.command("schema")(schema)


def check(file: Annotated[Path, typer.Argument(help="House file (TOML).")]) -> None:
    """Read a house file and print every problem at once, or its rooms and what is assumed."""
    house = house_at(file)
    with clear_errors():
        plan = plan_of(house)
    say(f"{file}: no problem found. {house.house.name}, {len(plan.rooms)} rooms.")
    for room in plan.rooms:
        area = show(room.area_m2, Kind.AREA, house.units)
        say(f"  {room.name:<40} {room.use.value:<8} {area}")
    say("Assumed, because the file does not say:")
    for item in assumptions(house):
        say(f"  {item.path} = {item.value_text}  ({item.reason})")


def schema(
    out: Annotated[Path | None, typer.Option(help="Write the schema to this file instead of the screen.")] = None,
) -> None:
    """Print the JSON schema of the house file, for editors."""
    text = json.dumps(house_schema(), indent=2, sort_keys=True) + "\n"
    if out is None:
        say(text.rstrip())
    else:
        write_whole(out, text)
        say(f"wrote {out}")
