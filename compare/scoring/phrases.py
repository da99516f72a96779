"""Numbers as text and short sentences from templates, for the terminal. Templates are data."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Sequence
from functools import cache
from typing import Final

from compare.scoring.criteria import Kind
from compare.scoring.tables import read_text

US: Final = "US"
SI: Final = "SI"


def _rounded(value: float, steps: tuple[tuple[float, float], ...]) -> str:
    """A whole number with a step that grows with its size: (from, step) pairs, largest first."""
    step = next((step for start, step in steps if abs(value) >= start), 1.0)
    return f"{round(value / step) * step:,.0f}"


_LARGE: Final = ((1000.0, 100.0), (100.0, 10.0))


def _temperature(value: float, units: str, digits: int) -> str:
    return f"{value * 1.8 + 32.0:.{digits}f} °F" if units == US else f"{value:.{max(1, digits)}f} °C"


def _difference(value: float, units: str, digits: int) -> str:
    return f"{value * 1.8:.{digits}f} °F" if units == US else f"{value:.{max(1, digits)}f} K"


def _counted(value: float, word: str) -> str:
    return f"{value:,.0f} {word}" if round(value) == 1 else f"{value:,.0f} {word}s"


def _power(value: float, units: str, _: int) -> str:
    return f"{value * 3.412142 / 1000.0:.1f} kBtu/h" if units == US else f"{value / 1000.0:.1f} kW"


_SHOWN: Final[dict[Kind, Callable[[float, str, int], str]]] = {
    Kind.TEMPERATURE: _temperature,
    Kind.DIFFERENCE: _difference,
    Kind.SHARE: lambda value, _, digits: f"{100.0 * value:.{digits}f} %",
    Kind.LEVEL: lambda value, _, digits: f"{value:.{digits}f} dB(A)",
    Kind.RATIO: lambda value, _, __: f"{value:.2f}",
    Kind.MONEY: lambda value, _, __: "$" + _rounded(value, ((2000.0, 100.0), (100.0, 10.0))),
    Kind.ENERGY: lambda value, _, __: _rounded(value, _LARGE) + " kWh",
    Kind.STARTS: lambda value, _, __: _rounded(value, _LARGE) + " starts",
    Kind.STARTS_H: lambda value, _, __: f"{value:.1f} starts",
    Kind.COUNT: lambda value, _, __: f"{value:,.0f}",
    Kind.ROOMS: lambda value, _, __: _counted(value, "room"),
    Kind.POWER: _power,
    Kind.UNITS: lambda value, _, __: _counted(value, "unit"),
}


def show(value: float, kind: Kind, units: str = US, digits: int = 0) -> str:
    """A number with its unit; `value` in SI. `digits` are decimals of temperatures, levels and shares.

    Money, energy and starts are rounded to what their data can bear.
    """
    return _SHOWN[kind](value, units, digits)


@cache
def templates() -> dict[str, dict[str, str]]:
    """Sentence templates by table."""
    return tomllib.loads(read_text("phrases.toml"))


def sentence(table: str, name: str, **parts: str) -> str:
    """One sentence from its template."""
    return templates()[table][name].format(**parts)


def names(words: Sequence[str], most: int = 3) -> str:
    """A list of names in words; beyond `most` the rest is counted."""
    if len(words) > most:
        rest = len(words) - (most - 1)
        return ", ".join(words[: most - 1]) + f" and {rest} more rooms"
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else list(words))
