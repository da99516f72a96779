"""Office figures over a folder of jobs: price, margin, risk, comfort, age; what was foretold against what came."""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from compare.jobs.changes import changes
from compare.jobs.proposal import FOLDER
from compare.jobs.readings import Verdict
from compare.jobs.record import DIGEST, RECORD, SHORT, read_record
from compare.jobs.sheets import Cell, Sheet
from compare.jobs.status import Status, status_of
from compare.office.ledger import Entry, entry_path, read_entry

OPEN = frozenset({Status.DRAFT, Status.SHOWN})


@dataclass(frozen=True, slots=True)
class JobFigures:
    """One proposal of one job; figures None where the office has not completed it."""

    job: str
    proposal: str
    house: str
    layout: str
    kind: str
    status: str
    status_on: dt.date
    issued_on: dt.date
    valid_to: dt.date
    age_days: int
    price_usd: Decimal
    changes_usd: Decimal
    entry: Entry | None
    readings: dict[str, int]
    """How many readings came to each verdict."""
    error: str = ""

    @property
    def overdue(self) -> bool:
        """Whether it is still open after its last day."""
        return self.status in {s.value for s in OPEN} and self.age_days > (self.valid_to - self.issued_on).days

    def cells(self) -> dict[str, Cell]:
        """The row of the table."""
        row: dict[str, Cell] = {
            "job": self.job,
            "proposal": self.proposal,
            "house": self.house,
            "layout": self.layout,
            "kind": self.kind,
            "status": self.status,
            "status_on": self.status_on,
            "issued_on": self.issued_on,
            "valid_to": self.valid_to,
            "age_days": self.age_days,
            "overdue": self.overdue,
            "price_usd": self.price_usd,
            "changes_usd": self.changes_usd,
        }
        return row | _entry_cells(self.entry) | _reading_cells(self.readings) | {"error": self.error}


ENTRY_COLUMNS = (
    "direct_usd",
    "gross_profit_usd",
    "margin_frac",
    "profit_per_crew_day_usd",
    "expected_callback_usd",
    "risk_adjusted_usd",
    "risk_adjusted_frac",
    "comfort_score",
    "cold_rooms",
    "draughty_rooms",
    "loudest_bed_dba",
    "oversize_ratio",
    "largest_discount_frac",
    "planned_hours_h",
    "actual_hours_h",
    "hours_ratio",
    "callbacks",
    "callbacks_usd",
    "decision_on",
)


def _entry_cells(entry: Entry | None) -> dict[str, Cell]:
    row: dict[str, Cell] = dict.fromkeys(ENTRY_COLUMNS)
    if entry is None:
        return row
    margin, comfort = entry.figures.margin.model_dump(), entry.figures.comfort
    row |= {name: margin[name] for name in ENTRY_COLUMNS if name in margin}
    return row | {
        "comfort_score": comfort.comfort_score,
        "cold_rooms": len(comfort.cold_rooms),
        "draughty_rooms": len(comfort.draughty_rooms),
        "loudest_bed_dba": comfort.loudest_bed_dba,
        "oversize_ratio": comfort.oversize_ratio,
        "planned_hours_h": planned_h(entry),
        "actual_hours_h": actual_h(entry),
        "hours_ratio": hours_ratio(entry),
        "callbacks": len(entry.callbacks),
        "callbacks_usd": sum((one.cost_usd for one in entry.callbacks), Decimal(0)),
        "decision_on": entry.decision_on,
    }


def _reading_cells(readings: dict[str, int]) -> dict[str, Cell]:
    return {f"readings_{verdict.name.lower()}": readings.get(verdict.value) for verdict in Verdict}


def planned_h(entry: Entry) -> Decimal:
    """Person-hours that the cost book foretells."""
    return sum(entry.planned_h.values(), Decimal(0))


def actual_h(entry: Entry) -> Decimal | None:
    """Person-hours booked; None before any."""
    return sum(entry.actual_h.values(), Decimal(0)) if entry.actual_h else None


def hours_ratio(entry: Entry) -> Decimal | None:
    """Booked over planned hours."""
    booked, planned = actual_h(entry), planned_h(entry)
    return round(booked / planned, 4) if booked is not None and planned else None


