"""The office's own file of a proposal, and the figures over a folder of jobs."""

from __future__ import annotations

import csv
import datetime as dt
import io
import shutil
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from compare.commands import issue, job, reproduce
from compare.jobs.changes import Wanted, agree, write_change
from compare.jobs.disk import write_whole
from compare.jobs.record import DIGEST, RecordError
from compare.jobs.sheets import csv_text
from compare.jobs.status import Status, add_status
from compare.office import commands
from compare.office.cost_book import CostBook, load_book
from compare.office.figures import figures_sheet, job_figures, kinds_sheet
from compare.office.ledger import (
    LedgerError,
    complete,
    entry_path,
    hours_form,
    load_callbacks,
    load_hours,
    read_entry,
    write_entry,
)
from compare.office.view_build import OfficeBasis
from compare.pipeline import Comparison
from compare.prices.price_list import load_price_list
from compare.prices.quantity import count
from compare.prices.rebates import COLUMNS
from compare.prices.table import TableError
from tests.jobs.small import DAY, frozen, small_comparison, winner, write_house
from tests.jobs.test_torn_writes import FailingDisk, strays

LATER = DAY + dt.timedelta(days=40)


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Comparison:
    return small_comparison(tmp_path_factory.mktemp("small"))


@pytest.fixture(scope="module")
def done(small, tmp_path_factory) -> Path:
    """A job with one completed proposal, its folder beside the office's; copied by each test."""
    folder = tmp_path_factory.mktemp("done")
    path, _ = frozen(small, folder)
    shutil.move(folder / "job", folder / "jobs" / "smith")
    record = folder / "jobs" / "smith" / path.name / "record.json"
    complete(record, folder / "office", OfficeBasis(DAY))
    return folder


@pytest.fixture
def place(done, tmp_path) -> Path:
    return Path(shutil.copytree(done, tmp_path / "place"))


def record_of(place: Path) -> Path:
    return next(place.glob("jobs/*/proposal-*/record.json"))


def entry_of(place: Path) -> Path:
    return next((place / "office").glob("*.json"))


def test_the_second_file_is_keyed_by_the_record_and_lies_apart(place, small):
    import json

    record = json.loads(record_of(place).read_text("utf-8"))
    path = entry_of(place)
    assert path == entry_path(place / "office", record[DIGEST])
    entry = read_entry(path)
    assert entry.record_sha256 == record[DIGEST]
    assert entry.figures.id == winner(small)
    assert float(entry.figures.price_usd) == record["proposal"]["price_usd"]
    assert sum(entry.planned_h.values()) == entry.figures.margin.hours_h
    assert not [p for p in (place / "jobs").rglob("*") if "office" in p.name or "cost" in p.name]


def test_completing_again_keeps_hours_and_callbacks(place):
    path = entry_of(place)
    entry = replace(read_entry(path), actual_h={"other": Decimal("3.5")}, decision_on=DAY)
    write_entry(path, entry)
    complete(record_of(place), place / "office", OfficeBasis(DAY))
    again = read_entry(path)
    assert again.actual_h == {"other": Decimal("3.5")}
    assert again.decision_on == DAY


def test_a_price_that_does_not_come_out_as_offered_is_refused(place, monkeypatch):
    from compare.office import ledger

    real = ledger.office_view

    def dearer(found, basis):
        view = real(found, basis)
        options = tuple(o.model_copy(update={"price_usd": o.price_usd + 1}) for o in view.options)
        return view.model_copy(update={"options": options})

    monkeypatch.setattr(ledger, "office_view", dearer)
    with pytest.raises(LedgerError, match=r"was offered at .* and now comes to"):
        complete(record_of(place), place / "office", OfficeBasis(DAY))


def test_a_changed_record_is_refused(place):
    path = record_of(place)
    path.write_text(path.read_text("utf-8").replace("salesperson", "owner"), encoding="utf-8")
    with pytest.raises(RecordError, match="changed since"):
        complete(path, place / "office", OfficeBasis(DAY))


