"""One house of a folder as one row: a pure function of picklable data, so that any engine can run it."""

from __future__ import annotations

import time
import tomllib
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from compare.climate.places import PlaceError
from compare.climate.reader import WeatherFileError
from compare.equipment.table import CatalogueError
from compare.house.problems import HouseFileError
from compare.jobs.canonical import digest_of, plain, sha256_of
from compare.jobs.customer_sheets import plain_name
from compare.jobs.fingerprint import data_digests, program
from compare.jobs.given import Given
from compare.jobs.sheets import Cell
from compare.pipeline import Comparison
from compare.prices.table import TableError
from compare.scoring.criteria import SIX

INPUT_ERRORS = (HouseFileError, WeatherFileError, PlaceError, CatalogueError, TableError, ValueError, OSError)
"""Errors whose text names the field and the cure; anything else is a fault of the program, and said so."""
LONGEST_ERROR = 500
FAULT = "fault of the program"


@dataclass(frozen=True, slots=True)
class Task:
    """One house file; paths as text, so that a task can be sent anywhere."""

    path: str
    prices: str | None = None
    units: str | None = None
    digest: str = ""
    """Of its inputs when it was handed out; worked out anew where it is empty."""


@dataclass(frozen=True, slots=True)
class HouseRow:
    """What came of one house: the recommendation, or the error."""

    file: str
    input_sha256: str
    house: str = ""
    option: str = ""
    layout: str = ""
    total: float | None = None
    verdict: str = ""
    price_usd: float | None = None
    price_low_usd: float | None = None
    price_high_usd: float | None = None
    bill_usd: float | None = None
    heat_load_w: float | None = None
    cool_load_w: float | None = None
    options: int = 0
    scores: tuple[float, ...] = ()
    seconds_s: float = 0.0
    cpu_s: float = 0.0
    """Processor time, which other work on the machine does not lengthen."""
    error: str = ""

    def cells(self) -> dict[str, Cell]:
        """The row as cells of a table."""
        row: dict[str, Cell] = {k: v for k, v in asdict(self).items() if k not in {"scores", "error"}}
        padded = (*self.scores, *(None,) * (len(SIX) - len(self.scores)))
        row |= {f"score_{c.value.replace(' ', '_')}": score for c, score in zip(SIX, padded, strict=True)}
        return row | {"error": self.error}


def given_of(task: Task) -> Given:
    """The files of a task.

    Raises
    ------
    OSError
        When the house file cannot be read.
    """
    return Given.at(
        Path(task.path), Path(task.prices) if task.prices else None, Path(task.units) if task.units else None
    )


def input_digest(task: Task) -> str:
    """Digest of what the row rests on: house file, own lists, program and its data; empty when it cannot be read.

    A weather file beside the house counts by its size and time, since it is large.
    """
    try:
        own = [Path(path) for path in (task.path, task.prices, task.units) if path]
        files = [file for path in own for file in (sorted(path.glob("*.csv")) if path.is_dir() else [path])]
        read = [sha256_of(file.read_bytes()) for file in files]
        return digest_of([read, _weather_mark(Path(task.path)), data_digests(), program()])
    except OSError:
        return ""


def _weather_mark(house: Path) -> list[int]:
    """Size and time of the weather file that a house file names; empty for an embedded year."""
    try:
        site = tomllib.loads(house.read_text(encoding="utf-8")).get("site", {})
        file = house.parent / str(site.get("weather", "")) if isinstance(site, dict) else house
        return [file.stat().st_size, file.stat().st_mtime_ns] if file.is_file() else []
    except ValueError:  # not TOML or not UTF-8: the row will say so
        return []


def compare_one(task: Task) -> HouseRow:
    """Compare one house. Whatever happens comes back as a row; nothing is written and nothing is kept."""
    start_s, start_cpu_s = time.perf_counter(), time.process_time()
    digest = task.digest or input_digest(task)
    try:
        row = _row(task, digest, given_of(task).worked_out())
    except INPUT_ERRORS as error:
        row = HouseRow(Path(task.path).name, digest, error=f"{error}"[:LONGEST_ERROR])
    except Exception as error:
        text = f"{FAULT}, {type(error).__name__}: {error}"
        row = HouseRow(Path(task.path).name, digest, error=text[:LONGEST_ERROR])
    spent_s, spent_cpu_s = time.perf_counter() - start_s, time.process_time() - start_cpu_s
    return replace(row, seconds_s=round(spent_s, 3), cpu_s=round(spent_cpu_s, 3))


def _row(task: Task, digest: str, found: Comparison) -> HouseRow:
    ranking, loads = found.rank(), found.case.loads.house
    common = HouseRow(
        Path(task.path).name,
        digest,
        found.case.house.house.name,
        heat_load_w=loads.heat_w,
        cool_load_w=loads.cool_total_w,
        options=len(found.results),
    )
    if ranking.winner is None:
        return _with(common, verdict="none", error="no layout passes here; the comparison lists each with its reason")
    best = ranking.winner.option
    view = found.customer_view()
    price = best.measures.price
    return _with(
        common,
        option=best.option_id,
        layout=plain_name(view.option(best.option_id)),
        total=ranking.winner.total,
        verdict=view.answer.verdict,
        price_usd=price.mid_usd,
        price_low_usd=price.low_usd,
        price_high_usd=price.high_usd,
        bill_usd=best.measures.energy.bill_usd,
        scores=tuple(best.score(c) for c in SIX),
    )


def _with(row: HouseRow, **fields: object) -> HouseRow:
    data = plain({**asdict(row), **fields})
    assert isinstance(data, dict)
    return row_of(data)


def row_of(data: dict[str, object]) -> HouseRow:
    """A row from its fields, as a line of the journal holds them.

    Raises
    ------
    TypeError
        For fields that a row does not have.
    """
    scores = data.get("scores") or ()
    assert isinstance(scores, list | tuple)
    return HouseRow(**{**data, "scores": tuple(scores)})  # type: ignore[arg-type]
