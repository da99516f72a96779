"""Which documents the rows of this folder come from, and that there are enough of both."""

from __future__ import annotations

import ast
import csv
from pathlib import Path

HERE = Path(__file__).parent
ROWS = list(csv.DictReader((HERE / "documents.csv").read_text(encoding="utf-8").splitlines()))
KINDS = {"handbook", "standard", "test procedure", "research paper", "public data"}


def test_every_document_is_named_beside_its_rows():
    for row in ROWS:
        for module in row["modules"].split():
            text = (HERE / f"{module}.py").read_text(encoding="utf-8")
            assert row["named_as"] in text, (row["document"], module)


def test_at_least_ten_documents_of_the_right_kinds():
    assert len({row["document"] for row in ROWS}) >= 10
    assert {row["kind"] for row in ROWS} <= KINDS


def test_at_least_as_many_checks_as_promised():
    # Test functions alone; most hold many rows.
    functions = 0
    for file in HERE.glob("test_*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        functions += sum(isinstance(node, ast.FunctionDef) and node.name.startswith("test_") for node in ast.walk(tree))
    assert functions >= 120
