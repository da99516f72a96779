"""Words in pictures by language: the table `pictures` of `proposal/words/LANGUAGE`; units as a language writes them."""

from __future__ import annotations

import re
from collections.abc import Mapping

from proposal.words.language import words_of

TABLE = "pictures"
NO_BREAK = "\u00a0"
ENGLISH: Mapping[str, str] = words_of("en").tables[TABLE]
FIELD = re.compile(r"\{(\w+)\}")
"""A field of a text."""
_UNIT = re.compile(r"(?<![A-Za-z·])(in\.[ \u00a0]w\.c\.|ft³/min|ft/min|in²|in\.|ft)(?![A-Za-z²³])")


def words_for(language: str) -> Mapping[str, str]:
    """Words of the pictures in a language, as in `en` or `es-US`."""
    return words_of(language.partition("-")[0]).tables[TABLE]


def say(words: Mapping[str, str], key: str, **fields: str) -> str:
    """The text of a key, English where the language lacks it, with its fields filled in.

    Raises
    ------
    KeyError
        For a key that no language has, and for a field that is not given.
    """
    pattern = words.get(key) or ENGLISH[key]
    missing = [name for name in FIELD.findall(pattern) if name not in fields]
    if missing:
        raise KeyError(f"'{key}' needs {', '.join(missing)}")
    for name, value in fields.items():
        pattern = pattern.replace("{" + name + "}", value)
    return pattern


def _said(unit: str, words: Mapping[str, str]) -> str:
    """A unit in the language; where its parts may not come apart, neither do those of its other name."""
    word = say(words, f"unit_{unit.replace(NO_BREAK, ' ')}")
    return word.replace(" ", NO_BREAK) if NO_BREAK in unit else word


def local(text: str, words: Mapping[str, str]) -> str:
    """A text with its units of length, pressure and air as the language writes them: `6 pies 2 pulg.`"""
    if words is ENGLISH:
        return text
    many, one = say(words, "unit_ft"), say(words, "unit_ft_one")
    found = _UNIT.sub(lambda match: _said(match[1], words), text)
    return re.sub(rf"(?<![\d.,])(1[ \u00a0]){many}(?![³/\w])", rf"\g<1>{one}", found)
