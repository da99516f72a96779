"""Contrast of the colours against WCAG 2.2, 1.4.3 (text 4.5:1) and 1.4.11 (needed graphic parts 3:1)."""

from __future__ import annotations

import pytest

from proposal.drawing.theme import THEMES, Theme


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 definition (sRGB threshold 0.04045)."""
    channels = [int(colour[start : start + 2], 16) / 255.0 for start in (1, 3, 5)]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2 definition."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_formula_on_the_ends_of_the_scale() -> None:
    """WCAG 2.2: black on white is 21:1, equal colours 1:1."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_text_reaches_four_and_a_half_to_one(theme: Theme) -> None:
    for colour in (theme.ink, theme.ink2, theme.ink3, theme.plum, theme.rust_text, theme.blue_text):
        assert contrast(colour, theme.card) >= 4.5
        assert contrast(colour, theme.paper) >= 4.5
    assert contrast(theme.card, theme.plum) >= 4.5


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_needed_lines_and_fills_reach_three_to_one(theme: Theme) -> None:
    for colour in (theme.rule, theme.wall, theme.rust, theme.blue, theme.plum):
        assert contrast(colour, theme.card) >= 3.0


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_ink_and_unit_words_read_on_every_tint(theme: Theme) -> None:
    for tint in (*theme.winter, *theme.summer, theme.loud(louder=True)):
        assert contrast(theme.ink, tint.fill) >= 4.5
        assert contrast(theme.plum, tint.fill) >= 4.5


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_no_step_is_told_by_colour_alone(theme: Theme) -> None:
    """WCAG 2.2, 1.4.1: each step has a hatch of its own kind or distance."""
    for tints in (theme.winter, theme.summer):
        hatches = [(tint.hatch.kind, tint.hatch.spacing_px) for tint in tints]
        assert len(set(hatches)) == 4
        assert hatches[0][0] == "none"
