"""The record of a proposal: what was offered, from which inputs, by which program, with which results. No cost.

Its own digest covers every other field, so that a later change of one byte is found.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from compare.jobs.canonical import canonical_text, digest_of, sha256_of
from compare.jobs.customer_sheets import plain_name
from compare.jobs.fingerprint import data_digests, program
from compare.jobs.given import Given
from compare.jobs.results import result_rows
from compare.pipeline import Comparison
from compare.scoring.criteria import CRITERIA
from compare.scoring.weights import weights_from_priorities
from compare.views.customer import CustomerView, OptionCard

FORMAT = 1
RECORD = "record.json"
DIGEST = "record_sha256"
SHORT = 12
"""Figures of the digest that stand on each page of the proposal."""
USUAL_VALID_DAYS = 30
MOST_VALID_DAYS = 365
MOST_BYTES = 16 * 2**20

Record = dict[str, object]


class RecordError(ValueError):
    """A record that cannot be read or was changed; the text says which and what to do."""


@dataclass(frozen=True, slots=True)
class Offer:
    """What is offered, by whom and when. `priorities` None stands for those of the house file."""

    option_id: str
    issued: dt.datetime
    """With a time zone; kept in UTC."""
    valid_days: int = USUAL_VALID_DAYS
    role: str = "salesperson"
    by: str = ""
    priorities: Mapping[str, int] | None = None

    @property
    def valid_to(self) -> dt.date:
        """Last day on which the offer holds."""
        return self.issued.astimezone(dt.UTC).date() + dt.timedelta(days=self.valid_days)


def check_offer(offer: Offer) -> None:
    """Raise `ValueError` for an offer that cannot stand."""
    if offer.issued.tzinfo is None:
        raise ValueError("issued: give the time with its zone, such as 2026-11-25T14:00:00+00:00")
    if not 1 <= offer.valid_days <= MOST_VALID_DAYS:
        raise ValueError(f"valid_days = {offer.valid_days}; give 1 to {MOST_VALID_DAYS}")


def offered_card(view: CustomerView, option_id: str) -> OptionCard:
    """The card of the option to be offered.

    Raises
    ------
    ValueError
        When no option that is shown has the id, or it is left out; the text lists those that can be offered.
    """
    able = {card.id: card for card in view.options if card.status == "offered"}
    if option_id in able:
        return able[option_id]
    listed = "\n".join(f"  {card.id}  {plain_name(card)}" for card in able.values()) or "  none"
    left_out = any(card.id == option_id for card in view.options)
    why = "is left out here" if left_out else "is not among the options shown"
    raise ValueError(f"option {option_id!r} {why}; those that can be offered:\n{listed}")


def record_of(found: Comparison, given: Given, offer: Offer, files: Mapping[str, bytes | str]) -> Record:
    """The record of an offer, with the digests of the files that lie beside it.

    Raises
    ------
    ValueError
        An offer that cannot stand, or an option that cannot be offered.
    """
    check_offer(offer)
    view = found.customer_view(offer.priorities)
    card = offered_card(view, offer.option_id)
    record: Record = {
        "format": FORMAT,
        "proposal": {
            "option": card.id,
            "layout": plain_name(card),
            "family": card.family,
            "price_low_usd": card.facts.price_low_usd,
            "price_usd": card.facts.price_usd,
            "price_high_usd": card.facts.price_high_usd,
            "estimate": view.house.estimate,
            "issued_utc": offer.issued.astimezone(dt.UTC).strftime("%Y-%m-%dT%H:%M:%SZ"),
            "valid_to": offer.valid_to,
            "role": offer.role,
            "by": offer.by,
        },
        "inputs": inputs_of(found, given, offer.priorities),
        "program": program(),
        "results": result_rows(found, weights_from_priorities(view.priorities)),
        "files": {name: sha256_of(data) for name, data in sorted(files.items())},
    }
    return record | {DIGEST: digest_of(record)}


def inputs_of(found: Comparison, given: Given, priorities: Mapping[str, int] | None) -> Record:
    """All that the results rest on, each with its digest."""
    chosen = dict(found.case.house.priorities.model_dump() if priorities is None else priorities)
    weights = weights_from_priorities(chosen)
    weather = found.case.weather
    return {
        "house": found.case.house.house.name,
        "house_file": given.name,
        "house_sha256": sha256_of(given.house),
        "house_data_sha256": digest_of(found.case.house.model_dump(mode="json")),
        "weather_source": weather.source.value,
        "weather": weather.provenance,
        "weather_sha256": weather.key,
        "priorities": chosen,
        "weights": {c.value: w for c, w in zip(CRITERIA, weights.fracs, strict=True)},
        "prices": found.sources.prices.name if given.prices is None else given.prices.name,
        "units": found.sources.units.label,
        "data_sha256": data_digests(),
    }


def short_id(record: Mapping[str, object]) -> str:
    """The first figures of a record's digest: what pages carry and folders are named by."""
    return str(record[DIGEST])[:SHORT]


def read_record(path: Path) -> Record:
    """Read a record and check its own digest.

    Raises
    ------
    RecordError
        A file that is no record, of another format, or changed since it was written.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise RecordError(f"{path}: larger than a record can be")
        record = json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=_once)
    except FileNotFoundError:
        raise RecordError(f"{path}: no such file; give the {RECORD} of a proposal's folder") from None
    except (OSError, UnicodeDecodeError, ValueError, RecursionError) as error:
        if isinstance(error, RecordError):
            raise
        raise RecordError(f"{path}: not a proposal's record ({error})") from None
    if not isinstance(record, dict) or DIGEST not in record:
        raise RecordError(f"{path}: not a proposal's record; its digest is missing")
    if record.get("format") != FORMAT:
        raise RecordError(f"{path}: format {record.get('format')!r}; this program reads format {FORMAT}")
    body = {key: value for key, value in record.items() if key != DIGEST}
    if digest_of(body) != record[DIGEST]:
        raise RecordError(f"{path}: changed since it was written; its digest does not fit any more")
    return record


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    keys = [key for key, _ in pairs]
    if len(set(keys)) != len(keys):
        raise RecordError("a key stands twice; the file was changed by hand")
    return dict(pairs)


def record_text(record: Record) -> str:
    """The record as it is written."""
    return canonical_text(record)
