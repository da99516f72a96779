"""`air`: the ducts, sound, draught and places of one option, in figures and as drawings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.air_text import air_text
from compare.commands.console import clear_errors, house_at, progress_bar, say, write_whole
from compare.commands.tables import option_name
from compare.offer import basis_of_case
from compare.pipeline import Comparison, compare_house
from compare.views.designer import DesignerView
from compare.views.designer_build import designer_view
from compare.views.designer_desk import Desk

Painter = Callable[[DesignerView], Mapping[str, str]]
"""Makes the drawings of a view: SVG text by name."""

_painters: list[Painter] = []


def paint_with(painter: Painter) -> None:
    """Let a face that draws add its drawings to the command."""
    if painter not in _painters:
        _painters.append(painter)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("air")(air)


def designer_view_of(found: Comparison, option_id: str | None = None) -> DesignerView:
    """The air side of one option of a comparison; of the best one when no id is given.

    Raises
    ------
    ValueError
        If no option has that id, or none can be built and no id is given.
    """
    if option_id is None:
        winner = found.rank().winner
        if winner is None:
            raise ValueError("--option: no layout passes here; give the id of one (compare --csv lists them)")
        option_id = winner.option.option_id
    if option_id not in found.by_id:
        known = ", ".join(list(found.by_id)[:8])
        raise ValueError(f"--option {option_id!r}: no such option; ids are {known} ...")
    rooms = [room.name for room in found.case.plan.rooms]
    desk = Desk(
        case=found.case,
        basis=basis_of_case(found.case, found.sources),
        prices=found.sources.prices,
        options=found.options,
        names={option.key: option_name(option, rooms) for option in found.options},
    )
    return designer_view(desk, found.by_id[option_id].option)


def air(
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    option: Annotated[
        str | None, typer.Option("--option", help="Id of the option; the best one when left out.")
    ] = None,
    out: Annotated[Path | None, typer.Option(help="Folder for the drawings; NAME-air when left out.")] = None,
) -> None:
    """Print ducts, static, sound, return path and places of one option, and write its drawings (SVG)."""
    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        found = compare_house(house, file.parent, progress=tell)
    with clear_errors():
        view = designer_view_of(found, option)
    say(air_text(view))
    folder = out or Path(f"{file.stem}-air")
    for painter in _painters:
        for name, svg in painter(view).items():
            write_whole(folder / f"{name}.svg", svg)
            say(f"wrote {folder / f'{name}.svg'}")
