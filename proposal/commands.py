"""The commands `propose`, `sheets` and `words`."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.air import paint_with
from compare.commands.console import clear_errors, house_at, progress_bar, say
from compare.views.customer import CustomerView
from compare.views.designer import DesignerView
from proposal.document.blocks import Document

FileArgument = Annotated[Path, typer.Argument(help="House file (TOML).")]
OptionOption = Annotated[
    str | None, typer.Option("--option", help="Write about the layout of this id in place of the recommended one.")
]
OutOption = Annotated[Path | None, typer.Option("--out", help="Folder to write to; NAME-proposal when left out.")]
TOO_HARD = 1
"""Exit code when a section is too hard to read."""


def register(app: typer.Typer) -> None:
    """Add the commands, and the drawings of the command `air`."""
    paint_with(_air_drawings)
    app.command("propose")(propose)
    app.command("sheets")(sheets)
    app.command("words")(words)


def _air_drawings(view: DesignerView) -> Mapping[str, str]:
    from proposal.drawing.air_set import air_drawings

    return air_drawings(view)


def _view(file: Path) -> CustomerView:
    from compare.pipeline import compare_house

    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        return compare_house(house, file.parent, progress=tell).customer_view()


def _document(file: Path, option_id: str | None) -> Document:
    from proposal.document.build import build

    view = _view(file)
    with clear_errors():
        return build(view, option_id)


def propose(file: FileArgument, option: OptionOption = None, out: OutOption = None) -> None:
    """Write the proposal for a house: Markdown with pictures, a page, a PDF."""
    from proposal.files import write_paper

    document = _document(file, option)
    with clear_errors():
        written = write_paper(document, out or Path(f"{file.stem}-proposal"))
    say(f"{document.title}: {document.headline}")
    for path in (written.markdown, written.page, written.pdf):
        say(f"wrote {path}")


def sheets(file: FileArgument, option: OptionOption = None, out: OutOption = None) -> None:
    """Write the sheets for one layout: crew, commissioning, walk-through, basis of the design (pages and PDFs)."""
    from compare.pipeline import compare_house
    from proposal.sheets.make import given_of, sheets_of, write_sheets

    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        found = compare_house(house, file.parent, progress=tell)
    with clear_errors():
        written = write_sheets(sheets_of(given_of(found, option)), out or Path(f"{file.stem}-sheets"))
    for path in written:
        say(f"wrote {path}")


def words(file: FileArgument, option: OptionOption = None) -> None:
    """Print how easy each section of the proposal reads, and what to mend."""
    from proposal.readability import first_page, problems, sections

    document = _document(file, option)
    say(f"{'section':<50} {'words':>6} {'grade':>6} {'average':>8} {'longest':>8}")
    for part in (first_page(document), *sections(document)):
        name = part.name.replace("\u00a0", " ")[:50]
        say(f"{name:<50} {part.words:>6} {part.grade:>6.1f} {part.average_words:>8.1f} {part.longest_words:>8}")
    found = problems(document)
    for problem in found:
        say(problem)
    if found:
        raise typer.Exit(TOO_HARD)
    say("Every section is easy enough, and no banned word was found.")
