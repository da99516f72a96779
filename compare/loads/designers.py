"""A designer's own room loads, read from a table and set beside ours or put in their place.

The table is CSV with a heading: `room`, `heating`, `cooling sensible` and, if wanted, `cooling latent`. A bare number
is in the house file's units (Btu/h or W); a number with its unit (`1.5 kW`) is taken as written. Every room of the
house stands once. Lines that begin with `#` are notes.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from compare.house.problems import HouseFileError, Problem, nearest, shown
from compare.loads.result import FloatArray, HouseLoads, RoomLoad
from compare.units import Kind, System, UnitError, to_si

METHOD = "the designer's own figures"
COLUMNS = ("room", "heating", "cooling sensible", "cooling latent")
MOST_BYTES = 64 * 1024
MOST_W = 100_000.0


@dataclass(frozen=True, slots=True)
class DesignersRoom:
    """One line of the table [W]; latent is None where the table has no such column or an empty field."""

    name: str
    heat_w: float
    cool_sensible_w: float
    cool_latent_w: float | None


def read_designers(path: str | Path, rooms: Sequence[str], system: System) -> tuple[DesignersRoom, ...]:
    """Read a designer's table from a file; see `designers_of_text`."""
    file = Path(path)
    try:
        if not file.is_file():
            raise _error(file.name, 0, "no such file")
        if file.stat().st_size > MOST_BYTES:
            raise _error(file.name, 0, f"larger than {MOST_BYTES // 1024} KiB; a table of room loads is one page")
        text = file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise _error(file.name, 0, "the text is not in UTF-8; save it as UTF-8") from None
    except OSError as error:
        raise _error(file.name, 0, f"cannot be read: {error.strerror}") from None
    return designers_of_text(text, file.name, rooms, system)


def designers_of_text(text: str, name: str, rooms: Sequence[str], system: System) -> tuple[DesignersRoom, ...]:
    """The lines of a designer's table in the order of the plan.

    Raises
    ------
    HouseFileError
        With every problem, each with its line and what to write.
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.replace("\r\n", "\n").split("\n"), start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise _error(name, 0, f"empty; the first line is the heading: {', '.join(COLUMNS)}")
    columns = _heading(name, *lines[0])
    problems: list[Problem] = []
    found: dict[str, DesignersRoom] = {}
    for number, line in lines[1:]:
        problems += _take(found, columns, (name, number, line), rooms, system)
    missing = [room for room in rooms if room not in found]
    if missing and not problems:
        problems.append(Problem(name, 0, "room", "", f"no line for {', '.join(missing)}; every room needs one"))
    if problems:
        raise HouseFileError(problems)
    return tuple(found[room] for room in rooms)


def in_place_of(ours: HouseLoads, theirs: Sequence[DesignersRoom]) -> HouseLoads:
    """The designer's figures as loads that every later step can use.

    Each room's hourly course is ours, scaled to the designer's peak, so that coincident peaks of groups stay those of
    the sun and the hours. A room without cooling of ours gets the designer's figure in every hour. A latent figure that
    was left out keeps ours. The parts of a load are not the designer's to give and stay empty.
    """
    if len(theirs) != len(ours.rooms):
        raise ValueError(f"{len(theirs)} rooms in the designer's table, {len(ours.rooms)} in the house")
    rooms = tuple(
        RoomLoad(
            name=mine.name,
            heat_w=own.heat_w,
            heat_parts_w={},
            cool_sensible_w=own.cool_sensible_w,
            cool_latent_w=mine.cool_latent_w if own.cool_latent_w is None else own.cool_latent_w,
            cool_parts_w={},
            peak_hour_h=mine.peak_hour_h,
        )
        for mine, own in zip(ours.rooms, theirs, strict=True)
    )
    if ours.sensible_w is None or ours.latent_w is None:
        return HouseLoads(rooms, METHOD)
    sensible_w = _scaled(ours.sensible_w, [room.cool_sensible_w for room in rooms])
    peaks_w = [room.cool_latent_w for room in rooms]
    at_peak_w = [mine.cool_latent_w for mine in ours.rooms]
    latent_w = np.column_stack(
        [
            ours.latent_w[:, index] * (own / at if at > 0.0 else 0.0) + (own if at <= 0.0 else 0.0)
            for index, (own, at) in enumerate(zip(peaks_w, at_peak_w, strict=True))
        ]
    )
    return HouseLoads(rooms, METHOD, sensible_w, latent_w)


def _scaled(series_w: FloatArray, peaks_w: Sequence[float]) -> FloatArray:
    columns = []
    for index, peak_w in enumerate(peaks_w):
        top_w = float(series_w[:, index].max())
        columns.append(series_w[:, index] * (peak_w / top_w) if top_w > 0.0 else np.full(len(series_w), peak_w))
    return np.column_stack(columns)


def _error(name: str, line: int, message: str) -> HouseFileError:
    return HouseFileError([Problem(name, line, "", "", message)])


def _heading(name: str, number: int, line: str) -> dict[str, int]:
    written = [cell.strip().lower() for cell in next(csv.reader([line]))]
    for cell in written:
        if cell not in COLUMNS:
            hint = nearest(cell, COLUMNS)
            message = f"columns are {', '.join(COLUMNS)}"
            raise HouseFileError([Problem(name, number, "heading", shown(cell), message, hint)])
    lacking = [column for column in COLUMNS[:3] if column not in written]
    if lacking or len(set(written)) != len(written):
        what = f"the heading lacks {', '.join(lacking)}" if lacking else "the heading names a column twice"
        raise _error(name, number, f"{what}; columns are {', '.join(COLUMNS)}")
    return {column: written.index(column) for column in written}


def _take(
    found: dict[str, DesignersRoom],
    columns: dict[str, int],
    line: tuple[str, int, str],
    rooms: Sequence[str],
    system: System,
) -> list[Problem]:
    """Read one line into the table; returns what is wrong with it."""
    name, number, text = line
    cells = [cell.strip() for cell in next(csv.reader([text]))]
    if len(cells) != len(columns):
        message = f"{len(cells)} fields where the heading has {len(columns)}; a name with a comma stands in quotes"
        return [Problem(name, number, "", "", message)]
    room = cells[columns["room"]]
    if room not in rooms:
        return [Problem(name, number, "room", shown(room), "no such room in the house", nearest(room, rooms))]
    if room in found:
        return [Problem(name, number, "room", shown(room), "this room stands in the table already")]
    problems: list[Problem] = []
    values_w: dict[str, float] = {}
    for column in COLUMNS[1:]:
        if column not in columns or (column == "cooling latent" and not cells[columns[column]]):
            continue
        written = cells[columns[column]]
        try:
            values_w[column] = _load_w(written, system)
        except UnitError as error:
            problems.append(Problem(name, number, column, shown(written), str(error)))
    if not problems:
        latent_w = values_w.get("cooling latent")
        found[room] = DesignersRoom(room, values_w["heating"], values_w["cooling sensible"], latent_w)
    return problems


def _load_w(text: str, system: System) -> float:
    value_w = to_si(text, Kind.CAPACITY, system)
    if not 0.0 <= value_w <= MOST_W:
        raise UnitError(f"a room load lies between 0 and {MOST_W / 1000:.0f} kW")
    return value_w