def job_figures(jobs: Path, office: Path, on: dt.date) -> tuple[JobFigures, ...]:
    """Every proposal of every job in a folder, in the order of their names; one that cannot be read is a row too."""
    found = []
    for path in sorted(jobs.glob(f"*/{FOLDER}*/{RECORD}")):
        try:
            found.append(_figures(path, office, on))
        except (ValueError, OSError, KeyError, TypeError) as error:
            found.append(_broken(path, f"{error}", on))
    return tuple(found)


def _figures(path: Path, office: Path, on: dt.date) -> JobFigures:
    record: dict[str, Any] = dict(read_record(path))
    job, proposal = path.parents[1], record[DIGEST][:SHORT]
    offer = record["proposal"]
    state = status_of(job, proposal)
    issued = dt.date.fromisoformat(offer["issued_utc"][:10])
    own = entry_path(office, record[DIGEST])
    entry = read_entry(own) if own.exists() else None
    if entry is not None and entry.record_sha256 != record[DIGEST]:
        raise ValueError(f"{own}: belongs to another record; complete the proposal again")
    agreed = (one.price_usd for one in changes(job) if one.proposal == proposal and one.agreed_on)
    return JobFigures(
        job=job.name,
        proposal=proposal,
        house=record["inputs"]["house"],
        layout=offer["layout"],
        kind=offer["family"],
        status=state.status.value if state else "unknown",
        status_on=state.on if state else issued,
        issued_on=issued,
        valid_to=dt.date.fromisoformat(offer["valid_to"]),
        age_days=(on - issued).days,
        price_usd=Decimal(str(offer["price_usd"])),
        changes_usd=sum(agreed, Decimal(0)),
        entry=entry,
        readings=_readings(job / f"readings-{proposal}.csv"),
    )


def _broken(path: Path, error: str, on: dt.date) -> JobFigures:
    zero, name = Decimal(0), path.parent.name.removeprefix(FOLDER)
    return JobFigures(path.parents[1].name, name, "", "", "", "unknown", on, on, on, 0, zero, zero, None, {}, error)


def _readings(path: Path) -> dict[str, int]:
    if not path.exists():
        return {}
    with path.open(encoding="utf-8", newline="") as file:
        verdicts = [row["verdict"] for row in csv.DictReader(file)]
    return {verdict.value: verdicts.count(verdict.value) for verdict in Verdict}


def figures_sheet(found: Sequence[JobFigures]) -> Sheet:
    """One row per proposal."""
    return Sheet.of("jobs", [one.cells() for one in found])


def kinds_sheet(found: Iterable[JobFigures]) -> Sheet:
    """What was foretold against what came, by kind of layout; only installed jobs count."""
    return Sheet.of("kinds", list(_kinds(found)))


def _kinds(found: Iterable[JobFigures]) -> Iterator[dict[str, Cell]]:
    groups: dict[str, list[tuple[JobFigures, Entry]]] = {}
    for one in found:
        if one.status == Status.INSTALLED.value and one.entry is not None:
            groups.setdefault(one.kind, []).append((one, one.entry))
    for kind in sorted(groups):
        yield _kind(kind, groups[kind])


def _kind(kind: str, group: list[tuple[JobFigures, Entry]]) -> dict[str, Cell]:
    entries = [entry for _, entry in group]
    ratios = [ratio for entry in entries if (ratio := hours_ratio(entry)) is not None]
    foretold = [1 - _no_callback(entry) for entry in entries]
    read = [one.readings for one, _ in group if one.readings]
    taken = sum(r[Verdict.GOOD.value] + r[Verdict.OUT.value] for r in read)
    good = sum(r[Verdict.GOOD.value] for r in read)
    count = len(entries)
    return {
        "kind": kind,
        "installed": count,
        "mean_hours_ratio": round(sum(ratios, Decimal(0)) / len(ratios), 4) if ratios else None,
        "jobs_with_hours": len(ratios),
        "foretold_callbacks_per_job": round(sum(foretold, Decimal(0)) / count, 4),
        "actual_callbacks_per_job": round(Decimal(sum(bool(e.callbacks) for e in entries)) / count, 4),
        "foretold_callbacks_usd": sum((e.figures.margin.expected_callback_usd for e in entries), Decimal(0)),
        "actual_callbacks_usd": sum((c.cost_usd for e in entries for c in e.callbacks), Decimal(0)),
        "readings_within_frac": round(Decimal(good) / taken, 4) if taken else None,
    }


def _no_callback(entry: Entry) -> Decimal:
    """Probability that no risk comes about."""
    left = Decimal(1)
    for risk in entry.figures.risks:
        left *= 1 - risk.probability_frac
    return left
