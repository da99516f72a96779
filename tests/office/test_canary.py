"""Planted costs are in nothing that a customer gets: views, tables, job folders, papers, answers of the page.

Requirement: OWASP ASVS 5.0.0, 8.2.3 and 14.2.6 (each role sees its own fields and no other). The search decodes
archives, PDF text, base64 and packed arrays, and every kind of output is also tried with a leak planted on purpose.
"""

from __future__ import annotations

import base64
import datetime as dt
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from compare.commands.air import designer_view_of
from compare.commands.tables import comparison_csv, comparison_json, comparison_text
from compare.equipment.catalogue import catalogue
from compare.house.reading import read_house
from compare.jobs.batch import Task, compare_one
from compare.jobs.given import Given
from compare.jobs.proposal import freeze, proposal_files
from compare.jobs.record import Offer
from compare.jobs.sheets import xlsx_bytes
from compare.jobs.view_sheets import view_sheets
from compare.offer import Sources
from compare.office.compile import compile_price_list
from compare.office.exports import office_csv, office_json, office_xlsx
from compare.office.view_build import OfficeBasis, office_view
from compare.pipeline import Comparison, compare_house
from compare.prices.price_list import write_text
from compare.views.customer import AssumptionLine, CustomerView
from dashboard.session import Ready
from dashboard.source import HouseSource
from dashboard.table.app import make_app
from proposal.document.build import build
from proposal.files import write_paper
from proposal.sheets.make import given_of, sheets_of, write_sheets
from tests.dashboard.client import Client, default_values, every_answer
from tests.houses import SCENARIOS
from tests.office.odd import as_json, derived, leaks, odd_book, planted

HOUSE = SCENARIOS / "accessory_unit.toml"
NOW = dt.datetime(2026, 11, 25, 14, 0, tzinfo=dt.UTC)


@dataclass(frozen=True)
class Planted:
    """A house compared with a price list whose costs are odd."""

    found: Comparison
    secret: frozenset[Decimal]
    prices: str


@cache
def case() -> Planted:
    book = odd_book()
    prices = compile_price_list(book)
    found = compare_house(read_house(HOUSE), SCENARIOS, sources=Sources(catalogue(), prices))
    view = office_view(found, OfficeBasis(NOW.date(), book=book))
    public = {Decimal(str(round(o.price_usd, 2))) for o in view.options}
    return Planted(found, frozenset((planted(book) | derived(view)) - public), write_text(prices))


def winner(found: Comparison) -> str:
    best = found.rank().winner
    assert best is not None
    return best.option.option_id


def given(folder: Path) -> Given:
    (folder / "own_prices.csv").write_text(case().prices, encoding="utf-8")
    return Given.at(HOUSE, folder / "own_prices.csv")


def commands(found: Comparison, _folder: Path) -> dict[str, bytes | str]:
    return {
        "text": comparison_text(found, top=50),
        "json": comparison_json(found),
        "csv": comparison_csv(found),
        "view": found.customer_view().model_dump_json(),
        "view repr": repr(found.customer_view()),
    }


def job_folder(found: Comparison, folder: Path) -> dict[str, bytes | str]:
    path, _ = freeze(found, given(folder), Offer(winner(found), NOW), folder / "job")
    return {str(file.relative_to(folder)): file.read_bytes() for file in path.parent.rglob("*") if file.is_file()}


def paper(found: Comparison, folder: Path) -> dict[str, bytes | str]:
    write_paper(build(found.customer_view(), winner(found)), folder / "paper")
    return {file.name: file.read_bytes() for file in (folder / "paper").rglob("*") if file.is_file()}


def sheets(found: Comparison, folder: Path) -> dict[str, bytes | str]:
    write_sheets(sheets_of(given_of(found, winner(found))), folder / "sheets")
    return {file.name: file.read_bytes() for file in (folder / "sheets").iterdir()}


def page(found: Comparison, folder: Path) -> dict[str, bytes | str]:
    source = HouseSource(Path(shutil.copy(HOUSE, folder / "house.toml")), lambda _house, _folder, _tell: found)
    source.open()
    assert source._opening is not None
    source._opening.join(60.0)
    ready = source.status()
    assert isinstance(ready, Ready), ready
    return dict(every_answer(Client(make_app(source), default_values(ready))))


