"""`job`: where a job stands, its readings against the design, its change orders."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, say
from compare.commands.options import On, day_of
from compare.jobs.changes import Change, Wanted, agree, changes, load_quantities, write_change
from compare.jobs.disk import sweep, write_whole
from compare.jobs.given import HOUSE, PRICES, Given
from compare.jobs.proposal import EXPECTED, FOLDER
from compare.jobs.readings import Verdict, judge, judged_sheet, load_expected, load_readings
from compare.jobs.sheets import csv_text
from compare.jobs.status import Status, add_status, events
from compare.prices.price_list import load_price_list

JobFolder = Annotated[Path, typer.Argument(help="Folder of the job.")]
Proposal = Annotated[str, typer.Option(help="Id of the proposal; the latest one when left out.")]


def register(app: typer.Typer) -> None:
    """Add the commands."""
    job = typer.Typer(name="job", help="Status, readings and change orders of a job.", no_args_is_help=True)
    job.command("status")(status)
    job.command("readings")(readings)
    job.command("change")(change)
    job.command("agree")(agree_change)
    app.add_typer(job)


def proposal_of(job: Path, proposal: str) -> str:
    """The proposal that is meant: the given one, else the latest of the job. ValueError when there is none."""
    found = events(job)
    if not found:
        raise ValueError(f"{job}: holds no proposal yet; issue one")
    return proposal or found[-1].proposal


def status(
    job: JobFolder,
    to: Annotated[Status | None, typer.Option("--to", help="New status.")] = None,
    on: On = "",
    proposal: Proposal = "",
    note: Annotated[str, typer.Option(help="A remark that is kept with it.")] = "",
) -> None:
    """Show where a job stands, or note that a proposal came to a new status."""
    with clear_errors():
        if to is not None:
            sweep(job)
            add_status(job, to, day_of(on), proposal_of(job, proposal), note)
        for event in events(job):
            say(f"{event.on.isoformat()}  {event.proposal}  {event.status.value}  {event.note}".rstrip())
        for one in changes(job):
            say(_change_line(one))


def _change_line(one: Change) -> str:
    state = f"agreed {one.agreed_on.isoformat()}" if one.agreed_on else "open"
    return f"{one.written_on.isoformat()}  change order {one.number}, ${one.price_usd:,.2f}, {state}: {one.reason}"


def readings(
    job: JobFolder,
    file: Annotated[Path | None, typer.Argument(help="CSV of check, subject, value.")] = None,
    proposal: Proposal = "",
) -> None:
    """Judge readings typed from the commissioning sheet; without a file, print the sheet to be filled in."""
    with clear_errors():
        folder = job / f"{FOLDER}{proposal_of(job, proposal)}"
        wanted = load_expected(folder / EXPECTED)
        units = Given.frozen(folder, HOUSE).read().units
        if file is None:
            say("check,subject,value")
            for one in wanted:
                say(f'{one.check},"{one.subject}",')
            return
        judged = judge(wanted, load_readings(file, wanted, units))
        text = csv_text(judged_sheet(judged, units))
        sweep(job)
        write_whole(job / f"readings-{folder.name.removeprefix(FOLDER)}.csv", text)
        for verdict in Verdict:
            say(f"{verdict.value}: {sum(one.verdict is verdict for one in judged)}")
        say(text.rstrip())


def change(
    job: JobFolder,
    file: Annotated[Path, typer.Argument(help="CSV of item, amount, for.")],
    reason: Annotated[str, typer.Option(help="Why the work changes.")],
    on: On = "",
    proposal: Proposal = "",
) -> None:
    """Write a change order, priced from the list that the proposal froze; the customer agrees before the work."""
    with clear_errors():
        name = proposal_of(job, proposal)
        prices = load_price_list(job / f"{FOLDER}{name}" / PRICES)
        sweep(job)
        done = write_change(job, Wanted(name, reason, load_quantities(file), day_of(on)), prices)
    say(f"change order {done.number}: ${done.price_usd:,.2f}, open until it is signed")


def agree_change(
    job: JobFolder,
    number: Annotated[int, typer.Argument(help="Number of the change order.")],
    on: On = "",
) -> None:
    """Note the day on which the customer signed a change order."""
    with clear_errors():
        done = agree(job, number, day_of(on))
    say(f"change order {done.number} is agreed: ${done.price_usd:,.2f}")
