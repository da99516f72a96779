"""Commands of the computation, each in a file of its own; `register` adds them to the program."""

from __future__ import annotations

from typing import TYPE_CHECKING

from compare.commands import (
    air,
    batch,
    check,
    compare,
    curves,
    issue,
    job,
    layouts,
    loads,
    reproduce,
    units,
    validate,
    warm,
)

if TYPE_CHECKING:
    import typer


def register(app: typer.Typer) -> None:
    """Add the commands of this package to the program."""
    for module in (check, loads, compare, layouts, air, curves, issue, job, reproduce, batch, units, validate, warm):
        module.register(app)
