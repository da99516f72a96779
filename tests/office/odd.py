"""Odd figures that cannot come about by chance, and a search that finds them in anything a customer may get."""

from __future__ import annotations

import base64
import io
import json
import re
import zipfile
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from html import unescape
from typing import Any

import numpy as np

from compare.office.cost_book import CostBook, load_book
from compare.office.view import OfficeView

CENT = Decimal("0.01")
_NUMBER = re.compile(r"\d{1,3}(?:[,\u202f\u2009\u00a0 ]\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?")
_PACKED = re.compile(r"[A-Za-z0-9+/]{16,}={0,2}")
_SPACES = ",\u202f\u2009\u00a0 "


def odd_book() -> CostBook:
    """The generic book with a fingerprint in every figure: a little off, in digits that nothing else has."""
    rows = {}
    for number, row in enumerate(load_book().rows.values(), start=11):
        print_ = Decimal(number) / Decimal(10_000) + Decimal("0.0000713")
        sign = -1 if row.item == "rate_productive_share" else 1
        scale = Decimal("0.01") if row.unit == "frac" else Decimal(1)
        figures = tuple(f + sign * scale * (print_ + Decimal(place) / 10**7) for place, f in enumerate(row.figures))
        rows[row.item] = replace(row, figures=figures, source="supplier Quillbrasse, confidential")
    return CostBook(rows)


def planted(book: CostBook) -> set[Decimal]:
    """Every figure of the book, shares also as percent."""
    figures = {figure for row in book.rows.values() for figure in row.figures}
    shares = {100 * figure for row in book.rows.values() if row.unit == "frac" for figure in row.figures}
    return figures | shares | {book.technician_usd_h(case).quantize(Decimal("0.0001")) for case in (0, 1, 2)}


def derived(view: OfficeView) -> set[Decimal]:
    """What the office works out of them, and no customer may see: to the cent, from a thousand dollars up.

    Smaller sums have four figures, as coordinates of a drawing have, and would be met by chance.
    """
    found: set[Decimal] = set()
    for option in view.options:
        margin = option.margin
        found |= {margin.direct_usd, margin.gross_profit_usd, margin.contribution_usd, margin.risk_adjusted_usd}
        found.add(margin.profit_per_crew_day_usd)
        found |= {group.mid_usd for group in option.cost} | {group.high_usd for group in option.cost}
        found |= {line.gross_profit_usd for line in option.discounts}
    return {figure for figure in found if figure >= 1000 and figure % 1}


def numbers(text: str) -> Iterator[Decimal]:
    """Every number of a text, thousands separators taken out."""
    for match in _NUMBER.findall(text):
        plain = "".join(sign for sign in match if sign not in _SPACES)
        yield Decimal(plain)
        for part in re.split(f"[{_SPACES}]", match):
            yield Decimal(part)


def texts(data: bytes | str) -> Iterator[str]:
    """The data as text, and what is packed in it: archives, base64, arrays of numbers."""
    if isinstance(data, bytes) and data[:2] == b"PK":
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for name in archive.namelist():
                yield from texts(archive.read(name))
        return
    if isinstance(data, bytes) and data[:5] == b"%PDF-":
        yield from _pdf(data)
        return
    text = data.decode("utf-8", errors="replace") if isinstance(data, bytes) else data
    yield unescape(text)
    yield from _unpacked(text)


def _pdf(data: bytes) -> Iterator[str]:
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(data))
    yield " ".join(str(value) for value in (reader.metadata or {}).values())
    for page in reader.pages:
        yield page.extract_text()


def _unpacked(text: str) -> Iterator[str]:
    for packed in _PACKED.findall(text):
        bare = packed.rstrip("=")
        raw = base64.b64decode(bare[: len(bare) // 4 * 4])
        yield raw.decode("utf-8", errors="replace")
        for dtype in ("<f8", "<f4"):
            size = np.dtype(dtype).itemsize
            with np.errstate(all="ignore"):
                values = np.frombuffer(raw[: len(raw) // size * size], dtype=dtype)
                usual = values[np.isfinite(values) & (np.abs(values) > 1e-6) & (np.abs(values) < 1e9)]
            yield " ".join(f"{abs(value):.2f} {abs(value):.7f}" for value in usual.tolist())


def leaks(data: bytes | str, secret: Iterable[Decimal], words: Iterable[str] = ("Quillbrasse",)) -> set[str]:
    """Secrets that stand in the data: a figure in full, or money as whole dollars behind a dollar sign.

    Whole tens are let pass: customers see rounded prices, which meet some cost by chance.
    """
    wanted = set(secret)
    dollars = {whole for f in wanted if f >= 1000 and (whole := f.quantize(Decimal(1), ROUND_HALF_UP)) % 10}
    found: set[str] = set()
    for text in texts(data):
        seen = set(numbers(text))
        found |= {f"{f}" for f in wanted if f in seen or f.normalize() in seen}
        whole = {n for match in re.findall(rf"\$\s?({_NUMBER.pattern})", text) for n in numbers(match)}
        found |= {f"${n}" for n in dollars if n in whole}
        found |= {word for word in words if word in text}
    return found


def as_json(value: Any) -> str:
    """A value as a page would send it."""
    return json.dumps(value, ensure_ascii=False)
