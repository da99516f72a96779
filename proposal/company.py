"""Details of the company that makes the offer, from a small TOML file. Nothing is invented where they are missing."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from proposal.words import plain

LONGEST = 200
LONGEST_NOTICE = 6000
LARGEST_BYTES = 100_000
MOST_STEPS = 8


class CompanyFileError(ValueError):
    """A company file that cannot be used; the text names the field and the cure."""


@dataclass(frozen=True, slots=True)
class PayStep:
    """One payment: what it is for and its share of the price."""

    when: str
    share_frac: float


@dataclass(frozen=True, slots=True)
class Company:
    """Who offers, on what terms; None where it was not given."""

    name: str | None = None
    address: str | None = None
    phone: str | None = None
    license: str | None = None
    insurance: str | None = None
    salesperson: str | None = None
    registration: str | None = None
    date: str | None = None
    valid_days: int | None = None
    start_weeks: int | None = None
    work_days: int | None = None
    warranty_years: int | None = None
    payments: tuple[PayStep, ...] = ()
    cancellation: str | None = None
    """Statement of the right to cancel, in the words of the law, as the company gives it."""
    cancellation_form: str | None = None

    @property
    def missing(self) -> tuple[str, ...]:
        """Fields that a paper needs and that were not given."""
        needed = ("name", "address", "phone", "license", "insurance", "salesperson", "date", "valid_days")
        found = [key for key in needed if getattr(self, key) is None]
        return (*found, *(() if self.payments else ("payments",)))


TEXTS = ("name", "address", "phone", "license", "insurance", "salesperson", "registration", "date")
NOTICES = ("cancellation", "cancellation_form")
COUNTS = {"valid_days": 365, "start_weeks": 104, "work_days": 365, "warranty_years": 30}


def read_company(path: Path) -> Company:
    """Read a company file.

    Raises
    ------
    CompanyFileError
        For a file that is too large, no TOML, or holds a field that is not known or cannot be.
    """
    if path.stat().st_size > LARGEST_BYTES:
        raise CompanyFileError(f"{path.name}: larger than {LARGEST_BYTES} bytes; keep only the company's details")
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise CompanyFileError(f"{path.name}: no valid TOML: {error}") from error
    return company_of(data)


def company_of(data: dict[str, object]) -> Company:
    """A company from the data of its file."""
    known = [field.name for field in fields(Company)]
    for key in data:
        if key not in known:
            raise CompanyFileError(f"{key}: not known here; write one of {', '.join(known)}")
    found: dict[str, Any] = {key: _text(data, key, LONGEST) for key in TEXTS}
    found |= {key: _text(data, key, LONGEST_NOTICE) for key in NOTICES}
    found |= {key: _count(data, key, most) for key, most in COUNTS.items()}
    return Company(**found, payments=_payments(data.get("payments", [])))


def _text(data: dict[str, object], key: str, longest: int) -> str | None:
    value = data.get(key)
    if value is None:
        return None
    if not isinstance(value, str) or not plain(value) or len(value) > longest:
        raise CompanyFileError(f"{key}: write a text of 1 to {longest} letters")
    return plain(value)


def _count(data: dict[str, object], key: str, most: int) -> int | None:
    value = data.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
        raise CompanyFileError(f"{key}: write a whole number from 1 to {most}")
    return value


def _payments(found: object) -> tuple[PayStep, ...]:
    """Steps as `[[payments]]` tables with `when` and `share` (`30 %` or 0.3); shares add up to all."""
    if not isinstance(found, list) or len(found) > MOST_STEPS:
        raise CompanyFileError(f"payments: write at most {MOST_STEPS} tables [[payments]] with when and share")
    steps = tuple(_step(item, place) for place, item in enumerate(found, start=1))
    total = sum(step.share_frac for step in steps)
    if steps and abs(total - 1.0) > 1e-6:
        raise CompanyFileError(f"payments: the shares add up to {total:.3f}; they must add up to 1")
    return steps


def _step(item: object, place: int) -> PayStep:
    where = f"payments[{place}]"
    if not isinstance(item, dict) or set(item) != {"when", "share"}:
        raise CompanyFileError(f"{where}: write when and share, nothing else")
    when, share = item["when"], item["share"]
    if not isinstance(when, str) or not plain(when) or len(when) > LONGEST:
        raise CompanyFileError(f"{where}.when: write what is done by then, 1 to {LONGEST} letters")
    if isinstance(share, bool) or not isinstance(share, int | float) or not 0.0 < share <= 1.0:
        raise CompanyFileError(f"{where}.share: write a share above 0 and up to 1, such as 0.3")
    return PayStep(plain(when), float(share))
