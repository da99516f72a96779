"""L1 to L3 and the law of starts, by hand and against published rows."""

from __future__ import annotations

import numpy as np
import pytest

from compare.scoring.judgements import rulebook
from compare.scoring.season import season
from compare.scoring.unit_measures import measure_unit
from tests.scoring.builders import HOURS, calendar, flat, unit

NUMBERS = rulebook().numbers
YEAR = season(calendar(), NUMBERS)
BTU_H_W = 0.29307107
BTU_F_J_K = 1055.05585 * 1.8


def measured(found):
    return measure_unit(found, YEAR, NUMBERS)


def test_starts_by_hand() -> None:
    # Q_min 3,000 Btu/h, C 225 Btu/F, differential 1.5 F: N = 3000 / (4 x 225 x 1.5) = 2.222/h; x = 0.5 starts N an hour
    found = measured(unit(load_w=1500 * BTU_H_W, min_w=3000 * BTU_H_W, heat_capacity_j_k=225 * BTU_F_J_K))
    assert found.starts_per_y == pytest.approx(3000 / (4 * 225 * 1.5) * HOURS, rel=1e-6)
    assert found.mild_starts_per_h == pytest.approx(2.2222, rel=1e-4)
    assert found.below_min_frac == 1.0
    assert found.running_h == HOURS


@pytest.mark.parametrize(
    ("x", "cycles"),
    [(0.1, 1.08), (0.25, 2.25), (0.5, 3.00), (0.75, 2.25), (0.9, 1.08)],
)
def test_thermostat_law_rows(x: float, cycles: float) -> None:
    # Henderson and Rengarajan 1996 (read second-hand), N = 3 per hour: cycles an hour at run fraction x
    found = measured(unit(load_w=1000 * x, min_w=1000.0))
    assert found.law_starts_per_y / HOURS == pytest.approx(cycles, abs=0.005)


def test_four_heads_on_one_outdoor_unit_start_about_five_times_an_hour() -> None:
    # our minute-by-minute trial gave 4 to 5 starts/h at x = 0.4, the formula 5 (a 9 kBtu/h minimum, 132 ft2 rooms)
    found = measured(unit(load_w=3600 * BTU_H_W, min_w=9000 * BTU_H_W, heat_capacity_j_k=132 * BTU_F_J_K))
    most = min(9000 / (4 * 132 * 1.5), 6.0)
    assert found.mild_starts_per_h == pytest.approx(4 * most * 0.4 * 0.6, rel=1e-6)
    assert 4.0 <= found.mild_starts_per_h <= 6.0
    assert found.peak_starts_per_h > 6.0  # what it would do without its timer


def test_a_grouped_unit_starts_less_than_its_rooms_alone() -> None:
    alone = measured(unit(load_w=500.0, min_w=1000.0, heat_capacity_j_k=1.0e6))
    grouped = measured(unit(load_w=1500.0, min_w=3000.0, heat_capacity_j_k=3.0e6))
    modulating = measured(unit(load_w=1500.0, min_w=1000.0, heat_capacity_j_k=3.0e6))
    assert grouped.starts_per_y == pytest.approx(alone.starts_per_y)
    assert modulating.starts_per_y == 0.0
    assert modulating.below_min_frac == 0.0


def test_hours_below_minimum_count_running_hours_only() -> None:
    load = np.zeros(HOURS)
    load[:1000], load[1000:1400] = 500.0, 2000.0
    load[1400:1500] = 0.5  # rounding of the year, not a running hour
    found = measured(unit(heat_w=load, min_w=1000.0))
    assert found.running_h == 1400
    assert found.below_min_frac == pytest.approx(1000 / 1400)


def test_an_hour_with_both_modes_is_one_running_hour() -> None:
    heat, cool = np.zeros(HOURS), np.zeros(HOURS)
    heat[:10], cool[5:20] = 500.0, 5000.0
    found = measured(unit(heat_w=heat, cool_w=cool, min_w=1000.0))
    assert found.running_h == 20
    assert found.below_min_frac == pytest.approx(10 / 20)


def test_mild_day_looks_at_40_to_55_f_only() -> None:
    mild_f = YEAR.outdoor_c * 1.8 + 32.0
    load = np.where((mild_f >= 40.0) & (mild_f <= 55.0), 0.0, 500.0)
    assert measured(unit(heat_w=load)).mild_starts_per_h == 0.0


def test_a_unit_that_never_runs_has_no_bad_hours() -> None:
    found = measured(unit(load_w=0.0))
    assert (found.below_min_frac, found.starts_per_y, found.running_h) == (0.0, 0.0, 0.0)


def test_capacity_may_change_by_the_hour() -> None:
    one = measured(unit(heat_capacity_j_k=2.0e6))
    hourly = measured(unit(heat_capacity_j_k=flat(2.0e6)))
    assert one == hourly


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"heat_w": np.zeros(3)}, "heat_w has shape"),
        ({"cool_w": flat(-1.0)}, "cool_w must be finite and not below 0"),
        ({"heat_min_w": flat(np.nan)}, "heat_min_w"),
        ({"heat_capacity_j_k": 0.0}, "above 0"),
    ],
)
def test_broken_evidence_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        measured(unit(**change))
