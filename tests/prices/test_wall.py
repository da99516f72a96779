"""Customer-side code never reaches the office side: not by import, not by opening its tables."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import compare

REPO = Path(compare.__file__).parents[1]
CUSTOMER_SIDE = [
    path
    for package in ("compare", "proposal")
    for path in sorted((REPO / package).rglob("*.py"))
    if "office" not in path.relative_to(REPO).parts
]


def office_imports(source: str) -> list[int]:
    """Lines that import, or name as a module in text, the office package or its data."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [f"{node.module or ''}.{alias.name}" for alias in node.names]
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            names = [node.value] if node.value.startswith(("compare.office", "compare.data.office")) else []
        else:
            continue
        if any(name.startswith(("compare.office", "compare.data.office")) for name in names):
            found.append(node.lineno)
    return found


def test_customer_side_has_files_to_look_at():
    assert any(path.name == "price_list.py" for path in CUSTOMER_SIDE)


@pytest.mark.parametrize("path", CUSTOMER_SIDE, ids=lambda p: str(p.relative_to(REPO)))
def test_no_import_of_the_office(path):
    assert office_imports(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "leak",
    [
        "import compare.office.cost_book",
        "from compare.office import cost_book",
        "from compare import office",
        "from compare.data.office import x",
        "import importlib\nimportlib.import_module('compare.office.cost_book')",
        "packaged('compare.data.office', 'cost_book.csv')",
    ],
)
def test_the_search_finds_a_planted_import(leak):
    assert office_imports(leak)


PRICING = """
import sys
opened = []
sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event == "open" else None)
from compare.prices.job import IndoorItem, IndoorKind, JobDescription, OutdoorItem
from compare.prices.price_list import load_price_list, price
from compare.prices.takeoff import take_off
job = JobDescription((IndoorItem("a", IndoorKind.WALL, 9, "o", 6.0),), (OutdoorItem("o", 9),))
assert price(take_off(job), load_price_list()).mid_usd > 0
{leak}
assert any("price_list.csv" in name for name in opened)
bad = [name for name in opened if "office" in name] + [name for name in sys.modules if "compare.office" in name]
print(bad)
"""


@pytest.mark.parametrize(("leak", "clean"), [("", True), ("import compare.office.cost_book", False)])
def test_pricing_opens_nothing_of_the_office(leak, clean):
    command = [sys.executable, "-B", "-c", PRICING.format(leak=leak)]
    done = subprocess.run(command, cwd=REPO, capture_output=True, text=True, check=True)
    assert (done.stdout.strip() == "[]") is clean
