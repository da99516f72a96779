"""Rows as they arrive, one JSON line each: what is done is not done again after an interruption."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from pathlib import Path

from compare.jobs.batch import FAULT, HouseRow, row_of
from compare.jobs.canonical import plain
from compare.jobs.disk import write_whole
from compare.jobs.sheets import Sheet, csv_text

JOURNAL, TABLE = "batch.jsonl", "batch.csv"


class Journal:
    """The journal of one folder of results. A line that was cut off by a crash is dropped."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / JOURNAL
        folder.mkdir(parents=True, exist_ok=True)
        self._rows = _read(self._path)
        write_whole(self._path, "".join(_line(row) for row in self._rows.values()))

    @property
    def rows(self) -> dict[str, HouseRow]:
        """The latest row of each file."""
        return dict(self._rows)

    def holds(self, file: str, digest: str) -> bool:
        """Whether a file was done with these very inputs, without a fault of the program."""
        row = self._rows.get(file)
        return row is not None and bool(digest) and row.input_sha256 == digest and not row.error.startswith(FAULT)

    def add(self, row: HouseRow) -> None:
        """Append a row and have it on the disk."""
        self._rows[row.file] = row
        with self._path.open("a", encoding="utf-8") as out:
            out.write(_line(row))
            out.flush()
            os.fsync(out.fileno())

    def write_table(self, files: Iterable[str]) -> Path:
        """Write the rows of these files, in their order, as one CSV."""
        rows = [self._rows[file].cells() for file in files if file in self._rows]
        path = self._path.with_name(TABLE)
        write_whole(path, csv_text(Sheet.of("batch", rows)))
        return path


def _line(row: HouseRow) -> str:
    return json.dumps(plain(asdict(row)), sort_keys=True, ensure_ascii=True, allow_nan=False) + "\n"


def _read(path: Path) -> dict[str, HouseRow]:
    if not path.exists():
        return {}
    rows: dict[str, HouseRow] = {}
    for line in path.read_text(encoding="utf-8", errors="replace").splitlines():
        row = _parsed(line)
        if row is not None:
            rows[row.file] = row
    return rows


def _parsed(line: str) -> HouseRow | None:
    """A line's row; None for one that was cut off or is of another kind."""
    try:
        data = json.loads(line)
        return row_of(data) if isinstance(data, Mapping) else None  # type: ignore[arg-type]
    except (ValueError, TypeError, AssertionError):
        return None
