"""Tables for spreadsheets: CSV by RFC 4180 and XLSX. No cell of text can become a formula; equal tables, equal bytes.

A text that begins with a sign that a spreadsheet may take for a formula gets a leading apostrophe (OWASP ASVS 5.0.0,
1.2.10). Numbers are written as numbers.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import unicodedata
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

Cell = str | int | float | Decimal | bool | dt.date | None

STARTS = frozenset("=+-@\t\r\n\0|") | frozenset("＝＋－＠−")
"""First signs that are neutralised: ASVS's, line breaks, the bar of old link formulas, and their wide forms."""
LONGEST_CELL = 32_000
LONGEST_TITLE = 31
FIXED_TIME = dt.datetime(2000, 1, 1)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table: a title, column names, and rows of cells."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @classmethod
    def of(cls, title: str, rows: Sequence[Mapping[str, Cell]], columns: Sequence[str] = ()) -> Sheet:
        """A table of rows by column name; columns of the first row when none are given."""
        names = tuple(columns) or (tuple(rows[0]) if rows else ())
        return cls(title, names, tuple(tuple(row.get(name) for name in names) for row in rows))


def harmless(text: str) -> str:
    """Text that no spreadsheet runs: control signs out, a formula's first sign behind an apostrophe."""
    kept = "".join(" " if unicodedata.category(sign) in {"Cc", "Cf"} else sign for sign in text)[:LONGEST_CELL]
    starts = text[:1] in STARTS or kept.lstrip()[:1] in STARTS
    return f"'{kept}" if starts else kept


def _shown(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, str):
        return harmless(cell)
    if isinstance(cell, float):
        return f"{cell:.10g}"
    if isinstance(cell, Decimal):
        return f"{cell:f}"
    return cell.isoformat() if isinstance(cell, dt.date) else str(cell)


def csv_text(sheet: Sheet) -> str:
    """The table as CSV with a header row."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(harmless(name) for name in sheet.columns)
    writer.writerows([_shown(cell) for cell in row] for row in sheet.rows)
    return out.getvalue()


def xlsx_bytes(sheets: Sequence[Sheet]) -> bytes:
    """The tables as one XLSX workbook, a sheet each, head row fixed; the same tables give the same bytes."""
    from openpyxl import Workbook
    from openpyxl.styles import Font

    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.created = book.properties.modified = FIXED_TIME
    book.properties.creator = ""
    for sheet in sheets:
        page = book.create_sheet(_title(sheet.title))
        for place, row in enumerate((sheet.columns, *sheet.rows), start=1):
            for column, cell in enumerate(row, start=1):
                target = page.cell(place, column)
                target.value = _typed(cell)
                if isinstance(cell, str):
                    target.data_type = "s"
                if place == 1:
                    target.font = Font(bold=True)
        page.freeze_panes = "A2"
    raw = io.BytesIO()
    book.save(raw)
    return _same_times(raw.getvalue())


def _typed(cell: Cell) -> str | int | float | dt.date | None:
    if isinstance(cell, bool | str):
        return _shown(cell)
    return float(cell) if isinstance(cell, Decimal) else cell


def _title(text: str) -> str:
    """A sheet's title without the signs that workbooks forbid."""
    kept = "".join("_" if sign in r"[]:*?/\'" else sign for sign in harmless(text)).strip("_ ")
    return kept.lstrip("".join(STARTS))[:LONGEST_TITLE] or "sheet"


def _same_times(data: bytes) -> bytes:
    """The archive with fixed times, so that equal content has equal bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in sorted(old.namelist()):
            entry = zipfile.ZipInfo(name, date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, _without_time(name, old.read(name)))
    return out.getvalue()


def _without_time(name: str, data: bytes) -> bytes:
    """Core properties carry the time of saving; it is replaced by the fixed one."""
    if name != "docProps/core.xml":
        return data
    import re

    fixed = FIXED_TIME.strftime("%Y-%m-%dT%H:%M:%SZ").encode()
    return re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", fixed, data)
