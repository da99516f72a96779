"""A small invented EPW text for the reader's tests, and ways to spoil it."""

from __future__ import annotations

import math
from collections.abc import Iterable

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
DESIGN = (
    "DESIGN CONDITIONS,1,Climate Design Data 2009 ASHRAE Handbook,,Heating,1,-20.1,-17.5,-24,0.4,-18,-21,0.7,-15,12,-5,"
    "11,-4,5,270,Cooling,7,10.6,33.4,24.1,31.9,23.3,30.4,22.6"
)
GROUND = "GROUND TEMPERATURES,1,.5,,,," + ",".join(str(value) for value in range(1, 13))


def header(place: str = "Testville,IL,USA,invented,999999,41.98,-87.92,-6.0,201.0") -> list[str]:
    """Eight header lines of an invented place."""
    periods = "DATA PERIODS,1,1,Data,Sunday,1/1,12/31"
    return [f"LOCATION,{place}", DESIGN, "TYPICAL/EXTREME PERIODS,0", GROUND, "HOLIDAYS", "COMMENTS 1", "C 2", periods]


Cells = dict[str, object]
"""Cells of a row by short name, as `row` lists them."""


def row(month: int, day: int, hour: int, changes: Cells | None = None) -> str:
    """One hour of smooth invented weather; `changes` replaces cells by name."""
    season = -math.cos(2.0 * math.pi * (month - 1) / 12.0)
    up = max(0.0, math.sin(math.pi * (hour - 6.5) / 12.0)) if 7 <= hour <= 18 else 0.0
    sun = round(500.0 * up)
    cells: Cells = {
        "db": round(10.0 + 14.0 * season + 4.0 * math.sin(math.pi * (hour - 9) / 12.0), 1),
        "dp": round(4.0 + 10.0 * season, 1),
        "rh": 60,
        "pressure": 99000 + hour,
        "ir": 300,
        "ghi": sun,
        "dni": sun,
        "dhi": round(sun * 0.4),
        "wind": 4.1,
        "total": 5,
        "opaque": 3,
        "ceiling": 77777,
    }
    cells.update(changes or {})
    front = f"1999,{month},{day},{hour},0,flags,{cells['db']},{cells['dp']},{cells['rh']},{cells['pressure']}"
    sky = f"0,0,{cells['ir']},{cells['ghi']},{cells['dni']},{cells['dhi']},0,0,0,0"
    back = f"180,{cells['wind']},{cells['total']},{cells['opaque']},20,{cells['ceiling']},9,999999999,10,0.1,0,88"
    return f"{front},{sky},{back}"


def stamps(*, leap: bool = False) -> list[tuple[int, int, int]]:
    """Month, day and hour of every row."""
    days = [*DAYS]
    if leap:
        days[1] = 29
    return [
        (month + 1, day, hour)
        for month, count in enumerate(days)
        for day in range(1, count + 1)
        for hour in range(1, 25)
    ]


def lines(*, leap: bool = False) -> list[str]:
    """A sound file as lines."""
    return header() + [row(*stamp) for stamp in stamps(leap=leap)]


def over(hours: Iterable[int], cells: Cells) -> dict[int, Cells]:
    """The same cells for many hours."""
    return {hour: cells for hour in hours}  # noqa: C420  (the dict is only read)


def spoiled(hours: dict[int, Cells]) -> bytes:
    """A file with some cells of some hours (counted from 0) replaced."""
    rows = [row(*stamp, hours.get(place)) for place, stamp in enumerate(stamps())]
    return "\r\n".join(header() + rows).encode()
