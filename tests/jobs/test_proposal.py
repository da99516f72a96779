"""A frozen proposal: what it holds, that it is whole, that a changed byte is found, that it comes out again."""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import compare.jobs.reproduce as again
from compare.jobs.given import Given
from compare.jobs.proposal import freeze
from compare.jobs.record import Offer, RecordError, read_record, short_id
from compare.jobs.reproduce import Answer, reproduce
from compare.jobs.status import Status, status_of
from compare.prices.price_list import load_price_list
from compare.views.customer import CustomerView
from tests.jobs.small import DAY, NOW, frozen, house_text, winner, write_house

REPO = Path(__file__).resolve().parents[2]


def test_it_holds_all_that_was_offered_and_what_it_rests_on(small, tmp_path):
    folder, record = frozen(small, tmp_path, valid_days=30, by="A. B.")
    assert folder == tmp_path / "job" / f"proposal-{short_id(record)}"
    offer, inputs = record["proposal"], record["inputs"]
    assert (offer["option"], offer["issued_utc"], offer["by"]) == (winner(small), "2026-11-25T14:00:00Z", "A. B.")
    assert offer["valid_to"] == DAY + dt.timedelta(days=30)
    assert offer["price_usd"] == float(small.by_id[winner(small)].option.price.mid_usd)
    assert sum(inputs["weights"].values()) == pytest.approx(1.0)
    assert inputs["weather_sha256"] == small.case.weather.key
    assert {"data/scoring/weights.csv", "data/prices/price_list.csv", "data/climate/richmond.npz"} <= set(
        inputs["data_sha256"]
    )
    assert not [name for name in inputs["data_sha256"] if "office" in name]
    assert {"version", "code_sha256", "python", "libraries"} == set(record["program"])
    assert len(record["results"]) == len(small.results)
    on_disk = {p.name for p in folder.iterdir()} - {"record.json"}
    assert on_disk == set(record["files"])
    assert read_record(folder / "record.json")["record_sha256"] == record["record_sha256"]
    assert CustomerView.model_validate_json((folder / "view.json").read_text("utf-8")).answer.winner == winner(small)
    assert load_price_list(folder / "prices.csv").rows == small.sources.prices.rows
    assert status_of(tmp_path / "job", short_id(record)).status is Status.DRAFT


def test_the_same_offer_is_found_and_another_stands_beside_it(small, tmp_path):
    first, _ = frozen(small, tmp_path)
    again_, _ = frozen(small, tmp_path)
    other, _ = frozen(small, tmp_path, valid_days=60)
    assert first == again_ != other
    assert len(list((tmp_path / "job").glob("proposal-*"))) == 2


def test_what_cannot_be_offered_is_refused_with_what_can(small, tmp_path):
    given = Given.at(write_house(tmp_path))
    out = next(c.id for c in small.customer_view().options if c.status == "left out")
    with pytest.raises(ValueError, match=r"(?s)'nope' is not among the options shown; .*room unit"):
        freeze(small, given, Offer("nope", NOW), tmp_path / "job")
    with pytest.raises(ValueError, match="is left out here"):
        freeze(small, given, Offer(out, NOW), tmp_path / "job")
    with pytest.raises(ValueError, match="valid_days = 0; give 1 to 365"):
        freeze(small, given, Offer(winner(small), NOW, 0), tmp_path / "job")
    with pytest.raises(ValueError, match="with its zone"):
        freeze(small, given, Offer(winner(small), NOW.replace(tzinfo=None)), tmp_path / "job")
    assert not (tmp_path / "job").exists()


def test_weights_of_the_table_are_those_that_count(small, tmp_path):
    chosen = {**small.case.house.priorities.model_dump(), "lower_price": 5}
    _, plain = frozen(small, tmp_path)
    _, cheap = frozen(small, tmp_path, priorities=chosen)
    assert cheap["inputs"]["weights"]["rough cost"] > plain["inputs"]["weights"]["rough cost"]


def test_it_comes_out_identical(small, tmp_path):
    folder, _ = frozen(small, tmp_path)
    found = reproduce(folder / "record.json")
    assert (found.answer, found.inputs, found.program, found.results) == (Answer.IDENTICAL, (), (), ())
    assert found.holds


@pytest.mark.parametrize("place", range(40))
def test_any_changed_byte_of_the_record_is_found(place, small, tmp_path):
    folder, _ = frozen(small, tmp_path)
    path = folder / "record.json"
    data = bytearray(path.read_bytes())
    at = len(data) * place // 40
    while chr(data[at]) in " \n":
        at += 1
    data[at] = data[at] + 1 if data[at] != ord("9") else ord("8")
    path.write_bytes(bytes(data))
    with pytest.raises(RecordError, match=r"changed since|not a proposal's record|format|stands twice"):
        read_record(path)


