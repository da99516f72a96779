"""`layouts`: every layout that a house allows, by kind; which is best, of what, and what was left out and why."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, progress_bar, say, write_whole
from compare.commands.layout_lines import best_lines, count_lines, layouts_csv, offer_lines, proof_lines, rejected_lines
from compare.every_layout import with_best
from compare.pipeline import compare_house

Top = Annotated[int, typer.Option(help="How many of the best layouts to list.", min=0)]
Csv = Annotated[
    Path | None, typer.Option("--csv", help="Also write every layout with its total or why it is left out as CSV.")
]


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("layouts")(layouts)


def layouts(file: Annotated[Path, typer.Argument(help="House file (TOML).")], top: Top = 20, csv: Csv = None) -> None:
    """Count, simulate and rank every layout of a house, and say what the best is the best of."""
    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        found = with_best(compare_house(house, file.parent, progress=tell), tell)
    searched = found.space
    assert found.proof is not None
    assert searched is not None
    parts = (
        offer_lines(found.case.plan),
        count_lines(found.proof),
        proof_lines(found.proof),
        best_lines(found, searched, top),
        rejected_lines(found, searched),
    )
    say("\n\n".join("\n".join(part) for part in parts))
    if csv is not None:
        write_whole(csv, layouts_csv(found, searched))
        say(f"wrote {csv}")
