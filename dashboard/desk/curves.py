"""Score curves as small pictures, with where the open layout stands on each, and every anchor with its source."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from dash import html
from dash.development.base_component import Component

from compare.scoring.criteria import CRITERIA, measure_infos
from compare.scoring.curve_table import curves_table
from compare.scoring.curves import Curve
from compare.scoring.judgements import rulebook
from compare.scoring.measures import Measures
from dashboard.components import Drawing
from dashboard.desk.parts import folded, section, table
from dashboard.desk.study import Study
from dashboard.tokens import PAGE
from proposal.drawing import svg
from proposal.drawing.chart import SMALL, STRONG, text

WIDE_PX, HIGH_PX = 212.0, 138.0
LEFT_PX, TOP_PX, BOTTOM_PX = 38.0, 30.0, 112.0
STEPS = 60
ROOM_MEASURES = {
    "M1": "heat_cover", "M2": "cool_cover", "N1": "bed_dba", "N2": "seat_dba", "C1": "morning_drop_k",
    "C2": "cold_frac",
    "C3": "hot_frac", "C4": "draught_frac",
}  # fmt: skip
UNIT_MEASURES = {"L1": "below_min_frac", "L2": "starts_per_y", "L3": "mild_starts_per_h"}


@dataclass(frozen=True, slots=True)
class _Scale:
    """Axis of a curve in the unit of its table."""

    low: float
    high: float
    log: bool

    def at(self, x: float) -> float:
        low, high, here = (math.log2(v) for v in (self.low, self.high, x)) if self.log else (self.low, self.high, x)
        return LEFT_PX + min(1.0, max(0.0, (here - low) / (high - low))) * (WIDE_PX - LEFT_PX - 12.0)


def _y(points: float) -> float:
    return BOTTOM_PX - points / 100.0 * (BOTTOM_PX - TOP_PX)


def _mark(value: float, unit: str) -> str:
    """An end of the axis; the unit of large numbers stands in the name already."""
    return f"{value:,.0f}" if value >= 1000.0 else f"{value:.3g} {unit}".strip()


def values_of(measures: Measures, measure: str) -> list[float]:
    """Values of a layout on a curve, in SI: one per room, per unit, or one."""
    single = {
        "C5": measures.damp_frac,
        "K": measures.price_ratio,
        "E": measures.cop,
        "N3": measures.outdoor_dba,
        "V": float(measures.visible_units),
        "M3": measures.backup_frac,
    }
    if measure in ROOM_MEASURES:
        found = [float(getattr(room, ROOM_MEASURES[measure])) for room in measures.rooms]
    elif measure in UNIT_MEASURES:
        found = [float(getattr(unit, UNIT_MEASURES[measure])) for unit in measures.units]
    else:
        found = [single[measure]] if measure in single else []
    return [value for value in found if math.isfinite(value)]


def curve_picture(curve: Curve, name: str, values_si: list[float]) -> str:
    """One curve; dots where the layout stands."""
    xs, si = [a.x for a in curve.anchors], [a.x_si for a in curve.anchors]
    log = curve.form == "log2"
    low, high = (curve.value_at(100.0), curve.value_at(0.0)) if log else (si[0], si[-1])
    low, high = min(low, high), max(low, high)
    slope = (xs[-1] - xs[0]) / (si[-1] - si[0])
    scale = _Scale(low, high, log)
    marks = np.geomspace(low, high, STEPS) if log else np.unique([*np.linspace(low, high, STEPS), *si])
    line = [(scale.at(float(x)), _y(curve.points(float(x)))) for x in marks]
    parts = [svg.line((LEFT_PX, _y(v)), (WIDE_PX - 12.0, _y(v)), stroke=PAGE.line) for v in (0.0, 50.0, 100.0)]
    parts += [text(f"{v:.0f}", (LEFT_PX - 9.0, _y(v) + 4.5), SMALL, PAGE.ink2, "end") for v in (0.0, 100.0)]
    parts.append(svg.path(svg.points_path(line, closed=False), fill="none", stroke=PAGE.ink, stroke_width=1.8))
    for value in values_si:
        at = (scale.at(max(value, low)), _y(curve.points(value)))
        parts.append(svg.tag("circle", cx=at[0], cy=at[1], r=4.5, fill=PAGE.card, stroke=PAGE.ink, stroke_width=1.6))
    unit = curve.anchors[0].unit.removesuffix(" diff").replace("ratio", "")
    for end, anchor in ((low, "start"), (high, "end")):
        shown = _mark(xs[0] + slope * (end - si[0]), unit)
        parts.append(
            text(shown, (LEFT_PX if anchor == "start" else WIDE_PX - 12.0, BOTTOM_PX + 18.0), SMALL, PAGE.ink2, anchor)
        )
    parts.append(text(f"{curve.measure} {name}", (0.0, 13.0), STRONG, PAGE.ink))
    return svg.document(
        (WIDE_PX, HIGH_PX), name, f"Score curve of {name}; {len(values_si)} values of this layout.", parts
    )


def curves_part(study: Study, option_id: str) -> Component:
    """All curves with the values of a layout."""
    measures, book, infos = study.result(option_id).score.measures, rulebook(), measure_infos()
    pictures = [
        Drawing(svg=curve_picture(curve, infos[key].name, values_of(measures, key)))
        for key, curve in book.curves.items()
        if key in infos
    ]
    rows = [
        (row.measure, row.name, row.criterion, row.value, f"{row.points:g}", row.source, row.reason)
        for row in curves_table()
    ]
    head = ("", "Measure", "For", "Value", "Points", "Source", "Reason")
    scores = study.result(option_id).score
    weights = study.ranking.weights
    told = ", ".join(
        f"{c.value} {scores.score(c):.0f}" for c, weight in zip(CRITERIA, weights.fracs, strict=True) if weight > 0.0
    )
    return section(
        "curves",
        "Score curves",
        f"Rings: rooms or units of this layout. Its scores: {told}; {scores.total(weights):.1f} of 100 under the "
        "weights of the house file.",
        html.Div(pictures, className="curves"),
        folded("Every anchor with its source", table(head, rows, (4,))),
    )
