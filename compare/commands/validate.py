"""`validate`: the room model against the published thermal fabric cases, as a table."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.climate.reader import load_weather
from compare.commands.console import clear_errors, say
from compare.physics.validation.standard140 import Row, standard140_table

NOTE = (
    "ANSI/ASHRAE Standard 140-2020, thermal fabric cases, ranges of its reference programs (tables B8-1 to B8-5a). "
    "Films and sky model were chosen after results had been seen; no single case was tuned."
)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("validate")(validate)


def validate(
    weather: Annotated[Path, typer.Argument(help="The Standard 140 year: EPW of Denver, station 725650.")],
) -> None:
    """Run the Standard 140 cases by the program's own engine and print them beside their ranges."""
    with clear_errors():
        rows = standard140_table(load_weather(weather).year)
    say(NOTE)
    say(f"{'case':<7}{'quantity':<22}{'value':>10}  {'unit':<5}{'from':>9}{'to':>9}  result")
    for row in rows:
        say(_line(row))
    ranged = [row for row in rows if row.low is not None]
    inside = sum(bool(row.inside) for row in ranged)
    say(f"{inside} of {len(ranged)} figures inside their range.")


def _line(row: Row) -> str:
    low = f"{row.low:9.3f}" if row.low is not None else f"{'-':>9}"
    high = f"{row.high:9.3f}" if row.high is not None else f"{'-':>9}"
    return f"{row.case:<7}{row.quantity:<22}{row.value:10.3f}  {row.unit:<5}{low}{high}  {_result(row)}"


def _result(row: Row) -> str:
    if row.low is None:
        return "case defined, no range"
    return "inside" if row.inside else f"{row.off_frac:.1%} outside"
