"""The page while there is no answer: working, empty, and a house file that must be mended."""

from __future__ import annotations

from typing import Any

from dash import html
from dash.development.base_component import Component

from dashboard.session import Failed, Fault, Pending, Working
from dashboard.table.tap import named
from proposal.words import capital

STEPS = (
    "Measure each room, its windows and doors.",
    "Ask which doors are shut at night.",
    "Mark the beds, the sofa and the hall ceiling.",
)


def progress_words(far: Working | Pending) -> str:
    """As in `11 of 24 done. About 3 seconds left.`"""
    told = f"{far.done} of {far.total} done." if far.total > 1 else "Reading the house and its weather."
    if far.seconds_left is not None:
        seconds = max(1, round(far.seconds_left))
        told += f" About {seconds} {'second' if seconds == 1 else 'seconds'} left."
    return told


def progress_bar(far: Working | Pending) -> Component:
    """How far a piece of work is. Nothing spins."""
    share = far.done / far.total if far.total else 0.0
    done: dict[str, Any] = {"aria-valuemin": "0", "aria-valuemax": "100", "aria-valuenow": f"{100.0 * share:.0f}"}
    return html.Div(
        html.Div(style={"width": f"{100.0 * share:.0f}%"}),
        className="progress",
        role="progressbar",
        **named("Done"),
        **done,
    )


def working(status: Working) -> Component:
    """How far the first comparison is."""
    head = html.H1(f"Trying the layouts for {status.house or 'this house'}")
    return html.Div([head, progress_bar(status), html.P(progress_words(status), role="status")], className="state")


def empty() -> Component:
    """No house is open."""
    return html.Div(
        [
            html.H1("Start with the house"),
            html.P("No house is open yet. You need a tape, the power bills and about 20 minutes."),
            html.Ol([html.Li(step) for step in STEPS]),
            html.P(["Then open its file: ", html.Code("hplayouts serve FILE")]),
        ],
        className="state",
    )


def _fault(fault: Fault) -> Component:
    lines = [
        html.Div(
            [html.Span(str(number), className="line-number"), html.Code(text)],
            className="code-line faulty" if number == fault.line else "code-line",
        )
        for number, text in fault.excerpt
    ]
    hint = [html.P(f"Did you mean “{fault.suggestion}”?")] if fault.suggestion else []
    where = f"Line {fault.line}" if fault.line else "The file"
    place = f"{where}, {fault.place}" if fault.place else where
    excerpt = [html.Div(lines, className="code")] if lines else []
    return html.Li([html.P(html.B(place)), *excerpt, html.P(f"{capital(fault.message).rstrip('.')}."), *hint])


def failed(status: Failed) -> Component:
    """Every value to mend, in the words of the reader; the page tries again by itself when the file is saved."""
    count = len(status.faults)
    heading = "One value to mend" if count == 1 else f"{count} values to mend"
    return html.Div(
        [
            html.H1(f"{heading} in {status.file}"),
            html.Ul([_fault(fault) for fault in status.faults], className="faults"),
            html.P("Save the file when it is mended. This page then tries again by itself.", className="quiet"),
        ],
        className="state",
        role="alert",
    )
