"""Facts that can decide between two options, and the reasons made from them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from compare.scoring.criteria import Criterion, Kind
from compare.scoring.tables import read_rows


class Audience(StrEnum):
    """Who a reason is for. No reason holds anything that only the office may see."""

    EVERYONE = "everyone"
    DESIGNER = "designer"


@dataclass(frozen=True, slots=True)
class Fact:
    """A kind of difference between two options."""

    fact: str
    criterion: Criterion | None
    """None for a fact that is shown and not scored."""
    kind: Kind
    audience: Audience
    order: int


@cache
def facts() -> dict[str, Fact]:
    """Every fact by its key, in the order in which equals are told."""
    return {
        row["fact"]: Fact(
            fact=row["fact"],
            criterion=Criterion(row["criterion"]) if row["criterion"] else None,
            kind=Kind(row["kind"]),
            audience=Audience(row["audience"]),
            order=order,
        )
        for order, row in enumerate(read_rows("facts.csv"))
    }


@dataclass(frozen=True, slots=True)
class Pair:
    """One number of both options, in SI."""

    name: str
    kind: Kind
    better: float
    worse: float


@dataclass(frozen=True, slots=True)
class Reason:
    """One fact by which an option is better than another.

    The first pair decides; its difference exceeds the error of its data. For a fact about rooms the pair holds for
    the first room, and the fact holds for every listed room.
    """

    fact: str
    criterion: Criterion | None
    better_id: str
    worse_id: str
    pairs: tuple[Pair, ...]
    rooms: tuple[int, ...]
    """Room indices, the one that matters most first; empty for facts about units or the whole option."""
    room_names: tuple[str, ...]
    points: float
    """Points of the total that the fact is worth under the weights; 0 when its criterion has no weight."""
    criterion_points: float
    """Points of its own criterion, 0-100; 0 for a fact that is shown only."""
    audience: Audience

    @property
    def scored(self) -> bool:
        """Whether the fact belongs to a criterion."""
        return self.criterion is not None


@dataclass(frozen=True, slots=True)
class Found:
    """A fact that is true of two options, before it is weighed."""

    fact: str
    pairs: tuple[Pair, ...]
    criterion_points: float
    rooms: tuple[int, ...] = ()
