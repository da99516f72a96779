"""`warm`: fill the caches, so that the first answer at a table does not wait for them."""

from __future__ import annotations

import time

import typer

from compare.commands.console import say
from compare.demo import demo_house
from compare.pipeline import compare_house


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("warm")(warm)


def warm() -> None:
    """Compile the year kernel and fill the caches with the bundled demo house."""
    start = time.perf_counter()
    compare_house(demo_house())
    say(f"ready; took {time.perf_counter() - start:.1f} s")
