"""The outside of the house as it will look: the walls that carry most, for each layout that the paper is about."""

from __future__ import annotations

from dataclasses import dataclass

from proposal.document.blocks import Block, Figure, Heading, Paragraph
from proposal.words import Told, option_phrase


@dataclass(frozen=True, slots=True)
class Outside:
    """Outside walls of one layout, each a picture of its own."""

    option: str
    walls: tuple[Figure, ...]


def outside_blocks(told: Told, shown: tuple[Outside, ...]) -> list[Block]:
    """A part for each wall; with the name of its layout where there are several."""
    blocks: list[Block] = []
    for one in shown:
        for number, figure in enumerate(one.walls):
            if len(shown) > 1:
                phrase = option_phrase(told.view, told.view.option(one.option), told.words)
                heading = Heading(2, told.words.say("charts", "walls_named", phrase=phrase))
            elif number:
                heading = Heading(2, told.words.say("charts", "walls_another"))
            else:
                heading = Heading(2, told.words.say("more", "walls_heading"))
            text = [] if blocks else [Paragraph(told.words.say("more", "walls_text"), style="small", sticky=True)]
            blocks += [heading, *text, figure]
    return blocks
