"""Six questions of a new reader, answered by pages 1 and 2 alone.

`cold_read.csv` records three readings of those pages as pictures alone, by readers who knew nothing of the program (not
customers: still a weak test), what each answered, and what was rewritten before or after. Here the answers are looked
for in the text of the two pages; what they must be comes from the view.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pypdf
import pytest

from compare.views.customer import CustomerView
from proposal.document.build import build
from proposal.pdf import pdf_of
from tests.proposal.told_view import told_ranch, told_two_storey

VIEWS = {"ranch": told_ranch(), "two storeys": told_two_storey()}
RECORD = Path(__file__).with_name("cold_read.csv")


def two_pages(view: CustomerView) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf_of(build(view)))).pages[:2]
    return " ".join(" ".join(page.extract_text() for page in pages).replace("\u00a0", " ").split())


def family(view: CustomerView, wanted: str) -> object:
    return next((view.option(item) for item in view.cards if view.option(item).family == wanted), None)


@pytest.mark.parametrize("name", VIEWS)
def test_six_questions_are_answered_on_two_pages(name: str) -> None:
    view = VIEWS[name]
    text = two_pages(view)
    winner = view.option(view.answer.winner)
    assert f"${round(winner.facts.price_usd, -2):,.0f}" in text  # the price
    if "suit you equally" in text:
        assert "What would decide it" in text
        return
    assert "We recommend it" in text  # what is recommended
    assert "Where the mix loses" in text  # where it loses
    assert "What would change our advice" in text  # what would change it
    for other, question in (("single_head", "Why not just one"), ("head_each", "Why not a unit in each room?")):
        if family(view, other) is not None:
            assert question in text


def test_record_of_the_readings_holds_at_least_five_right_answers_each() -> None:
    with RECORD.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    readers = {row["reader"] for row in rows}
    assert len(readers) == 3
    for reader in readers:
        mine = [row for row in rows if row["reader"] == reader]
        assert len(mine) == 6
        assert sum(row["right"] == "yes" for row in mine) >= 5
