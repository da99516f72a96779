"""A folder of houses: a row each, whatever happens; resumed after an interruption; the same on any engine."""

from __future__ import annotations

import csv
import os
import pickle
import signal
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from compare.commands.batch import register
from compare.jobs.batch import FAULT, HouseRow, Task, compare_one, input_digest
from compare.jobs.journal import JOURNAL, TABLE, Journal
from compare.jobs.pool import run_pool
from tests.jobs.small import house_text, small_tables, winner, write_house


def same(row: HouseRow) -> HouseRow:
    return replace(row, seconds_s=0.0, cpu_s=0.0)


def test_a_row_says_what_the_comparison_says(small, tmp_path):
    row = compare_one(Task(str(write_house(tmp_path))))
    best = small.rank().winner
    assert (row.file, row.house, row.error) == ("small.toml", "Test house (invented)", "")
    assert row.option == winner(small)
    assert row.total == pytest.approx(best.total)
    assert row.price_usd == best.option.price_usd
    assert row.options == len(small.results)
    assert row.heat_load_w == pytest.approx(small.case.loads.house.heat_w)
    assert len(row.scores) == 6


def test_task_and_row_can_be_sent_anywhere(tmp_path):
    task = Task(str(write_house(tmp_path)))
    assert pickle.loads(pickle.dumps(task)) == task
    assert pickle.loads(pickle.dumps(compare_one)) is compare_one
    with ThreadPoolExecutor(1) as engine:
        other = engine.submit(compare_one, task).result()
    assert same(pickle.loads(pickle.dumps(other))) == same(compare_one(task))


BAD = {
    "none": (None, "small.toml"),
    "empty": ("", "house"),
    "not toml": ("x = [", "not valid TOML"),
    "negative": (house_text(air={"ach50": -3}), "ach50"),
    "no weather": (house_text(site={**small_tables()["site"], "weather": "none.epw"}), "no such file"),
    "binary": ("\0\0", "TOML"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_bad_house_is_a_row_with_its_error(case, tmp_path):
    text, words = BAD[case]
    if text is not None:
        (tmp_path / "small.toml").write_text(text, encoding="utf-8")
    row = compare_one(Task(str(tmp_path / "small.toml")))
    assert words in row.error
    assert FAULT not in row.error
    assert row.option == ""


def test_a_fault_of_the_program_is_a_row_that_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr("compare.jobs.given.compare_house", lambda *a, **k: 1 / 0)
    row = compare_one(Task(str(write_house(tmp_path))))
    assert row.error == f"{FAULT}, ZeroDivisionError: division by zero"


def test_digest_follows_every_input(tmp_path):
    path = write_house(tmp_path)
    prices = tmp_path / "prices.csv"
    prices.write_text("a", encoding="utf-8")
    seen = {input_digest(Task(str(path))), input_digest(Task(str(path), str(prices)))}
    prices.write_text("b", encoding="utf-8")
    seen.add(input_digest(Task(str(path), str(prices))))
    path.write_text(path.read_text("utf-8") + "\n", encoding="utf-8")
    seen.add(input_digest(Task(str(path))))
    assert len(seen) == 4
    assert input_digest(Task(str(tmp_path / "none.toml"))) == ""


def quick(task: Task) -> HouseRow:
    if "dies" in task.path:
        os.kill(os.getpid(), signal.SIGKILL)
    return HouseRow(Path(task.path).name, "d", house=f"pid {os.getpid()}")


@pytest.mark.slow
def test_workers_are_replaced_and_no_task_is_lost(monkeypatch):
    monkeypatch.setattr("compare.jobs.pool.HOUSES_A_WORKER", 3)
    rows = list(run_pool([Task(f"h{i}.toml") for i in range(14)], 2, quick))
    assert sorted(row.file for row in rows) == sorted(f"h{i}.toml" for i in range(14))
    assert len({row.house for row in rows}) >= 3  # 14 tasks in pools of six


@pytest.mark.slow
def test_a_worker_that_dies_costs_its_own_house_only():
    tasks = [Task(f"h{i}.toml") for i in range(12)]
    tasks.insert(5, Task("dies.toml"))
    rows = {row.file: row for row in run_pool(tasks, 2, quick)}
    assert set(rows) == {Path(task.path).name for task in tasks}
    assert [name for name, row in rows.items() if row.error] == ["dies.toml"]
    assert "ended by the system" in rows["dies.toml"].error


def test_journal_survives_a_line_that_was_cut_off(tmp_path):
    journal = Journal(tmp_path)
    journal.add(HouseRow("a.toml", "1", scores=(1.0, 2.0)))
    journal.add(HouseRow("b.toml", "2", error="no such file"))
    path = tmp_path / JOURNAL
    whole = path.read_bytes()
    for cut in range(len(whole) - 2, len(whole) - 60, -7):
        path.write_bytes(whole[:cut])
        found = Journal(tmp_path)
        assert found.holds("a.toml", "1")
        assert not found.holds("b.toml", "2")
        found.add(HouseRow("b.toml", "2"))
        assert Journal(tmp_path).holds("b.toml", "2")
    path.write_bytes(b"\xff\xfe garbage\n[1]\n{}\n" + whole)
    assert set(Journal(tmp_path).rows) == {"a.toml", "b.toml"}


def test_a_fault_of_the_program_is_tried_again_and_a_bad_house_is_not(tmp_path):
    journal = Journal(tmp_path)
    journal.add(HouseRow("a.toml", "1", error=f"{FAULT}, KeyError: 1"))
    journal.add(HouseRow("b.toml", "2", error="air.ach50: too large"))
    assert not journal.holds("a.toml", "1")
    assert journal.holds("b.toml", "2")
    assert not journal.holds("b.toml", "3")
    assert not journal.holds("b.toml", "")


@pytest.fixture
def app():
    program = typer.Typer()
    program.callback()(lambda: None)
    register(program)
    return program


@pytest.mark.slow
def test_a_folder_is_compared_and_resumed(app, tmp_path):
    houses = tmp_path / "houses"
    houses.mkdir()
    for name in ("a.toml", "b.toml"):
        write_house(houses, name)
    (houses / "bad.toml").write_text("x = [", encoding="utf-8")
    run = CliRunner()
    first = run.invoke(app, ["batch", str(houses), "--workers", "2"])
    assert first.exit_code == 0, first.output
    assert "3 houses, 1 with an error" in first.output
    table = houses / "results" / TABLE
    rows = list(csv.DictReader(table.read_text("utf-8").splitlines()))
    assert [row["file"] for row in rows] == ["a.toml", "b.toml", "bad.toml"]
    assert "not valid TOML" in rows[2]["error"]
    assert rows[0]["option"] == rows[1]["option"] != ""
    before = (houses / "results" / JOURNAL).read_bytes()
    again = run.invoke(app, ["batch", str(houses), "--workers", "2"])
    assert "3 of 3 houses are done already" in again.output
    assert (houses / "results" / JOURNAL).read_bytes() == before
    write_house(houses, "b.toml", air={"ach50": 9})
    third = run.invoke(app, ["batch", str(houses), "--workers", "2"])
    assert "2 of 3 houses are done already" in third.output


def test_an_empty_folder_is_told(app, tmp_path):
    found = CliRunner().invoke(app, ["batch", str(tmp_path)])
    assert found.exit_code == 2
    assert "holds no house file" in found.output
