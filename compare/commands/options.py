"""Options that several commands share: own lists, dates, times, priorities."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Annotated

import typer

Prices = Annotated[Path | None, typer.Option(help="Price list (CSV) in place of the placeholder one.")]
Units = Annotated[Path | None, typer.Option(help="Unit tables (a folder or one CSV) in place of generic ones.")]
Job = Annotated[Path, typer.Option("--job", help="Folder of the job.")]
On = Annotated[str, typer.Option(help="Day, as 2026-11-25; today when left out.")]


def day_of(text: str, option: str = "--on") -> dt.date:
    """A day written year-month-day; today for an empty text. ValueError names the option."""
    if not text:
        return dt.datetime.now(dt.UTC).date()
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{option} {text!r}: not a day; write it as 2026-11-25") from None


def moment_of(text: str, option: str = "--at") -> dt.datetime:
    """A time with its zone; now for an empty text. ValueError names the option."""
    if not text:
        return dt.datetime.now(dt.UTC)
    try:
        moment = dt.datetime.fromisoformat(text)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise ValueError(f"{option} {text!r}: not a time with a zone; write it as 2026-11-25T14:00:00+00:00")
    return moment


def priorities_of(texts: list[str]) -> dict[str, int] | None:
    """Priorities written as name=stop; None when none is given. ValueError names the fault."""
    found = {}
    for text in texts:
        name, _, stop = text.partition("=")
        if not stop.isdigit():
            raise ValueError(f"--priority {text!r}: write it as quiet=4")
        found[name] = int(stop)
    return found or None