@pytest.mark.parametrize("how", ["error", "full"])
def test_old_or_new_office_file_is_whole_whatever_step_fails(how, place):
    path = entry_of(place)
    entry = replace(read_entry(path), decision_on=LATER)
    old = path.read_bytes()
    counter = FailingDisk()
    write_entry(path.with_name("other.json"), entry, counter)
    new = path.with_name("other.json").read_bytes()
    for step in range(1, counter.count + 1):
        write_whole(path, old)
        with pytest.raises(OSError, match=f"step {step}"):
            write_entry(path, entry, FailingDisk(step, how))
        assert path.read_bytes() in {old, new}
        assert strays(place) == []


@pytest.mark.parametrize("text", ["", "{}", '{"format": 2}', "[1]"])
def test_a_broken_office_file_is_told(text, tmp_path):
    path = tmp_path / "x.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(LedgerError, match=r"cannot be read|format 2"):
        read_entry(path)
    with pytest.raises(LedgerError, match="complete the proposal first"):
        read_entry(tmp_path / "none.json")


def install(place: Path, hours: str, callbacks: str = "", more: str = "") -> None:
    """Take the job through to installed, with hours and return visits."""
    folder = place / "jobs" / "smith"
    proposal = record_of(place).parent.name.removeprefix("proposal-")
    for step, state in enumerate((Status.SHOWN, Status.ACCEPTED)):
        add_status(folder, state, DAY + dt.timedelta(days=step), proposal)
    change = Wanted(proposal, "brick", (count("masonry_wall", "W1"),), DAY)
    write_change(folder, change, load_price_list())
    write_change(folder, change, load_price_list())
    agree(folder, 1, DAY)
    add_status(folder, Status.INSTALLED, DAY + dt.timedelta(days=20), proposal)
    entry = read_entry(entry_of(place))
    (place / "hours.csv").write_text(f"task,hours_h\n{hours}\n", encoding="utf-8")
    (place / "calls.csv").write_text(f"on,risk,hours_h,cost_usd,note\n{callbacks}\n", encoding="utf-8")
    entry = replace(
        entry,
        actual_h=load_hours(place / "hours.csv", list(entry.planned_h)),
        callbacks=load_callbacks(place / "calls.csv"),
    )
    write_entry(entry_of(place), entry)
    (folder / f"readings-{proposal}.csv").write_text("verdict\nwithin\nwithin\nout of range\n" + more, encoding="utf-8")


def test_foretold_against_what_came(place):
    entry = read_entry(entry_of(place))
    planned = sum(entry.planned_h.values())
    install(place, f"other,{planned * Decimal('1.25')}", "2027-01-10,noise,1.5,300,hums")
    one = job_figures(place / "jobs", place / "office", LATER)[0]
    cells = one.cells()
    assert (one.job, one.status, one.age_days) == ("smith", "installed", 40)
    assert not one.overdue
    assert cells["hours_ratio"] == Decimal("1.25")
    assert cells["callbacks_usd"] == 300
    assert cells["changes_usd"] == load_price_list().row("masonry_wall").mid_usd  # only the agreed one
    assert (cells["readings_good"], cells["readings_out"]) == (2, 1)
    kinds = list(csv.DictReader(io.StringIO(csv_text(kinds_sheet([one])))))
    assert kinds[0]["kind"] == one.kind
    assert Decimal(kinds[0]["mean_hours_ratio"]) == Decimal("1.25")
    assert Decimal(kinds[0]["actual_callbacks_per_job"]) == 1
    assert Decimal(kinds[0]["foretold_callbacks_usd"]) == entry.figures.margin.expected_callback_usd
    assert float(kinds[0]["readings_within_frac"]) == pytest.approx(2 / 3, abs=1e-4)


def test_an_open_proposal_grows_old(place):
    young = job_figures(place / "jobs", place / "office", DAY + dt.timedelta(days=30))[0]
    old = job_figures(place / "jobs", place / "office", DAY + dt.timedelta(days=31))[0]
    assert (young.overdue, old.overdue) == (False, True)
    assert kinds_sheet([old]).rows == ()  # nothing installed, nothing to compare


