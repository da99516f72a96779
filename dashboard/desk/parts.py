"""Parts that the sections of the desk are made of: headed sections, tables, figures in the units of the page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from dash import html
from dash.development.base_component import Component

from compare.units import Kind, System, show
from proposal.drawing.look import Table

Cell = str | Component | list[Any]
NOT_MET = "Not met: "


def section(key: str, title: str, line: str, *inside: Component | str, css: str = "") -> Component:
    """A headed section with one line that explains it; `key` is its anchor."""
    head: list[Component] = [html.H2(title)]
    if line:
        head.append(html.P(line, className="explains"))
    return html.Section([*head, *inside], id=key, className=f"part {css}".strip())


def table(head: Sequence[str], rows: Iterable[Sequence[Cell]], figures: Iterable[int] = (), caption: str = "") -> Any:  # noqa: ANN401
    """A table; `figures` are the columns that stand right."""
    right = frozenset(figures)
    css = ["figure" if place in right else "" for place in range(len(head))]
    top = html.Tr([html.Th(text, scope="col", className=one) for text, one in zip(head, css, strict=True)])
    body = [
        html.Tr(
            [
                html.Th(row[0], scope="row", className=css[0]),
                *(html.Td(cell, className=one) for cell, one in zip(row[1:], css[1:], strict=True)),
            ]
        )
        for row in rows
    ]
    inside: list[Component] = [html.Thead(top), html.Tbody(body)]
    if caption:
        inside.insert(0, html.Caption(caption))
    return html.Div(html.Table(inside), className="table", tabIndex=0)


def chart_table(values: Table) -> Component:
    """The values of a picture, folded away until asked for."""
    figures = range(1, len(values.head))
    return html.Details(
        [html.Summary("The same as a table"), table(values.head, values.rows, figures, values.caption)],
        className="folded",
    )


def folded(words: str, *inside: Component) -> Component:
    """Something long that opens on request."""
    return html.Details([html.Summary(words), *inside], className="folded")


def kept(text: str) -> str:
    """Text that does not break."""
    return text.replace(" ", "\u00a0")


def power(value_w: float, units: System) -> str:
    """A load or an output: whole Btu/h or W."""
    return kept(show(value_w, Kind.CAPACITY, units, 0))


def figure(value_w: float, units: System) -> str:
    """The same without its unit, for a column whose head has it."""
    return power(value_w, units).split("\u00a0")[0]


def power_unit(units: System) -> str:
    """Unit of `figure`."""
    return power(1.0, units).split("\u00a0")[1]


def of(value: float, kind: Kind, units: System, digits: int | None = None) -> str:
    """Any quantity with its unit."""
    return kept(show(value, kind, units) if digits is None else show(value, kind, units, digits))


def percent(share: float) -> str:
    """A share in whole percent."""
    return f"{100.0 * share:.0f}\u00a0%"


def dollars(value_usd: float) -> str:
    """Whole dollars."""
    return f"${value_usd:,.0f}"
