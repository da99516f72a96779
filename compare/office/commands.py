"""Commands of the office: they read costs, so only the office's own program may import this module."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, progress_bar, say, write_whole
from compare.commands.options import On, Prices, Units, day_of
from compare.equipment.catalogue import catalogue
from compare.jobs.disk import sweep
from compare.jobs.disk import write_whole as write_bytes
from compare.jobs.record import DIGEST, read_record
from compare.jobs.sheets import csv_text
from compare.offer import Sources
from compare.office.compile import write_price_list
from compare.office.cost_book import load_book
from compare.office.exports import office_csv, office_json, office_xlsx
from compare.office.figures import figures_sheet, job_figures, kinds_sheet
from compare.office.ledger import complete, entry_path, hours_form, load_callbacks, load_hours, read_entry, write_entry
from compare.office.printed import figures_text, view_text
from compare.office.risks import load_rules
from compare.office.view_build import OfficeBasis, office_view
from compare.pipeline import compare_house
from compare.prices.lifetime import load_upkeep
from compare.prices.price_list import load_price_list
from compare.prices.rebates import load_rebates

Book = Annotated[Path | None, typer.Option(help="The company's cost book (CSV), over the generic one row by row.")]
Rebates = Annotated[Path | None, typer.Option(help="Table of rebates (CSV) in place of the shipped one.")]
Risks = Annotated[Path | None, typer.Option(help="Table of risks (CSV) in place of the shipped one.")]
Upkeep = Annotated[Path | None, typer.Option(help="Table of upkeep (CSV) in place of the shipped one.")]
Office = Annotated[Path, typer.Option("--office", help="The office's folder, apart from the jobs.")]
Out = Annotated[Path | None, typer.Option(help="Also write it to this file.")]
RecordFile = Annotated[Path, typer.Argument(help="The record.json of a proposal.")]


def register(app: typer.Typer) -> None:
    """Add the commands of the office below `office`."""
    office = typer.Typer(name="office", help="Cost, margin and risk. Not for customers.", no_args_is_help=True)
    register_plain(office)
    app.add_typer(office)


def register_plain(app: typer.Typer) -> None:
    """Add the commands of the office to the office's own program."""
    for name, command in (
        ("margins", margins),
        ("compile", compile_list),
        ("complete", complete_record),
        ("after", after),
        ("figures", figures),
    ):
        app.command(name)(command)


def basis_of(on: str, book: Path | None, rebates: Path | None, risks: Path | None, upkeep: Path | None) -> OfficeBasis:
    """What the office's figures rest on, from its tables; the shipped ones where None."""
    return OfficeBasis(
        on=day_of(on),
        book=load_book(book),
        rules=load_rules(risks),
        rebates=load_rebates(rebates),
        upkeep=load_upkeep(upkeep),
    )


def margins(  # noqa: PLR0913, PLR0917  (the options of a command)
    file: Annotated[Path, typer.Argument(help="House file (TOML).")],
    book: Book = None,
    prices: Prices = None,
    units: Units = None,
    rebates: Rebates = None,
    risks: Risks = None,
    upkeep: Upkeep = None,
    financed: Annotated[bool, typer.Option(help="The customer pays by credit.")] = False,
    on: On = "",
    json: Out = None,
    csv: Out = None,
    xlsx: Out = None,
) -> None:
    """Price, cost, margin, risk and comfort of every option of a house."""
    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        basis = replace(basis_of(on, book, rebates, risks, upkeep), financed=financed)
        sources = Sources(catalogue(units), load_price_list(prices))
        view = office_view(compare_house(house, file.parent, sources=sources, progress=tell), basis)
    say(view_text(view))
    for path, write in ((json, office_json), (csv, office_csv)):
        if path is not None:
            write_whole(path, write(view))
            say(f"wrote {path}")
    if xlsx is not None:
        write_bytes(xlsx, office_xlsx(view))
        say(f"wrote {xlsx}")


def compile_list(
    out: Annotated[Path, typer.Argument(help="Where the price list goes: the one file the customer side opens.")],
    book: Book = None,
    margin: Annotated[str, typer.Option(help="Gross margin as a share, such as 0.40; the book's if left out.")] = "",
) -> None:
    """Compile cost book and margin into the price list."""
    with clear_errors():
        write_price_list(load_book(book), out, _share(margin))
    say(f"wrote {out}")


def _share(text: str) -> Decimal | None:
    if not text:
        return None
    try:
        return Decimal(text)
    except InvalidOperation:
        raise ValueError(f"--margin {text!r}: not a number; write 40 % as 0.40") from None


def complete_record(
    record: RecordFile,
    office: Office,
    book: Book = None,
    rebates: Rebates = None,
    risks: Risks = None,
    on: On = "",
) -> None:
    """Write the office's file of a proposal: its cost, margin, risks and planned hours."""
    with clear_errors(), progress_bar() as tell:
        path, entry = complete(record, office, basis_of(on, book, rebates, risks, None), tell)
    price_usd, margin = entry.figures.price_usd, entry.figures.margin
    say(f"{path}: price ${price_usd:,.2f}, cost ${margin.direct_usd:,.2f}, margin {margin.margin_frac:.1%}")


def after(
    record: RecordFile,
    office: Office,
    hours: Annotated[Path | None, typer.Option(help="CSV of task, hours_h as booked.")] = None,
    callbacks: Annotated[Path | None, typer.Option(help="CSV of on, risk, hours_h, cost_usd, note.")] = None,
    decision: Annotated[str, typer.Option(help="Day on which the customer decides.")] = "",
) -> None:
    """Note hours booked, return visits, the day of decision. Without any of them, print the hours to fill in."""
    with clear_errors():
        path = entry_path(office, str(read_record(record)[DIGEST]))
        entry = read_entry(path)
        if hours is None and callbacks is None and not decision:
            say(hours_form(entry).rstrip())
            return
        if hours is not None:
            entry = replace(entry, actual_h=load_hours(hours, list(entry.planned_h)))
        if callbacks is not None:
            entry = replace(entry, callbacks=load_callbacks(callbacks))
        if decision:
            entry = replace(entry, decision_on=day_of(decision, "--decision"))
        sweep(office)
        write_entry(path, entry)
    say(f"wrote {path}")


def figures(
    jobs: Annotated[Path, typer.Argument(help="Folder whose folders are jobs.")],
    office: Office,
    on: On = "",
    csv: Out = None,
    kinds: Annotated[Path | None, typer.Option(help="Also write foretold against actual to this CSV.")] = None,
) -> None:
    """Every proposal of a folder of jobs: price, margin, risk, comfort, age; foretold against actual."""
    with clear_errors():
        found = job_figures(jobs, office, day_of(on))
        say(figures_text(found))
        for path, sheet in ((csv, figures_sheet(found)), (kinds, kinds_sheet(found))):
            if path is not None:
                write_whole(path, csv_text(sheet))
                say(f"wrote {path}")
