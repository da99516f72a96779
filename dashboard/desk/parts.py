"""Parts that the sections of the desk are made of: headed sections, tables, pictures and figures of the page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from dash import html
from dash.development.base_component import Component

from compare.units import Kind, System, show
from dashboard.components import Grid
from proposal.drawing.desk import INK
from proposal.drawing.look import Table

Cell = str | Mapping[str, str]
"""Text, or what `dashboard.components.Grid` takes for a cell."""
NOT_MET = "Not met: "
_VARIABLES = {
    colour.upper(): f"var(--{name.replace('_', '-')})"
    for name in ("wall", "furniture", "plum", "line", "rule", "ink3", "ink2", "ink", "paper", "card")
    if (colour := str(getattr(INK, name))).startswith("#")
}
_COLOUR = re.compile(r'"(#[0-9A-Fa-f]{6})"')


def on_page(picture: str) -> str:
    """A picture drawn in ink for the crew, in the colours of the page: each becomes the page's own variable."""
    return _COLOUR.sub(lambda found: f'"{_VARIABLES.get(found[1].upper(), found[1])}"', picture)


def section(key: str, title: str, line: str, *inside: Component | str, css: str = "") -> Component:
    """A headed section with one line that explains it; `key` is its anchor."""
    head: list[Component] = [html.H2(title)]
    if line:
        head.append(html.P(line, className="explains"))
    return html.Section([*head, *inside], id=key, className=f"part {css}".strip())


def table(head: Sequence[str], rows: Iterable[Sequence[Cell]], figures: Iterable[int] = (), caption: str = "") -> Grid:
    """A table; `figures` are the columns that stand right. A column without any entry is left out."""
    kept, wanted = [list(row) for row in rows], set(figures)
    filled = [place for place in range(len(head)) if place == 0 or not kept or any(row[place] for row in kept)]
    return Grid(
        head=[head[place] for place in filled],
        rows=[[row[place] for place in filled] for row in kept],
        figures=[number for number, place in enumerate(filled) if place in wanted],
        caption=caption,
    )


def opener(option_id: str, name: str, *, opened: bool) -> Cell:
    """A button in a table that opens a layout."""
    words = "shown" if opened else "open"
    return {"tap": f"open:{option_id}", "words": words, "pressed": str(opened).lower(), "label": f"Open {name}"}


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
