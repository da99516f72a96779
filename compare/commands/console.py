"""What every command shares: reading a house with clear errors, a progress bar, writing files whole."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

import typer
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from compare.climate.places import PlaceError
from compare.climate.reader import WeatherFileError
from compare.equipment.table import CatalogueError
from compare.house.model import HouseFile
from compare.house.problems import HouseFileError
from compare.house.reading import read_house
from compare.offer import Progress as Tell
from compare.prices.table import TableError

CLEAR_ERRORS = (HouseFileError, WeatherFileError, PlaceError, CatalogueError, TableError, ValueError, OSError)
"""Errors whose text already names the field and the cure."""

BAD_INPUT = 2
"""Exit code for input that has to be mended."""


def stop(error: object) -> NoReturn:
    """Print an error and leave."""
    typer.echo(str(error), err=True)
    raise typer.Exit(BAD_INPUT)


@contextmanager
def clear_errors() -> Iterator[None]:
    """Turn errors of input into their plain text; faults of the program keep their trace."""
    try:
        yield
    except CLEAR_ERRORS as error:
        stop(error)


def house_at(path: Path) -> HouseFile:
    """Read a house file or leave with every problem."""
    with clear_errors():
        return read_house(path)


@contextmanager
def progress_bar() -> Iterator[Tell]:
    """A bar for long work on a terminal; silent where the output is not one."""
    console = Console(stderr=True)
    if not console.is_terminal:
        yield lambda _what, _done, _all: None
        return
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, transient=True) as bar:
        tasks: dict[str, int] = {}

        def tell(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = int(bar.add_task(what, total=total))
            bar.update(bar.task_ids[tasks[what]], completed=done, total=total)

        yield tell


def write_whole(path: Path, text: str) -> None:
    """Write a file so that either the old or the new one stands there whole."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def say(text: str) -> None:
    """Print text as it is, also where the terminal's encoding lacks a character."""
    try:
        typer.echo(text)
    except UnicodeEncodeError:
        sys.stdout.buffer.write(text.encode("utf-8", errors="replace") + b"\n")
