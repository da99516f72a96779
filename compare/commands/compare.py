"""`compare` and `demo`: every layout of a house side by side, with the reasons."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.argued import checked_lines
from compare.commands.asked import AskedFor, explained, house_with
from compare.commands.console import clear_errors, house_at, progress_bar, say, write_whole
from compare.commands.tables import comparison_csv, comparison_json, comparison_text
from compare.demo import demo_house
from compare.every_layout import with_best
from compare.house.model import HouseFile
from compare.pipeline import compare_house
from compare.turning_points import rechecked

Json = Annotated[Path | None, typer.Option("--json", help="Also write everything as JSON to this file.")]
Csv = Annotated[Path | None, typer.Option("--csv", help="Also write one row per option as CSV to this file.")]
Quick = Annotated[
    bool, typer.Option("--quick", help="The families alone: no other layouts, not how sure, not what would change it.")
]
Top = Annotated[int, typer.Option(help="How many options to list besides those always shown.", min=0)]


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("compare")(compare)
    app.command("demo")(demo)


Set = Annotated[
    list[str] | None, typer.Option("--set", help='Change the house for this run: PATH=VALUE, such as "air.ach50=4".')
]
Explain = Annotated[
    tuple[str, str] | None, typer.Option("--explain", help="Every reason between two options, by letter or option id.")
]


Recheck = Annotated[
    bool, typer.Option("--recheck", help="Also simulate 20 of the draws again in full and print the difference (slow).")
]


def compare(  # noqa: PLR0913, PLR0917 - one parameter for each option of the command
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    json: Json = None,
    csv: Csv = None,
    top: Top = 0,
    quick: Quick = False,
    change: Set = None,
    explain: Explain = None,
    recheck: Recheck = False,
) -> None:
    """Compare every layout of a house and explain the recommendation."""
    house = house_at(file) if not change else house_with(file, change)
    _run(house, file.parent, AskedFor(json, csv, top, tested=not quick, explain=explain, recheck=recheck))


def demo(json: Json = None, csv: Csv = None, top: Top = 0, quick: Quick = False, explain: Explain = None) -> None:
    """Compare the bundled demo house (invented)."""
    _run(demo_house(), None, AskedFor(json, csv, top, tested=not quick, explain=explain))


def _run(house: HouseFile, folder: Path | None, asked: AskedFor) -> None:
    with clear_errors(), progress_bar() as tell:
        found = compare_house(house, folder, progress=tell)
        if asked.tested or asked.top:
            found = with_best(found, tell)
    with clear_errors():
        if asked.explain is not None:
            say(explained(found, asked.explain, asked.top))
        else:
            say(comparison_text(found, asked.top, tested=asked.tested))
        if asked.recheck:
            say("\n".join(checked_lines(rechecked(found))))
    for path, write in ((asked.json, comparison_json), (asked.csv, comparison_csv)):
        if path is not None:
            write_whole(path, write(found))
            say(f"wrote {path}")
