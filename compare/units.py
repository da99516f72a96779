"""Units at the edge: text and bare numbers in, SI floats out, and back again for display.

The only module that imports pint. The registry is blank and holds our own definitions only, because a general one
reads `cfm` as centi-femtometres and `ton` as a mass. No user text ever reaches pint: the number is read by `float`
after a strict pattern, and the unit word is looked up in a table. Conversion factors are pint's and are applied as
plain float arithmetic; `data/units.csv` keeps those of every unit in `compare.kinds`, so that a start need not load
pint. A test compares each row with pint; a unit without its row asks pint.
"""

from __future__ import annotations

import csv
import math
import re
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from compare.kinds import DEFINITIONS, INCH, KINDS, PERCENT, Kind, System, Unit

if TYPE_CHECKING:
    import pint


__all__ = [
    "Kind",
    "System",
    "UnitError",
    "examples",
    "from_si",
    "label",
    "parse",
    "show",
    "show_feet_inches",
    "to_si",
]


class UnitError(ValueError):
    """A quantity that cannot be read; the text says what to write instead."""


_NUMBER = r"(?:[0-9]{1,15}(?:\.[0-9]{0,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?"
_FRACTION = r"(?:[0-9]{1,4} )?[0-9]{1,4}/[1-9][0-9]{0,3}"
_QUANTITY = re.compile(rf"(?P<sign>[+-]?)(?P<number>{_FRACTION}|{_NUMBER})(?P<word>.*)", re.DOTALL)
_FEET_INCHES = re.compile(
    rf"(?P<sign>[+-]?)(?P<feet>{_NUMBER}) ?(?:ft|foot|feet|') ?-?(?P<inches>{_FRACTION}|{_NUMBER}) ?"
    r"(?:in\.|inches|inch|in|\")"
)
_LONGEST_TEXT = 60
_WORD_MARKS = str.maketrans({"²": "2", "³": "3", "·": ".", "°": "", "(": "", ")": "", "₂": "2", "*": ".", " ": ""})
_LENGTHS = frozenset({Kind.LENGTH, Kind.SMALL_LENGTH})


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry[Any]:
    """The blank registry with our own definitions; pint is imported only when a conversion is first needed."""
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    registry.load_definitions([line for line in DEFINITIONS.splitlines() if line])
    return registry


@lru_cache(maxsize=1)
def _kept() -> dict[tuple[str, str], tuple[float, float]]:
    text = files("compare").joinpath("data", "units.csv").read_text(encoding="utf-8")
    return {
        (row["unit"], row["inside"]): (float(row["zero"]), float(row["slope"]))
        for row in csv.DictReader(text.splitlines())
    }


@cache
def _line(expression: str, inside: str) -> tuple[float, float]:
    """Zero and slope of `inside = (unit - zero) * slope`, so that conversion both ways is plain arithmetic."""
    if expression == inside:
        return 0.0, 1.0
    return _kept().get((expression, inside)) or _line_by_pint(expression, inside)


def _line_by_pint(expression: str, inside: str) -> tuple[float, float]:
    registry = _registry()
    if expression == "degree_F":
        start, end = (registry.Quantity(float(mark), "degree_F").to(inside).magnitude for mark in (0, 180))
        slope = round((end - start) / 180.0, 12)
        return round(-start / slope, 9), 5.0 / 9.0
    slope = registry.parse_expression(expression).to(inside).magnitude
    return 0.0, float(f"{slope:.16g}")


def _to_inside(value: float, unit: Unit, kind: Kind) -> float:
    zero, slope = _line(unit.expression, KINDS[kind].inside)
    return (value - zero) * slope


def _plain_word(word: str) -> str:
    """A unit word without spaces, brackets and raised figures."""
    return word.translate(_WORD_MARKS)


@cache
def _words(kind: Kind) -> dict[str, Unit]:
    """Every accepted word of a kind; words in which capitals mean nothing stand in lower case."""
    table: dict[str, Unit] = {}
    for unit in KINDS[kind].every():
        for word in filter(None, (*unit.words, unit.label)):
            table[_plain_word(word).lower() if unit.any_case else _plain_word(word)] = unit
    return table


def _unit_named(word: str, kind: Kind) -> Unit | None:
    plain, table = _plain_word(word), _words(kind)
    in_any_case = table.get(plain.lower())
    return table.get(plain) or (in_any_case if in_any_case and in_any_case.any_case else None)


def examples(kind: Kind) -> str:
    """Unit labels that a text of this kind may end in, as in `ft, m, in.`; empty for a pure number."""
    labels = [unit.label for unit in KINDS[kind].every() if unit.label]
    return ", ".join(dict.fromkeys(labels))


