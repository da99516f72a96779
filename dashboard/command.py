"""The `hplayouts` program: gathers the commands of each package."""

from __future__ import annotations

import os
import signal
import subprocess
import sys

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


@app.callback()
def _program() -> None:
    """Keep the words of commands even where only one is known."""


@app.command(
    "office",
    context_settings={"ignore_unknown_options": True, "allow_extra_args": True, "help_option_names": []},
    add_help_option=False,
)
def office(context: typer.Context) -> None:
    """Open the manager's page of a folder (DIR), behind its login, as a program of its own. Not for customers."""
    raise typer.Exit(_apart("dashboard.office", context.args))


def _apart(module: str, words: list[str]) -> int:
    """Run a module as a process of its own, which ends with this one: what it loads never enters this program."""
    with subprocess.Popen([sys.executable, "-m", module, *words]) as child:  # noqa: S603 - our own module
        signal.signal(signal.SIGTERM, lambda _number, _frame: child.terminate())
        while True:
            try:
                return child.wait()
            except KeyboardInterrupt:
                continue


def main() -> None:
    """Run the program."""
    if sys.argv[1:2] != ["office"]:
        from compare.commands import register as register_compare

        register_compare(app)
        _register_faces()
    app()


def _register_faces() -> None:
    from dashboard.commands import register as register_dashboard
    from proposal.commands import register as register_proposal

    register_proposal(app)
    register_dashboard(app)
