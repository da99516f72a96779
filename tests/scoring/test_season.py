"""Masks over the year, checked against a calendar built hour by hour in the standard library."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import pytest

from compare.house.plan import Use
from compare.scoring.evidence import Calendar
from compare.scoring.judgements import parse_judgements, rulebook
from compare.scoring.season import bed_hours, clock_hours, first_hour, season, seat_hours
from compare.scoring.tables import ScoringDataError, read_text
from tests.scoring.builders import LIVE, SLEEP, WORK, calendar, f_to_c, plan, year_c

NUMBERS = rulebook().numbers
NIGHT = clock_hours(22, 7)


def stamps() -> list[datetime]:
    start = datetime(2023, 1, 1)
    return [start + timedelta(hours=k) for k in range(8760)]


def test_night_and_evening_hours() -> None:
    assert clock_hours(22, 7) == SLEEP
    assert clock_hours(17, 22) == {17, 18, 19, 20, 21}
    assert len(clock_hours(0, 0)) == 24


def test_night_mask_against_time_stamps() -> None:
    mask = season(calendar(), NUMBERS).in_hours(NIGHT)
    expected = [stamp.hour >= 22 or stamp.hour < 7 for stamp in stamps()]
    assert mask.tolist() == expected
    assert mask.sum() == 9 * 365


@pytest.mark.parametrize(
    ("hours", "first"),
    [
        (SLEEP, 22),
        (LIVE, 7),
        (WORK, 9),
        (frozenset({6, 7, 19, 20, 21}), 19),
        (frozenset(range(24)), 0),
        (frozenset(), 0),
    ],
)
def test_first_hour_of_a_part_of_the_day(hours: frozenset[int], first: int) -> None:
    assert first_hour(hours) == first


def test_a_night_runs_from_evening_to_morning() -> None:
    year = season(calendar(), NUMBERS)
    hours = np.arange(8760.0)
    nights = year.by_turn(hours, SLEEP)
    assert nights.shape == (365, 9)
    assert nights[0].tolist() == [22, 23, 24, 25, 26, 27, 28, 29, 30]
    assert nights[-1].tolist() == [8758, 8759, 0, 1, 2, 3, 4, 5, 6]


def test_coldest_mornings_are_the_four_lowest_at_six() -> None:
    outdoor = np.full(8760, 10.0)
    for day, value in ((40, -9.0), (10, -12.0), (300, -7.0), (77, -8.0), (200, -6.0)):
        outdoor[day * 24 + 6] = value
    outdoor[120 * 24 + 3] = -40.0  # a spike at 3 a.m. is no cold morning
    assert season(Calendar(outdoor), NUMBERS).cold_days.tolist() == [10, 40, 77, 300]


def test_warm_season_is_days_with_a_mean_of_65_f() -> None:
    outdoor = np.full(8760, f_to_c(64.9))
    outdoor[24 * 100 : 24 * 101] = f_to_c(65.0) + 1e-9
    outdoor[24 * 101 : 24 * 102] = f_to_c(60.0)
    outdoor[24 * 101 + 14] = f_to_c(100.0)  # one hot hour does not make a warm day
    warm = season(Calendar(outdoor), NUMBERS).warm
    assert np.flatnonzero(warm).tolist() == list(range(2400, 2424))


def test_cool_enough_and_mild() -> None:
    outdoor = year_c()
    year = season(Calendar(outdoor), NUMBERS)
    outdoor_f = outdoor * 1.8 + 32.0
    assert (year.cool_enough == (outdoor_f < 60.0)).all()
    assert (year.mild == ((outdoor_f >= 40.0) & (outdoor_f <= 55.0))).all()


def test_coldest_share_of_night_hours() -> None:
    year = season(calendar(), NUMBERS)
    where = year.coldest(NIGHT, 0.03)
    night = year.in_hours(NIGHT)
    assert where.size == 99  # 3 % of 9 x 365 = 98.55
    assert night[where].all()
    rest = night.copy()
    rest[where] = False
    assert year.outdoor_c[where].max() <= year.outdoor_c[rest].min()


@pytest.mark.parametrize("outdoor", [np.zeros(25), np.zeros((2, 24)), np.array([]), np.full(24, np.nan)])
def test_a_broken_year_is_refused(outdoor: np.ndarray) -> None:
    with pytest.raises(ValueError, match="outdoor_c"):
        season(Calendar(outdoor), NUMBERS)


def test_hours_of_beds_and_seats() -> None:
    assert bed_hours(plan("bedroom"), NUMBERS) == SLEEP
    assert bed_hours(plan("day sleeper", use_hours=WORK), NUMBERS) == WORK
    assert bed_hours(plan("bedroom and study", use_hours=SLEEP | WORK), NUMBERS) == SLEEP
    assert bed_hours(plan("studio", Use.LIVING), NUMBERS) == SLEEP
    assert seat_hours(plan("living", Use.LIVING), NUMBERS) == {17, 18, 19, 20, 21}
    assert seat_hours(plan("study", Use.WORK), NUMBERS) == WORK


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda t: t.replace("tie_points,3", "tie_points,three"), "finite number"),
        (lambda t: t.replace("tie_points,", "tied_points,"), "missing tie_points"),
        (lambda t: t + "extra,1,points,s,\n", "not known: extra"),
        (lambda t: t + "tie_points,3,points,s,\n", "stands twice"),
        (lambda t: t.replace("cold_margin,2,°F diff", "cold_margin,2,°F"), "cold_margin_k"),
    ],
)
def test_a_wrong_judgement_is_refused(change, words: str) -> None:
    with pytest.raises(ScoringDataError, match=words):
        parse_judgements(change(read_text("defaults.csv")))