def label(kind: Kind, system: System) -> str:
    """The unit in which a kind is shown and in which a bare number is read, as in `ft³/min`."""
    return KINDS[kind].bare(system).label


def _fraction(text: str) -> float:
    """A number as tape measures give it: `6`, `6.5`, `1/2` or `6 1/2`."""
    if "/" not in text:
        return float(text)
    whole, _, part = text.rpartition(" ")
    over, under = part.split("/")
    return float(whole or "0") + int(over) / int(under)


def _signed(sign: str, value: float) -> float:
    return -value if sign == "-" else value


def _advice(kind: Kind) -> str:
    words = examples(kind)
    return f"write a number, or a number with one of: {words}" if words else "write a plain number"


def parse(text: str, kind: Kind, system: System) -> float:
    """A quantity written as text, in SI.

    Accepts a plain number, a number and a unit word of the kind, a fraction as on a tape (`32 1/2 in`), and for
    lengths feet with inches (`12 ft 6 in`). Thousands separators, decimal commas and figures other than 0-9 are
    refused, as is any unit word of another kind.

    Raises
    ------
    UnitError
        With what to write instead.
    """
    if len(text) > _LONGEST_TEXT:
        raise UnitError(f"too long for a quantity; {_advice(kind)}")
    text = text.strip()
    if kind in _LENGTHS and (match := _FEET_INCHES.fullmatch(text)):
        feet, inches = _fraction(match["feet"]), _fraction(match["inches"])
        if inches >= 12.0:
            raise UnitError("inches after feet must be less than 12")
        return _signed(match["sign"], _to_inside(feet * 12.0 + inches, INCH, kind))
    match = _QUANTITY.fullmatch(text)
    if match is None:
        raise UnitError(f"not a number; {_advice(kind)}")
    number, word = _signed(match["sign"], _fraction(match["number"])), match["word"].strip()
    if word.startswith(","):
        raise UnitError("no comma inside a number; write 9000 or 3.8")
    unit = _unit_named(word, kind) if word else KINDS[kind].bare(system)
    if unit is None:
        raise UnitError(f'"{_printable(word)}" is not a unit of {kind.value}; {_advice(kind)}')
    return _to_inside(number, unit, kind)


def _printable(word: str) -> str:
    """A word as it may stand in a message: characters that do not print are replaced by a question mark."""
    return "".join(char if char.isprintable() else "?" for char in word)


def to_si(value: float | str, kind: Kind, system: System) -> float:
    """A number or text as written by a person, as an SI float.

    A bare number is in the kind's unit of `system` (ft or m, °F or °C ...). Truth values, non-finite numbers and
    numbers too large for a float are refused with `UnitError`.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise UnitError(f"not a number; {_advice(kind)}")
    if isinstance(value, str):
        result = parse(value, kind, system)
    else:
        try:
            result = _to_inside(float(value), KINDS[kind].bare(system), kind)
        except OverflowError:
            raise UnitError("number too large") from None
    if not math.isfinite(result):
        raise UnitError("must be a finite number")
    return result + 0.0


def from_si(value_si: float, kind: Kind, system: System) -> float:
    """An SI float in the kind's unit of `system`; the inverse of `to_si` for bare numbers."""
    zero, slope = _line(KINDS[kind].bare(system).expression, KINDS[kind].inside)
    return value_si / slope + zero


def show(value_si: float, kind: Kind, system: System, decimals: int | None = None) -> str:
    """An SI float as people read it: `350 ft³/min`, `68 °F`, `9,000 Btu/h`, `70 %`.

    `decimals` defaults to what suits the kind and unit. Minus zero is shown as zero.
    """
    unit = PERCENT if kind is Kind.SHARE else KINDS[kind].bare(system)
    zero, slope = _line(unit.expression, KINDS[kind].inside)
    places = unit.decimals if decimals is None else decimals
    shown = round(value_si / slope + zero, places) + 0.0
    text = f"{shown:,.{places}f}"
    return f"{text}{unit.label}" if unit.label == "°" else f"{text} {unit.label}".rstrip()


def show_feet_inches(value_m: float) -> str:
    """A length in metres as feet and inches to the nearest half inch: `12 ft 6 in.`."""
    halves = round(abs(value_m) / 0.0254 * 2.0)
    feet, rest = divmod(halves, 24)
    inches = f"{rest / 2.0:g} in."
    sign = "-" if value_m < 0.0 and halves else ""
    return f"{sign}{feet} ft {inches}" if feet and rest else f"{sign}{feet} ft" if feet else f"{sign}{inches}"
