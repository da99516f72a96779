"""How sure the order is, and the smallest changes that turn it: tested on request, because that takes seconds."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.commands.flip_lines import flip_sentences
from compare.units import System
from dashboard.components import Drawing
from dashboard.desk.parts import chart_table, section
from dashboard.desk.study import Stage, Study, Trial
from dashboard.table.tap import button
from dashboard.tokens import PAGE
from proposal.drawing.chart import axis_to
from proposal.drawing.look import Look, Table
from proposal.drawing.ranges import RangeRow, range_chart

CHART_PX = 660.0
MOST_OTHERS = 6


def _chart(study: Study, tested: Trial) -> Component | None:
    sure = tested.certainty
    if sure is None or not sure.bands:
        return None
    winner, close = sure.near[0], sure.verdict.value == "too close to call"
    totals = {item.option.option_id: item.total for item in study.ranking.ranked}
    rows, body = [], []
    for option_id, low, high in sorted(sure.bands, key=lambda band: -totals[band[0]])[:8]:
        ours = option_id == winner and not close
        rows.append(RangeRow(study.names[option_id], low, totals[option_id], high, f"{totals[option_id]:.0f}", ours))
        body.append((study.names[option_id], f"{low:.0f}", f"{totals[option_id]:.0f}", f"{high:.0f}"))
    heading = Table("Fit of 100: eight draws of ten", ("Layout", "Low", "As worked out", "High"), tuple(body))
    axis = axis_to(100.0, (0.0, CHART_PX))
    chart = range_chart(rows, axis, heading, Look(theme=PAGE, width_px=CHART_PX))
    return html.Div([Drawing(svg=chart.svg), chart_table(chart.table)])


def _found(study: Study, tested: Trial, units: System) -> list[Component]:
    sure = tested.certainty
    if sure is None:
        return []
    said = (
        f"{study.names[sure.near[0]]} stays first in {100.0 * sure.stays_frac:.0f} of 100 joint draws of house, units, "
        f"prices, credit and weights ({sure.draws} made): {sure.verdict.value}."
    )
    parts: list[Component] = [html.P(said, className="says")]
    chart = _chart(study, tested)
    if chart is not None:
        parts.append(chart)
    others = [f"{study.names[key]}: first in {100.0 * share:.0f} of 100" for key, share in sure.others[:MOST_OTHERS]]
    parts.append(html.Ul([html.Li(text) for text in others], className="lines"))
    if tested.state is Stage.DONE and study.ranking.winner is not None:
        family = study.ranking.winner.option.family
        lines = flip_sentences(tested.flips, family, lambda key: study.names.get(key, f"layout {key}"), units.value)
        parts += [
            html.H3("What would put another kind of layout first"),
            html.Ul([html.Li(line) for line in lines], className="lines"),
        ]
    return parts


STATES = {
    Stage.DRAWING: "Drawing the shown layouts 100 times and more. About 10 to 30 seconds.",
    Stage.TURNING: "Looking for the smallest changes that turn the answer. About 20 seconds.",
    Stage.FAILED: "The test failed. See the terminal.",
}


def sure_part(study: Study, units: System) -> Component:
    """The section in its present state."""
    tested, ranking = study.tested, study.ranking
    parts = _found(study, tested, units)
    if tested.state in STATES:
        parts.append(html.P(STATES[tested.state], role="status", className="note"))
    if tested.state in {Stage.IDLE, Stage.FAILED} and ranking.winner is not None:
        lead = ranking.certainty.lead_points if ranking.certainty else 0.0
        parts.insert(
            0,
            html.P(
                f"The first layout leads the next by {lead:.1f} points of 100; that has not been tested yet.",
                className="note",
            ),
        )
        parts.append(button("Test how sure this is", "test:now", "button"))
    return section("sure", "How sure, and what would turn it", "", *parts)
