"""Answers to pointing at a wall or a piece on the plan, and who can give them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Protocol, runtime_checkable

from compare.pipeline import Comparison
from compare.trials.pieces import pieces_of
from compare.trials.places import Move, piece_at, within_room
from compare.trials.walls import WallSpot, spot_at
from compare.views.tried import SeatStory, Targets, TriedView
from dashboard.keep import Keep
from dashboard.session import Question

MOST_KEPT = 64
REACH_M = 1.2
"""As near to a pillow or a seat as a tap still means it."""
Point = tuple[float, float]


@dataclass(eq=False)
class PointedHouse:
    """Answers to pointing, over the comparison that answers a question."""

    found: Callable[[Question], Comparison]
    _tried: Keep[tuple[Question, WallSpot, str], TriedView] = field(default_factory=lambda: Keep(MOST_KEPT))
    _stories: Keep[tuple[Question, str, int], SeatStory] = field(default_factory=lambda: Keep(MOST_KEPT))
    _targets: Keep[Question, Targets] = field(default_factory=lambda: Keep(MOST_KEPT))

    def targets(self, question: Question) -> Targets:
        """All walls and pieces that can be pointed at."""
        from compare.trials.told import targets_view

        same = replace(question, stops=())
        return self._targets.of(same, lambda: targets_view(self.found(question), question.moves))

    def wall_at(self, question: Question, level: int, at_m: Point) -> WallSpot | None:
        """The wall meant by a point of the plan; None where it is far from any."""
        case = self.found(question).case
        return spot_at(case.plan, level, at_m, case.house.house.plan_north_deg)

    def piece_at(self, question: Question, level: int, at_m: Point) -> int | None:
        """The bed or seat meant by a point of the plan."""
        return piece_at(self.found(question).case.plan, level, at_m, REACH_M)

    def put(self, question: Question, piece: int, at_m: Point) -> Move:
        """A piece as near to a point as its room lets it; raises `ValueError` for a piece that there is not."""
        return within_room(self.found(question).case.plan, piece, at_m)

    def pieces(self, question: Question) -> int:
        """How many beds and seats there are."""
        return len(pieces_of(self.found(question).case.plan))

    def tried(self, question: Question, spot: WallSpot, beside_id: str) -> TriedView:
        """A unit on a wall; raises `ValueError` for a wall or an option that there is not."""
        return self._tried.of((question, spot, beside_id), lambda: self._try(question, spot, beside_id))

    def _try(self, question: Question, spot: WallSpot, beside_id: str) -> TriedView:
        from compare.trials.head import try_head
        from compare.trials.told import tried_view

        found = self.found(question)
        tried = try_head(found, spot, beside_id or None)
        wants = question.cool_bedrooms
        return tried_view(found, tried, question.priorities, beside_id=beside_id, cool_bedrooms=wants)

    def story(self, question: Question, option_id: str, piece: int) -> SeatStory:
        """What moving a piece did to an option; raises `ValueError` for one that there is not."""
        return self._stories.of((question, option_id, piece), lambda: self._tell(question, option_id, piece))

    def _tell(self, question: Question, option_id: str, piece: int) -> SeatStory:
        from compare.trials.told import seat_story

        others = tuple(move for move in question.moves if move.piece != piece)
        before = self.found(replace(question, moves=others))
        return seat_story(before, self.found(question), option_id, piece)


@runtime_checkable
class CanPoint(Protocol):
    """A source that answers pointing."""

    pointed: PointedHouse
