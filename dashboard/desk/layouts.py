"""The whole set of layouts: a table with filters, and price against fit with the layouts that nothing else beats."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dash import html
from dash.development.base_component import Component

from compare.scoring.ranking import Ranked
from compare.scoring.shown import families
from compare.units import Kind, System
from dashboard.desk.charts import Figure, axis, layout, plain
from dashboard.desk.parts import dollars, of, percent, table
from dashboard.desk.study import Study
from dashboard.desk.units import is_recommended
from dashboard.table.tap import button
from proposal.drawing.theme import LIGHT

MOST_PRICE_USD = 1e7
SYMBOLS = {
    "single_head": "circle", "few_heads": "diamond-wide", "heads_and_heaters": "triangle-up", "head_each": "square",
    "ducted_all": "diamond", "mix": "star-square",
}  # fmt: skip
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


def coldest_c(item: Ranked) -> float:
    """Coldest regular bedroom at 6 a.m.; NaN without one."""
    return min((room.morning_c for room in item.option.measures.rooms if room.regular_bedroom), default=math.nan)


def pillow_dba(item: Ranked) -> float:
    """Loudest pillow; NaN without one."""
    beds = (room.bed_dba for room in item.option.measures.rooms if room.regular_bedroom)
    return max((level for level in beds if not math.isnan(level)), default=math.nan)


def on_off_frac(item: Ranked) -> float:
    """Hours on and off of the worst unit."""
    return max((unit.below_min_frac for unit in item.option.measures.units), default=0.0)


def chosen(study: Study, wanted: Filter) -> list[Ranked]:
    """Layouts of the filter in its order; those left out come last."""
    found = [
        item
        for item in study.ranking.ranked
        if (wanted.family in {ALL, item.option.family})
        and (wanted.most_usd is None or item.option.price_usd <= wanted.most_usd)
        and (item.place or wanted.left_out)
    ]
    keys = {
        "fit": lambda item: -item.total,
        "price": lambda item: item.option.price_usd,
        "energy": lambda item: item.option.measures.energy.electricity_kwh,
        "pillow": lambda item: _last(pillow_dba(item)),
        "bedroom": lambda item: _last(-coldest_c(item)),
    }
    return sorted(found, key=lambda item: (not item.place, keys[wanted.order](item), item.place))


def _last(value: float) -> float:
    return math.inf if math.isnan(value) else value


def _row(
    study: Study, item: Ranked, option_id: str, units: System
) -> tuple[str | Component | list[Component | str], ...]:
    score, key = item.option, item.option.option_id
    cold, loud = coldest_c(item), pillow_dba(item)
    full, short = study.full_names[key], study.names[key]
    name: list[Component | str] = [html.B(short), html.Br(), full] if short != full else [full]
    opened = key == option_id
    return (
        f"{item.place}" if item.place else "out",
        button("shown" if opened else "open", f"open:{key}", "open", pressed=opened, label=f"Open {full}"),
        name,
        f"{item.total:.1f}" if item.place else "",
        dollars(score.price_usd),
        f"{score.measures.energy.electricity_kwh:,.0f}",
        "" if math.isnan(cold) else of(cold, Kind.TEMPERATURE, units),
        "" if math.isnan(loud) else f"{loud:.0f}",
        percent(on_off_frac(item)),
        f"{score.measures.outdoor_units}",
        "yes" if item.place and not item.dominated_by else "",
        " ".join(fault.text for fault in score.fatal),
    )


def layouts_table(study: Study, wanted: Filter, option_id: str, units: System) -> list[Component]:
    """How many there are, and the table."""
    found = chosen(study, wanted)
    rejected = len(study.ranking.rejected)
    told = f"{len(found)} of {len(study.ranking.ranked)} layouts; {rejected} of all are left out."
    head = ("Place", "", "Layout", "Fit", "Installed", "kWh a year", "Coldest bedroom", "Pillow, dB(A)", "On-off hours", "Outdoor", "Unbeaten", "Left out because")  # fmt: skip
    rows = [_row(study, item, option_id, units) for item in found]
    if not rows:
        return [
            html.P(
                "No layout passes this filter. Raise the price or take another kind.", role="status", className="note"
            )
        ]
    return [html.P(told, role="status", className="note"), table(head, rows, (0, 3, 4, 5, 6, 7, 8, 9))]


def pareto_figure(study: Study, wanted: Filter, option_id: str) -> Figure:
    """Installed price against fit; layouts that no other beats on every criterion are solid."""
    found = [item for item in chosen(study, wanted) if item.place]
    labelled = {option.id for option in study.customer.options if option.id in study.customer.cards} | {option_id}
    winner = study.ranking.winner
    plum = winner.option.option_id if winner and is_recommended(study, winner.option.option_id) else ""
    points = []
    for item in found:
        key, solid = item.option.option_id, not item.dominated_by
        colour = LIGHT.plum if key == plum else LIGHT.ink if solid else LIGHT.rule
        points.append((item, key, solid, colour))
    trace = {
        "type": "scatter",
        "mode": "markers+text",
        "x": [round(item.option.price_usd) for item, *_ in points],
        "y": [round(item.total, 2) for item, *_ in points],
        "customdata": [key for _, key, _, _ in points],
        "text": [plain(study.names[key]) if key in labelled else "" for _, key, _, _ in points],
        "textposition": "top center",
        "textfont": {"size": 12.5},
        "hovertext": [plain(study.full_names[key]) for _, key, _, _ in points],
        "hoverinfo": "text",
        "cliponaxis": False,
        "marker": {
            "size": [17 if key == option_id else 12 for _, key, _, _ in points],
            "symbol": [
                SYMBOLS.get(item.option.family, "circle") + ("" if solid else "-open") for item, _, solid, _ in points
            ],
            "color": [colour for *_, colour in points],
            "line": {"width": 1.6, "color": [colour for *_, colour in points]},
        },
    }
    shape = layout(420, xaxis=axis("Installed price", tickprefix="$", separatethousands=True), yaxis=axis("Fit of 100"))
    return {"data": [trace], "layout": shape}
