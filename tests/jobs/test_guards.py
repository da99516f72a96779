"""The rarer ways in which a record, a proposal or a write is refused or mended."""

from __future__ import annotations

import json
import os
import shutil

import pytest

from compare.equipment.catalogue import catalogue
from compare.house.reading import read_house
from compare.jobs import fingerprint
from compare.jobs.batch import Task, compare_one
from compare.jobs.canonical import canonical_text, digest_of
from compare.jobs.disk import PART, write_folder
from compare.jobs.given import Given, weather_file
from compare.jobs.proposal import freeze
from compare.jobs.record import DIGEST, MOST_BYTES, Offer, RecordError, read_record
from compare.jobs.reproduce import Answer, reproduce
from tests.jobs.small import NOW, frozen, small_tables, winner, write_house


def rewritten(path, **changed) -> None:
    """A record with other fields and a digest that fits them, as a forger would make it."""
    body = {k: v for k, v in json.loads(path.read_text("utf-8")).items() if k != DIGEST} | changed
    path.write_text(canonical_text(body | {DIGEST: digest_of(body)}), encoding="utf-8")


def test_a_key_that_stands_twice_is_refused(small, tmp_path):
    path = frozen(small, tmp_path)[0] / "record.json"
    path.write_text(path.read_text("utf-8").replace("{", '{\n "format": 1,', 1), encoding="utf-8")
    with pytest.raises(RecordError, match="a key stands twice"):
        read_record(path)


def test_another_format_and_a_huge_file_are_refused(small, tmp_path):
    path = frozen(small, tmp_path)[0] / "record.json"
    rewritten(path, format=2)
    with pytest.raises(RecordError, match="format 2; this program reads format 1"):
        read_record(path)
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(RecordError, match="larger than a record can be"):
        read_record(path)


def test_a_record_that_lacks_a_part_or_names_a_foreign_file_is_refused(small, tmp_path):
    path = frozen(small, tmp_path)[0] / "record.json"
    whole = path.read_bytes()
    body = json.loads(whole)
    del body["results"], body[DIGEST]
    path.write_text(canonical_text(body | {DIGEST: digest_of(body)}), encoding="utf-8")
    with pytest.raises(RecordError, match="the record has no results"):
        reproduce(path)
    path.write_bytes(whole)
    rewritten(path, files={"../../secret": "0"})
    with pytest.raises(RecordError, match="names a file outside its folder"):
        reproduce(path)


def test_a_missing_file_is_told(small, tmp_path):
    folder, _ = frozen(small, tmp_path)
    (folder / "view.json").unlink()
    found = reproduce(folder / "record.json")
    assert found.answer is Answer.DIFFERENT_INPUTS
    assert "view.json: is missing" in found.inputs


def test_what_a_killed_writer_of_the_same_number_left_is_cleared(tmp_path):
    left = tmp_path / f".p.{os.getpid()}{PART}"
    left.mkdir()
    (left / "half").write_bytes(b"x")
    write_folder(tmp_path / "p", {"whole": b"y"})
    assert [path.name for path in (tmp_path / "p").iterdir()] == ["whole"]


@pytest.mark.parametrize("where", ["../own.epw", "/own.epw"])
def test_weather_from_outside_the_folder_is_refused(where, tmp_path):
    houses = tmp_path / "houses"
    houses.mkdir()
    (tmp_path / "own.epw").write_bytes(b"x")
    named = where if where.startswith("..") else str(tmp_path / "own.epw")
    house = read_house(write_house(houses, site={**small_tables()["site"], "weather": named}))
    with pytest.raises(ValueError, match="lies outside the folder of the house file"):
        weather_file(house, houses)


def test_weather_under_the_name_of_another_file_is_refused(small, tmp_path, monkeypatch):
    monkeypatch.setattr("compare.jobs.proposal.weather_file", lambda *_: ("view.json", b"x"))
    with pytest.raises(ValueError, match="another file under that name"):
        frozen(small, tmp_path)


def test_own_unit_tables_are_frozen_and_used_again(tmp_path):
    from importlib.resources import files

    units = tmp_path / "units"
    units.mkdir()
    shutil.copy(str(files("compare.data.equipment") / "indoor.csv"), units / "indoor.csv")
    given = Given.at(write_house(tmp_path), units=units)
    found = given.worked_out()
    assert found.sources.units.label != catalogue().label
    folder, record = freeze(found, given, Offer(winner(found), NOW), tmp_path / "job")
    assert (folder / "units" / "indoor.csv").read_bytes() == (units / "indoor.csv").read_bytes()
    assert "units/indoor.csv" in record["files"]
    shutil.rmtree(units)
    assert reproduce(folder / "record.json").answer is Answer.IDENTICAL


def test_a_house_that_nothing_fits_is_a_row_that_says_so(tmp_path):
    row = compare_one(Task(str(write_house(tmp_path, panel={"service_amps": 100, "free_spaces": 0}))))
    assert row.option == ""
    assert "no layout passes here" in row.error
    assert row.options > 0


def test_a_library_that_is_missing_is_named_so():
    assert fingerprint._version("no-such-library-anywhere") == "not installed"
