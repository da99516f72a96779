"""Interactive charts as plain data with our own look: paper, ink, Figtree; no mode bar, no spikes, no colour but ours.

The library cannot read the variables of a page, so it draws in the light colours, and a style sheet gives each of them
the page's variable.

Figures are dicts of lists, so that what reaches a browser can be read (nothing is packed).
"""

from __future__ import annotations

from typing import Any

from proposal.drawing.theme import LIGHT

Figure = dict[str, Any]
CHART_NAMES = ("ink", "ink2", "rule", "line", "plum", "rust", "blue", "card")
"""Colours that charts use."""
CONFIG: Any = {
    "displayModeBar": False,
    "scrollZoom": False,
    "doubleClick": False,
    "responsive": True,
    "displaylogo": False,
}
FONT = {"family": "Figtree, sans-serif", "size": 13, "color": LIGHT.ink}


def axis(title: str, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - whatever a chart axis takes
    """An axis: faint grid, no spikes, its title in second ink."""
    return {
        "title": {"text": title, "font": {**FONT, "color": LIGHT.ink2}},
        "gridcolor": LIGHT.line, "linecolor": LIGHT.rule, "zerolinecolor": LIGHT.rule,
        "tickfont": {**FONT, "color": LIGHT.ink2},
        "showspikes": False, "fixedrange": True, "automargin": True, **more,
    }  # fmt: skip


def layout(height_px: int, **more: Any) -> dict[str, Any]:  # noqa: ANN401
    """What all charts share."""
    return {
        "height": height_px, "paper_bgcolor": "rgba(0,0,0,0)", "plot_bgcolor": "rgba(0,0,0,0)", "font": FONT,
        "margin": {"l": 56, "r": 16, "t": 12, "b": 44}, "showlegend": False, "hovermode": "closest",
        "hoverlabel": {"bgcolor": LIGHT.card, "bordercolor": LIGHT.rule, "font": FONT}, "dragmode": False, **more,
    }  # fmt: skip


def _triple(colour: str) -> str:
    return ", ".join(str(int(colour[place : place + 2], 16)) for place in (1, 3, 5))


def charts_css() -> str:
    """Rules that turn the colours which the library wrote into its elements into the page's variables."""
    rules = []
    for name in CHART_NAMES:
        written = f"rgb({_triple(getattr(LIGHT, name))})"
        rules += [
            f'.chart [style*="{what}: {written}"]{{{what}:var(--{name})!important}}' for what in ("fill", "stroke")
        ]
    return "\n".join(rules)


def plain(text: str) -> str:
    """Text in a chart: the library would read some signs as markup."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
