"""C1 to C4, N1 and N2 of a room, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from compare.house.plan import Bed, Use
from compare.scoring.evidence import Calendar
from compare.scoring.judgements import rulebook
from compare.scoring.room_measures import mean_level_dba, measure_room, weighted_sleepers
from compare.scoring.season import season
from tests.scoring.builders import HOURS, SLEEP, WORK, calendar, f_to_c, flat, plan, room

NUMBERS = rulebook().numbers
YEAR = season(calendar(), NUMBERS)
HOUR = np.arange(HOURS) % 24


def measured(found, year=YEAR):
    return measure_room(0, found, year, NUMBERS)


def test_morning_drop_is_the_mean_of_the_four_coldest_mornings() -> None:
    air = flat(f_to_c(70.0))
    for day, value_f in zip(YEAR.cold_days, (50.0, 52.0, 54.0, 56.0), strict=True):
        air[day * 24 + 6] = f_to_c(value_f)
    warm_day = int(np.argmax(YEAR.outdoor_c.reshape(-1, 24)[:, 6]))
    air[warm_day * 24 + 6] = f_to_c(30.0)  # a cold room on another morning does not count
    found = measured(room(air_c=air))
    assert found.morning_c * 1.8 + 32.0 == pytest.approx(53.0)
    assert found.morning_drop_k * 1.8 == pytest.approx(66.0 - 53.0)


def test_morning_drop_is_never_below_zero() -> None:
    assert measured(room(air_f=72.0)).morning_drop_k == 0.0


def test_each_room_is_held_against_its_own_target() -> None:
    found = measured(room(air_f=64.0, target_c=f_to_c(62.0)))
    assert found.morning_drop_k == 0.0
    assert measured(room(air_f=64.0)).morning_drop_k * 1.8 == pytest.approx(2.0)


def test_a_closed_study_is_read_in_its_own_hours() -> None:
    air = flat(f_to_c(50.0))  # cold at night, which is nobody's matter
    air[np.isin(HOUR, sorted(WORK))] = f_to_c(68.0)
    air[HOUR == 9] = f_to_c(63.0)  # when it is opened for the day
    found = measured(room("Study", Use.WORK, air_c=air))
    assert found.morning_c * 1.8 + 32.0 == pytest.approx(63.0)
    assert found.morning_drop_k * 1.8 == pytest.approx(5.0)
    # one of eight hours of use is more than 2 degF under 68
    used_cool = YEAR.in_hours(WORK) & YEAR.cool_enough
    assert found.cold_frac == pytest.approx(365 / used_cool.sum())


def test_cold_hours_count_against_hours_of_use_below_60_outdoors() -> None:
    air = flat(f_to_c(66.0))
    night = np.flatnonzero(YEAR.in_hours(SLEEP) & YEAR.cool_enough)
    air[night[:100]] = f_to_c(63.9)  # more than 2 degF under 66
    air[night[100:300]] = f_to_c(64.1)  # less
    day = np.flatnonzero(~YEAR.in_hours(SLEEP))
    air[day[:500]] = f_to_c(40.0)  # out of its hours
    assert measured(room(air_c=air)).cold_frac == pytest.approx(100 / night.size)


def test_hot_hours_count_against_the_warm_season() -> None:
    outdoor = np.full(HOURS, f_to_c(50.0))
    outdoor[24 * 150 : 24 * 250] = f_to_c(80.0)  # 100 warm days
    year = season(Calendar(outdoor), NUMBERS)
    air = flat(f_to_c(75.0))
    nights = np.flatnonzero(year.in_hours(SLEEP) & year.warm)
    assert nights.size == 900
    air[nights[:90]] = f_to_c(77.6)
    air[nights[90:180]] = f_to_c(77.4)
    assert measured(room(air_c=air), year).hot_frac == pytest.approx(0.10)
    assert measured(room(air_c=air, cool_set_c=f_to_c(70.0)), year).hot_frac == pytest.approx(1.0)


def test_without_any_warm_day_hot_hours_count_against_all_hours_of_use() -> None:
    year = season(Calendar(np.full(HOURS, 5.0)), NUMBERS)
    air = flat(f_to_c(70.0))
    air[np.flatnonzero(year.in_hours(SLEEP))[:9]] = f_to_c(90.0)
    assert measured(room(air_c=air), year).hot_frac == pytest.approx(9 / 3285)


def test_level_of_a_unit_that_runs_half_the_time() -> None:
    # ISO 1996-1 definition of the equivalent level: half the time at L, half silent, gives L - 3.01 dB
    found = mean_level_dba(np.array([30.0, -math.inf]))
    assert found == pytest.approx(30.0 - 10.0 * math.log10(2.0))


def test_pillow_level_is_the_95th_percentile_night() -> None:
    levels = flat(20.0)
    start = 22
    for night in range(30):  # 30 of 365 nights are louder: the 95th percentile lies in them
        levels[start + 24 * night : start + 24 * night + 9] = 33.0
    assert measured(room(bed_dba=levels)).bed_dba == pytest.approx(33.0)
    for night in range(15, 30):  # with 15 of 365 it does not
        levels[start + 24 * night : start + 24 * night + 9] = 20.0
    assert measured(room(bed_dba=levels)).bed_dba == pytest.approx(20.0)


def test_day_hours_do_not_reach_the_pillow() -> None:
    levels = np.where(np.isin(HOUR, sorted(SLEEP)), 22.0, 60.0)
    assert measured(room(bed_dba=levels)).bed_dba == pytest.approx(22.0)


def test_seat_is_judged_in_the_evening() -> None:
    levels = np.where((HOUR >= 17) & (HOUR < 22), 28.0, 50.0)
    assert measured(room("Living", Use.LIVING, seat_dba=levels)).seat_dba == pytest.approx(28.0)


def test_draught_is_the_worse_of_bed_and_seat() -> None:
    assert measured(room(bed_draught_frac=0.12, seat_draught_frac=0.21)).draught_frac == 0.21
    assert math.isnan(measured(room(bed_draught_frac=math.nan)).draught_frac)


def test_coldest_night_is_the_5th_percentile_of_the_coldest_3_percent() -> None:
    air = flat(20.0)
    where = YEAR.coldest(SLEEP, 0.03)
    air[where] = np.arange(where.size, dtype=float)  # 0 .. 98
    assert measured(room(air_c=air)).coldest_night_c == pytest.approx(0.05 * 98)
    assert math.isnan(measured(room("Living", Use.LIVING)).coldest_night_c)


def test_guests_weigh_a_tenth() -> None:
    bedroom = plan("Guest", sleepers=2.0, regular=False)
    assert weighted_sleepers(bedroom, NUMBERS) == pytest.approx(0.2)
    mixed = replace(plan("Room"), beds=(Bed(0, 0, 1.0, regular=True), Bed(1, 0, 1.0, regular=False)))
    assert weighted_sleepers(mixed, NUMBERS) == pytest.approx(1.1)


def test_a_hall_has_no_comfort_of_its_own() -> None:
    found = measured(room("Hall", Use.HALL))
    assert not found.judged
    assert math.isnan(found.cold_frac)
    assert math.isnan(found.morning_drop_k)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"air_c": np.zeros(10)}, "air_c has shape"),
        ({"air_c": flat(math.nan)}, "air_c holds values"),
        ({"bed_dba": flat(math.inf)}, "bed_dba holds values"),
        ({"heat_load_w": -1.0}, "heat_load_w"),
        ({"people_frac": math.nan}, "people_frac"),
    ],
)
def test_broken_evidence_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        measured(room(**change))
