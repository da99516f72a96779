"""Score curves at every anchor, between them and outside, against values written down here by hand."""

from __future__ import annotations

import math

import pytest

from compare.scoring.curves import bundled_curves, parse_curves
from compare.scoring.judgements import rulebook
from compare.scoring.points import outdoor_points
from compare.scoring.tables import ScoringDataError

F = 1.0 / 1.8  # one degree Fahrenheit of difference, in kelvin

# measure, SI value, points. The anchors are our judgement except where a source stands beside the row.
ANCHORS = [
    *[(m, x, y) for m in ("M1", "M2") for x, y in (
        (0.0, 0), (0.60, 10),
        (0.80, 50),  # state whole-home rebate: at least 80 % of peak load
        (0.91, 80), (0.95, 90), (1.00, 100),
        (1.30, 100),  # ACCA Manual S 2014, variable speed, colder climates (second-hand)
        (2.0, 95), (3.0, 90), (5.0, 85),
    )],
    ("L1", 0.10, 100), ("L1", 0.40, 80), ("L1", 0.80, 50), ("L1", 1.00, 40),
    ("L2", 1000, 100), ("L2", 4000, 80), ("L2", 10000, 50), ("L2", 25000, 0),
    ("N1", 20, 100), ("N1", 25, 80),
    ("N1", 30, 50),  # WHO Guidelines for Community Noise 1999: bedroom 30 dB LAeq
    ("N1", 40, 0),
    ("N2", 25, 100), ("N2", 30, 80),
    ("N2", 35, 50),  # WHO 1999: living room 35 dB LAeq
    ("N2", 45, 0),
    ("N3", 35, 100), ("N3", 42, 80),
    ("N3", 50, 50),  # common US night ordinance
    ("N3", 60, 0),
    ("C1", 0.0, 100), ("C1", 2 * F, 80), ("C1", 5 * F, 50), ("C1", 11 * F, 0),
    *[(m, x, y) for m in ("C2", "C3") for x, y in ((0.005, 100), (0.02, 80), (0.08, 50), (0.25, 0))],
    ("C4", 0.10, 100), ("C4", 0.20, 80), ("C4", 0.30, 50),  # ISO 7730 classes A, B, C (second-hand)
    ("C4", 0.50, 0),
    ("C5", 0.03, 100), ("C5", 0.10, 80), ("C5", 0.25, 50), ("C5", 0.50, 0),
    ("E", 1.0, 0), ("E", 2.0, 50), ("E", 2.75, 80), ("E", 3.75, 100),
    ("V", 0, 100), ("V", 1, 85), ("V", 2, 70), ("V", 3, 50), ("V", 5, 20),
]  # fmt: skip


@pytest.mark.parametrize(("measure", "x", "points"), ANCHORS)
def test_anchor(measure: str, x: float, points: float) -> None:
    assert bundled_curves()[measure].points(x) == pytest.approx(points, abs=1e-9)


def test_every_anchor_of_the_table_is_checked_above() -> None:
    checked = {(m, round(x, 9)) for m, x, _ in ANCHORS}
    table = {
        (m, round(a.x_si, 9)) for m, curve in bundled_curves().items() if curve.form == "linear" for a in curve.anchors
    }
    assert table == checked


@pytest.mark.parametrize(
    ("measure", "x", "points"),
    [
        ("M1", 0.70, 30.0),  # half way from 10 to 50
        ("M1", 9.0, 85.0),  # flat beyond the last anchor
        ("L1", 0.0, 100.0),
        ("L1", 0.60, 65.0),
        ("L2", 7000.0, 65.0),
        ("L2", 40000.0, 0.0),
        ("N1", 35.0, 25.0),
        ("C1", 8 * F, 25.0),
        ("V", 4.0, 35.0),
        ("E", 0.8, 0.0),  # a furnace at 0.8 counts as COP 0.8
    ],
)
def test_between_and_outside_anchors(measure: str, x: float, points: float) -> None:
    assert bundled_curves()[measure].points(x) == pytest.approx(points, abs=1e-9)


@pytest.mark.parametrize(
    ("ratio", "points", "tolerance"),
    [
        (0.5, 100, 1e-9),
        (1.0, 100, 1e-9),
        (1.5, 80, 0.1),
        (2.0, 65.8, 1e-9),
        (2.75, 50, 0.1),
        (7.6, 0, 0.1),
        (20, 0, 1e-9),
    ],
)
def test_price_curve(ratio: float, points: float, tolerance: float) -> None:
    curve = bundled_curves()["K"]
    assert curve.points(ratio) == pytest.approx(points, abs=tolerance)
    by_formula = min(100.0, max(0.0, 100.0 - 34.2 * math.log2(ratio)))
    assert curve.points(ratio) == pytest.approx(by_formula, abs=1e-9)


def test_price_hurts_by_the_doubling() -> None:
    curve = bundled_curves()["K"]
    assert curve.points(1.0) - curve.points(2.0) == pytest.approx(curve.points(2.0) - curve.points(4.0))


@pytest.mark.parametrize(
    ("level", "limit", "points"),
    [(45, 45, 50), (55, 45, 0), (37, 45, 80), (30, 45, 100), (53, 60, 50 + 30 * 7 / 8), (50, math.nan, 50)],
)
def test_outdoor_curve_moves_with_the_local_limit(level: float, limit: float, points: float) -> None:
    assert outdoor_points(level, limit, rulebook()) == pytest.approx(points)


def test_a_measure_that_does_not_exist_has_no_points() -> None:
    with pytest.raises(ValueError, match="not a number"):
        bundled_curves()["N1"].points(math.nan)
    with pytest.raises(ValueError, match="above 0"):
        bundled_curves()["K"].points(0.0)


HEAD = "measure,form,x,unit,points,source,reason\n"


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("A,linear,1,ratio,10,s,\n", "at least two anchors"),
        ("A,linear,2,ratio,10,s,\nA,linear,1,ratio,20,s,\n", "x rising"),
        ("A,linear,1,ratio,10,s,\nA,linear,2,ratio,120,s,\n", "0 to 100"),
        ("A,cubic,1,ratio,10,s,\nA,cubic,2,ratio,20,s,\n", "form"),
        ("A,log2,1,ratio,10,s,\nA,linear,2,ratio,20,s,\n", "one form"),
        ("A,log2,0,ratio,10,s,\nA,log2,2,ratio,20,s,\n", "above 0"),
        ("A,linear,1,furlong,10,s,\nA,linear,2,furlong,20,s,\n", "furlong"),
        ("A,linear,nan,ratio,10,s,\n", "finite number"),
        ("A,linear,1,ratio\n", "cells for 7 columns"),
    ],
)
def test_a_wrong_table_is_refused(rows: str, words: str) -> None:
    with pytest.raises(ScoringDataError, match=words):
        parse_curves(HEAD + rows)
