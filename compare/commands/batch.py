"""`batch`: a folder of houses compared on all cores, resumed after an interruption."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, progress_bar, say
from compare.commands.options import Prices, Units
from compare.jobs.batch import Task, input_digest
from compare.jobs.disk import sweep
from compare.jobs.journal import Journal
from compare.jobs.pool import run_pool


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("batch")(batch)


def batch(
    folder: Annotated[Path, typer.Argument(help="Folder of house files (TOML).")],
    out: Annotated[Path | None, typer.Option(help="Folder of the results; else `results` beside the houses.")] = None,
    workers: Annotated[int, typer.Option(help="Processes; one per core when 0.", min=0, max=256)] = 0,
    prices: Prices = None,
    units: Units = None,
) -> None:
    """Compare every house of a folder: a row each; one that fails is a row with its error and stops nothing."""
    with clear_errors():
        files = sorted(path for path in folder.glob("*.toml") if path.is_file())
        if not files:
            raise ValueError(f"{folder}: holds no house file (*.toml)")
        target = out or folder / "results"
        sweep(target)
        journal = Journal(target)
        tasks = [Task(str(path), str(prices) if prices else None, str(units) if units else None) for path in files]
        tasks = [replace(task, digest=input_digest(task)) for task in tasks]
        left = [task for task in tasks if not journal.holds(Path(task.path).name, task.digest)]
    done = len(tasks) - len(left)
    if done:
        say(f"{done} of {len(tasks)} houses are done already")
    try:
        with progress_bar() as tell:
            for row in run_pool(left, workers or os.cpu_count() or 1):
                journal.add(row)
                done += 1
                tell("houses", done, len(tasks))
    finally:
        path = journal.write_table(file.name for file in files)
    rows = [journal.rows[file.name] for file in files]
    bad = sum(bool(row.error) for row in rows)
    say(f"{len(rows)} houses, {bad} with an error: {path}")
