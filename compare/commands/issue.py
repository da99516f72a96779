"""`issue`: one option of a house, frozen as a proposal in a job's folder."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, progress_bar, say
from compare.commands.options import Job, Prices, Units, moment_of, priorities_of
from compare.jobs.given import Given
from compare.jobs.proposal import issue
from compare.jobs.record import USUAL_VALID_DAYS, Offer, short_id


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("issue")(issue_command)


def issue_command(  # noqa: PLR0913, PLR0917  (the options of a command)
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    option: Annotated[str, typer.Option(help="Id of the option to offer, as `compare --csv` lists them.")],
    job: Job,
    prices: Prices = None,
    units: Units = None,
    valid_days: Annotated[int, typer.Option(help="Days for which the offer holds.")] = USUAL_VALID_DAYS,
    by: Annotated[str, typer.Option(help="Who issues it.")] = "",
    role: Annotated[str, typer.Option(help="In which role.")] = "salesperson",
    at: Annotated[str, typer.Option(help="Time of issue with its zone; now when left out.")] = "",
    priority: Annotated[list[str] | None, typer.Option(help="As quiet=4; may stand several times.")] = None,
) -> None:
    """Freeze one option of a house as a proposal: inputs, digests, versions, weights, results, price, validity."""
    with clear_errors(), progress_bar() as tell:
        given = Given.at(file, prices, units)
        offer = Offer(option, moment_of(at), valid_days, role, by, _all_priorities(given, priority or []))
        folder, record = issue(given, offer, job, tell)
    say(f"proposal {short_id(record)} holds until {offer.valid_to.isoformat()}: {folder}")


def _all_priorities(given: Given, texts: list[str]) -> dict[str, int] | None:
    """Those of the house file with the ones given on the command line in their place."""
    chosen = priorities_of(texts)
    return None if chosen is None else {**given.read().priorities.model_dump(), **chosen}
