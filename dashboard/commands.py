"""Commands of the pages: `serve` opens the kitchen-table page of a house on this computer."""

from __future__ import annotations

import socket
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from dash import Dash

    from compare.views.customer import CustomerView

HOST = "127.0.0.1"
DEFAULT_PORT = 8050
THREADS = 8
BAD_INPUT = 2


def serve(
    file: Annotated[Path, typer.Argument(help="House file.", metavar="FILE")],
    port: Annotated[
        int, typer.Option(help="Port on this computer; 0 takes a free one.", min=0, max=65535)
    ] = DEFAULT_PORT,
) -> None:
    """Open the kitchen-table page of a house, and the designer's desk at /desk; stop with Ctrl+C."""
    if not file.is_file():
        typer.echo(f"{file.name}: {'not a file' if file.exists() else 'no such file'}", err=True)
        raise typer.Exit(BAD_INPUT)
    listening = _listen(port)
    from dashboard.desk.study import HouseDesk
    from dashboard.source import HouseSource
    from dashboard.table.app import make_app

    source = HouseSource(file)
    source.open()
    typer.echo(
        f"Open http://{HOST}:{listening.getsockname()[1]} in a browser, /desk for the designer. Stop with Ctrl+C."
    )
    run(make_app(source, _paper, HouseDesk(source)), listening)


def _paper(view: CustomerView) -> bytes:
    """The proposal of a view as a PDF."""
    from proposal.document.build import build
    from proposal.pdf import pdf_of

    return pdf_of(build(view))


def _listen(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
    except OSError as error:
        listening.close()
        typer.echo(f"port {port} cannot be used: {error.strerror}; give another with --port", err=True)
        raise typer.Exit(BAD_INPUT) from None
    return listening


def run(app: Dash, listening: socket.socket) -> None:
    """Serve a page on an open socket until the program is stopped."""
    import waitress

    from dashboard.guard import MOST_BODY_BYTES

    waitress.serve(
        app.server,
        sockets=[listening],
        threads=THREADS,
        ident="",
        max_request_body_size=2 * MOST_BODY_BYTES,
        _quiet=True,
    )


def register(app: typer.Typer) -> None:
    """Add the commands of this package to the program."""
    app.command("serve")(serve)