def test_a_job_that_cannot_be_read_is_a_row_and_stops_nothing(place):
    shutil.copytree(place / "jobs" / "smith", place / "jobs" / "adams")
    broken = next((place / "jobs" / "adams").glob("proposal-*/record.json"))
    broken.write_text("{}", encoding="utf-8")
    found = job_figures(place / "jobs", place / "office", LATER)
    assert [(one.job, bool(one.error)) for one in found] == [("adams", True), ("smith", False)]
    sheet = figures_sheet(found)
    assert len(sheet.rows) == 2
    assert all(len(row) == len(sheet.columns) for row in sheet.rows)


def test_a_job_the_office_has_not_completed_has_no_cost(place):
    entry_of(place).unlink()
    cells = job_figures(place / "jobs", place / "office", LATER)[0].cells()
    assert cells["price_usd"] > 0
    assert cells["direct_usd"] is cells["margin_frac"] is None


@pytest.mark.parametrize(
    ("rows", "words"),
    [("task_paint,3", "task 'task_paint' is not planned"), ("other,-1", "negative"), ("other,x", "not a plain number")],
)
def test_faults_of_booked_hours(rows, words, tmp_path):
    path = tmp_path / "h.csv"
    path.write_text(f"task,hours_h\n{rows}\n", encoding="utf-8")
    with pytest.raises(TableError, match=words):
        load_hours(path, ["task_wall_head"])


def test_the_form_is_read_back(place, tmp_path):
    entry = read_entry(entry_of(place))
    path = tmp_path / "form.csv"
    path.write_text(hours_form(entry), encoding="utf-8")
    read = load_hours(path, list(entry.planned_h))
    assert sum(read.values()) == pytest.approx(sum(entry.planned_h.values()), abs=Decimal("0.1"))


def test_a_dearer_book_lowers_the_margin_and_leaves_the_price(place):
    rows = {name: replace(row, figures=tuple(2 * f for f in row.figures)) if row.group == "equipment" else row
            for name, row in load_book().rows.items()}  # fmt: skip
    before = read_entry(entry_of(place)).figures
    _, entry = complete(record_of(place), place / "office", OfficeBasis(DAY, book=CostBook(rows)))
    assert entry.figures.price_usd == before.price_usd
    assert entry.figures.margin.margin_frac < before.margin.margin_frac
    assert entry.book_sha256 != read_entry(place / "office" / entry_of(place).name).record_sha256


# The commands, from a house file to the figures


@pytest.fixture
def app():
    program = typer.Typer()
    for module in (issue, job, reproduce, commands):
        module.register(program)
    return program


def run(app, *words: str, code: int = 0) -> str:
    done = CliRunner().invoke(app, list(words))
    assert done.exit_code == code, (done.output, done.exception)
    return done.output


