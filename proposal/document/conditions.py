"""Conditions of the data tables, and which hold for a paper."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

from compare.views.customer import CustomerView, OptionCard

LEAD_PAINT_YEAR = 1978
"""Housing built before this year falls under the rule for lead-safe work (40 CFR 745 subpart E)."""


@cache
def rows(table: str, language: str = "en") -> tuple[dict[str, str], ...]:
    """Rows of a data table of the proposal, each with its source."""
    text = (files(f"proposal.data.{language}") / f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def notice_rows() -> tuple[dict[str, str], ...]:
    """Dated rows of the law; their words are for the company, not for the paper."""
    text = (files("proposal.data") / "notices.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def applies(when: str, view: CustomerView, option: OptionCard) -> bool:
    """Whether a row belongs into the paper of this house and option.

    Raises
    ------
    ValueError
        For a condition that the table must not hold.
    """
    built = view.house.built
    conditions = {
        "always": True,
        "hidden": option.hidden > 0,
        "wall": option.heads > 0,
        "heaters": option.heaters > 0,
        "offer": not view.house.estimate,
        "before 1978": built is not None and built < LEAD_PAINT_YEAR,
        "year unknown": built is None,
    }
    if when not in conditions:
        raise ValueError(f"condition '{when}' is not known; write one of: {', '.join(conditions)}")
    return conditions[when]


def state_of(place: str) -> str:
    """Two letters of the state at the end of a place, as in `Near Richmond, VA`; empty where there are none."""
    tail = place.rpartition(",")[2].strip()
    return tail if len(tail) == 2 and tail.isalpha() and tail.isupper() else ""


def notices_for(view: CustomerView, option: OptionCard) -> tuple[dict[str, str], ...]:
    """Rows of the law that apply: federal ones, those of the state, else those of states without a cap."""
    state = state_of(view.house.place)
    own = {row["topic"] for row in notice_rows() if row["jurisdiction"] == state}
    found = []
    for row in notice_rows():
        where = row["jurisdiction"]
        here = where in ("US", state) or (where == "other" and row["topic"] not in own)
        if here and applies(row["applies_when"], view, option):
            found.append(row)
    return tuple(found)
