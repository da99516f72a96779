"""The colours of `proposal.drawing.theme` as CSS variables, and the shipped fonts: one source for all pages.

How a page is light or dark: the attribute `data-mantine-color-scheme` of `<html>` says `light` or `dark`; without
it the page follows the device (`prefers-color-scheme`). Paper is always light. A style sheet uses the variables; a
picture is drawn once with `PAGE`, a theme whose colours *are* the variables, so that it follows the page without
being drawn again. Only what cannot read variables (a chart drawn by a script) needs `LIGHT` or `DARK` itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from proposal.drawing.theme import DARK, LIGHT, Theme, Tint
from proposal.fonts import linked_css

LOOK_ATTRIBUTE = "data-mantine-color-scheme"
NAMES = (
    "paper", "card", "sunk", "ink", "ink2", "ink3", "rule", "line", "plum", "plumwash", "rust", "rust_text", "blue",
    "blue_text", "rustwash", "bluewash", "wall", "furniture",
)  # fmt: skip
STEPS = ("winter", "summer")
"""Tints of rooms; four steps each, with one colour of hatch."""
ON_PLUM = {"light": LIGHT.card, "dark": "#2A1225"}
"""Text on the main button."""
PLUM_SHADES = (
    "#f8eef5", "#F0D0E6", "#F0D0E6", "#d7a3c6", "#c07fac", "#a75f92", "#8b4778", "#723562", "#5E2750", "#481c3d",
)  # fmt: skip
"""Ten shades round the plum of the light theme (index 8) and that of the dark one (index 2)."""


def variables(theme: Theme) -> dict[str, str]:
    """Colour by the name of its variable, without the dashes in front."""
    found = {name.replace("_", "-"): str(getattr(theme, name)) for name in NAMES}
    found["on-plum"] = ON_PLUM[theme.name]
    for steps in STEPS:
        tints: tuple[Tint, ...] = getattr(theme, steps)
        found |= {f"{steps}-{step}": tint.fill for step, tint in enumerate(tints)}
        found[f"{steps}-hatch"] = tints[0].hatch_colour
    return found


def _page_theme() -> Theme:
    def tints(steps: str) -> tuple[Tint, Tint, Tint, Tint]:
        first, few, some, many = (
            replace(tint, fill=f"var(--{steps}-{step})", hatch_colour=f"var(--{steps}-hatch)")
            for step, tint in enumerate(getattr(LIGHT, steps))
        )
        return first, few, some, many

    plain = {name: f"var(--{name.replace('_', '-')})" for name in NAMES}
    return replace(LIGHT, name="page", winter=tints("winter"), summer=tints("summer"), **plain)


PAGE = _page_theme()
"""For pictures inside a page: every colour is the page's own variable."""


def _rules(theme: Theme) -> str:
    told = "".join(f"--{name}:{colour};" for name, colour in variables(theme).items())
    return f"{told}color-scheme:{theme.name}"


def tokens_css() -> str:
    """Variables for both looks: light, dark where the device or the page says so, light again on paper."""
    light, dark, attribute = _rules(LIGHT), _rules(DARK), LOOK_ATTRIBUTE
    return (
        f":root{{{light}}}\n"
        f"@media screen and (prefers-color-scheme:dark){{:root:not([{attribute}]){{{dark}}}}}\n"
        f"@media screen{{:root[{attribute}='dark']{{{dark}}}}}\n"
    )


def fonts_css(folder_url: str) -> str:
    """`@font-face` rules of both families."""
    return linked_css(folder_url)


def mantine_theme() -> dict[str, Any]:
    """Theme of the component library."""
    return {
        "primaryColor": "plum",
        "colors": {"plum": list(PLUM_SHADES)},
        "primaryShade": {"light": 8, "dark": 2},
        "fontFamily": "Figtree, sans-serif",
        "headings": {"fontFamily": "Literata, serif"},
        "defaultRadius": 10,
        "white": LIGHT.card,
        "black": LIGHT.ink,
    }
