"""Figures and lists as the page writes them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

NBSP = "\u00a0"
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def usd(value: float | Decimal) -> str:
    """Whole dollars with commas; a true minus before the sign."""
    whole = round(value)
    return f"{'−' if whole < 0 else ''}${abs(whole):,}"


def usd_cents(value: float | Decimal) -> str:
    """Dollars and cents."""
    return f"{'−' if value < 0 else ''}${abs(value):,.2f}"


def percent(value: float | Decimal, places: int = 1) -> str:
    """A share as a percentage; a true minus."""
    text = f"{abs(100 * value):.{places}f}"
    return f"{'−' if value < 0 and float(text) else ''}{text}{NBSP}%"


def figure(value: float | Decimal, places: int = 0) -> str:
    """A plain figure with commas."""
    text = f"{abs(value):,.{places}f}"
    return f"{'−' if value < 0 and float(text.replace(',', '')) else ''}{text}"


def amount(value: Decimal) -> str:
    """An amount without trailing zeros."""
    text = f"{value:,.2f}".rstrip("0").rstrip(".")
    return text or "0"


def points(count: int, what: str) -> str:
    """*1 day*, *5 days*."""
    return f"{count}{NBSP}{what}{'' if count == 1 else 's'}"


def count_word(count: int) -> str:
    """Small counts as words."""
    return _COUNTS[count] if 0 <= count < len(_COUNTS) else f"{count:,}"


def and_list(parts: Sequence[str]) -> str:
    """*a*, *a and b*, *a, b and c*; of more than four the first three and how many others."""
    if len(parts) > 4:
        parts = [*parts[:3], f"{len(parts) - 3} others"]
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def short(text: str, most: int) -> str:
    """A name cut to fit, with an ellipsis."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"
