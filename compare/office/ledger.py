"""The office's own file of a proposal: its cost and margin when it was issued, and what came after. Never customer's.

It lies in the office's folder, named by the record's digest, so that a job's folder can be handed over whole.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from compare.jobs.canonical import canonical_text, digest_of
from compare.jobs.disk import PRIVATE, Disk, sweep, write_whole
from compare.jobs.given import Given
from compare.jobs.record import DIGEST, RecordError, read_record
from compare.offer import Progress
from compare.office.alternatives import view_path, write_view
from compare.office.costing import hours_by_task, part_costs
from compare.office.view import OfficeOption
from compare.office.view_build import OfficeBasis, office_view
from compare.prices.table import CENT, Row, TableError, parse_rows, read_file, read_table
from compare.prices.takeoff import take_off

FORMAT = 1
HOUR_COLUMNS = ("task", "hours_h")
CALLBACK_COLUMNS = ("on", "risk", "hours_h", "cost_usd", "note")


class LedgerError(ValueError):
    """An office file that cannot be read or does not fit its record."""


@dataclass(frozen=True, slots=True)
class Callback:
    """One return visit."""

    on: dt.date
    risk: str
    hours_h: Decimal
    cost_usd: Decimal
    note: str


@dataclass(frozen=True, slots=True)
class Entry:
    """What the office keeps of one proposal."""

    record_sha256: str
    issued_on: dt.date
    book_sha256: str
    figures: OfficeOption
    planned_h: dict[str, Decimal]
    """Person-hours by task of the cost book."""
    actual_h: dict[str, Decimal]
    """As booked; empty until the job is done."""
    callbacks: tuple[Callback, ...]
    decision_on: dt.date | None


def entry_path(office: Path, record_sha256: str) -> Path:
    """Where the office keeps its file of a record."""
    return office / f"{record_sha256[:12]}.json"


def complete(
    record_path: Path, office: Path, basis: OfficeBasis, progress: Progress | None = None, disk: Disk = PRIVATE
) -> tuple[Path, Entry]:
    """Work a proposal's costs out and write the office's file beside the others; hours and callbacks are kept.

    The layouts that could be offered instead are kept with it.

    Raises
    ------
    RecordError
        A record that cannot be read or was changed.
    LedgerError
        A price that does not come out as it was offered.
    ValueError
        As working out the house raises.
    """
    record: dict[str, Any] = dict(read_record(record_path))
    option_id = record["proposal"]["option"]
    found = Given.frozen(record_path.parent, record["inputs"]["house_file"]).worked_out(progress)
    if option_id not in found.by_id:
        raise RecordError(f"{record_path}: this program does not find option {option_id} in the house any more")
    view = office_view(found, basis)
    figures = view.option(option_id)
    offered_usd = Decimal(str(record["proposal"]["price_usd"]))
    if abs(figures.price_usd - offered_usd) >= CENT:
        raise LedgerError(
            f"{record_path}: was offered at {offered_usd} and now comes to {figures.price_usd}; the program has "
            "changed since: issue it again, or complete it with the program that issued it"
        )
    parts = part_costs(take_off(found.by_id[option_id].option.job), basis.book)
    digest = str(record[DIGEST])
    path = entry_path(office, digest)
    old = read_entry(path) if path.exists() else None
    entry = Entry(
        digest,
        dt.date.fromisoformat(record["proposal"]["issued_utc"][:10]),
        digest_of([[row.item, list(row.figures), row.source] for row in basis.book.rows.values()]),
        figures,
        hours_by_task(parts),
        old.actual_h if old else {},
        old.callbacks if old else (),
        old.decision_on if old else None,
    )
    sweep(office)
    write_view(view_path(office, digest), digest, view, disk)
    write_entry(path, entry, disk)
    return path, entry


def write_entry(path: Path, entry: Entry, disk: Disk = PRIVATE) -> None:
    """Write the office's file whole."""
    body = {
        "format": FORMAT,
        "record_sha256": entry.record_sha256,
        "issued_on": entry.issued_on,
        "book_sha256": entry.book_sha256,
        "figures": json.loads(entry.figures.model_dump_json()),
        "planned_h": entry.planned_h,
        "actual_h": entry.actual_h,
        "callbacks": [{n: getattr(one, n) for n in CALLBACK_COLUMNS} for one in entry.callbacks],
        "decision_on": entry.decision_on,
    }
    write_whole(path, canonical_text(body), disk)


def read_entry(path: Path) -> Entry:
    """Read the office's file of a proposal.

    Raises
    ------
    LedgerError
        A file that is missing, cannot be read or is of another format.
    """
    try:
        body = json.loads(path.read_text(encoding="utf-8"))
        if body["format"] != FORMAT:
            raise LedgerError(f"{path}: format {body['format']!r}; this program reads format {FORMAT}")
        decision = body["decision_on"]
        return Entry(
            body["record_sha256"],
            dt.date.fromisoformat(body["issued_on"]),
            body["book_sha256"],
            OfficeOption.model_validate(body["figures"]),
            {task: Decimal(hours) for task, hours in body["planned_h"].items()},
            {task: Decimal(hours) for task, hours in body["actual_h"].items()},
            tuple(_callback(row) for row in body["callbacks"]),
            dt.date.fromisoformat(decision) if decision else None,
        )
    except FileNotFoundError:
        raise LedgerError(f"{path}: no such file; complete the proposal first") from None
    except (OSError, ValueError, KeyError, TypeError, ArithmeticError) as error:
        if isinstance(error, LedgerError):
            raise
        raise LedgerError(f"{path}: cannot be read ({error}); complete the proposal again") from None


def _callback(row: dict[str, str]) -> Callback:
    on, hours, cost = dt.date.fromisoformat(row["on"]), Decimal(row["hours_h"]), Decimal(row["cost_usd"])
    return Callback(on, row["risk"], hours, cost, row["note"])


def load_hours(path: Path, planned: Sequence[str]) -> dict[str, Decimal]:
    """Booked person-hours by task of the cost book, from a CSV.

    Raises
    ------
    TableError
        Every fault with file and line; a task that the job does not plan is refused unless it is `other`.
    """

    def parse(row: Row) -> tuple[str, Decimal]:
        task = row.text("task")
        if task not in planned and task != "other":
            able = ", ".join((*planned, "other"))
            raise TableError([f"{row.where}: task '{task}' is not planned here; use one of {able}"])
        return task, row.number("hours_h")

    found: dict[str, Decimal] = {}
    for task, hours in parse_rows(read_table(read_file(path), str(path), HOUR_COLUMNS), parse):
        found[task] = found.get(task, Decimal(0)) + hours
    return found


def load_callbacks(path: Path) -> tuple[Callback, ...]:
    """Return visits from a CSV; TableError with every fault."""

    def parse(row: Row) -> Callback:
        return Callback(
            row.date("on"), row.text("risk"), row.number("hours_h"), row.number("cost_usd"), row.cells["note"]
        )

    return parse_rows(read_table(read_file(path), str(path), CALLBACK_COLUMNS), parse)


def hours_form(entry: Entry) -> str:
    """The tasks of a job with their planned hours, to be filled in."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HOUR_COLUMNS)
    writer.writerows((task, f"{hours:.2f}") for task, hours in entry.planned_h.items())
    return out.getvalue()
