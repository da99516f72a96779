"""The office view as JSON, CSV and XLSX. For the office only; no cell of text can become a formula."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal

from compare.jobs.canonical import canonical_text
from compare.jobs.sheets import Cell, Sheet, csv_text, xlsx_bytes
from compare.office.costing import ORDER
from compare.office.view import CostGroup, OfficeOption, OfficeView


def office_json(view: OfficeView) -> str:
    """Everything of the view."""
    return canonical_text(json.loads(view.model_dump_json()))


def office_csv(view: OfficeView) -> str:
    """One row per option."""
    return csv_text(options_sheet(view))


def office_xlsx(view: OfficeView) -> bytes:
    """Options, costs, risks, discounts, rebates and lifetime, a sheet each."""
    return xlsx_bytes(office_sheets(view))


def office_sheets(view: OfficeView) -> tuple[Sheet, ...]:
    """Every table of the view."""
    tables = (("costs", _costs), ("risks", _risks), ("discounts", _discounts), ("rebates", _rebates))
    return (
        options_sheet(view),
        *(Sheet.of(title, [row for option in view.options for row in rows(option)]) for title, rows in tables),
        Sheet.of("lifetime", [{"option": o.id, **o.lifetime.model_dump()} for o in view.options]),
        Sheet.of("size rules", [rule.model_dump() for rule in view.size_rules]),
    )


def options_sheet(view: OfficeView) -> Sheet:
    """One flat row per option."""
    return Sheet.of("options", [option_cells(option) for option in view.options])


def option_cells(option: OfficeOption) -> dict[str, Cell]:
    """The figures that a manager weighs against each other."""
    comfort = option.comfort
    row: dict[str, Cell] = {
        "option": option.id,
        "layout": option.name,
        "place": option.place,
        "total": option.total,
        "price_low_usd": option.price_low_usd,
        "price_usd": option.price_usd,
        "price_high_usd": option.price_high_usd,
        "paid_usd": option.paid_usd,
    }
    row |= {f"cost_{group.group.replace(' ', '_')}_usd": group.mid_usd for group in _every_group(option)}
    row |= option.margin.model_dump()
    return row | {
        "lifetime_usd": option.lifetime.total_usd,
        "comfort_score": comfort.comfort_score,
        "cold_rooms": len(comfort.cold_rooms),
        "draughty_rooms": len(comfort.draughty_rooms),
        "loudest_bed_dba": comfort.loudest_bed_dba,
        "oversize_ratio": comfort.oversize_ratio,
        "static_spare_frac": comfort.static_spare_frac,
        "most_starts_per_y": comfort.most_starts_per_y,
    }


def _every_group(option: OfficeOption) -> Iterator[CostGroup]:
    found = {group.group: group for group in option.cost}
    zero = Decimal(0)
    for name in ORDER:
        yield found.get(name) or CostGroup(group=name, low_usd=zero, mid_usd=zero, high_usd=zero)


def _costs(option: OfficeOption) -> Iterator[dict[str, Cell]]:
    for line in option.lines:
        yield {"option": option.id, **line.model_dump()}


def _risks(option: OfficeOption) -> Iterator[dict[str, Cell]]:
    for risk in option.risks:
        yield {"option": option.id, **risk.model_dump(), "subjects": "; ".join(risk.subjects)}


def _discounts(option: OfficeOption) -> Iterator[dict[str, Cell]]:
    for discount in option.discounts:
        yield {"option": option.id, **discount.model_dump()}


def _rebates(option: OfficeOption) -> Iterator[dict[str, Cell]]:
    for rebate in option.rebates:
        yield {"option": option.id, **rebate.model_dump(), "missing": "; ".join(rebate.missing)}
