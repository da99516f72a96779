"""`curves`: score curves with their anchors and sources, and the weights."""

from __future__ import annotations

import typer

from compare.commands.console import say
from compare.scoring.curve_table import curves_text


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("curves")(curves)


def curves() -> None:
    """Print every score curve, weight and judgement number with its source."""
    say(curves_text())
