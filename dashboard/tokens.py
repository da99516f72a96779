"""The colours of `proposal.drawing.theme` as CSS variables, and the shipped fonts: one source for all."""

from __future__ import annotations

from typing import Any

from proposal.drawing.theme import DARK, LIGHT, Theme
from proposal.fonts import linked_css

NAMES = (
    "paper", "card", "sunk", "ink", "ink2", "ink3", "rule", "line", "plum", "plumwash", "rust", "blue",
)  # fmt: skip
PLUM_SHADES = (
    "#f8eef5", "#F0D0E6", "#F0D0E6", "#d7a3c6", "#c07fac", "#a75f92", "#8b4778", "#723562", "#5E2750", "#481c3d",
)  # fmt: skip
"""Ten shades round the plum of the light theme (index 8) and that of the dark one (index 2)."""


def _variables(theme: Theme) -> str:
    on_plum = "#2A1225" if theme.name == "dark" else theme.card
    told = "".join(f"--{name}:{getattr(theme, name)};" for name in NAMES)
    return f"{told}--on-plum:{on_plum};color-scheme:{theme.name}"


def tokens_css() -> str:
    """Variables for both looks; the dark ones under the component library's attribute."""
    return f":root{{{_variables(LIGHT)}}}\n[data-mantine-color-scheme='dark']{{{_variables(DARK)}}}\n"


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