@pytest.mark.slow
def test_a_job_from_the_house_file_to_the_figures(app, small, tmp_path):
    house, folder, office = write_house(tmp_path), tmp_path / "jobs" / "a", tmp_path / "office"
    prices = tmp_path / "prices.csv"
    run(app, "office", "compile", str(prices), "--margin", "0.35")
    out = run(
        app, "issue", str(house), "--option", winner(small), "--job", str(folder), "--prices", str(prices),
        "--at", "2026-11-25T14:00:00+00:00", "--by", "A. B.", "--priority", "quiet=4",
    )  # fmt: skip
    assert "holds until 2026-12-25" in out
    record = next(folder.glob("proposal-*/record.json"))
    assert run(app, "reproduce", str(record)).startswith("identical")
    assert "wrote" not in run(app, "office", "complete", str(record), "--office", str(office))
    form = run(app, "office", "after", str(record), "--office", str(office))
    (tmp_path / "hours.csv").write_text(form, encoding="utf-8")
    run(app, "office", "after", str(record), "--office", str(office), "--hours", str(tmp_path / "hours.csv"))
    for state, day in (("shown", "26"), ("accepted", "28")):
        run(app, "job", "status", str(folder), "--to", state, "--on", f"2026-11-{day}")
    (tmp_path / "change.csv").write_text("item,amount,for\nmasonry_wall,1,W1\n", encoding="utf-8")
    run(app, "job", "change", str(folder), str(tmp_path / "change.csv"), "--reason", "brick", "--on", "2026-12-01")
    run(app, "job", "agree", str(folder), "1", "--on", "2026-12-02")
    run(app, "job", "status", str(folder), "--to", "installed", "--on", "2026-12-10")
    sheet = run(app, "job", "readings", str(folder))
    rows = [f"{line}1" if line.startswith("drain") else "" for line in sheet.splitlines()[1:]]
    text = "check,subject,value\n" + "\n".join(rows)
    (tmp_path / "read.csv").write_text(text, encoding="utf-8")
    assert "within: " in run(app, "job", "readings", str(folder), str(tmp_path / "read.csv"))
    out = run(app, "office", "figures", str(tmp_path / "jobs"), "--office", str(office), "--on", "2027-01-01",
              "--csv", str(tmp_path / "f.csv"), "--kinds", str(tmp_path / "k.csv"))  # fmt: skip
    assert "1 installed" in out
    row = next(csv.DictReader((tmp_path / "f.csv").read_text("utf-8").splitlines()))
    assert abs(float(row["margin_frac"]) - 0.35) < 1e-3
    assert (tmp_path / "k.csv").exists()
    assert "change order 1" in run(app, "job", "status", str(folder))


FAULTS = [
    (("issue", "none.toml", "--option", "x", "--job", "j"), "No such file"),
    (("reproduce", "none.json"), "no such file; give the record.json"),
    (("job", "status", "j", "--to", "shown"), "holds no proposal yet"),
    (("office", "compile", "x.csv", "--margin", "40%"), "write 40 % as 0.40"),
    (("office", "compile", "x.csv", "--margin", "1.2"), "margin_frac"),
    (("job", "agree", "j", "1", "--on", "yesterday"), "write it as 2026-11-25"),
]


@pytest.mark.parametrize(("words", "message"), FAULTS)
def test_errors_of_commands_name_the_cure(words, message, app, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert message in run(app, *words, code=2)


def test_margins_of_a_house_on_the_screen_and_in_files(app, tmp_path):
    house = write_house(tmp_path)
    rebates = tmp_path / "rebates.csv"
    row = "big,State (invented),fixed,9000,9000,18,0,2026-01-01,2026-12-31,on approval,invented,2026-11-25"
    rebates.write_text(f"{','.join(COLUMNS)}\n{row}\n", encoding="utf-8")
    files = [str(tmp_path / f"o.{kind}") for kind in ("json", "csv", "xlsx")]
    out = run(
        app, "office", "margins", str(house), "--on", "2026-11-25", "--rebates", str(rebates), "--financed",
        "--json", files[0], "--csv", files[1], "--xlsx", files[2],
    )  # fmt: skip
    assert "OFFICE ONLY" in out
    assert "State (invented)" in out
    assert "big asks for" in out
    assert all(Path(name).stat().st_size > 500 for name in files)
    assert "cold_room" in out


def test_a_decision_day_and_callbacks_are_noted(app, place):
    record, office = str(record_of(place)), str(place / "office")
    calls = place / "calls.csv"
    calls.write_text("on,risk,hours_h,cost_usd,note\n2027-01-10,noise,1.5,300,\n", encoding="utf-8")
    run(app, "office", "after", record, "--office", office, "--callbacks", str(calls), "--decision", "2026-12-01")
    entry = read_entry(entry_of(place))
    assert entry.decision_on == dt.date(2026, 12, 1)
    assert [one.cost_usd for one in entry.callbacks] == [300]
    shutil.copytree(place / "jobs" / "smith", place / "jobs" / "adams")
    next((place / "jobs" / "adams").glob("proposal-*/record.json")).write_text("{}", encoding="utf-8")
    out = run(app, "office", "figures", str(place / "jobs"), "--office", office, "--on", "2027-03-01")
    assert "not a proposal's record" in out
    assert "96!" in out  # 96 days old and overdue
