"""A frozen proposal: one folder, written whole, with the record and all that it was worked out from and shows."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

from compare.jobs.canonical import canonical_text
from compare.jobs.customer_sheets import options_sheet, rooms_sheet, scope_sheet
from compare.jobs.disk import DISK, Disk, sweep, write_folder
from compare.jobs.expected import expected_checks
from compare.jobs.given import HOUSE, PRICES, UNITS, Given, weather_file
from compare.jobs.record import RECORD, Offer, Record, check_offer, offered_card, record_of, record_text, short_id
from compare.jobs.sheets import csv_text, xlsx_bytes
from compare.jobs.status import Status, add_status
from compare.offer import Progress
from compare.pipeline import Comparison
from compare.prices.price_list import write_text
from compare.prices.takeoff import take_off

FOLDER = "proposal-"
VIEW, EXPECTED = "view.json", "expected.json"


def issue(given: Given, offer: Offer, job: Path, progress: Progress | None = None) -> tuple[Path, Record]:
    """Work out a house and freeze one option of it as a proposal in a job's folder; its status begins as draft.

    Returns
    -------
    The proposal's folder and its record. An equal offer (same inputs, same minute) is found, not written again.

    Raises
    ------
    ValueError, HouseFileError, TableError, OSError
        Each names the field and the cure; nothing is then left behind.
    """
    check_offer(offer)
    return freeze(given.worked_out(progress), given, offer, job)


def freeze(found: Comparison, given: Given, offer: Offer, job: Path, disk: Disk = DISK) -> tuple[Path, Record]:
    """Freeze one option of a comparison that is worked out already; else as `issue`."""
    files = proposal_files(found, given, offer)
    record = record_of(found, given, offer, files)
    sweep(job)
    folder = job / f"{FOLDER}{short_id(record)}"
    if not folder.exists():
        write_folder(folder, {**files, RECORD: record_text(record)}, disk)
    day = offer.issued.astimezone(dt.UTC).date()
    add_status(job, Status.DRAFT, day, short_id(record), disk=disk)
    return folder, record


def proposal_files(found: Comparison, given: Given, offer: Offer) -> dict[str, bytes | str]:
    """Every file of a proposal but its record, by name."""
    house = found.case.house
    view = found.customer_view(offer.priorities)
    card = offered_card(view, offer.option_id)
    option = found.by_id[card.id].option
    quantities = take_off(option.job)
    sheets = (options_sheet(view), rooms_sheet(view), scope_sheet(quantities))
    files: dict[str, bytes | str] = {
        HOUSE: given.house,
        PRICES: write_text(found.sources.prices),
        VIEW: canonical_text(json.loads(view.model_dump_json())),
        EXPECTED: canonical_text([check.as_data() for check in expected_checks(found, card.id)]),
        "options.csv": csv_text(sheets[0]),
        "rooms.csv": csv_text(sheets[1]),
        "scope.csv": csv_text(sheets[2]),
        "tables.xlsx": xlsx_bytes(sheets),
    }
    if (weather := weather_file(house, given.folder)) is not None:
        name, data = weather
        if name in files:
            raise ValueError(f"site.weather = {name!r}: a proposal keeps another file under that name; rename it")
        files[name] = data
    return files | _unit_files(given.units)


def _unit_files(units: Path | None) -> dict[str, bytes]:
    """A company's own unit tables, to be frozen beside the house."""
    if units is None:
        return {}
    tables = sorted(units.glob("*.csv")) if units.is_dir() else [units]
    return {f"{UNITS}/{table.name}": table.read_bytes() for table in tables}
