"""A drawn part: its SVG and the places that labels must keep clear."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from proposal.drawing.geometry import Box


@dataclass(frozen=True, slots=True)
class Drawn:
    """SVG text; `hard` boxes may not be covered by labels, `soft` ones only where nothing else is free."""

    svg: str = ""
    hard: tuple[Box, ...] = ()
    soft: tuple[Box, ...] = ()


def together(parts: Iterable[Drawn]) -> Drawn:
    """Parts one over the other."""
    found = list(parts)
    return Drawn(
        "".join(part.svg for part in found),
        tuple(box for part in found for box in part.hard),
        tuple(box for part in found for box in part.soft),
    )
