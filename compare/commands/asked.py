"""What a run of `compare` is asked for: a changed house, a pair of options explained."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from compare.commands.console import clear_errors
from compare.commands.page import Printed
from compare.house.model import HouseFile
from compare.house.reading import read_house_text
from compare.pipeline import Comparison
from compare.scoring.criteria import SIX
from compare.scoring.reasons import compare_two, reason_sentence

STEP = re.compile(r"^(?P<name>[A-Za-z0-9_-]+)(?:\[(?P<which>[^\]]+)\])?$")


@dataclass(frozen=True, slots=True)
class AskedFor:
    """Options of one run."""

    json: Path | None = None
    csv: Path | None = None
    top: int = 0
    tested: bool = True
    explain: tuple[str, str] | None = None
    recheck: bool = False


def house_with(file: Path, changes: Sequence[str]) -> HouseFile:
    """A house file with some values changed, each given as PATH=VALUE.

    A path is names with dots; an entry of a list is picked by its number from 1 or its name: `room[Study].use=work`,
    `door[2].night=open`. The value is TOML, or plain text.

    Raises
    ------
    typer.Exit
        With a text that names the path and the cure.
    """
    with clear_errors():
        text = file.read_text(encoding="utf-8")
        document = tomlkit.parse(text)
        for change in changes:
            path, equals, value = change.partition("=")
            if not equals or not path.strip():
                raise ValueError(f"--set {change!r}: write PATH=VALUE, such as air.ach50=4")
            _put(document, path.strip(), _value(value.strip()))
        return read_house_text(tomlkit.dumps(document), f"{file} with {', '.join(changes)}")
    raise AssertionError


def _value(text: str) -> Any:  # noqa: ANN401 - any TOML value
    try:
        return tomlkit.parse(f"value = {text}")["value"]
    except TOMLKitError:
        return text


def _put(document: Any, path: str, value: Any) -> None:  # noqa: ANN401 - any TOML value
    steps = list(_steps(path))
    table = document
    for name, which in steps[:-1]:
        if name not in table:
            if which:
                raise ValueError(f"--set {path}: there is no {name} in the house file; it has {', '.join(table)}")
            table[name] = tomlkit.table()
        table = table[name] if which is None else _entry(table[name], which, path)
    name, which = steps[-1]
    if which is not None:
        raise ValueError(f"--set {path}: end with a field, such as {path}.use")
    table[name] = value


def _steps(path: str) -> Iterator[tuple[str, str | None]]:
    for part in re.split(r"\.(?![^\[]*\])", path):
        match = STEP.match(part.strip())
        if match is None:
            raise ValueError(f"--set {path}: {part!r} is not a field; write name or name[number] or name[its name]")
        yield match["name"], match["which"]


def _entry(entries: Any, which: str, path: str) -> Any:  # noqa: ANN401 - any TOML value
    rows = list(entries)
    if which.isdigit() and 1 <= int(which) <= len(rows):
        return rows[int(which) - 1]
    for row in rows:
        if row.get("name") == which:
            return row
    names = ", ".join(str(row["name"]) for row in rows if "name" in row)
    by_name = f" or a name: {names}" if names else ""
    raise ValueError(f"--set {path}: no entry {which!r}; use a number from 1 to {len(rows)}{by_name}")


def explained(found: Comparison, pair: tuple[str, str], top: int) -> str:
    """Every reason between two options, both ways, and the points by criterion.

    Raises
    ------
    ValueError
        When an option is not known; the text lists letters and ids.
    """
    page = Printed.of(found, top)
    first, second = (_option_id(page, one) for one in pair)
    one, two = (page.ranking.find(key).option for key in (first, second))
    result = compare_two(one, two, page.ranking.weights)
    lines = [f"A: {page.name(first)}", f"B: {page.name(second)}"]
    lines.append(
        f"A leads by {result.lead_points:.1f} points of 100, by criterion: "
        + ", ".join(f"{criterion.value} {lost:+.1f}" for criterion, lost in zip(SIX, result.lost, strict=False))
    )
    for title, reasons in (("Where A is better:", result.for_first), ("Where B is better:", result.for_second)):
        lines.append(title)
        names = ("A", "B") if reasons is result.for_first else ("B", "A")
        lines += [f"  {reason.points:4.1f}  {reason_sentence(reason, *names, page.units.value)}" for reason in reasons]
        if not reasons:
            lines.append("  nothing beyond the error of its data")
    for name, option in (("A", one), ("B", two)):
        lines += [f"{name} {'is left out' if fault.fatal else 'must be read with this'}: {fault.text}"
                  for fault in option.faults]  # fmt: skip
    return "\n".join(lines)


def _option_id(page: Printed, asked: str) -> str:
    by_letter = {letter: key for key, letter in page.letters.items()}
    if asked.upper() in by_letter:
        return by_letter[asked.upper()]
    if asked in page.found.by_id:
        return asked
    letters = ", ".join(f"{letter} = {key}" for letter, key in by_letter.items())
    raise ValueError(f"no option {asked!r}: use a letter of the table or an option id; listed are {letters}")
