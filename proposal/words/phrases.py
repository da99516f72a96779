"""Phrases of the designer's views in another language, as rows of `proposal/data/LANGUAGE/phrases.csv`.

A gap `{name}` keeps what stands there: numbers, tags, names from the house file. A gap `<name>` holds a phrase that is
said in the other language too; a row with such a gap applies only where that phrase is known. A gap `[name]` holds a
name that is said in the other language where it is known and stays as it is where not. A kept gap of one or two
letters holds figures with their units. Where several rows fit a text,
the one with most letters outside its gaps says it. Figures with their units, and keys of the house file, stay.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

GAP = re.compile(r"\{([a-z_]+)\}|<([a-z_]+)>|\[([a-z_]+)\]")
_UNIT = r"in\. w\.c\.|in\.|ft³/min|ft/min|fpm|cfm|ft²?|m³/s|m/s|m²?|mm|dB\(A\)|NC|Pa|kg/kWh|kg|Btu/h|kW|W|°[FC]|L/s|K"
_BARE = re.compile(rf"(?:[\d\s.,:%°+×·/²³–-]|{_UNIT})*|[a-z_]+\.[a-z_0-9]+")
"""Figures with their units, and keys of the house file, stand in every language."""
_FIGURE = rf"(?:[\d\s.,%°+×·/²³–()-]|{_UNIT})+?"
_INSIDE = dict.fromkeys(("rooms", "here", "there"), "[^()]+?")
"""What may stand in a gap of these names; a kept one of one or two letters holds figures, all others any text."""
DEEPEST = 24


@dataclass(frozen=True, slots=True)
class _Phrase:
    pattern: re.Pattern[str]
    other: str
    said: frozenset[str]
    """Gaps that are said in the other language too."""
    known: frozenset[str]
    """Gaps that are said in the other language where it knows them."""


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
            said = self.find(value, depth + 1) if gap in phrase.said or gap in phrase.known else value
            if said is None and gap in phrase.said:
                return None
            parts[gap] = value if said is None else said
        return GAP.sub(lambda match: parts[_name_of(match)], phrase.other)


def _name_of(gap: re.Match[str]) -> str:
    return gap[1] or gap[2] or gap[3]


def _inside(gap: re.Match[str]) -> str:
    return _FIGURE if 1 <= len(gap[1] or "") <= 2 else _INSIDE.get(_name_of(gap), ".+?")


def _phrase(english: str, other: str) -> _Phrase:
    pattern, end = "", 0
    for match in GAP.finditer(english):
        pattern += re.escape(english[end : match.start()]) + f"(?P<{_name_of(match)}>{_inside(match)})"
        end = match.end()
    said, known = (frozenset(match[kind] for match in GAP.finditer(english) if match[kind]) for kind in (2, 3))
    return _Phrase(re.compile(pattern + re.escape(english[end:]), re.DOTALL), other, said, known)


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
