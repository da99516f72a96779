"""The numbers that go with the catalogue but are not a row of it, from `compare/data/equipment/rules.toml`."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources
from typing import Any

DATA_PACKAGE = "compare.data.equipment"


@cache
def _tables() -> dict[str, Any]:
    text = resources.files(DATA_PACKAGE).joinpath("rules.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def rule(table: str, name: str) -> float:
    """One number of the rules file; `table` may be dotted.

    Raises
    ------
    KeyError
        When the rules file has no such table or name (an error of the program, not of a user).
    """
    node: Any = _tables()
    for part in table.split("."):
        node = node[part]
    return float(node[name])


def rule_words(table: str, name: str) -> tuple[str, ...]:
    """A list of words of the rules file."""
    return tuple(str(word) for word in _tables()[table][name])


def rule_source(table: str) -> str:
    """Where the numbers of a table come from, for printing beside them."""
    node: Any = _tables()
    for part in table.split("."):
        node = node[part]
    return str(node["source"])
