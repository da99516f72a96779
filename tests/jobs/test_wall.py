"""The customer's program: what it imports and opens while it compares, issues and reproduces. No cost is among it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.jobs.small import winner, write_house

REPO = Path(__file__).resolve().parents[2]
WATCHED = """
import sys, json
opened = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event == "open" else None)
import typer
from typer.testing import CliRunner
from compare.commands import register
app = typer.Typer()
register(app)
house, job, option, extra = sys.argv[1:]
from pathlib import Path
for words in (["compare", house, "--csv", f"{job}/o.csv"], ["issue", house, "--option", option, "--job", job]):
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 0, (words, done.output, done.exception)
record = next(Path(job).glob("proposal-*/record.json"))
done = CliRunner().invoke(app, ["reproduce", str(record)])
assert done.exit_code == 0, (done.output, done.exception)
exec(extra)
assert any(name.endswith("prices.csv") for name in opened)
bad = [n for n in opened if "office" in Path(n).parts] + [n for n in sys.modules if n.startswith("compare.office")]
print(json.dumps(bad))
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("extra", "clean"),
    [
        ("", True),
        ("import compare.office.cost_book", False),
        ("open('compare/data/office/cost_book.csv').close()", False),
    ],
)
def test_the_customers_program_opens_nothing_of_the_office(extra, clean, small, tmp_path):
    house = write_house(tmp_path)
    command = [sys.executable, "-B", "-c", WATCHED, str(house), str(tmp_path / "job"), winner(small), extra]
    done = subprocess.run(command, cwd=REPO, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    assert (json.loads(done.stdout.splitlines()[-1]) == []) is clean
