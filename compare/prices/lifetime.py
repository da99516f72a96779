"""What a layout costs a family over the years: price, energy, cleaning, replacement, at a real discount rate."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from compare.prices.items import items
from compare.prices.price_list import PriceLine
from compare.prices.table import TableError, packaged, parse_rows, read_file, read_table

COLUMNS = ("item", "unit", "low", "mid", "high", "source")
LIFE_COLUMNS = ("family", "life_y", "source")
PUMP = "condensate_pump"


@dataclass(frozen=True, slots=True)
class Upkeep:
    """Cleaning, filters and rates, all in today's money; rates are real shares a year."""

    clean_first_head_usd: float
    clean_next_head_usd: float
    clean_ducted_usd: float
    clean_visits_1_y: float
    filter_ducted_usd_y: float
    pump_life_y: float
    discount_frac: float
    escalation_frac: float
    horizon_y: int


MOST_YEARS = 50


@dataclass(frozen=True, slots=True)
class Running:
    """What a layout asks for every year: its bill, and how many heads and concealed units are cleaned."""

    bill_usd_y: float
    heads: int
    ducted: int


@dataclass(frozen=True, slots=True)
class Lifetime:
    """Present value of each part over the horizon, dollars; `left_usd` is worth that outlives it, taken off."""

    price_usd: float
    rebate_usd: float
    energy_usd: float
    cleaning_usd: float
    replacement_usd: float
    left_usd: float
    horizon_y: int

    @property
    def total_usd(self) -> float:
        """All of it."""
        spent = (self.price_usd, -self.rebate_usd, self.energy_usd, self.cleaning_usd, self.replacement_usd)
        return math.fsum((*spent, -self.left_usd))


def load_upkeep(path: Path | None = None) -> Upkeep:
    """The mid figures of the upkeep table, the company's own or the one shipped with the program.

    Raises
    ------
    TableError
        Every fault with file and line; a missing row is named.
    """
    name = str(path) if path else "upkeep.csv"
    text = read_file(path) if path else packaged("compare.data.prices", "upkeep.csv")
    rows = parse_rows(read_table(text, name, COLUMNS), lambda row: (row.text("item"), float(row.number("mid"))))
    mid = dict(rows)
    wanted = (
        "clean_first_head",
        "clean_next_head",
        "clean_ducted",
        "clean_visits",
        "filter_ducted",
        "condensate_pump_life",
        "discount_rate",
        "energy_escalation",
        "horizon",
    )
    problems = [f"{name}: row '{item}' is missing; add it" for item in wanted if item not in mid]
    problems += [f"{name}: item '{item}' does not belong here; take the row out" for item in mid if item not in wanted]
    problems += [
        f"{name}: {item} must be one year or more"
        for item in ("condensate_pump_life", "horizon")
        if mid.get(item, 1.0) < 1.0
    ]
    if mid.get("horizon", 1.0) > MOST_YEARS:
        problems.append(f"{name}: horizon is more than {MOST_YEARS} years; give fewer")
    if problems:
        raise TableError(problems)
    return Upkeep(
        clean_first_head_usd=mid["clean_first_head"],
        clean_next_head_usd=mid["clean_next_head"],
        clean_ducted_usd=mid["clean_ducted"],
        clean_visits_1_y=mid["clean_visits"],
        filter_ducted_usd_y=mid["filter_ducted"],
        pump_life_y=mid["condensate_pump_life"],
        discount_frac=mid["discount_rate"],
        escalation_frac=mid["energy_escalation"],
        horizon_y=round(mid["horizon"]),
    )


@lru_cache(maxsize=1)
def lives_y() -> dict[str, float]:
    """Usual life of the lines of each family, years; a family that is not listed outlasts every horizon."""
    table = read_table(packaged("compare.data.prices", "lives.csv"), "lives.csv", LIFE_COLUMNS)
    return dict(parse_rows(table, lambda row: (row.text("family"), float(row.number("life_y")))))


def present_value(amount_usd: float, after_y: float, discount_frac: float) -> float:
    """Worth today of an amount paid after some years."""
    return amount_usd * math.pow(1.0 + discount_frac, -after_y)


def annuity(amount_usd: float, years: int, discount_frac: float, growth_frac: float = 0.0) -> float:
    """Worth today of an amount paid at the end of every year, growing by a share a year from the second year on."""
    terms = (amount_usd * math.pow(1.0 + growth_frac, year - 1) for year in range(1, years + 1))
    return math.fsum(present_value(term, year, discount_frac) for year, term in enumerate(terms, start=1))


def lifetime(lines: Sequence[PriceLine], running: Running, upkeep: Upkeep, rebate_usd: float = 0.0) -> Lifetime:
    """Cost of one layout over the horizon.

    A line whose life ends within the horizon is bought again at today's price, and the unused years of the last one
    are worth their share; replaced in the very last year it is not.
    """
    rate, years = upkeep.discount_frac, upkeep.horizon_y
    again, left = [], []
    for amount_usd, life_y in _wearing(lines, upkeep):
        bought_y = 0.0
        while bought_y + life_y < years:
            bought_y += life_y
            again.append(present_value(amount_usd, bought_y, rate))
        worth = amount_usd * (bought_y + life_y - years) / life_y
        left.append(present_value(worth, years, rate))
    return Lifetime(
        price_usd=math.fsum(float(line.mid_usd) for line in lines),
        rebate_usd=rebate_usd,
        energy_usd=annuity(running.bill_usd_y, years, rate, upkeep.escalation_frac),
        cleaning_usd=annuity(cleaning_usd_y(running, upkeep), years, rate),
        replacement_usd=math.fsum(again),
        left_usd=math.fsum(left),
        horizon_y=years,
    )


def cleaning_usd_y(running: Running, upkeep: Upkeep) -> float:
    """Cleaning and filters of a year: the first head of a visit costs more than the next."""
    heads_usd = upkeep.clean_next_head_usd * max(running.heads - 1, 0)
    heads_usd += upkeep.clean_first_head_usd if running.heads else 0.0
    visit_usd = heads_usd + upkeep.clean_ducted_usd * running.ducted
    return visit_usd * upkeep.clean_visits_1_y + upkeep.filter_ducted_usd_y * running.ducted


def _wearing(lines: Sequence[PriceLine], upkeep: Upkeep) -> Iterator[tuple[float, float]]:
    """Price and life of each line that wears out."""
    for line in lines:
        life_y = upkeep.pump_life_y if line.item == PUMP else lives_y().get(items()[line.item].family)
        if life_y is not None:
            yield float(line.mid_usd), life_y
