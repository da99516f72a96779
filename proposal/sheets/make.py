"""All sheets of one option of a comparison, and their files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from compare.commands.tables import option_name
from compare.jobs.expected import Expected, expected_checks
from compare.offer import basis_of_case
from compare.pipeline import Comparison
from compare.views.customer import CustomerView
from compare.views.designer_desk import Desk
from compare.views.sheets import SheetsView
from compare.views.sheets_build import sheets_view
from proposal.document.blocks import Document
from proposal.files import write_all
from proposal.page import page_of
from proposal.pdf import pdf_of
from proposal.sheets.basis import basis_sheet
from proposal.sheets.colleague import colleague_walk
from proposal.sheets.commissioning import commissioning_sheet
from proposal.sheets.crew import crew_sheet
from proposal.sheets.trade import trade_of
from proposal.sheets.walk import Walk, customer_walk
from proposal.words import equals


@dataclass(frozen=True, slots=True)
class Given:
    """What the sheets of one option are made of."""

    customer: CustomerView
    sheets: SheetsView
    readings: tuple[Expected, ...]


def given_of(found: Comparison, option_id: str | None = None) -> Given:
    """Views of one option; of the recommended one, or the least costly of several equals, when no id is given.

    Raises
    ------
    ValueError
        When no layout is good enough and none is named, or no layout of the comparison has that id.
    """
    view = found.customer_view()
    chosen = option_id or next((option.id for option in equals(view)), None)
    if chosen is None:
        raise ValueError("no layout of this house is good enough to build; name one of them by its id to write it up")
    known = [option.id for option in view.options]
    if chosen not in known:
        raise ValueError(f"option '{chosen}' is not in this comparison; choose one of: {', '.join(known)}")
    sheets = sheets_view(desk_of(found), found.by_id[chosen].option)
    return Given(view, sheets, expected_checks(found, chosen))


def desk_of(found: Comparison) -> Desk:
    """What the views of designers are made of."""
    rooms = [room.name for room in found.case.plan.rooms]
    return Desk(
        case=found.case,
        basis=basis_of_case(found.case, found.sources),
        prices=found.sources.prices,
        options=found.options,
        names={option.key: option_name(option, rooms) for option in found.options},
    )


def sheets_of(given: Given, language: str = "en") -> dict[str, Document]:
    """Every sheet by its file's stem."""
    trade = trade_of(given.sheets, language)
    walk = Walk(trade, given.customer, given.customer.option(given.sheets.option_id))
    return {
        "crew": crew_sheet(trade),
        "commissioning": commissioning_sheet(trade, given.readings),
        "walk-customer": customer_walk(walk),
        "walk-colleagues": colleague_walk(walk),
        "basis": basis_sheet(trade),
    }


def write_sheets(papers: dict[str, Document], folder: Path) -> tuple[Path, ...]:
    """Write every sheet as a page and a PDF; all are made before the first is written."""
    made = {}
    for stem, paper in papers.items():
        made[f"{stem}.html"] = page_of(paper).encode("utf-8")
        made[f"{stem}.pdf"] = pdf_of(paper)
    return write_all(made, folder)
