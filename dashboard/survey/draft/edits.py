"""Edits of a house file's text: set, take out, add, remove. Each leaves all other lines as they are.

The text is cut where the value stands, so comments, order and blanks of a person's own file stay. The outcome is read
back and compared with what was meant; a file written in another form of TOML (inline tables, dotted keys) is edited
through tomlkit instead.
"""

from __future__ import annotations

import copy
import json
import math
import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from dashboard.survey.draft.spans import Loc, spans_of

Raw = dict[str, Any]
_DIGITS = 4
_LARGE = 1e15
_STRINGS = re.compile(r'"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'')


class EditError(ValueError):
    """An edit that cannot be made; the text says so in plain words."""


@dataclass(frozen=True, slots=True)
class Set:
    """A value at a place, there before or not."""

    loc: Loc
    value: Any


@dataclass(frozen=True, slots=True)
class Unset:
    """A key taken out."""

    loc: Loc


@dataclass(frozen=True, slots=True)
class Insert:
    """One more item at the end of a list of tables."""

    table: str
    item: Raw


@dataclass(frozen=True, slots=True)
class Remove:
    """An item of a list of tables taken out."""

    table: str
    position: int


@dataclass(frozen=True, slots=True)
class Swap:
    """A name within a value replaced, the rest of the value as written."""

    loc: Loc
    old: str
    new: str


Edit = Set | Unset | Insert | Remove | Swap


def written(value: object) -> str:
    """A value as TOML text in one line."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, list | tuple):
        return f"[{', '.join(written(item) for item in value)}]"
    if isinstance(value, date):
        return value.isoformat()
    raise EditError("this value cannot be written")


def _number(value: float) -> str:
    if not math.isfinite(value):
        raise EditError("a number must be finite")
    if abs(value) >= _LARGE:
        return repr(value)
    short = round(value, _DIGITS) + 0.0
    return str(int(short)) if short == int(short) else f"{short:.{_DIGITS}f}".rstrip("0")


def tidy(value: Any) -> Any:  # noqa: ANN401 - any value of a file
    """A value as it reads after it was written: whole floats become whole numbers, others are rounded."""
    if isinstance(value, float):
        return tomllib.loads(f"x = {_number(value)}")["x"]
    if isinstance(value, list | tuple):
        return [tidy(item) for item in value]
    return {key: tidy(item) for key, item in value.items()} if isinstance(value, dict) else value


def _holder(raw: Raw, loc: Loc, *, make: bool) -> Any:  # noqa: ANN401 - tables or lists
    here: Any = raw
    for step in loc[:-1]:
        here = here.setdefault(step, {}) if make and isinstance(here, dict) else here[step]
    return here


def changed(raw: Raw, edits: Sequence[Edit]) -> Raw:
    """What the tables are after edits."""
    new = copy.deepcopy(raw)
    for edit in edits:
        if isinstance(edit, Set):
            _holder(new, edit.loc, make=True)[edit.loc[-1]] = tidy(edit.value)
        elif isinstance(edit, Unset):
            _holder(new, edit.loc, make=False).pop(edit.loc[-1], None)
        elif isinstance(edit, Insert):
            new.setdefault(edit.table, []).append(tidy(edit.item))
        elif isinstance(edit, Remove):
            del new[edit.table][edit.position]
            if not new[edit.table]:
                del new[edit.table]
        else:
            holder = _holder(new, edit.loc, make=False)
            holder[edit.loc[-1]] = _swapped(holder[edit.loc[-1]], edit)
    return new


def _swapped(value: object, edit: Swap) -> object:
    if isinstance(value, list):
        return [_swapped(item, edit) for item in value]
    return edit.new if value == edit.old else value


def block_text(header: str, item: Raw) -> str:
    """A table with its keys, one a line."""
    return header + "\n" + "".join(f"{key} = {written(value)}\n" for key, value in item.items())


def _with_block(text: str, at: int, block: str) -> str:
    """A block put at an offset, one blank line before and after it where something follows."""
    before, after = text[:at], text[at:]
    if before and not before.endswith("\n"):
        before += "\n"
    lead = "" if not before or before.endswith("\n\n") else "\n"
    trail = "" if not after or after.startswith(("\n", "\r\n")) else "\n"
    return before + lead + block + trail + after


def _set(text: str, edit: Set) -> str:
    spans, value = spans_of(text), written(edit.value)
    if pair := spans.pair(edit.loc):
        return text[: pair.value_start] + value + text[pair.value_end :]
    line = f"{edit.loc[-1]} = {value}\n"
    block = spans.block(edit.loc[:-1])
    if block is not None:
        at = block.end
        lead = "" if at == 0 or text[at - 1] == "\n" else "\n"
        return text[:at] + lead + line + text[at:]
    header = f"[{'.'.join(str(step) for step in edit.loc[:-1])}]"
    return _with_block(text, len(text), f"{header}\n{line}")


def _one(text: str, edit: Edit) -> str:
    if isinstance(edit, Set):
        return _set(text, edit)
    spans = spans_of(text)
    if isinstance(edit, Insert):
        last = spans.last(edit.table)
        at = last.end if last else len(text)
        return _with_block(text, at, block_text(f"[[{edit.table}]]", edit.item))
    if isinstance(edit, Remove):
        block = spans.block((edit.table, edit.position))
        return text if block is None else _without(text, block.start, block.end)
    pair = spans.pair(edit.loc)
    if pair is None:
        return text
    if isinstance(edit, Unset):
        return text[: pair.start] + text[pair.end :]
    return text[: pair.value_start] + _renamed(text[pair.value_start : pair.value_end], edit) + text[pair.value_end :]


def _without(text: str, start: int, end: int) -> str:
    """A text less a block and one of the blank lines round it; comments after the block stay."""
    before, after = text[:start], text[end:]
    if (before.endswith("\n\n") or not before) and after.startswith("\n"):
        after = after[1:]
    elif not after and before.endswith("\n\n"):
        before = before[:-1]
    return before + after


def _renamed(value: str, edit: Swap) -> str:
    def swap(match: re.Match[str]) -> str:
        return written(edit.new) if tomllib.loads(f"x = {match[0]}")["x"] == edit.old else match[0]

    return _STRINGS.sub(swap, value)


def applied(text: str, raw: Raw, edits: Sequence[Edit]) -> tuple[str, Raw]:
    """The text and tables after edits.

    Raises
    ------
    EditError
        When the file is written in a form in which the edit cannot be made safely.
    """
    meant = changed(raw, edits)
    for way in (_by_lines, _by_tomlkit):
        try:
            new = way(text, edits)
            if tomllib.loads(new) == meant:
                return new, meant
        except EditError:
            raise
        except (ValueError, KeyError, IndexError, TypeError, AttributeError):
            continue
    raise EditError("This part of the file is written in a form that cannot be changed here. Change it by hand.")


def _by_lines(text: str, edits: Sequence[Edit]) -> str:
    for edit in edits:
        text = _one(text, edit)
    return text


def _by_tomlkit(text: str, edits: Sequence[Edit]) -> str:
    import tomlkit

    doc: Any = tomlkit.parse(text)
    for edit in edits:
        if isinstance(edit, Insert):
            if edit.table not in doc:
                return _by_lines(tomlkit.dumps(doc), edits[edits.index(edit) :])
            item: Any = tomlkit.inline_table() if isinstance(doc[edit.table], tomlkit.items.Array) else tomlkit.table()
            item.update(tidy(edit.item))
            doc[edit.table].append(item)
        elif isinstance(edit, Remove):
            del doc[edit.table][edit.position]
            if not doc[edit.table]:
                del doc[edit.table]
        elif isinstance(edit, Unset):
            _holder(doc, edit.loc, make=False).pop(edit.loc[-1], None)
        else:
            holder = _holder(doc, edit.loc, make=isinstance(edit, Set))
            old = holder[edit.loc[-1]] if isinstance(edit, Swap) else None
            value = tidy(edit.value) if isinstance(edit, Set) else _swapped(_plain(old), edit)
            holder[edit.loc[-1]] = value
    return str(tomlkit.dumps(doc))


def _plain(value: Any) -> Any:  # noqa: ANN401
    return value.unwrap() if hasattr(value, "unwrap") else value
