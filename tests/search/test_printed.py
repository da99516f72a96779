"""What `compare` and `layouts` print: sums that add up, a reason for each layout left out, every part there."""

from __future__ import annotations

import csv
import io
import json
import re

import pytest

from compare.commands.layout_lines import count_lines, layouts_csv, offer_lines, proof_sentence, rejected_lines
from compare.commands.page import Printed
from compare.commands.tables import comparison_json, comparison_text
from compare.every_layout import with_best
from compare.pipeline import Comparison
from compare.scoring.curve_table import curves_table, curves_text
from compare.scoring.shown import families
from compare.scoring.weights import profiles
from compare.scoring.worries import worries


@pytest.fixture(scope="module")
def proven(unit: Comparison) -> Comparison:
    return with_best(unit)


@pytest.fixture(scope="module")
def text(proven: Comparison) -> str:
    return comparison_text(proven)


def part(text: str, start: str) -> list[str]:
    """Lines of a part, its head first."""
    found = [block.splitlines() for block in text.split("\n\n") if block.startswith(start)]
    assert len(found) == 1, start
    return found[0]


def test_points_lost_add_up_to_the_totals(proven: Comparison, text: str) -> None:
    page = Printed.of(proven, 0)
    totals = {page.letters[item.option.option_id]: item.total for item in page.listed if item.place}
    first = page.letters[page.ranking.winner.option.option_id]
    rows = part(text, "Points of the total lost")[2:-1]
    assert len(rows) == len(totals) - 1
    for row in rows:
        letter, *numbers = row.split()[:8]
        lost = [float(number) for number in numbers]
        assert lost[-1] == pytest.approx(totals[first] - totals[letter], abs=0.051)
        assert sum(lost[:-1]) == pytest.approx(lost[-1], abs=0.31)


def test_a_dominated_option_says_by_what(unit: Comparison) -> None:
    """With every place listed, each option is in the front or names one that is."""
    page = Printed.of(unit, 1000)
    rows = part(comparison_text(unit, 1000), "Points of the total lost")
    front = set(re.findall(r"[A-Z]\d*", rows[-1].partition(":")[2]))
    for row in rows[2:-1]:
        letter, tail = row.split()[0], row.rpartition("  ")[2]
        if tail.startswith("by none"):
            assert letter in front
        else:
            assert letter not in front
            named = re.findall(r"[A-Z]\d*\b", tail)
            assert named
            assert set(named) <= front
    assert len(rows) - 2 == sum(item.place > 0 for item in page.listed)


def test_every_family_every_profile_and_every_question_is_told(proven: Comparison, text: str) -> None:
    listed = {item.option.family for item in Printed.of(proven, 0).listed}
    known = {result.score.family for result in proven.results}
    assert {family.family for family in families() if family.always} & known <= listed
    told = part(text, "Best under other priorities")
    assert [line.split("  ")[1] for line in told[2:]] == [profile.weights.name for profile in profiles()]
    asked = part(text, "What families ask")[1:]
    assert len(asked) == len(worries())
    for line, worry in zip(asked, worries(), strict=True):
        assert line.strip().startswith(worry.question)


def test_answers_stand_in_the_file_as_data(unit: Comparison) -> None:
    body = json.loads(comparison_json(unit))
    assert [row["worry"] for row in body["answers"]] == [worry.worry for worry in worries()]
    assert all(row["text"] for row in body["answers"])


def test_the_mix_is_listed_with_one_and_with_two_outdoor_units(wing: Comparison) -> None:
    listed = Printed.of(wing, 0).listed
    outdoor = {item.option.measures.outdoor_units for item in listed if item.option.family == "mix"}
    assert 1 in outdoor
    assert max(outdoor) > 1


def test_near_ones_differ_in_kind(wing: Comparison) -> None:
    """No more than the always shown families, both forms of the mix, the winner, and three near ones."""
    always = sum(family.always for family in families())
    assert len(wing.shown(wing.rank())) <= always + 2 + 1 + 3


def test_counts_add_up(proven: Comparison) -> None:
    lines = list(count_lines(proven.proof))
    numbers = [(len(line) - len(line.lstrip()), int(line.split()[0].replace(",", ""))) for line in lines[1:-2]]
    shallow = min(indent for indent, _ in numbers)
    kinds = [number for indent, number in numbers if indent <= shallow + 2]
    assert sum(kinds) == proven.proof.enumerated
    assert sum(number for indent, number in numbers if indent > shallow + 4) == proven.proof.enumerated
    assert f"all {proven.proof.enumerated:,} layouts" in proof_sentence(proven.proof)


def test_every_layout_left_out_keeps_its_reason(wing: Comparison) -> None:
    """Of the families and of every option of the enumeration."""
    for result in wing.results:
        if result.score.rejected:
            assert all(fault.text for fault in result.score.fatal)


def test_the_file_of_layouts_has_a_row_for_each(proven: Comparison) -> None:
    space = proven.space
    rows = list(csv.DictReader(io.StringIO(layouts_csv(proven, space))))
    assert [row["option"] for row in rows] == [option.key for option in space.options]
    for row, fatal in zip(rows, space.fatal, strict=True):
        assert bool(row["left_out"]) >= bool(fatal)
    assert any("left" in line.lower() for line in rejected_lines(proven, space))


def test_what_each_room_may_get_is_told(proven: Comparison) -> None:
    lines = "\n".join(offer_lines(proven.case.plan))
    assert all(room.name in lines for room in proven.case.plan.rooms)


def test_curves_are_printed_with_anchors_and_sources() -> None:
    text = curves_text()
    for row in curves_table():
        assert row.source, row.measure
        assert row.name in text
        assert row.value in text
