"""One language: tables of templates, lists and number words. Text put into a template can never become a template."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

LANGUAGES = {"en": "proposal.words.en", "es": "proposal.words.es"}
"""Folder of the tables of each language."""
LONGEST_NAME = 60
_FIELD = re.compile(r"\{([a-z_]+)\}")
_BREAKS = re.compile("[\t\n\x0b\x0c\r\x85\u2028\u2029]+")
_UNSEEN = re.compile(
    "[\x00-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff\ufff9-\ufffd"
    "\ufffe\uffff\ud800-\udfff\U000e0000-\U000e0fff\U000f0000-\U0010ffff]"
)


def plain(text: str) -> str:
    """Text on one line, without control characters, direction marks and characters of no width."""
    return _UNSEEN.sub("", _BREAKS.sub(" ", text)).strip()


def name(text: str) -> str:
    """A name from the house file as a document may show it: plain, and cut where it is very long."""
    short = plain(text)
    return short if len(short) <= LONGEST_NAME else short[: LONGEST_NAME - 1].rstrip() + "…"


def capital(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


@dataclass(frozen=True, slots=True)
class Words:
    """All words of one language."""

    code: str
    """As in `en-US`."""
    tables: Mapping[str, Mapping[str, str]]

    def has(self, table: str, key: str) -> bool:
        """Whether a table holds a key."""
        return key in self.tables.get(table, {})

    def say(self, table: str, key: str, /, **parts: str) -> str:
        """A template with its fields filled in; an unknown field stays as it is.

        Raises
        ------
        KeyError
            When the language has no such table or key.
        """
        try:
            template = self.tables[table][key]
        except KeyError:
            raise KeyError(f"no words for '{key}' in table '{table}' of {self.code}") from None
        return _FIELD.sub(lambda match: plain(parts[match[1]]) if match[1] in parts else match[0], template)

    def fields(self, table: str, key: str) -> frozenset[str]:
        """Names of the fields of a template."""
        return frozenset(_FIELD.findall(self.tables[table][key]))

    def count(self, number: int) -> str:
        """A small whole number as a word, a larger one in figures."""
        return self.tables["counts"].get(str(number), f"{number:,}")

    def counted(self, number: int, noun: str) -> str:
        """`one wall unit`, `two wall units`; `noun` is a key of the table of nouns."""
        form = "one" if number == 1 else "many"
        return self.say("nouns", f"{noun}_{form}", n=self.count(number))

    def listed(self, items: Sequence[str]) -> str:
        """`a`, `a and b`, `a, b and c`."""
        if len(items) < 2:
            return "".join(items)
        return self.say("lists", "last", first=", ".join(items[:-1]), last=items[-1])


def _flat(table: Mapping[str, object], prefix: str = "") -> dict[str, str]:
    """Nested tables as one, keys joined by dots."""
    found: dict[str, str] = {}
    for key, value in table.items():
        if isinstance(value, Mapping):
            found.update(_flat(value, f"{prefix}{key}."))
        else:
            found[prefix + key] = str(value)
    return found


@cache
def words_of(language: str = "en") -> Words:
    """The words of a language.

    Raises
    ------
    ValueError
        For a language that the program does not speak.
    """
    if language not in LANGUAGES:
        raise ValueError(f"language '{language}' is not known; choose one of: {', '.join(LANGUAGES)}")
    tables: dict[str, dict[str, str]] = {}
    for file in sorted(files(LANGUAGES[language]).iterdir(), key=lambda item: item.name):
        if file.name.endswith(".toml"):
            for key, table in tomllib.loads(file.read_text(encoding="utf-8")).items():
                tables.setdefault(key, {}).update(_flat(table))
    return Words(tables["language"]["code"], tables)
