"""`compare` and `demo`: every layout of a house side by side, with the reasons."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, progress_bar, say, write_whole
from compare.commands.tables import comparison_csv, comparison_json, comparison_text
from compare.demo import demo_house
from compare.house.model import HouseFile
from compare.pipeline import compare_house

Json = Annotated[Path | None, typer.Option("--json", help="Also write everything as JSON to this file.")]
Csv = Annotated[Path | None, typer.Option("--csv", help="Also write one row per option as CSV to this file.")]
Top = Annotated[int, typer.Option(help="How many options to list besides those always shown.", min=0)]


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("compare")(compare)
    app.command("demo")(demo)


def compare(
    file: Annotated[Path, typer.Argument(help="House file (TOML).")], json: Json = None, csv: Csv = None, top: Top = 0
) -> None:
    """Compare every layout of a house and explain the recommendation."""
    _run(house_at(file), file.parent, (json, csv), top)


def demo(json: Json = None, csv: Csv = None, top: Top = 0) -> None:
    """Compare the bundled demo house (invented)."""
    _run(demo_house(), None, (json, csv), top)


def _run(house: HouseFile, folder: Path | None, files: tuple[Path | None, Path | None], top: int) -> None:
    with clear_errors(), progress_bar() as tell:
        found = compare_house(house, folder, progress=tell)
    say(comparison_text(found, top))
    for path, write in zip(files, (comparison_json, comparison_csv), strict=True):
        if path is not None:
            write_whole(path, write(found))
            say(f"wrote {path}")
