"""A small house that is compared in a second, as a file and as a frozen proposal."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path

import tomlkit

from compare.jobs.given import Given
from compare.jobs.proposal import freeze
from compare.jobs.record import Offer, Record
from compare.pipeline import Comparison
from tests.houses import bed, door, room, space, tables

NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)
DAY = NOW.date()


def small_tables(**more):
    """A living room and two shut bedrooms, with an attic for a concealed unit."""
    rooms = [
        room("Living", "living", (0, 0), (6, 5)),
        room("Bed A", "bedroom", (6, 0), (4, 5)),
        room("Bed B", "bedroom", (0, 5), (4, 4)),
    ]
    links = {
        "door": [door("Living", "Bed A"), door("Living", "Bed B")],
        "bed": [bed("Bed A", (8, 2), 2), bed("Bed B", (1, 7))],
        "unit_space": [space("attic", (1, 1), (8, 6))],
    }
    return tables(rooms, **links | more)


def house_text(**more) -> str:
    return tomlkit.dumps(small_tables(**more))


def write_house(folder: Path, name: str = "small.toml", **more) -> Path:
    path = folder / name
    path.write_text(house_text(**more), encoding="utf-8")
    return path


@cache
def small_comparison(folder: Path) -> Comparison:
    return Given.at(write_house(folder)).worked_out()


def winner(found: Comparison) -> str:
    best = found.rank().winner
    assert best is not None
    return best.option.option_id


def frozen(found: Comparison, folder: Path, option: str = "", **more) -> tuple[Path, Record]:
    """A proposal of the small house in a job's folder."""
    given = Given.at(write_house(folder))
    return freeze(found, given, Offer(option or winner(found), NOW, **more), folder / "job")
