"""Which layouts the desk lists, and in which order."""

from __future__ import annotations

from dataclasses import dataclass

from compare.scoring.shown import families

MOST_PRICE_USD = 1e7
ORDERS = {"fit": "Fit, best first", "price": "Price, least first", "energy": "Electricity, least first",
          "pillow": "Sound in bed, least first", "bedroom": "Coldest bedroom, warmest first"}  # fmt: skip
ALL = "all"


@dataclass(frozen=True, slots=True)
class Filter:
    """Which layouts the table lists, and in which order."""

    family: str = ALL
    most_usd: float | None = None
    left_out: bool = False
    order: str = "fit"


def filter_of(family: object, most_usd: object, left_out: object, order: object) -> Filter:
    """A filter as it came from a browser.

    Raises
    ------
    ValueError
        For a value that no control of the page can have.
    """
    known = {ALL, *(one.family for one in families())}
    if family not in known or order not in ORDERS or not isinstance(left_out, bool):
        raise ValueError("no such filter")
    if most_usd in {None, ""}:
        return Filter(str(family), None, left_out, str(order))
    if isinstance(most_usd, bool) or not isinstance(most_usd, int | float) or not 0.0 <= most_usd <= MOST_PRICE_USD:
        raise ValueError("a price is a number from 0")
    return Filter(str(family), float(most_usd), left_out, str(order))
