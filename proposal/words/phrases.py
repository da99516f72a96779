"""Phrases of the designer's views in another language, as rows of `proposal/data/LANGUAGE/phrases.csv`.

A gap `{name}` keeps what stands there: numbers, tags, names from the house file. A gap `<name>` holds a phrase that is
said in the other language too; a row with such a gap applies only where that phrase is known.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

GAP = re.compile(r"\{([a-z_]+)\}|<([a-z_]+)>")
_BARE = re.compile(r"[\d\s.,:%°+×–-]*")
"""Figures alone need no other language."""
DEEPEST = 6


@dataclass(frozen=True, slots=True)
class _Phrase:
    pattern: re.Pattern[str]
    other: str
    said: frozenset[str]
    """Gaps that are said in the other language too."""


@dataclass(frozen=True, slots=True)
class Phrases:
    """All phrases of one language: whole texts without gaps, and those with gaps, the fullest first."""

    whole: dict[str, str]
    patterns: tuple[_Phrase, ...]

    def find(self, text: str, depth: int = 0) -> str | None:
        """A text in this language; None where no row has it."""
        if _BARE.fullmatch(text):
            return text
        if text in self.whole:
            return self.whole[text]
        if depth >= DEEPEST:
            return None
        for phrase in self.patterns:
            match = phrase.pattern.fullmatch(text)
            filled = match and self._filled(phrase, match.groupdict(), depth)
            if filled:
                return filled
        return None

    def _filled(self, phrase: _Phrase, found: dict[str, str], depth: int) -> str | None:
        parts: dict[str, str] = {}
        for gap, value in found.items():
            said = self.find(value, depth + 1) if gap in phrase.said else value
            if said is None:
                return None
            parts[gap] = said
        return GAP.sub(lambda match: parts[match[1] or match[2]], phrase.other)


def _phrase(english: str, other: str) -> _Phrase:
    pattern, end = "", 0
    for match in GAP.finditer(english):
        pattern += re.escape(english[end : match.start()]) + f"(?P<{match[1] or match[2]}>.+?)"
        end = match.end()
    said = frozenset(match[2] for match in GAP.finditer(english) if match[2])
    return _Phrase(re.compile(pattern + re.escape(english[end:]), re.DOTALL), other, said)


def _solid(english: str) -> int:
    """How many letters of a row stand outside its gaps."""
    return len(GAP.sub("", english))


@cache
def rows(language: str) -> tuple[dict[str, str], ...]:
    """Rows of a language: `english`, `said`; none where the language is English itself."""
    if language == "en":
        return ()
    text = (files(f"proposal.data.{language}") / "phrases.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def phrases_of(language: str) -> Phrases:
    """The phrases of a language, as in `es` or `es-US`."""
    found = rows(language.partition("-")[0])
    whole = {row["english"]: row["said"] for row in found if not GAP.search(row["english"])}
    gapped = sorted((row for row in found if GAP.search(row["english"])), key=lambda row: -_solid(row["english"]))
    return Phrases(whole, tuple(_phrase(row["english"], row["said"]) for row in gapped))
