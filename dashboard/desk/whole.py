"""The whole set of layouts: how many there are, what their run proved, and those that were run on measures alone."""

from __future__ import annotations

from dataclasses import replace

from dash import html
from dash.development.base_component import Component

from compare.commands.layout_lines import count_lines, proof_lines
from compare.commands.option_name import option_name
from dashboard.desk.charts import Figure
from dashboard.desk.every import Hunt, Quick
from dashboard.desk.filters import ALL, Filter
from dashboard.desk.parts import Cell, dollars, folded, opener, table
from dashboard.desk.study import Study
from dashboard.table.tap import button
from proposal.drawing.theme import LIGHT

MOST_QUICK, MOST_DOTS = 60, 1200
"""Layouts run on measures alone that the table and the chart hold, the best of them (our judgement)."""


def quick_chosen(study: Study, wanted: Filter) -> list[Quick]:
    """Layouts that were run on measures alone, under the filter, in its order: by price, else by fit."""
    found = [
        item
        for item in study.quick.values()
        if (wanted.family in {ALL, item.option.family.value})
        and (wanted.most_usd is None or item.price_usd <= wanted.most_usd)
        and (wanted.left_out or not item.left_out)
    ]
    return sorted(found, key=lambda item: item.price_usd) if wanted.order == "price" else found


def quick_table(study: Study, wanted: Filter) -> list[Component]:
    """The best of those that were run on measures alone; any of them can be opened."""
    found = quick_chosen(study, wanted)
    if not found:
        return []
    rooms = [room.name for room in study.found.case.plan.rooms]
    rows: list[tuple[Cell, ...]] = []
    for item in found[:MOST_QUICK]:
        name = option_name(item.option, rooms)
        rows.append(
            (
                "out" if item.left_out else f"{item.total:.1f}", opener(item.option.key, name, opened=False), name,
                dollars(item.price_usd), f"{item.option.outdoor.count}",
            )
        )  # fmt: skip
    more = f"; the first {MOST_QUICK} stand here" if len(found) > MOST_QUICK else ""
    told = f"{len(found):,} further layouts were run on measures alone{more}. Opening one runs its year in full."
    return [
        html.H3("The rest of the whole set"),
        html.P(told, className="note"),
        table(("Quick fit", "", "Layout", "Installed", "Outdoor"), rows, (0, 3, 4)),
    ]


def hunt_part(study: Study) -> list[Component]:
    """How many layouts the house can have, what their run proved, and the button that starts it."""
    hunt, proof = study.hunt, study.found.proof
    if hunt.state is Hunt.RUNNING:
        of = f": {hunt.done:,} of {hunt.total:,}" if hunt.total else ""
        return [html.P(f"Running every layout, {hunt.what or 'counting them'}{of}.", role="status", className="note")]
    if hunt.state is Hunt.DONE and proof is not None:
        lines = [line.strip() for line in (*count_lines(proof), *proof_lines(proof))]
        return [
            html.P(lines[-1], className="says"),
            folded(
                "How many of each kind, and how far the quick runs can be trusted",
                html.Ul([html.Li(line) for line in lines[:-1]], className="lines"),
            ),
        ]
    failed = [html.P("That failed. See the terminal.", role="status", className="note")]
    return [
        *(failed if hunt.state is Hunt.FAILED else []),
        html.P(
            "Here stand the layouts that every house is compared by. Running every layout that this house can have "
            "takes from some seconds to a few minutes, and says whether the first one is the best of all.",
            className="note",
        ),
        button("Run every layout", "every:now", "button"),
    ]


def cloud(study: Study, wanted: Filter) -> list[Figure]:
    """The best of those run on measures alone, as small marks behind the others."""
    spots = quick_chosen(study, replace(wanted, left_out=False, order="fit"))[:MOST_DOTS]
    if not spots:
        return []
    return [
        {
            "type": "scatter",
            "mode": "markers",
            "x": [round(item.price_usd) for item in spots],
            "y": [round(item.total, 2) for item in spots],
            "customdata": [item.option.key for item in spots],
            "hoverinfo": "skip",
            "cliponaxis": False,
            "marker": {"opacity": 0.7, "size": 5, "symbol": "circle", "color": LIGHT.rule, "line": {"width": 0}},
        }
    ]
