"""The `hplayouts` program: gathers the commands of each package."""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import typer

app = typer.Typer(
    name="hplayouts",
    help="Compare every sensible heat-pump layout of one house, and explain which one fits best and where it loses.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


def main() -> None:
    """Run the program."""
    from compare.commands import register as register_compare

    register_compare(app)
    _register_faces()
    app()


def _register_faces() -> None:
    from dashboard.commands import register as register_dashboard
    from proposal.commands import register as register_proposal

    register_proposal(app)
    register_dashboard(app)
