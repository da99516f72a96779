"""Reading a house file: every fault named with file, line, path, value and cure, or a validated house."""

from __future__ import annotations

import copy
import re
import tomllib
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from compare.house.geometry import geometry_problems
from compare.house.model import MOST_ITEMS, OPTIONAL_TABLES, HouseFile
from compare.house.problems import HouseFileError, Problem
from compare.house.references import reference_problems
from compare.house.salvage import sound_part
from compare.house.source import MOST_NESTING, Source, TooDeepError
from compare.house.tables import age_presets, preset_of_year
from compare.house.translate import problems_of
from compare.house.values import Reading
from compare.units import System

MOST_BYTES = 256 * 1024
"""Largest house file that is read."""


def read_house(path: str | Path) -> HouseFile:
    """Read and validate a house file.

    Raises
    ------
    HouseFileError
        With every problem of the file, each with its line and what to write.
    """
    file = Path(path)
    return read_house_text(_text_of(file), file.name, file.parent)


def read_house_text(text: str, name: str, folder: Path | None = None) -> HouseFile:
    """Validate the text of a house file; `name` stands in the messages. Raises `HouseFileError`.

    `folder` is where a weather file named in the text is looked for.
    """
    raw, source = _parsed(text, name, folder)
    house, problems = validated(raw, source)
    if house is None:
        raise HouseFileError(problems)
    return house


def _fail(name: str, message: str, line: int = 0) -> HouseFileError:
    return HouseFileError([Problem(name, line, "", "", message)])


def _text_of(path: Path) -> str:
    """The text of a file, its size looked at before it is read."""
    name = path.name or str(path)
    try:
        if not path.is_file():
            raise _fail(name, "no such file" if not path.exists() else "not a file")
        if path.stat().st_size > MOST_BYTES:
            raise _fail(name, f"larger than {MOST_BYTES // 1024} KiB; a house file is a few pages of text")
        with path.open("rb") as stream:
            return decoded(stream.read(MOST_BYTES + 1), name)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "cannot be opened"
        raise _fail(name, f"cannot be read: {reason}") from None


def decoded(data: bytes, name: str) -> str:
    """The text of a house file's bytes; raises `HouseFileError` unless they are UTF-8 and of bearable size."""
    if len(data) > MOST_BYTES:
        raise _fail(name, f"larger than {MOST_BYTES // 1024} KiB; a house file is a few pages of text")
    if data[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        raise _fail(name, "the text is in UTF-16; save it as UTF-8")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _fail(name, "the text is not in UTF-8; save it as UTF-8", line) from None


def _parsed(text: str, name: str, folder: Path | None) -> tuple[dict[str, Any], Source]:
    """The raw tables of a TOML text and its line index."""
    if len(text.encode("utf-8", "replace")) > MOST_BYTES:
        raise _fail(name, f"larger than {MOST_BYTES // 1024} KiB; a house file is a few pages of text")
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        source = Source.of_text(text, name, folder)
    except TooDeepError as deep:
        raise _fail(name, f"brackets or dotted keys nest deeper than {MOST_NESTING}", deep.line) from None
    try:
        return tomllib.loads(text), source
    except tomllib.TOMLDecodeError as error:
        raise _fail(name, *_syntax(str(error), text)) from None
    except (ValueError, RecursionError, OverflowError):
        raise _fail(name, "holds a number or a date that is out of range, or nests too deep") from None


def _syntax(message: str, text: str) -> tuple[str, int]:
    """What the TOML reader says, and its line."""
    where = re.search(r" \(at line (\d+), column \d+\)$", message)
    line = int(where[1]) if where else text.count("\n") + 1
    said = message[: where.start()] if where else re.sub(r" \(at end of document\)$", "", message)
    return f"not valid TOML: {said[:120]}", line


def _count_problems(raw: dict[str, Any], source: Source) -> list[Problem]:
    """Lists that are longer than a house can need; checked before anything looks inside them."""
    return [
        source.problem((key,), f"at most {most} of [[{key}]] are read, the file has {len(raw[key])}")
        for key, most in MOST_ITEMS.items()
        if isinstance(raw.get(key), list) and len(raw[key]) > most
    ]


def _context(raw: dict[str, Any]) -> Reading:
    """What bare numbers mean and which preset fills gaps, as far as the raw file says."""
    system = System.SI if raw.get("units") == "SI" else System.US
    fabric, info = raw.get("fabric"), raw.get("house")
    age = fabric.get("age") if isinstance(fabric, dict) else None
    built = info.get("built") if isinstance(info, dict) else None
    if isinstance(age, str) and age in age_presets():
        return Reading(system, age)
    if isinstance(built, int) and not isinstance(built, bool) and 1600 <= built <= 2200:
        return Reading(system, preset_of_year(built).age)
    return Reading(system, "1940-1979")


def validated(raw: dict[str, Any], source: Source) -> tuple[HouseFile | None, list[Problem]]:
    """A house from raw tables, or every problem that stands in its way.

    Where the rooms are sound, what else is at fault is set aside and the geometry of the rest is looked at, so that
    one run names every problem.
    """
    if problems := _count_problems(raw, source):
        return None, problems
    house, problems = _validated_tables(raw, source)
    problems += reference_problems(raw, source)
    if problems and (rest := sound_part(raw, [problem.loc for problem in problems])):
        sound, _ = _validated_tables(rest.raw, source)
        found = geometry_problems(sound, whole=not rest.links_lost) if sound else ()
        problems += [rest.renumbered(problem, source) for problem in found]
    return (None if problems else house), problems


def _validated_tables(raw: dict[str, Any], source: Source) -> tuple[HouseFile | None, list[Problem]]:
    """The tables read by the model, without a look at how they fit together."""
    filled = {**{key: {} for key in OPTIONAL_TABLES}, **raw}
    try:
        return HouseFile.model_validate(filled, context=_context(raw)).with_layers().attach(source), []
    except ValidationError as error:
        return None, problems_of(error, source)


def house_of(raw: dict[str, Any], name: str = "house") -> HouseFile:
    """A house from tables already in memory (as a survey entry makes them); raises `HouseFileError`."""
    house, problems = validated(copy.deepcopy(raw), Source(name, {}))
    if house is None:
        raise HouseFileError(problems)
    return house
