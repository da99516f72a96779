"""Commands of the pages: `serve` opens them for a house or a folder of houses, `password` sets the desk's password."""

from __future__ import annotations

import socket
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from compare.pipeline import Comparison
    from compare.views.customer import CustomerView
    from dashboard.door import Door

HOST, EVERY_ADDRESS = "127.0.0.1", "0.0.0.0"  # noqa: S104 - only with --lan, behind pairing
DEFAULT_PORT = 8050
THREADS = 12
BAD_INPUT = 2


def serve(
    file: Annotated[Path, typer.Argument(help="House file, or a folder of house files.", metavar="FILE|DIR")],
    port: Annotated[
        int, typer.Option(help="Port on this computer; 0 takes a free one.", min=0, max=65535)
    ] = DEFAULT_PORT,
    lan: Annotated[bool, typer.Option("--lan", help="Let other devices of this network in, by a code.")] = False,
    https_name: Annotated[
        str, typer.Option(help="With --lan: host name under which a proxy on this computer serves the page by HTTPS.")
    ] = "",
) -> None:
    """Open the kitchen-table page of a house, or of every house of a folder, and the desk; stop with Ctrl+C."""
    if not file.exists():
        _refuse(f"{file.name}: no such file or folder")
    if https_name and not lan:
        _refuse("--https-name is for other devices: give --lan too")
    listening = _listen(port, EVERY_ADDRESS if lan and not https_name else HOST)
    try:
        door = _door(file, listening.getsockname()[1], lan=lan, https_name=https_name)
    except BaseException:
        listening.close()
        raise
    run(door, listening)


def _door(file: Path, port: int, *, lan: bool, https_name: str) -> Door:
    """All pages of a file or folder behind their door, told in the terminal."""
    from dashboard.door import PASSWORD_FILE, Keys, Site
    from dashboard.front.site import serve_folder, serve_house
    from dashboard.lan import give_codes, lan_site, quiet_log, tell

    folder = file if file.is_dir() else file.parent
    keys = Keys(folder / PASSWORD_FILE) if lan else None
    site = lan_site(port, https_name) if lan else Site(port=port)
    door = (serve_folder if file.is_dir() else serve_house)(file, site, keys, _paper)
    desk = "" if file.is_dir() else ", /desk for the designer"
    typer.echo(f"Open http://{HOST}:{port} in a browser{desk}. Stop with Ctrl+C.")
    if keys is not None:
        quiet_log()
        tell(site, keys)
        give_codes(keys)
    return door


def _refuse(words: str) -> None:
    typer.echo(words, err=True)
    raise typer.Exit(BAD_INPUT)


def _paper(view: CustomerView, found: Comparison | None) -> bytes:
    """The proposal of a view as a PDF."""
    from proposal.document.build import build
    from proposal.extras import paper_of
    from proposal.pdf import pdf_of

    return pdf_of(build(view) if found is None else paper_of(found, view))


def _listen(port: int, host: str = HOST) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
    except OSError as error:
        listening.close()
        typer.echo(f"port {port} cannot be used: {error.strerror}; give another with --port", err=True)
        raise typer.Exit(BAD_INPUT) from None
    return listening


def run(pages: Callable[..., Any], listening: socket.socket) -> None:
    """Serve pages on an open socket until the program is stopped."""
    import waitress

    from dashboard.guard import MOST_BODY_BYTES

    waitress.serve(
        pages,
        sockets=[listening],
        threads=THREADS,
        ident="",
        max_request_body_size=2 * MOST_BODY_BYTES,
        _quiet=True,
    )


def password(
    folder: Annotated[Path, typer.Argument(help="Folder of the house files, or one of them.", metavar="FOLDER")],
) -> None:
    """Set the password with which a designer opens the desk from another device; all must sign in again."""
    from dashboard.door import PASSWORD_FILE
    from dashboard.password import PasswordError, set_password

    if not folder.exists():
        _refuse(f"{folder.name}: no such folder")
    try:
        set_password((folder if folder.is_dir() else folder.parent) / PASSWORD_FILE, _asked())
    except (PasswordError, OSError) as error:
        _refuse(str(error))
    typer.echo("The password is set.")


def _asked() -> str:
    """The new password: typed twice unseen, or one line from a pipe."""
    from dashboard.password import LONGEST

    if not sys.stdin.isatty():
        return sys.stdin.readline(LONGEST + 2).rstrip("\r\n")
    return str(typer.prompt("New password", hide_input=True, confirmation_prompt=True))


def register(app: typer.Typer) -> None:
    """Add the commands of this package to the program."""
    app.command("serve")(serve)
    app.command("password")(password)
