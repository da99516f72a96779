"""What is typed into a field, as a value of the file: a number, text with a unit, a word, a name, or nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from typing import Any, get_args

from pydantic import BaseModel

from compare.house.model import HouseFile
from compare.house.values import Count, Quantities, Quantity, Word
from dashboard.survey.draft.edits import EditError
from dashboard.survey.draft.spans import Loc

LONGEST = 600
_WHOLE = re.compile(r"[+-]?\d{1,15}")
_NUMBER = re.compile(r"[+-]?(?:\d{1,15}(?:\.\d{0,9})?|\.\d{1,9})")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_HIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f\ud800-\udfff]")


class Form(StrEnum):
    """How a field is filled in."""

    QUANTITY = "quantity"
    WORD = "word"
    COUNT = "count"
    YES_NO = "yes or no"
    TEXT = "text"
    DATE = "date"


@dataclass(frozen=True, slots=True)
class FieldKind:
    """A field of the file: how it is filled in, its row of the table of numbers, its words."""

    form: Form
    quantity: str = ""
    words: tuple[str, ...] = ()
    required: bool = False


def _marks(annotation: object, metadata: tuple[object, ...]) -> list[object]:
    """Field types of the house file in an annotation, those of its parts among them."""
    found = list(metadata)
    for part in get_args(annotation):
        found += _marks(part, getattr(part, "__metadata__", ()))
    return found


def _kind(marks: list[object], annotation: object, *, required: bool) -> FieldKind:
    for mark in marks:
        if isinstance(mark, Quantity):
            return FieldKind(Form.QUANTITY, mark.field, tuple(mark.words or ()), required)
        if isinstance(mark, Quantities):
            return FieldKind(Form.QUANTITY, mark.parts[0].field, (), required)
        if isinstance(mark, Word):
            return FieldKind(Form.WORD, "", tuple(choice.value for choice in mark.choices), required)
        if isinstance(mark, Count):
            return FieldKind(Form.COUNT, "", (), required)
    if annotation is date:
        return FieldKind(Form.DATE, "", (), required)
    if annotation is bool or bool in get_args(annotation):
        return FieldKind(Form.YES_NO, "", (), required)
    return FieldKind(Form.TEXT, "", (), required)


def _model_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := _model_in(part))), None)


@cache
def _fields(model: type[BaseModel]) -> dict[str, tuple[object, FieldKind]]:
    found: dict[str, tuple[object, FieldKind]] = {}
    for name, info in model.model_fields.items():
        marks = _marks(info.annotation, tuple(info.metadata))
        found[info.alias or name] = (
            info.annotation,
            _kind(marks, info.annotation, required=info.is_required()),
        )
    return found


def field_kind(loc: Loc) -> FieldKind:
    """The field at a place of the file; raises `EditError` where the file has none."""
    model: type[BaseModel] = HouseFile
    kind: FieldKind | None = None
    for step in loc:
        if isinstance(step, int):
            continue
        if step not in _fields(model):
            raise EditError("There is no such field.")
        annotation, kind = _fields(model)[step]
        model = _model_in(annotation) or model
    if kind is None:
        raise EditError("There is no such field.")
    return kind


def value_of(kind: FieldKind, typed: object) -> Any:  # noqa: ANN401 - any value of a file
    """What to write for what was typed; None where the field is left empty. Faulty text is kept, to be listed."""
    if isinstance(typed, bool):
        if kind.form is not Form.YES_NO:
            raise EditError("Type a value.")
        return typed
    if not isinstance(typed, str) or len(typed) > LONGEST:
        raise EditError("That is too long.")
    text = _HIDDEN.sub("", typed).strip()
    if not text:
        return None
    if kind.form is Form.QUANTITY and text not in kind.words and _NUMBER.fullmatch(text):
        number = float(text)
        return int(number) if number == int(number) else number
    if kind.form is Form.DATE and _DATE.fullmatch(text):
        return _date(text)
    if kind.form is Form.COUNT and _WHOLE.fullmatch(text):
        return int(text)
    return text


def _date(text: str) -> date | str:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return text
