"""The text of a house file: where each key stands, and limits that hold before the text is parsed.

The TOML reader of the standard library gives no lines for values, and some small texts (long dotted keys, deep
brackets) keep it busy for a very long time. One linear pass over the text answers both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Self

from compare.house.problems import Problem, shown

Step = str | int
Loc = tuple[Step, ...]
"""A place in the file: keys, and 0-based positions in lists."""

MOST_NESTING = 6
MOST_DOTS = 6

_MARK = re.compile("[\"'#\\[\\]{}=,.\n]")
_LINE_STRING = {'"': re.compile(r'"(?:\\.|[^"\\\n])*"'), "'": re.compile(r"'[^'\n]*'")}
_LONG_PIECE = {'"': re.compile(r'\\.|"""+', re.DOTALL), "'": re.compile(r"'''+")}


class TooDeepError(Exception):
    """Text nested deeper than any house file needs; holds the line."""

    def __init__(self, line: int) -> None:
        super().__init__(f"nested too deep at line {line}")
        self.line = line


def _string_end(text: str, start: int) -> int:
    """Position after the string that starts here, or the end of the text when it is never closed."""
    quote = text[start]
    if text.startswith(quote * 3, start):
        for piece in _LONG_PIECE[quote].finditer(text, start + 3):
            if piece[0][0] == quote:
                return piece.end()
        return len(text)
    match = _LINE_STRING[quote].match(text, start)
    return match.end() if match else len(text)


@dataclass(slots=True)
class _Walk:
    """State of the pass: where the statement began and how deep the brackets are."""

    line: int = 1
    begin: int = 0
    depth: int = 0
    dots: int = 0
    part: str = "key"

    def new_line(self, after: int) -> None:
        self.line += 1
        self.dots = 0
        if self.depth <= 0 or self.part == "header":
            self.begin, self.depth, self.part = after, 0, "key"

    def count(self, mark: str) -> None:
        if mark == ".":
            self.dots += 1
        else:
            self.dots = 0
            self.depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(mark, 0)
        if self.dots > MOST_DOTS or self.depth > MOST_NESTING:
            raise TooDeepError(self.line)


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Line and text of each table header (with its brackets) and of each key before its `=`."""
    walk, position = _Walk(), 0
    while match := _MARK.search(text, position):
        mark, at, position = match[0], match.start(), match.end()
        if mark in "\"'":
            position = _string_end(text, at)
            walk.line += text.count("\n", at, position)
        elif mark == "#":
            position = text.find("\n", at)
            if position < 0:
                return
        elif mark == "\n":
            walk.new_line(position)
        else:
            if mark == "[" and walk.part == "key" and not text[walk.begin : at].strip():
                walk.part = "header"
            walk.count(mark)
            if mark == "]" and walk.part == "header" and walk.depth == 0:
                yield walk.line, text[walk.begin : position].strip()
                walk.part = "after header"
            elif mark == "=" and walk.part == "key" and walk.depth == 0:
                yield walk.line, text[walk.begin : at].strip()
                walk.part = "value"


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip().strip("\"'") for part in dotted.split("."))


def line_index(text: str) -> dict[Loc, int]:
    """Line of every table and key of a TOML text; positions in arrays of tables count from 0.

    Raises
    ------
    TooDeepError
        When brackets or dotted keys nest deeper than a house file may.
    """
    lines: dict[Loc, int] = {}
    counts: dict[Loc, int] = {}
    table: Loc = ()
    for line, statement in _statements(text):
        if not statement.startswith("["):
            lines.setdefault(table + _parts(statement), line)
            continue
        array = statement.startswith("[[")
        names = _parts(statement.strip("[]"))
        table = ()
        for step, name in enumerate(names):
            table += (name,)
            if array and step == len(names) - 1:
                counts[table] = counts.get(table, 0) + 1
            if table in counts:
                table += (counts[table] - 1,)
        lines.setdefault(table, line)
    return lines


def path_text(loc: Loc) -> str:
    """A place as people read it, items counted from 1: `room[3].size`."""
    text = ""
    for step in loc:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if text else step
    return text


@dataclass(frozen=True, slots=True)
class Source:
    """Name of a house file and the line of each of its keys."""

    name: str
    lines: Mapping[Loc, int]
    folder: Path | None = None
    """Folder of the file; None for text that comes from elsewhere."""

    @classmethod
    def of_text(cls, text: str, name: str, folder: Path | None = None) -> Self:
        """Index a text; raises `TooDeepError`."""
        return cls(name, line_index(text), folder)

    def line_of(self, loc: Loc) -> int:
        """Line of a place, or of the nearest table around it; 0 when the file has neither."""
        return next((self.lines[loc[:end]] for end in range(len(loc), 0, -1) if loc[:end] in self.lines), 0)

    def problem(self, loc: Loc, message: str, value: object = None, suggestion: str = "") -> Problem:
        """A problem at a place of this file; `value` is what stands there, if anything."""
        text = "" if value is None else shown(value)
        return Problem(self.name, self.line_of(loc), path_text(loc), text, message, suggestion, loc)
