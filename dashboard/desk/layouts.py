"""The whole set of layouts: a table with filters, and price against fit with the layouts that nothing else beats."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dash import html
from dash.development.base_component import Component

from compare.scoring.ranking import Ranked
from compare.units import Kind, System
from dashboard.desk.charts import Figure, axis, layout, plain
from dashboard.desk.filters import ALL, Filter
from dashboard.desk.parts import Cell, dollars, folded, of, opener, percent, table
from dashboard.desk.study import Study
from dashboard.desk.units import is_recommended
from dashboard.desk.whole import cloud, quick_table
from dashboard.table.choice import card_options
from proposal.drawing.theme import LIGHT

SYMBOLS = {
    "single_head": "circle", "few_heads": "diamond-wide", "heads_and_heaters": "triangle-up", "head_each": "square",
    "ducted_all": "diamond", "mix": "star-square",
}  # fmt: skip
MOST_ROWS = 30
"""Layouts that are listed at once; further ones are folded away."""
HEAD = ("Place", "", "Layout", "Fit", "Installed", "kWh a year", "Coldest bedroom", "Pillow, dB(A)", "On-off hours",
        "Outdoor", "Unbeaten", "Left out because")  # fmt: skip


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
    return sorted(found, key=lambda item: (not item.place, _rank(item, wanted.order), item.place))


def _rank(item: Ranked, order: str) -> float:
    """What a layout is ordered by, the least first."""
    if order == "price":
        return item.option.price_usd
    if order == "energy":
        return item.option.measures.energy.electricity_kwh
    if order == "pillow":
        return _last(pillow_dba(item))
    return _last(-coldest_c(item)) if order == "bedroom" else -item.total


def _last(value: float) -> float:
    return math.inf if math.isnan(value) else value


def _row(study: Study, item: Ranked, option_id: str, units: System) -> tuple[Cell, ...]:
    score, key = item.option, item.option.option_id
    cold, loud = coldest_c(item), pillow_dba(item)
    full, short = study.full_names[key], study.names[key]
    name: Cell = {"strong": short, "words": f" {full}"} if short != full else full
    return (
        f"{item.place}" if item.place else "out",
        opener(key, full, opened=key == option_id),
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
    """How many there are, the table, and the rest of the whole set."""
    found = chosen(study, wanted)
    rejected = len(study.ranking.rejected)
    told = f"{len(found)} of {len(study.ranking.ranked)} layouts; {rejected} of all are left out."
    rows = [_row(study, item, option_id, units) for item in found]
    if not rows:
        return [
            html.P(
                "No layout passes this filter. Raise the price or take another kind.", role="status", className="note"
            )
        ]
    figures = (0, 3, 4, 5, 6, 7, 8, 9)
    parts: list[Component] = [html.P(told, role="status", className="note"), table(HEAD, rows[:MOST_ROWS], figures)]
    if len(rows) > MOST_ROWS:
        parts.append(folded(f"{len(rows) - MOST_ROWS} more", table(HEAD, rows[MOST_ROWS:], figures)))
    return [*parts, *quick_table(study, wanted)]


@dataclass(frozen=True, slots=True)
class Spot:
    """A layout on the chart, and its name where it has one there."""

    item: Ranked
    colour: str
    words: str

    @property
    def key(self) -> str:
        """Its id."""
        return self.item.option.option_id


PLOT_PX = (1240.0, 350.0)
LETTER_PX, LINE_PX, GAP_PX = 6.8, 16.0, 11.0
SIDES = {
    "top center": (-0.5, -1.0), "bottom center": (-0.5, 1.0), "middle right": (0.0, 0.0), "middle left": (-1.0, 0.0),
    "top right": (0.0, -1.0), "bottom left": (-1.0, 1.0), "bottom right": (0.0, 1.0), "top left": (-1.0, -1.0),
}  # fmt: skip
"""Where a name may stand: how far it is moved left, in its own widths, and up or down, in lines."""


def _places(spots: list[Spot]) -> list[str]:
    """A side for each name on which it meets neither a mark nor an earlier name, else above."""
    if not spots:
        return []
    xs, ys = [spot.item.option.price_usd for spot in spots], [spot.item.total for spot in spots]
    wide, high = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 0.1)
    at = [((x - min(xs)) / wide * PLOT_PX[0], (max(ys) - y) / high * PLOT_PX[1]) for x, y in zip(xs, ys, strict=True)]
    taken = [(x - 9.0, y - 9.0, x + 9.0, y + 9.0) for x, y in at]
    found = []
    for spot, (x, y) in zip(spots, at, strict=True):
        best = "top center"
        for side, (left, up) in SIDES.items() if spot.words else ():
            x0 = x + left * LETTER_PX * len(spot.words) + (GAP_PX if left == 0.0 else -GAP_PX if left == -1.0 else 0.0)
            y0 = y + up * (LINE_PX + 2.0) - LINE_PX / 2.0
            box = (x0, y0, x0 + LETTER_PX * len(spot.words), y0 + LINE_PX)
            own = (x - 9.0, y - 9.0, x + 9.0, y + 9.0)
            if not any(_meet(box, other) for other in taken if other != own):
                best = side
                taken.append(box)
                break
        found.append(best)
    return found


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _spots(study: Study, wanted: Filter, option_id: str) -> list[Spot]:
    labelled = {option.id for option in card_options(study.customer)} | {option_id}
    winner = study.ranking.winner
    plum = winner.option.option_id if winner and is_recommended(study, winner.option.option_id) else ""
    found = []
    for item in chosen(study, wanted):
        key = item.option.option_id
        if item.place:
            colour = LIGHT.plum if key == plum else LIGHT.rule if item.dominated_by else LIGHT.ink
            found.append(Spot(item, colour, study.names[key] if key in labelled else ""))
    return found


def _symbol(spot: Spot) -> str:
    return SYMBOLS.get(spot.item.option.family, "circle") + ("-open" if spot.item.dominated_by else "")


def pareto_figure(study: Study, wanted: Filter, option_id: str) -> Figure:
    """Installed price against fit; layouts that no other beats on every criterion are solid."""
    spots = _spots(study, wanted, option_id)
    trace = {
        "type": "scatter",
        "mode": "markers+text",
        "x": [round(spot.item.option.price_usd) for spot in spots],
        "y": [round(spot.item.total, 2) for spot in spots],
        "customdata": [spot.key for spot in spots],
        "text": [plain(spot.words) for spot in spots],
        "textposition": _places(spots),
        "textfont": {"size": 13},
        "hovertext": [plain(study.full_names[spot.key]) for spot in spots],
        "hoverinfo": "text",
        "cliponaxis": False,
        "marker": {
            "opacity": 1.0,
            "size": [18 if spot.key == option_id else 12 for spot in spots],
            "symbol": [_symbol(spot) for spot in spots],
            "color": [spot.colour for spot in spots],
            "line": {"width": 1.6, "color": [spot.colour for spot in spots]},
        },
    }
    shape = layout(
        420,
        xaxis=axis("Installed price", tickprefix="$", tickformat=",.0f", nticks=6),
        yaxis=axis("Fit of 100", nticks=5),
    )
    return {"data": [*cloud(study, wanted), trace], "layout": shape}
