"""Colours of the pages against WCAG 2.2: contrast as defined there, limits of criteria 1.4.3 and 1.4.11 (AA)."""

from __future__ import annotations

import re

import pytest

from dashboard.tokens import NAMES, PAGE, tokens_css, variables
from proposal.drawing.theme import DARK, LIGHT, Theme

TEXT, PART = 4.5, 3.0
"""Least contrast of text, and of a part or mark that must be seen (WCAG 2.2, 1.4.3 and 1.4.11)."""
SHEETS = ("paper", "card")
TEXTS = ("ink", "ink2", "ink3", "plum", "rust-text", "blue-text")
PARTS = ("rule", "plum", "rust", "blue", "wall")
TINTS = tuple(f"{season}-{step}" for season in ("winter", "summer") for step in range(4))


def luminance(colour: str) -> float:
    """Relative luminance of sRGB, WCAG 2.2 glossary."""
    parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
    red, green, blue = (v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_that_of_the_guideline() -> None:
    # WCAG 2.2: black on white 21:1; #767676 on white is the well-known first grey over 4.5:1 (W3C understanding 1.4.3)
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_text_and_parts_can_be_seen_on_every_sheet(theme: Theme) -> None:
    found = variables(theme)
    weak = [
        (name, sheet, round(contrast(found[name], found[sheet]), 2))
        for names, least in ((TEXTS, TEXT), (PARTS, PART))
        for name in names
        for sheet in SHEETS
        if contrast(found[name], found[sheet]) < least
    ]
    assert weak == []


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_text_on_fills_can_be_read(theme: Theme) -> None:
    found = variables(theme)
    pairs = [("on-plum", "plum"), ("card", "ink"), ("ink", "sunk"), ("ink", "plumwash"), ("ink", "rustwash")]
    pairs += [("ink", "bluewash"), *(("ink", tint) for tint in TINTS)]
    assert [pair for pair in pairs if contrast(found[pair[0]], found[pair[1]]) < TEXT] == []


def test_a_picture_of_the_page_uses_every_colour_by_its_variable() -> None:
    css = tokens_css()
    used = [str(getattr(PAGE, name)) for name in NAMES]
    used += [value for tint in (*PAGE.winter, *PAGE.summer) for value in (tint.fill, tint.hatch_colour)]
    for value in used:
        (name,) = re.findall(r"^var\((--[\w-]+)\)$", value)
        assert css.count(f"{name}:") == 3  # light, dark by the device, dark by choice


def test_paper_is_light() -> None:
    dark_rules = [line for line in tokens_css().splitlines() if "color-scheme:dark" in line]
    assert len(dark_rules) == 2
    assert all(line.startswith("@media screen") for line in dark_rules)
