"""The printed curves, weights and numbers hold everything that the tables hold."""

from __future__ import annotations

from compare.scoring.criteria import measure_infos
from compare.scoring.curve_table import curves_table, curves_text
from compare.scoring.curves import bundled_curves
from compare.scoring.tables import read_rows
from compare.scoring.weights import profiles


def test_every_anchor_is_printed_with_its_source() -> None:
    rows = curves_table()
    anchors = sum(len(curve.anchors) for curve in bundled_curves().values())
    assert len(rows) == anchors + 3  # the price curve also at 80, 50 and 0 points
    assert all(row.source for row in rows)
    assert {row.measure for row in rows} == set(bundled_curves())


def test_every_scored_measure_has_a_curve() -> None:
    assert {info.measure for info in measure_infos().values() if info.scored} == set(bundled_curves())


def test_text() -> None:
    text = curves_text()
    for words in ("our judgement", "WHO", "0.3 / 0.6 / 1 / 1.7 / 3", "heater credit", "C1 morning drop, for comfort"):
        assert words in text
    for profile in profiles():
        assert profile.weights.name in text
    for row in read_rows("defaults.csv"):
        assert row["name"].replace("_", " ") in text
    assert " diff" not in text.replace("differ", "")
    assert text == curves_text()
