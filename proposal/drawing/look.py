"""How a picture is to look, and which hour of which day it shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from proposal.drawing.theme import LIGHT, Theme
from proposal.drawing.words import ENGLISH, say


class Scene(StrEnum):
    """The moment that the plan shows."""

    MORNING = "morning"
    """6 a.m. of the coldest days, doors as the family keeps them at night."""
    EVENING = "evening"
    """7 p.m. of the same days."""
    AFTERNOON = "afternoon"
    """The hottest afternoons."""
    SOUND = "sound"
    """Sound at beds and seats."""

    @property
    def summer(self) -> bool:
        """Whether rooms are judged against the cooling set point."""
        return self is Scene.AFTERNOON


@dataclass(frozen=True, slots=True)
class Look:
    """Theme, width, units and language of a picture.

    `width_px` is the width of the picture; text keeps its size, so for paper 640 px at 6.8 in. gives 9.9 pt.
    `compact` draws the small house of cards: no text, heaters hollow, other units solid.
    """

    theme: Theme = LIGHT
    units: System = System.US
    width_px: float = 640.0
    compact: bool = False
    caption: bool = True
    legend: bool = True
    title: str | None = None
    """Heading of the plan in place of the scene's own."""
    words: Mapping[str, str] = field(default_factory=lambda: ENGLISH)

    def say(self, key: str, **fields: str) -> str:
        """A word of this picture's language."""
        return say(self.words, key, **fields)


@dataclass(frozen=True, slots=True)
class Table:
    """The values of a picture as rows of text, for readers who do not see it."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def recommended(view: CustomerView, option: OptionCard) -> bool:
    """Whether an option may be drawn in plum: the winner, unless it is too close to call."""
    return option.id == view.answer.winner and view.answer.verdict != "too close to call"


def unit_colour(view: CustomerView, option: OptionCard, theme: Theme) -> str:
    """Colour of the units of an option."""
    return theme.plum if recommended(view, option) else theme.ink
