"""What may bring the crew back, from an option's own measures: cycling, draught, noise, static, a cold room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from compare.office.cost_book import Case, CostBook
from compare.office.margin import Risk
from compare.options.option import Option
from compare.options.tags import zone_tags
from compare.prices.table import Row, TableError, packaged, parse_rows, read_file, read_table
from compare.scoring.measures import Measures

COLUMNS = ("risk", "measure", "unit", "none_at", "full_at", "full_frac", "cost_share", "source")
ANY = "any job"
"""The base rate: what happens on any job whatever its layout."""


@dataclass(frozen=True, slots=True)
class RiskRule:
    """Probability of a return visit: none up to `none_at`, then straight up to `full_frac` at `full_at` and beyond.

    `cost_share` is the cost of the visit and its cure over that of a usual callback.
    """

    risk: str
    measure: str
    none_at: float
    full_at: float
    full_frac: float
    cost_share: Decimal
    source: str

    def probability(self, value: float) -> float:
        """Probability at one subject's value; none where the measure does not exist."""
        if math.isnan(value):
            return 0.0
        way = (value - self.none_at) / (self.full_at - self.none_at)
        return self.full_frac * min(max(way, 0.0), 1.0)


@dataclass(frozen=True, slots=True)
class OptionRisk:
    """One risk of one option: probability over all its subjects together, and which carry it."""

    risk: Risk
    subjects: tuple[tuple[str, float], ...]
    """Room or unit with its value, worst first; only those with a probability above zero."""


def _parse(row: Row) -> RiskRule:
    none_at, full_at = float(row.number("none_at")), float(row.number("full_at"))
    full = float(row.number("full_frac"))
    problems = []
    if row.text("measure") not in MEASURES:
        problems.append(f"{row.where}: measure '{row.text('measure')}' is not one of {', '.join(sorted(MEASURES))}")
    if full_at <= none_at:
        problems.append(f"{row.where}: full_at must be larger than none_at")
    if full > 1.0:
        problems.append(f"{row.where}: full_frac is a share, at most 1; write 20 % as 0.20")
    if problems:
        raise TableError(problems)
    return RiskRule(
        row.text("risk"),
        row.text("measure"),
        none_at,
        full_at,
        full,
        row.number("cost_share"),
        row.text("source"),
    )


def _starts(measures: Measures, _option: Option) -> dict[str, float]:
    return {unit.name: unit.starts_per_y for unit in measures.units}


def _rooms(measures: Measures, field: str) -> dict[str, float]:
    return {room.room.name: float(getattr(room, field)) for room in measures.rooms}


def _drops(measures: Measures, _option: Option) -> dict[str, float]:
    """Only bedrooms call: a bath below its own target is not a return visit."""
    return {room.room.name: room.morning_drop_k for room in measures.rooms if room.regular_bedroom}


def static_fracs(option: Option) -> dict[str, float]:
    """Static that the ducts need over what the unit gives, by tag."""
    pairs = zip(zone_tags(option.zones), option.zones, strict=True)
    return {t: z.ducts.static.total_pa / z.ducts.static.available_pa for t, z in pairs if z.ducts is not None}


MEASURES = {
    "starts_per_y": _starts,
    "draught_frac": lambda measures, _option: _rooms(measures, "draught_frac"),
    "bed_dba": lambda measures, _option: _rooms(measures, "bed_dba"),
    "static_frac": lambda _measures, option: static_fracs(option),
    "morning_drop_k": _drops,
}


def load_rules(path: Path | None = None) -> tuple[RiskRule, ...]:
    """Risk rules, the company's own or those shipped with the program.

    Raises
    ------
    TableError
        Every fault with file and line.
    """
    name = str(path) if path else "risks.csv"
    text = read_file(path) if path else packaged("compare.data.office", "risks.csv")
    return parse_rows(read_table(text, name, COLUMNS), _parse)


def together(probabilities: Mapping[str, float]) -> float:
    """Probability of at least one of several independent complaints: one visit sees to all of a kind."""
    return 1.0 - math.prod(1.0 - p for p in probabilities.values())


def option_risks(
    measures: Measures, option: Option, book: CostBook, rules: tuple[RiskRule, ...]
) -> tuple[OptionRisk, ...]:
    """Every risk of an option, the base rate of any job first."""
    return (_base(book), *_ruled(measures, option, book, rules))


def _base(book: CostBook) -> OptionRisk:
    rate = book.figure("rate_callback_rate", Case.MID)
    return OptionRisk(Risk(ANY, rate, book.figure("rate_callback_cost", Case.MID)), ())


def _ruled(measures: Measures, option: Option, book: CostBook, rules: tuple[RiskRule, ...]) -> Iterator[OptionRisk]:
    visit_usd = book.figure("rate_callback_cost", Case.MID)
    for rule in rules:
        values = MEASURES[rule.measure](measures, option)
        chances = {name: p for name, value in values.items() if (p := rule.probability(value)) > 0.0}
        worst = sorted(chances, key=lambda name: (-chances[name], name))
        share = Decimal(repr(round(together(chances), 6)))
        risk = Risk(rule.risk, share, visit_usd * rule.cost_share)
        yield OptionRisk(risk, tuple((name, values[name]) for name in worst))
