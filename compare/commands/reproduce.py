"""`reproduce`: work a frozen proposal out again and say what became of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, progress_bar, say
from compare.jobs.reproduce import reproduce

NOT_THE_SAME = 1


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("reproduce")(reproduce_command)


def reproduce_command(
    record: Annotated[Path, typer.Argument(help="The record.json of a proposal.")],
    house: Annotated[Path | None, typer.Option(help="Another house file, to see whether it is the same house.")] = None,
) -> None:
    """Say whether a proposal comes out identical, in the same order, or rests on other inputs or another program."""
    with clear_errors(), progress_bar() as tell:
        found = reproduce(record, house, tell)
    say(found.answer.value)
    for title, lines in (("inputs", found.inputs), ("program", found.program), ("results", found.results)):
        for line in lines:
            say(f"  {title}: {line}")
    if not found.holds:
        raise typer.Exit(NOT_THE_SAME)
