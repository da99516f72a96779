"""Which calendar year a weather file holds, if it is one real year and not a typical one joined from several."""

from __future__ import annotations

from pathlib import Path

_EPW_HEADER = 8
_MOST_LINES = 8800
_LONGEST_BYTES = 20_000_000


def calendar_year_of(path: Path) -> int | None:
    """The one year of an EPW file whose rows all carry the same year; None for a typical year or another format."""
    if path.suffix.lower() != ".epw" or not path.is_file() or path.stat().st_size > _LONGEST_BYTES:
        return None
    years: set[str] = set()
    with path.open(encoding="latin-1") as stream:
        for number, line in enumerate(stream):
            if number >= _EPW_HEADER and line.strip():
                years.add(line.split(",", 1)[0].strip())
            if len(years) > 1 or number > _EPW_HEADER + _MOST_LINES:
                return None
    only = next(iter(years), "")
    return int(only) if only.isascii() and only.isdigit() and len(only) == 4 else None
