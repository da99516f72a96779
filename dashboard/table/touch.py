"""The sheet of glass over the plan and the lists beside it; the picture's frames tell where a tap lies in metres."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dash.development.base_component import Component

from compare.views.plan_view import Point
from compare.views.tried import PieceTarget
from dashboard.components import OwnComponent
from dashboard.tool import Tool
from proposal.drawing.frame import LevelFrame


class Glass(OwnComponent):
    """Hears taps and drags over a picture of `width` by `height`.

    `frames`: storeys as boxes of the picture with metres at their corner; `pieces`: outlines of beds and seats that can
    be dragged; `mark`: a cross where no unit can hang; `tool`; `chosen`: number of the chosen piece.
    """

    _type = "Glass"
    PROPERTIES = ("id", "width", "height", "frames", "pieces", "mark", "tool", "label", "chosen")


class Chooser(OwnComponent):
    """A list to choose from: `options` of `value` and `label`, or groups of `label` and `options`."""

    _type = "Chooser"
    PROPERTIES = ("id", "label", "options", "value")


def frame_of(frame: LevelFrame) -> dict[str, float]:
    """A storey as the glass needs it."""
    box = frame.house
    return {
        "level": frame.level.level,
        "x0": round(box.x0, 2),
        "y0": round(box.y0, 2),
        "x1": round(box.x1, 2),
        "y1": round(box.y1, 2),
        "scale": frame.px_per_m,
        "left": frame.house_m.x0,
        "top": frame.house_m.y1,
    }


def at_px(frames: Sequence[LevelFrame], level: int, at_m: Point) -> list[float]:
    """A point of a storey in the picture."""
    frame = next(one for one in frames if one.level.level == level)
    return [round(value, 2) for value in frame.at(at_m)]


def outline_of(piece: PieceTarget, frames: Sequence[LevelFrame]) -> dict[str, Any]:
    """A piece as an outline that can be dragged."""
    return {
        "piece": piece.piece,
        "at": list(piece.at_m),
        "points": [at_px(frames, piece.level, corner) for corner in piece.corners_m],
    }


def glass(
    frames: Sequence[LevelFrame],
    size_px: tuple[float, float],
    tool: Tool,
    told: tuple[Sequence[PieceTarget], int | None, tuple[int, Point] | None],
) -> Component:
    """The glass of a picture: `told` are the pieces, the number of the chosen one, and level and place of a cross."""
    pieces, chosen, cross = told
    return Glass(
        width=size_px[0],
        height=size_px[1],
        frames=[frame_of(frame) for frame in frames],
        pieces=[outline_of(piece, frames) for piece in pieces if piece.corners_m],
        mark=None if cross is None else at_px(frames, *cross),
        tool=tool.value,
        label="",
        chosen=chosen,
    )
