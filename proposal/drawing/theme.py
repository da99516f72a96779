"""Colours, tints and hatches of the pictures as data: light and dark for screens, print for paper.

Three hues carry meaning and nothing else does: plum is the recommendation, rust is heat, blue is cold. The light and
dark figures were checked for contrast against WCAG 2.2 and for distance under simulated colour deficiency.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

HatchKind = Literal["none", "single", "cross"]


@dataclass(frozen=True, slots=True)
class Hatch:
    """Lines over a tint, so that a colour is never alone: kind, distance of the lines, how strong."""

    kind: HatchKind
    spacing_px: float = 0.0
    width_px: float = 1.0
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Tint:
    """Fill of a room at one step and the hatch over it."""

    fill: str
    hatch: Hatch
    hatch_colour: str


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour a picture may use."""

    name: str
    paper: str
    card: str
    sunk: str
    ink: str
    ink2: str
    ink3: str
    rule: str
    line: str
    plum: str
    plumwash: str
    rust: str
    rust_text: str
    blue: str
    blue_text: str
    rustwash: str
    bluewash: str
    wall: str
    furniture: str
    winter: tuple[Tint, Tint, Tint, Tint]
    """Steps 0 to 3: as you want it, a little cool, cold, very cold."""
    summer: tuple[Tint, Tint, Tint, Tint]
    """Steps 0 to 3: as you want it, a little warm, hot, very hot."""

    @property
    def plain(self) -> Tint:
        """A room that has no target now."""
        return Tint(self.card, Hatch("none"), self.ink)

    def tint(self, step: int | None, *, summer: bool) -> Tint:
        """Tint of a step; the plain one where there is none."""
        if step is None:
            return self.plain
        return (self.summer if summer else self.winter)[step]

    def loud(self, *, louder: bool) -> Tint:
        """Tint of a room in the sound picture: plain, or hatched in ink where it is louder than advised."""
        return Tint(self.card, Hatch("single", 9.0, opacity=0.55), self.ink2) if louder else self.plain


_NONE = Hatch("none")
_STEP_1 = Hatch("single", 14.0, opacity=0.42)
_STEP_2 = Hatch("single", 9.0, opacity=0.5)
_STEP_3 = Hatch("cross", 8.0, opacity=0.55)


def _steps(fills: tuple[str, str, str, str], colour: str) -> tuple[Tint, Tint, Tint, Tint]:
    none, few, some, many = fills
    return (
        Tint(none, _NONE, colour),
        Tint(few, _STEP_1, colour),
        Tint(some, _STEP_2, colour),
        Tint(many, _STEP_3, colour),
    )


LIGHT = Theme(
    name="light",
    paper="#FAF6EF",
    card="#FFFDFA",
    sunk="#F2ECE1",
    ink="#29241F",
    ink2="#5C5349",
    ink3="#766B5F",
    rule="#8F8475",
    line="#DDD2C2",
    plum="#5E2750",
    plumwash="#F5ECF1",
    rust="#C8540A",
    rust_text="#A2440A",
    blue="#0072B2",
    blue_text="#0A5C8E",
    rustwash="#FBE6D3",
    bluewash="#DCEBF4",
    wall="#3A332C",
    furniture="#A89A86",
    winter=_steps(("#F9E0C4", "#F4EFE6", "#CFE2EE", "#A4CBE2"), "#2F6F95"),
    summer=_steps(("#D9E9F2", "#F4EFE6", "#F9DCC0", "#F2BE94"), "#A2440A"),
)

DARK = Theme(
    name="dark",
    paper="#1B1815",
    card="#25211D",
    sunk="#14110F",
    ink="#F3ECE1",
    ink2="#C4B9AA",
    ink3="#A3988A",
    rule="#7A7064",
    line="#3D362F",
    plum="#F0D0E6",
    plumwash="#33242F",
    rust="#F0955A",
    rust_text="#F0955A",
    blue="#57A9D9",
    blue_text="#6DB9E6",
    rustwash="#45301F",
    bluewash="#1E3644",
    wall="#D9CFC1",
    furniture="#A08E76",
    winter=_steps(("#573B20", "#332E28", "#22404F", "#2B5C77"), "#8CC7E8"),
    summer=_steps(("#22404F", "#332E28", "#5A3A22", "#7C4519"), "#F3B184"),
)


def _firmer(tints: tuple[Tint, Tint, Tint, Tint]) -> tuple[Tint, Tint, Tint, Tint]:
    """Hatches that survive a grey printer, where the tints themselves merge."""
    first, *others = tints
    few, some, many = (
        replace(tint, hatch=replace(tint.hatch, opacity=min(1.0, tint.hatch.opacity + 0.2))) for tint in others
    )
    return (first, few, some, many)


PRINT = replace(
    LIGHT,
    name="print",
    paper="#FFFFFF",
    card="#FFFFFF",
    winter=_firmer(LIGHT.winter),
    summer=_firmer(LIGHT.summer),
)

THEMES = {theme.name: theme for theme in (LIGHT, DARK, PRINT)}
