"""Field types of the house file: quantities with a range, words from a list, names, points and hours.

Each type reads what a person may write, refuses the rest with a sentence that says what to write, and describes
itself in the JSON schema. Which unit a bare number has is taken from the validation context.
"""

from __future__ import annotations

import unicodedata
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema
from typing_extensions import override

from compare.house.problems import nearest
from compare.house.tables import clock_hours, default_of, fields
from compare.units import System, UnitError, examples, label, to_si

LONGEST_NAME = 40
LONGEST_NOTES = 500
LONGEST_PATH = 300
MOST_NAMES = 60

JsonSchema = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Reading:
    """What the field types need to know while a file is read."""

    system: System
    age: str
    """Age preset that fills constructions which the file leaves out."""


def reading_of(info: core_schema.ValidationInfo) -> Reading:
    """The reading context of a running validation; SI when there is none."""
    return info.context if isinstance(info.context, Reading) else Reading(System.SI, "1940-1979")


def refusal(text: str, suggestion: str = "") -> PydanticCustomError:
    """An error of the house file's own, carried through pydantic."""
    return PydanticCustomError("house_file", "{text}", {"text": text, "suggestion": suggestion})


@dataclass(frozen=True, slots=True)
class _Written(ABC):
    """Base of the field types: a plain validator and a JSON schema."""

    @abstractmethod
    def read(self, value: object, info: core_schema.ValidationInfo) -> object:
        """The value in SI, or a refusal."""

    @abstractmethod
    def schema(self) -> JsonSchema:
        """How an editor should see the field."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        return self.schema()


@dataclass(frozen=True, slots=True)
class Quantity(_Written):
    """A number or text with a unit, in the range that the table of fields gives."""

    field: str
    words: Mapping[str, float] | None = None
    """Words that stand for a value, such as `open`."""

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> float:
        if self.words and isinstance(value, str) and value in self.words:
            return self.words[value]
        spec, system = fields()[self.field], reading_of(info).system
        try:
            value_si = to_si(value, spec.kind, system)  # type: ignore[arg-type]
        except UnitError as error:
            raise refusal(f"{error}{self._or_words()}") from None
        slack = 1e-12 * max(1.0, abs(spec.low), abs(spec.high))
        if not spec.low - slack <= value_si <= spec.high + slack:
            raise refusal(f"must be {spec.span(system)}{self._or_words()}")
        return value_si

    def _or_words(self) -> str:
        return "".join(f' or "{word}"' for word in self.words or ())

    @override
    def schema(self) -> JsonSchema:
        spec = fields()[self.field]
        us, si = label(spec.kind, System.US), label(spec.kind, System.SI)
        bare = f"; a bare number is in {us}" + (f" (US) or {si} (SI)" if us != si else "") if us else ""
        words = f"; or {', '.join(self.words)}" if self.words else ""
        units = f"; units: {examples(spec.kind)}" if examples(spec.kind) else ""
        text = f"{spec.kind.value}{bare}, {spec.span(System.US)}{words}{units}"
        return {"description": text, "anyOf": [{"type": "number"}, {"type": "string"}]}


@dataclass(frozen=True, slots=True)
class Quantities(_Written):
    """A list of a fixed count of quantities, such as a point or the clear size of a space."""

    parts: tuple[Quantity, ...]
    example: str

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> tuple[float, ...]:
        if not isinstance(value, list | tuple) or len(value) != len(self.parts):
            raise refusal(f"write {len(self.parts)} values, such as {self.example}")
        return tuple(part.read(item, info) for part, item in zip(self.parts, value, strict=True))

    @override
    def schema(self) -> JsonSchema:
        item = {"anyOf": [{"type": "number"}, {"type": "string"}]}
        return {"type": "array", "items": item, "minItems": len(self.parts), "maxItems": len(self.parts)}


@dataclass(frozen=True, slots=True)
class Count(_Written):
    """A whole number in a range."""

    low: int
    high: int

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise refusal(f"write a whole number between {self.low} and {self.high}")
        if not self.low <= value <= self.high:
            raise refusal(f"must be between {self.low} and {self.high}")
        return value

    @override
    def schema(self) -> JsonSchema:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Word(_Written):
    """One word of a list; the nearest valid word is offered when another is written."""

    choices: type[StrEnum]

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> StrEnum:
        allowed = [choice.value for choice in self.choices]
        if not isinstance(value, str) or value not in allowed:
            listed = ", ".join(f'"{word}"' for word in allowed)
            raise refusal(f"must be one of {listed}", nearest(value, allowed) if isinstance(value, str) else "")
        return self.choices(value)

    @override
    def schema(self) -> JsonSchema:
        return {"type": "string", "enum": [choice.value for choice in self.choices]}


def name_fault(text: str, longest: int = LONGEST_NAME) -> str:
    """Why a text cannot be a name, or an empty text when it can."""
    if not text.strip():
        return "must not be empty"
    if len(text) > longest:
        return f"must have at most {longest} characters, has {len(text)}"
    for char in text:
        if unicodedata.category(char)[0] == "C" or unicodedata.category(char) in {"Zl", "Zp"}:
            return f"holds a hidden character (U+{ord(char):04X}); write printable characters only"
    return ""


@dataclass(frozen=True, slots=True)
class Text(_Written):
    """Printable text in one line, composed to Unicode NFC and without blanks at its ends."""

    longest: int = LONGEST_NAME
    empty: bool = False

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> str:
        if not isinstance(value, str):
            raise refusal(f"write text in quotes, at most {self.longest} characters")
        composed = unicodedata.normalize("NFC", value[: 8 * self.longest]).strip(" ")
        if self.empty and not composed:
            return ""
        plain = composed.replace("\n", " ") if self.empty else composed
        if fault := name_fault(plain, self.longest):
            raise refusal(fault)
        return plain

    @override
    def schema(self) -> JsonSchema:
        return {"type": "string", "minLength": 0 if self.empty else 1, "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class RoomList(_Written):
    """`"all"` (read as None) or a list of room names."""

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> tuple[str, ...] | None:
        if value == "all":
            return None
        if not isinstance(value, list) or len(value) > MOST_NAMES:
            raise refusal('write "all" or a list of room names')
        return tuple(Text().read(name, info) for name in value)

    @override
    def schema(self) -> JsonSchema:
        return {"anyOf": [{"enum": ["all"]}, {"type": "array", "items": {"type": "string"}}]}


@dataclass(frozen=True, slots=True)
class Hours(_Written):
    """Clock hours, written as spans."""

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> frozenset[int]:
        if not isinstance(value, str) or len(value) > LONGEST_NAME:
            raise refusal('write spans of whole hours in quotes, such as "09-17"')
        try:
            return clock_hours(value)
        except ValueError as error:
            raise refusal(str(error)) from None

    @override
    def schema(self) -> JsonSchema:
        return {"type": "string", "description": "clock hours, such as 09-17 or 06-08, 19-22"}


def default(name: str) -> Callable[[], float]:
    """A factory for a field's default, so that the table is read only when a file is."""
    return lambda: default_of(name)


Name = Annotated[str, Text()]
Notes = Annotated[str, Text(LONGEST_NOTES, empty=True)]
Place = Annotated[tuple[float, float], Quantities((Quantity("point.x"), Quantity("point.y")), "[12, 8.5]")]
"""A point on the plan of its level: distance right and up from the plan's origin [m]."""