def designer(found: Comparison, folder: Path) -> dict[str, bytes | str]:
    """The desk and the crew see no cost either; a batch row is anybody's."""
    view = designer_view_of(found, winner(found))
    row = compare_one(Task(str(HOUSE), str(given(folder).prices)))
    house = found.customer_view().house.name
    return {
        "view": view.model_dump_json(),
        "workbook": xlsx_bytes(view_sheets(view)),
        "batch": as_json({name: str(cell) for name, cell in row.cells().items()}),
        "title": house,
    }


OUTPUTS: dict[str, tuple[Callable[[Comparison, Path], dict[str, bytes | str]], int]] = {
    "commands": (commands, 5),
    "job folder": (job_folder, 10),
    "paper": (paper, 4),
    "sheets": (sheets, 10),
    "page": (page, 20),
    "designer": (designer, 4),
}


def found_in(outputs: dict[str, bytes | str]) -> dict[str, set[str]]:
    secret = case().secret
    return {name: hits for name, data in outputs.items() if (hits := leaks(data, secret))}


def test_there_is_something_to_find():
    assert len(case().secret) > 400
    view = office_view(case().found, OfficeBasis(NOW.date(), book=odd_book()))
    for data in (office_json(view), office_csv(view), office_xlsx(view)):
        assert len(leaks(data, case().secret)) > 20


@pytest.mark.parametrize("kind", OUTPUTS)
def test_no_planted_cost_reaches_a_customer(kind, tmp_path):
    make, least = OUTPUTS[kind]
    outputs = make(case().found, tmp_path)
    assert len(outputs) >= least
    assert found_in(outputs) == {}


def test_the_price_list_itself_holds_no_cost():
    assert leaks(case().prices, case().secret) == set()


def leaking_view(secret: str) -> Callable[..., CustomerView]:
    """A customer view whose assumptions and house name carry a secret, as a careless change might do."""
    clean = Comparison.customer_view

    def view(self: Comparison, priorities=None) -> CustomerView:
        shown = clean(self, priorities)
        extra = AssumptionLine(subject="price", value=secret, reason=f"rests on {secret}")
        house = shown.house.model_copy(update={"name": f"House {secret}"})
        return shown.model_copy(update={"assumptions": (*shown.assumptions, extra), "house": house})

    return view


@pytest.mark.parametrize("kind", OUTPUTS)
@pytest.mark.parametrize("form", ["full", "dollars"])
def test_a_planted_leak_is_found_in_every_kind_of_output(kind, form, tmp_path, monkeypatch):
    cost = max(figure for figure in case().secret if 1000 < figure < 100_000 and round(figure) % 10)
    text = f"{cost:,.2f}" if form == "full" else f"${cost:,.0f}"
    monkeypatch.setattr(Comparison, "customer_view", leaking_view(text))
    assert found_in(OUTPUTS[kind][0](case().found, tmp_path))


@pytest.mark.parametrize("dtype", ["<f8", "<f4"])
def test_a_leak_in_a_packed_array_is_found(dtype):
    cost = max(figure for figure in case().secret if 1000 < figure < 20_000 and figure == round(figure, 2))
    packed = base64.b64encode(np.array([1.0, float(cost), 3.0], dtype=dtype).tobytes()).decode()
    assert leaks(f'{{"dtype": "{dtype[1:]}", "bdata": "{packed}"}}', case().secret)


def test_a_leak_in_a_workbook_is_found(tmp_path):
    from compare.jobs.sheets import Sheet, xlsx_bytes

    cost = max(case().secret)
    assert leaks(xlsx_bytes([Sheet("scope", ("item", "cost"), (("pad", cost),))]), case().secret)


def test_files_of_a_proposal_are_all_looked_at(tmp_path):
    names = set(proposal_files(case().found, given(tmp_path), Offer(winner(case().found), NOW)))
    seen = {Path(name).name for name in job_folder(case().found, tmp_path)}
    assert names | {"record.json", "status.json"} <= seen
