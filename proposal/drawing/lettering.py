"""Text in pictures: how wide it is, where it breaks, how it is drawn with a halo."""

from __future__ import annotations

from dataclasses import dataclass

from proposal.drawing import svg
from proposal.fonts import advance_widths

ASCENT_FRAC = 0.74
DESCENT_FRAC = 0.24
"""Reach of the letters above and below the base line, as a share of the size (capitals 0.70, tails 0.24)."""
_UNKNOWN_EM = 0.75
HALO_FRAC = 0.28


@dataclass(frozen=True, slots=True)
class Type:
    """Family, weight and size of a line of text."""

    size_px: float
    weight: int = 400
    serif: bool = False

    @property
    def face(self) -> str:
        """Name of the face in the table of widths."""
        if self.serif:
            return "literata_600" if self.weight >= 600 else "literata_500"
        return f"figtree_{min(600, max(400, self.weight))}"

    @property
    def family(self) -> str:
        """Families as SVG names them."""
        return "Literata, serif" if self.serif else "Figtree, sans-serif"


def width_px(text: str, style: Type) -> float:
    """Width of a line from the advance widths of the shipped fonts; unknown letters count 0.75 em."""
    table = advance_widths()[style.face]
    return style.size_px * sum(table.get(character, _UNKNOWN_EM) for character in svg.clean(text))


def wrap(text: str, style: Type, room_px: float) -> tuple[str, ...]:
    """Lines of `text` no wider than `room_px` where words allow; a no-break space does not break."""
    lines: list[str] = []
    current = ""
    for word in text.split(" "):
        trial = f"{current} {word}" if current else word
        if current and width_px(trial, style) > room_px:
            lines.append(current)
            current = word
        else:
            current = trial
    return (*lines, current) if current else tuple(lines)


def shorten(text: str, style: Type, room_px: float) -> str:
    """`text`, cut with an ellipsis where it is wider than `room_px`."""
    if width_px(text, style) <= room_px:
        return text
    kept = text
    while kept and width_px(kept.rstrip() + "…", style) > room_px:
        kept = kept[:-1]
    return kept.rstrip() + "…"


@dataclass(frozen=True, slots=True)
class Ink:
    """Colour of a line of text, its halo, and its anchor (`start`, `middle` or `end`)."""

    fill: str
    halo: str | None = None
    anchor: str = "start"


def draw(text: str, at: tuple[float, float], style: Type, ink: Ink) -> str:
    """A line of text with its base line at `at`."""
    return svg.words(
        "text",
        text,
        x=at[0],
        y=at[1],
        font_family=style.family,
        font_size=style.size_px,
        font_weight=style.weight,
        text_anchor=None if ink.anchor == "start" else ink.anchor,
        fill=ink.fill,
        stroke=ink.halo,
        stroke_width=style.size_px * HALO_FRAC if ink.halo else None,
        stroke_linejoin="round" if ink.halo else None,
        paint_order="stroke" if ink.halo else None,
    )
