"""The office's own program: `python -m dashboard.office DIR` opens its page; other words are its commands."""

from __future__ import annotations

import datetime as dt
import logging
import os
import socket
import sys
from functools import partial
from pathlib import Path
from typing import Annotated

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import typer

from compare.commands.console import clear_errors, say
from compare.office.commands import Book, Rebates, Risks, Upkeep, basis_of, register_plain
from compare.office.view_build import OfficeBasis
from dashboard.office.advice import COMFORT_FLOOR
from dashboard.office.place import OFFICE, PASSWORD, Place
from dashboard.password import LONGEST, PasswordError, read_hash, set_password

HOST, DEFAULT_PORT, THREADS = "127.0.0.1", 8051, 6
BAD_INPUT = 2
OPEN = "open"

app = typer.Typer(
    name="hplayouts office",
    help="Cost, margin and risk across jobs. Not for customers. `hplayouts office DIR` opens the page.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
Folder = Annotated[Path, typer.Argument(help="Folder that holds 'jobs' and 'office'.", metavar="DIR")]
OfficeFolder = Annotated[Path | None, typer.Option("--office", help="The office's folder in place of DIR/office.")]


@app.command(OPEN)
def open_page(  # noqa: PLR0913, PLR0917  (the options of a command)
    folder: Folder,
    port: Annotated[int, typer.Option(help="Port; 0 takes a free one.", min=0, max=65535)] = DEFAULT_PORT,
    jobs: Annotated[Path | None, typer.Option(help="Folder of jobs in place of DIR/jobs.")] = None,
    office: OfficeFolder = None,
    book: Book = None,
    rebates: Rebates = None,
    risks: Risks = None,
    upkeep: Upkeep = None,
    comfort_floor: Annotated[
        float, typer.Option(help="Comfort score that a quote must reach.", min=0, max=100)
    ] = COMFORT_FLOOR,
    https_name: Annotated[
        str, typer.Option(help="Host name under which a proxy on this computer serves the page by HTTPS.")
    ] = "",
) -> None:
    """Open the manager's page, behind its login; stop with Ctrl+C."""
    from dashboard.office.app import Office, make_server

    logging.basicConfig(format="%(asctime)s %(name)s %(message)s", level=logging.INFO)
    with clear_errors():
        place = Place.at(folder, jobs, office)
        read_hash(place.password)
        basis_of("", book, rebates, risks, upkeep)
        basis = partial(_basis, book=book, rebates=rebates, risks=risks, upkeep=upkeep)
        server = make_server(Office(place, basis, comfort_floor, https_name))
    listening = _listen(port)
    where = f"https://{https_name}" if https_name else f"http://{HOST}:{listening.getsockname()[1]}"
    say(f"Open {where} in a browser. Office only: not for customers. Stop with Ctrl+C.")
    _serve(server, listening)


def _basis(
    on: dt.date, book: Path | None, rebates: Path | None, risks: Path | None, upkeep: Path | None
) -> OfficeBasis:
    return basis_of(on.isoformat(), book, rebates, risks, upkeep)


@app.command("password")
def password(folder: Folder, office: OfficeFolder = None) -> None:
    """Set the password of the manager's page; everyone who is signed in must sign in again."""
    with clear_errors():
        if not folder.is_dir():
            raise PasswordError(f"{folder}: no such folder; give the folder that holds 'jobs' and '{OFFICE}'")
        path = (office or folder / OFFICE) / PASSWORD
        set_password(path, _asked())
    say("The password is set.")


def _asked() -> str:
    """The new password: typed twice unseen, or one line from a pipe."""
    if not sys.stdin.isatty():
        return sys.stdin.readline(LONGEST + 2).rstrip("\r\n")
    return str(typer.prompt("New password", hide_input=True, confirmation_prompt=True))


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        typer.echo(f"port {port} cannot be used: {error.strerror}; give another with --port", err=True)
        raise typer.Exit(BAD_INPUT) from None
    return listening


def _serve(server: object, listening: socket.socket) -> None:
    import waitress

    from dashboard.office.guard import MOST_BODY_BYTES

    waitress.serve(
        server, sockets=[listening], threads=THREADS, ident="", max_request_body_size=2 * MOST_BODY_BYTES, _quiet=True
    )


def main(words: list[str]) -> None:
    """Run the program; a first word that is no command is the folder whose page is opened."""
    register_plain(app)
    known = {command.name for command in app.registered_commands}
    given = [OPEN, *words] if words and not words[0].startswith("-") and words[0] not in known else words
    app(given, prog_name="hplayouts office")


if __name__ == "__main__":
    main(sys.argv[1:])
