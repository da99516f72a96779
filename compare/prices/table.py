"""Reading money tables: CSV with fixed columns, Decimal numbers, every problem reported with file and line."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from importlib.resources import files
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")
CENT = Decimal("0.01")


class TableError(ValueError):
    """A table cannot be used; `problems` holds one text per fault, each with file and line and the cure."""

    def __init__(self, problems: Sequence[str]) -> None:
        """Keep the problems and show one a line."""
        self.problems = tuple(problems)
        super().__init__("\n".join(self.problems))


def cents(amount_usd: Decimal) -> Decimal:
    """Round dollars to whole cents, halves up."""
    return amount_usd.quantize(CENT, rounding=ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: where it stands and its cells."""

    where: str
    cells: dict[str, str]

    def text(self, column: str) -> str:
        """Return a cell that must not be empty."""
        value = self.cells[column]
        if not value:
            raise TableError([f"{self.where}: column '{column}' is empty; fill it in"])
        return value

    def number(self, column: str) -> Decimal:
        """Return a finite number of zero or more."""
        raw = self.text(column)
        try:
            value = Decimal(raw)
        except InvalidOperation:
            raise TableError([f"{self.where}: {column} = '{raw}' is not a plain number such as 1250.00"]) from None
        if not value.is_finite():
            raise TableError([f"{self.where}: {column} = '{raw}' is not finite; give a number such as 1250.00"])
        if value < 0:
            raise TableError([f"{self.where}: {column} = {raw} is negative; give zero or more"])
        return value

    def date(self, column: str) -> dt.date:
        """Return a calendar date written year-month-day."""
        raw = self.text(column)
        try:
            return dt.date.fromisoformat(raw)
        except ValueError:
            raise TableError([f"{self.where}: {column} = '{raw}' is not a date; write it as 2026-11-25"]) from None


@dataclass(frozen=True, slots=True)
class Table:
    """A table's name (shown in errors) and its rows."""

    name: str
    rows: tuple[Row, ...] = field(default=())


def read_table(text: str, name: str, columns: Sequence[str]) -> Table:
    """Split CSV text into rows with exactly these columns; `name` stands in errors before the line number.

    Blank lines and lines whose first cell begins with # are skipped.

    Raises
    ------
    TableError
        Missing, foreign or repeated columns, or a row with too few or too many cells.
    """
    lines = _content(text.removeprefix("\ufeff"), name)
    header_line, header = next(lines, (1, []))
    _check_header(header, f"{name}:{header_line}", columns)
    rows: list[Row] = []
    problems: list[str] = []
    for line, cells in lines:
        where = f"{name}:{line}"
        if len(cells) != len(header):
            problems.append(f"{where}: {len(cells)} cells where the header has {len(header)}; quote cells with commas")
            continue
        rows.append(Row(where, dict(zip(header, cells, strict=True))))
    if problems:
        raise TableError(problems)
    return Table(name, tuple(rows))


def _content(text: str, name: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text), strict=True)
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped) and not stripped[0].startswith("#"):
                yield reader.line_num, stripped
    except csv.Error as error:
        fault = f"{name}:{reader.line_num}: not readable as CSV ({error}); save it as plain CSV text"
        raise TableError([fault]) from None


def _check_header(header: list[str], where: str, columns: Sequence[str]) -> None:
    wanted = ",".join(columns)
    problems = [f"{where}: column '{c}' is missing; the header is {wanted}" for c in columns if c not in header]
    foreign = [c for c in header if c not in columns]
    problems += [f"{where}: column '{c}' does not belong in this table; take it out" for c in foreign]
    if len(set(header)) != len(header):
        problems.append(f"{where}: a column stands twice; the header is {wanted}")
    if problems:
        raise TableError(problems)


def parse_rows(table: Table, parse: Callable[[Row], T]) -> tuple[T, ...]:
    """Parse every row, gathering all problems before raising one `TableError`."""
    parsed: list[T] = []
    problems: list[str] = []
    for row in table.rows:
        try:
            parsed.append(parse(row))
        except TableError as error:
            problems.extend(error.problems)
    if problems:
        raise TableError(problems)
    return tuple(parsed)


def read_file(path: Path) -> str:
    """Read a user's table as UTF-8 text, with a plain error when that fails."""
    try:
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise TableError([f"{path}: no such file"]) from None
    except (OSError, UnicodeDecodeError) as error:
        raise TableError([f"{path}: cannot be read as UTF-8 text ({error})"]) from None


def packaged(package: str, file_name: str) -> str:
    """Return the text of a table shipped inside `package`."""
    return (files(package) / file_name).read_text(encoding="utf-8")
