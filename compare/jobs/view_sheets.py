"""Any view as tables: one for its own figures and one for each list in it, rows with the names they belong to.

Views are allow-lists, so a table of a view holds what its reader may see and no more. Lines of drawings are left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from compare.jobs.sheets import Cell, Sheet
from compare.views.plan_view import ViewModel

NAMES = ("id", "option_id", "tag", "label", "room_name", "space")
"""Fields that name a thing; rows below it repeat them."""

Row = dict[str, Cell]


def view_sheets(view: ViewModel, title: str = "view") -> tuple[Sheet, ...]:
    """The tables of a view, its own figures first; lists without rows have no sheet."""
    tables: dict[str, list[Row]] = {}
    _gather(view, title, {}, tables)
    return tuple(Sheet.of(name, rows, _columns(rows)) for name, rows in tables.items() if rows)


def _columns(rows: list[Row]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for row in rows for name in row))


def _gather(view: ViewModel, table: str, above: Row, tables: dict[str, list[Row]]) -> None:
    """One row for the view itself, then the rows of its lists."""
    own = dict(_cells(view))
    tables.setdefault(table, []).append({**above, **own})
    named = {f"{table} {name}": own[name] for name in NAMES if name in own}
    for name, value in _fields(view):
        for item in _models(value):
            _gather(item, name, above | named, tables)


def _fields(view: ViewModel) -> Iterator[tuple[str, object]]:
    for name in type(view).model_fields:
        yield name, getattr(view, name)


def _models(value: object) -> tuple[ViewModel, ...]:
    if isinstance(value, ViewModel):
        return (value,)
    return tuple(item for item in value if isinstance(item, ViewModel)) if isinstance(value, tuple) else ()


def _cells(view: ViewModel) -> Iterator[tuple[str, Cell]]:
    for name, value in _fields(view):
        if value is None or isinstance(value, str | int | float):
            yield name, value
        elif isinstance(value, tuple) and value and all(isinstance(item, str | int | float) for item in value):
            yield name, "; ".join(f"{item:g}" if isinstance(item, float) else f"{item}" for item in value)
        elif isinstance(value, dict):
            yield from ((f"{name} {key}", item) for key, item in value.items() if isinstance(item, str | int | float))
