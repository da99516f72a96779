"""Where each table, key and value of a TOML text stands, to the character, so that an edit touches nothing else."""

from __future__ import annotations

import re
from dataclasses import dataclass

Step = str | int
Loc = tuple[Step, ...]
"""A place in the file: keys, and 0-based positions in lists of tables."""

_MARK = re.compile("[\"'#\\[\\]{}=\n]")
_STRING = {'"': re.compile(r'"(?:\\.|[^"\\\n])*"'), "'": re.compile(r"'[^'\n]*'")}
_KEY_PART = re.compile(r"""\s*(?:"((?:\\.|[^"\\])*)"|'([^']*)'|([^.\s"']+))\s*(?:\.|$)""")


@dataclass(frozen=True, slots=True)
class Block:
    """A table header, or the top of the file: its place, and the offsets from its line to its last line of code."""

    loc: Loc
    start: int
    end: int
    """After the line break of the last line that is neither blank nor only a comment."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A key with its value: offsets of its whole lines and of the value alone."""

    loc: Loc
    start: int
    end: int
    value_start: int
    value_end: int


@dataclass(frozen=True, slots=True)
class Spans:
    """All blocks and pairs of a text, in its order."""

    blocks: tuple[Block, ...]
    pairs: tuple[Pair, ...]

    def block(self, loc: Loc) -> Block | None:
        """The header of a place."""
        return next((block for block in self.blocks if block.loc == loc), None)

    def last(self, table: str) -> Block | None:
        """The last header `[[table]]`."""
        found = [block for block in self.blocks if len(block.loc) == 2 and block.loc[0] == table]
        return found[-1] if found else None

    def pair(self, loc: Loc) -> Pair | None:
        """The key of a place."""
        return next((pair for pair in self.pairs if pair.loc == loc), None)


def _after_string(text: str, at: int) -> int:
    quote = text[at]
    if text.startswith(quote * 3, at):
        end = at + 3
        while (end := text.find(quote * 3, end)) >= 0:
            slashes = len(text[:end]) - len(text[:end].rstrip("\\")) if quote == '"' else 0
            if slashes % 2 == 0:
                while text.startswith(quote, end + 3):
                    end += 1
                return end + 3
            end += 1
        return len(text)
    match = _STRING[quote].match(text, at)
    return match.end() if match else len(text)


def _line_end(text: str, at: int) -> int:
    found = text.find("\n", at)
    return len(text) if found < 0 else found + 1


def keys_of(dotted: str) -> tuple[str, ...]:
    """The parts of a dotted key."""
    return tuple(next(part for part in match.groups() if part is not None) for match in _KEY_PART.finditer(dotted))


def _value_end(text: str, at: int) -> int:
    """Where a value ends: before a comment or line break outside its brackets and strings."""
    depth, here = 0, at
    while match := _MARK.search(text, here):
        mark, here = match[0], match.end()
        if mark in "\"'":
            here = _after_string(text, match.start())
        elif mark == "#":
            if depth == 0:
                return len(text[: match.start()].rstrip(" \t"))
            here = _line_end(text, here) - 1
        elif mark == "\n" and depth == 0:
            return len(text[: match.start()].rstrip(" \t\r"))
        else:
            depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(mark, 0)
    return len(text.rstrip())


def _equals(text: str, at: int) -> int:
    """The first `=` of a line that is not within a quoted key."""
    while match := _MARK.search(text, at):
        if match[0] == "=":
            return match.start()
        if match[0] not in "\"'":
            return -1
        at = _after_string(text, match.start())
    return -1


class _Finder:
    """One pass over the text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.blocks: list[tuple[Loc, int, int]] = [((), 0, 0)]
        self.pairs: list[Pair] = []
        self.counts: dict[Loc, int] = {}

    def run(self) -> Spans:
        """All blocks and pairs."""
        at, text = 0, self.text
        while at < len(text):
            end = _line_end(text, at)
            line = text[at:end].strip()
            if line.startswith("["):
                self._header(at, end, line)
            elif line and not line.startswith("#"):
                end = self._pair(at, end)
            at = end
        return Spans(tuple(Block(*block) for block in self.blocks), tuple(self.pairs))

    def _header(self, at: int, end: int, line: str) -> None:
        array = line.startswith("[[")
        closing = line.find("]]" if array else "]")
        names = keys_of(line[2 if array else 1 : closing])
        loc: Loc = ()
        for step, name in enumerate(names):
            loc += (name,)
            if array and step == len(names) - 1:
                self.counts[loc] = self.counts.get(loc, 0) + 1
            if loc in self.counts:
                loc += (self.counts[loc] - 1,)
        self.blocks.append((loc, at, end))

    def _pair(self, at: int, end: int) -> int:
        sign = _equals(self.text, at)
        if sign < 0:
            return end
        value_start = sign + 1
        while self.text[value_start : value_start + 1] in {" ", "\t"}:
            value_start += 1
        value_end = _value_end(self.text, value_start)
        end = _line_end(self.text, value_end)
        table, start, _ = self.blocks[-1]
        self.blocks[-1] = (table, start, end)
        self.pairs.append(Pair(table + keys_of(self.text[at:sign]), at, end, value_start, value_end))
        return end


def spans_of(text: str) -> Spans:
    """Blocks and pairs of a TOML text that a reader accepts."""
    return _Finder(text).run()