@pytest.mark.parametrize(
    ("text", "words"),
    [("", "not a proposal's record"), ("[]", "digest is missing"), ("{}", "digest is missing"), ("[" * 9999, "not a")],
)
def test_what_is_no_record_is_refused(text, words, tmp_path):
    path = tmp_path / "record.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RecordError, match=words):
        read_record(path)
    with pytest.raises(RecordError, match="no such file"):
        read_record(tmp_path / "none.json")


@pytest.mark.parametrize("name", ["house.toml", "prices.csv", "view.json", "scope.csv"])
def test_a_changed_file_is_told_as_another_input(name, small, tmp_path):
    folder, _ = frozen(small, tmp_path)
    path = folder / name
    path.write_bytes(path.read_bytes() + b"\n")
    found = reproduce(folder / "record.json")
    assert found.answer is Answer.DIFFERENT_INPUTS
    assert any(name in line for line in found.inputs)
    assert not found.holds


def test_another_house_file_is_told(small, tmp_path):
    folder, _ = frozen(small, tmp_path)
    same = Path(shutil.copy(folder / "house.toml", tmp_path / "renamed.toml"))
    assert reproduce(folder / "record.json", same).answer is Answer.IDENTICAL
    other = tmp_path / "other.toml"
    other.write_text(house_text(air={"ach50": 9}), encoding="utf-8")
    found = reproduce(folder / "record.json", other)
    assert found.answer is Answer.DIFFERENT_INPUTS
    assert any(line.startswith("house_sha256") for line in found.inputs)
    assert found.results


def changed_rows(factor: float):
    real = again.result_rows

    def rows(*args):
        made = real(*args)
        for row in made:
            row["electricity_kwh"] *= factor
        return made

    return rows


@pytest.mark.parametrize(
    ("factor", "other_program", "answer"),
    [
        (1 + 3e-10, False, Answer.SAME_RANKING),
        (1.001, True, Answer.DIFFERENT_PROGRAM),
        (1.001, False, Answer.DIFFERENT_RESULTS),
        (1.0, True, Answer.IDENTICAL),
    ],
)
def test_other_answers_are_told_apart(factor, other_program, answer, small, tmp_path, monkeypatch):
    folder, _ = frozen(small, tmp_path)
    monkeypatch.setattr(again, "result_rows", changed_rows(factor))
    if other_program:
        real = again.program()
        monkeypatch.setattr(again, "program", lambda: {**real, "version": "9.9"})
    found = reproduce(folder / "record.json")
    assert found.answer is answer
    assert bool(found.program) is other_program


def test_a_weather_file_is_frozen_beside_the_house(tmp_path, shared_weather):
    epw = next(iter(sorted(shared_weather.rglob("*.epw"))))
    houses = tmp_path / "houses"
    (houses / "sky").mkdir(parents=True)
    shutil.copy(epw, houses / "sky" / "own.epw")
    from tests.jobs.small import small_tables

    site = {**small_tables()["site"], "weather": "sky/own.epw"}
    given = Given.at(write_house(houses, site=site))
    found = given.worked_out()
    folder, _ = freeze(found, given, Offer(winner(found), NOW), tmp_path / "job")
    assert (folder / "sky" / "own.epw").read_bytes() == epw.read_bytes()
    shutil.rmtree(houses)
    assert reproduce(folder / "record.json").answer is Answer.IDENTICAL


ISSUE = """
import sys, datetime as dt
from pathlib import Path
from compare.jobs.given import Given
from compare.jobs.proposal import issue
from compare.jobs.record import Offer
house, job, option = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]
issue(Given.at(house), Offer(option, dt.datetime(2026, 11, 25, 23, 30, tzinfo=dt.timezone.utc)), job)
"""
WORLDS = [("0", "UTC", "C"), ("1", "Pacific/Kiritimati", "C.UTF-8"), ("4242", "America/St_Johns", "C")]


@pytest.mark.slow
def test_same_bytes_under_three_hash_seeds_and_two_time_zones(small, tmp_path):
    house = write_house(tmp_path)
    runs = []
    for seed, zone, locale in WORLDS:
        world = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale}
        command = [sys.executable, "-c", ISSUE, str(house), str(tmp_path / f"job-{seed}"), winner(small)]
        runs.append(subprocess.Popen(command, cwd=REPO, env=world))
    assert [run.wait(120) for run in runs] == [0, 0, 0]
    trees = [
        {str(p.relative_to(tmp_path / f"job-{seed}")): p.read_bytes() for p in (tmp_path / f"job-{seed}").rglob("*.*")
         if p.is_file()}
        for seed, _, _ in WORLDS
    ]  # fmt: skip
    assert trees[0] == trees[1] == trees[2]
    assert len(trees[0]) >= 10
    assert json.loads(next(v for k, v in trees[0].items() if k.endswith("record.json")))["proposal"]["issued_utc"]
