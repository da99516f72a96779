"""The commands `propose`, `sheets` and `words`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from compare.commands.air import paint_with
from compare.commands.console import clear_errors, house_at, progress_bar, say
from compare.turning_points import flips_of
from compare.views.designer import DesignerView
from proposal.document.blocks import Document

if TYPE_CHECKING:
    from compare.pipeline import Comparison

FileArgument = Annotated[Path, typer.Argument(help="House file (TOML).")]
OptionOption = Annotated[
    str | None, typer.Option("--option", help="Write about the layout of this id in place of the recommended one.")
]
OutOption = Annotated[Path | None, typer.Option("--out", help="Folder to write to; made when needed.")]
CompanyOption = Annotated[
    Path | None, typer.Option("--company", help="Details of the company (TOML); visible blanks when left out.")
]
TriedOption = Annotated[
    bool, typer.Option("--tried", help="Try the advice many times first, and look for what would change it (slower).")
]
LanguageOption = Annotated[str, typer.Option("--lang", help="Language of the paper: en or es.")]
TOO_HARD = 1
"""Exit code when a section is too hard to read."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a paper is asked to be."""

    option: str | None
    tried: bool
    company: Path | None
    language: str


def register(app: typer.Typer) -> None:
    """Add the commands, and the drawings of the command `air`."""
    paint_with(_air_drawings)
    app.command("propose")(propose)
    app.command("sheets")(sheets)
    app.command("words")(words)


def _air_drawings(view: DesignerView) -> Mapping[str, str]:
    from proposal.drawing.air_set import air_drawings

    return air_drawings(view)


def _compared(file: Path) -> Comparison:
    from compare.pipeline import compare_house

    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        return compare_house(house, file.parent, progress=tell)


def _document(found: Comparison, asked: Asked) -> tuple[Document, tuple[str, ...]]:
    """The paper, and what the company must still give."""
    from proposal.company import read_company
    from proposal.document.terms import company_warnings
    from proposal.extras import paper_of
    from proposal.words import told_of

    with clear_errors():
        if asked.tried:
            flips_of(found)
        view = found.customer_view(tested=asked.tried)
        company = read_company(asked.company) if asked.company is not None else None
        document = paper_of(found, view, asked.option, asked.language, company)
        return document, tuple(company_warnings(told_of(view, asked.language), company))


def propose(
    file: FileArgument,
    option: OptionOption = None,
    out: OutOption = None,
    company: CompanyOption = None,
    tried: TriedOption = False,
    lang: LanguageOption = "en",
) -> None:
    """Write the proposal for a house: Markdown with pictures, a page, a PDF."""
    from proposal.files import write_paper

    document, warnings = _document(_compared(file), Asked(option, tried, company, lang))
    with clear_errors():
        written = write_paper(document, out or Path(f"{file.stem}-proposal"))
    say(f"{document.title}: {document.headline}")
    for path in (written.markdown, written.page, written.pdf):
        say(f"wrote {path}")
    for warning in warnings:
        say(warning)


def sheets(file: FileArgument, option: OptionOption = None, out: OutOption = None, lang: LanguageOption = "en") -> None:
    """Write the sheets for one layout: crew, commissioning, walk-through, basis of the design (pages and PDFs)."""
    from proposal.sheets.make import given_of, sheets_of, write_sheets

    found = _compared(file)
    with clear_errors():
        written = write_sheets(sheets_of(given_of(found, option), lang), out or Path(f"{file.stem}-sheets"))
    for path in written:
        say(f"wrote {path}")


def words(file: FileArgument, option: OptionOption = None, lang: LanguageOption = "en") -> None:
    """Print how easy each section of the proposal reads, and what to mend."""
    from proposal.readability import first_page, problems, sections

    document, _ = _document(_compared(file), Asked(option, False, None, lang))
    say(f"{'section':<50} {'words':>6} {'ease' if lang == 'es' else 'grade':>6} {'average':>8} {'longest':>8}")
    for part in (first_page(document), *sections(document)):
        name = part.name.replace("\u00a0", " ")[:50]
        say(f"{name:<50} {part.words:>6} {part.score:>6.1f} {part.average_words:>8.1f} {part.longest_words:>8}")
    found = problems(document)
    for problem in found:
        say(problem)
    if found:
        raise typer.Exit(TOO_HARD)
    say("Every section is easy enough, and no banned word was found.")
