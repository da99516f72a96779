"""Readings typed from the commissioning sheet, judged against the design that was sold."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from pathlib import Path

from compare.jobs.expected import Expected, accept_rules
from compare.jobs.sheets import Sheet
from compare.prices.table import Row, TableError, read_file, read_table
from compare.units import System, UnitError, show, to_si

COLUMNS = ("check", "subject", "value")


class Verdict(StrEnum):
    """What became of a reading."""

    GOOD = "within"
    OUT = "out of range"
    MISSING = "not read"


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading, SI."""

    check: str
    subject: str
    value: float


@dataclass(frozen=True, slots=True)
class Judged:
    """One expected reading with what was read."""

    expected: Expected
    value: float | None
    verdict: Verdict


def load_expected(path: Path) -> tuple[Expected, ...]:
    """The expected readings that a proposal froze.

    Raises
    ------
    TableError
        A file that cannot be read.
    """
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
        found = tuple(Expected(**row) for row in rows)
    except (OSError, ValueError, TypeError) as error:
        raise TableError([f"{path}: cannot be read ({error}); restore it from a copy"]) from None
    if strange := sorted({one.check for one in found} - set(accept_rules())):
        raise TableError([f"{path}: check '{strange[0]}' is not known to this program"])
    return found


def load_readings(path: Path, wanted: Sequence[Expected], units: System) -> tuple[Reading, ...]:
    """Readings from a CSV of check, subject and value; a value may carry its unit, as in `52 cfm`.

    Raises
    ------
    TableError
        Every fault with file and line: a check or subject that the design does not know, a value that is no quantity
        of its kind, a reading that stands twice.
    """
    table = read_table(read_file(path), str(path), COLUMNS)
    known = {(one.check, one.subject) for one in wanted}
    found: dict[tuple[str, str], Reading] = {}
    problems: list[str] = []
    for row in table.rows:
        try:
            reading = _reading(row, known, units)
        except TableError as error:
            problems += error.problems
            continue
        key = (reading.check, reading.subject)
        if key in found:
            problems.append(f"{row.where}: {reading.check} of '{reading.subject}' stands twice; keep one row")
        found[key] = reading
    if problems:
        raise TableError(problems)
    return tuple(found.values())


def _reading(row: Row, known: set[tuple[str, str]], units: System) -> Reading:
    check, subject = row.text("check"), row.text("subject")
    if (check, subject) not in known:
        near = get_close_matches(f"{check} {subject}", [f"{c} {s}" for c, s in sorted(known)], n=1)
        hint = f"; did you mean '{near[0]}'?" if near else ""
        raise TableError([f"{row.where}: the design has no {check} of '{subject}'{hint}"])
    try:
        value = to_si(row.text("value"), accept_rules()[check].kind, units)
    except UnitError as error:
        raise TableError([f"{row.where}: value = '{row.text('value')}': {error}"]) from None
    return Reading(check, subject, value)


def judge(wanted: Iterable[Expected], readings: Iterable[Reading]) -> tuple[Judged, ...]:
    """Every expected reading with its verdict, in the design's order."""
    read = {(one.check, one.subject): one.value for one in readings}
    judged = []
    for one in wanted:
        value = read.get((one.check, one.subject))
        judged.append(Judged(one, value, _verdict(one, value)))
    return tuple(judged)


def _verdict(one: Expected, value: float | None) -> Verdict:
    if value is None:
        return Verdict.MISSING
    return Verdict.GOOD if one.accepts(value) else Verdict.OUT


def judged_sheet(judged: Iterable[Judged], units: System) -> Sheet:
    """The readings as a table in the house's own units."""
    columns = ("check", "subject", "design", "least", "most", "read", "verdict", "what")
    rows = []
    for one in judged:
        wanted, rule = one.expected, one.expected.rule
        values = (wanted.design, wanted.least, wanted.most, one.value)
        shown = ["" if value is None else show(value, rule.kind, units, _places(rule.kind.value)) for value in values]
        rows.append((wanted.check, wanted.subject, *shown, one.verdict.value, rule.words))
    return Sheet("readings", columns, tuple(rows))


def _places(kind: str) -> int | None:
    """Pressures in inches of water need more places than a room's temperature."""
    return {"pressure": 2, "mass": 2}.get(kind)
