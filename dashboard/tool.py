"""What somebody points at on the plan: which tool is in hand, and which wall or piece."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from compare.trials.walls import WallSpot


class Tool(StrEnum):
    """What the plan does when it is tapped."""

    NONE = "off"
    WALL = "wall"
    """Try a unit on a wall."""
    SEAT = "seat"
    """Move a bed or a seat."""


@dataclass(frozen=True, slots=True)
class Pointing:
    """The tool in hand and what it was last used on."""

    tool: Tool = Tool.NONE
    spot: WallSpot | None = None
    beside: bool = False
    """Whether the unit is added to the option on the plan; else it is the only one."""
    piece: int | None = None
