"""Taps on the plan: a tool taken in hand, a wall or a piece pointed at, a piece put elsewhere. Nothing is trusted."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from compare.trials.places import Move
from compare.trials.walls import WallSpot
from dashboard.pointing import PointedHouse
from dashboard.session import Page, Question
from dashboard.tool import Pointing, Tool

KINDS = frozenset({"tool", "at", "drag", "wall", "with", "piece", "put", "back"})
"""Kinds of tap that this module hears."""
FARTHEST_M = 500.0
_NUMBER = re.compile(r"-?\d{1,3}(?:\.\d{1,3})?")
_PLACE = re.compile(r"\d{1,3}")


def is_pointing(what: str) -> bool:
    """Whether a tap is one of this module's."""
    return what.partition(":")[0] in KINDS


def pointed(page: Page, what: str, house: PointedHouse) -> tuple[Pointing, tuple[Move, ...]]:
    """The tool in hand after a tap, and where the moved pieces stand now.

    Raises
    ------
    ValueError
        For a tap that the page does not have.
    """
    kind, _, rest = what.partition(":")
    now, moves = page.pointing, page.question.moves
    if kind == "tool":
        return Pointing(Tool(rest)), moves
    if kind in {"wall", "with"}:
        return _at_wall(now, kind, rest, page.question, house), moves
    if kind == "at" and now.tool is Tool.WALL:
        level, at_m = _level(rest)
        found = house.wall_at(page.question, level, at_m)
        return (now if found is None else replace(now, spot=found)), moves
    if kind in {"at", "drag"} and now.tool is not Tool.SEAT:
        raise ValueError("no tool in hand")
    return _with_seat(now, kind, rest, page.question, house)


def _at_wall(now: Pointing, kind: str, rest: str, question: Question, house: PointedHouse) -> Pointing:
    if kind == "with":
        if rest not in {"yes", "no"}:
            raise ValueError("nothing to tap")
        return replace(now, beside=rest == "yes")
    if rest == "off":
        return replace(now, spot=None)
    room, _, wall = rest.partition(".")
    spot = WallSpot(_index(room), _index(wall))
    if all((one.room, one.wall) != (spot.room, spot.wall) for one in house.targets(question).walls):
        raise ValueError("no such wall")
    return replace(now, tool=Tool.WALL, spot=spot)


def _with_seat(
    now: Pointing, kind: str, rest: str, question: Question, house: PointedHouse
) -> tuple[Pointing, tuple[Move, ...]]:
    moves = question.moves
    if kind == "back":
        number = _piece(rest, question, house)
        return replace(now, piece=None), tuple(move for move in moves if move.piece != number)
    now = replace(now, tool=Tool.SEAT)
    if kind == "piece":
        return replace(now, piece=None if rest == "off" else _piece(rest, question, house)), moves
    if kind == "put":
        piece, _, place = rest.partition(",")
        return _put(now, _piece(piece, question, house), _point(place), question, house)
    if kind == "drag":
        level, numbers = _numbers(rest, 4)
        found = house.piece_at(question, level, (numbers[0], numbers[1]))
        return (now, moves) if found is None else _put(now, found, (numbers[2], numbers[3]), question, house)
    level, at_m = _level(rest)
    found = house.piece_at(question, level, at_m)
    if now.piece is None or (found is not None and found != now.piece):
        return replace(now, piece=found), moves
    return _put(now, now.piece, at_m, question, house)


def _put(
    now: Pointing, piece: int, at_m: tuple[float, float], question: Question, house: PointedHouse
) -> tuple[Pointing, tuple[Move, ...]]:
    others = tuple(move for move in question.moves if move.piece != piece)
    move = house.put(question, piece, at_m)
    return replace(now, piece=piece), tuple(sorted((*others, move)))


def _index(text: str) -> int:
    if not _PLACE.fullmatch(text):
        raise ValueError("nothing to tap")
    return int(text)


def _piece(text: str, question: Question, house: PointedHouse) -> int:
    number = _index(text)
    if number >= house.pieces(question):
        raise ValueError("no such bed or seat")
    return number


def _numbers(text: str, count: int) -> tuple[int, list[float]]:
    level, *parts = text.split(",")
    if len(parts) != count or not all(_NUMBER.fullmatch(part) for part in parts):
        raise ValueError("not a place")
    values = [float(part) for part in parts]
    if any(not math.isfinite(value) or abs(value) > FARTHEST_M for value in values):
        raise ValueError("not a place")
    return _index(level), values


def _level(text: str) -> tuple[int, tuple[float, float]]:
    level, values = _numbers(text, 2)
    return level, (values[0], values[1])


def _point(text: str) -> tuple[float, float]:
    _, values = _numbers(f"0,{text}", 2)
    return values[0], values[1]
