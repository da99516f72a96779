"""What the office takes away: all quotes and the layouts of one, as CSV, XLSX and JSON."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from flask import Response

from compare.jobs.sheets import csv_text, xlsx_bytes
from compare.office.exports import office_csv, office_json, office_xlsx
from compare.office.figures import figures_sheet, kinds_sheet
from compare.office.view import OfficeView
from dashboard.office.quotes import Quote

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
TYPES = {"csv": "text/csv; charset=utf-8", "xlsx": XLSX, "json": "application/json"}


def _file(data: str | bytes, name: str, ending: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}.{ending}"'}
    return Response(data, content_type=TYPES[ending], headers=headers)


def quotes_file(quotes: Sequence[Quote], ending: str) -> Response | None:
    """Every proposal, and foretold against actual; None for an ending that is not known."""
    figures = [quote.job for quote in quotes]
    if ending == "csv":
        return _file(csv_text(figures_sheet(figures)), "office-quotes", ending)
    if ending == "xlsx":
        return _file(xlsx_bytes((figures_sheet(figures), kinds_sheet(figures))), "office-quotes", ending)
    return None


def layouts_file(quote: Quote, view: OfficeView, ending: str) -> Response | None:
    """Every layout of one quote's house; None for an ending that is not known."""
    makers: dict[str, Callable[[OfficeView], str | bytes]] = {
        "csv": office_csv, "xlsx": office_xlsx, "json": office_json,
    }  # fmt: skip
    maker = makers.get(ending)
    return None if maker is None else _file(maker(view), f"office-layouts-{quote.id}", ending)
