"""Validation errors of pydantic put into the house file's own words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from compare.house.model import HouseFile
from compare.house.problems import Problem, nearest
from compare.house.source import Loc, Source

_PLAIN = {
    "bool_type": "write true or false",
    "bool_parsing": "write true or false",
    "list_type": "write a list in square brackets",
    "date_type": "write a date such as 2025-01-31, without quotes",
    "date_from_datetime_inexact": "write a date such as 2025-01-31, without a time",
    "model_type": "must be a table of keys",
    "model_attributes_type": "must be a table of keys",
}


def _models_in(annotation: object) -> Iterable[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from _models_in(part)


def keys_of(model: type[BaseModel]) -> dict[str, Any]:
    """Keys of a table as written in the file, with the annotation of each."""
    return {field.alias or name: field.annotation for name, field in model.model_fields.items()}


def table_at(loc: Loc) -> type[BaseModel]:
    """The table type that holds a place of the file."""
    model: type[BaseModel] = HouseFile
    for step in loc:
        if isinstance(step, str):
            model = next(iter(_models_in(keys_of(model).get(step))), model)
    return model


def _unknown_key(loc: Loc) -> tuple[str, str]:
    """Message and suggestion for a key that its table does not have."""
    allowed, key = keys_of(table_at(loc[:-1])), str(loc[-1])
    message = "no such key here; keys are " + ", ".join(allowed)
    if len(loc) > 1 and key in keys_of(HouseFile):
        message += "; a key written after a [table] line belongs to that table"
    return message, nearest(key, allowed)


def _message(kind: str, context: dict[str, Any], said: str) -> tuple[str, str]:
    if kind == "house_file":
        return str(context["text"]), str(context["suggestion"])
    if kind in {"too_short", "too_long"}:
        limit = context.get("min_length", context.get("max_length"))
        return f"must have at {'least' if kind == 'too_short' else 'most'} {limit} items", ""
    return _PLAIN.get(kind, said), ""


def problems_of(error: ValidationError, source: Source) -> list[Problem]:
    """Every error of a validation as a problem with its line."""
    found: list[Problem] = []
    for item in error.errors(include_url=False):
        loc, kind, value = item["loc"], item["type"], item["input"]
        if kind == "missing":
            found.append(source.problem(loc, "is missing"))
        elif kind == "extra_forbidden":
            message, suggestion = _unknown_key(loc)
            found.append(source.problem(loc, message, value, suggestion))
        else:
            message, suggestion = _message(kind, item.get("ctx", {}), item["msg"])
            found.append(source.problem(loc, message, None if isinstance(value, dict) else value, suggestion))
    return found
