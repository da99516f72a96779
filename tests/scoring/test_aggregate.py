"""From points to scores, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from compare.house.plan import Use
from compare.scoring.aggregate import comfort, cycling, load_match, noise, weighted_mean, worst_and_mean
from compare.scoring.criteria import Criterion
from compare.scoring.evidence import Source
from compare.scoring.judgements import rulebook
from compare.scoring.measures import cover_frac, equal_service_cop, measure, price_ratio, readings, shared_cover_frac
from compare.scoring.points import Points, RoomPoints, UnitPoints, all_points, cool_points, heat_points
from compare.scoring.scores import score_option
from compare.scoring.season import season
from compare.scoring.weights import balanced, make_weights
from tests.scoring.builders import calendar, energy, evidence, price, room, unit

BOOK = rulebook()
NUMBERS = BOOK.numbers
YEAR = season(calendar(), NUMBERS)
NAN = math.nan


def a_room(index: int = 0, **other) -> RoomPoints:
    base = RoomPoints(
        index=index,
        habitable=True,
        regular=True,
        heat_load_w=1000.0,
        cool_load_w=1000.0,
        people_frac=1.0,
        sleepers=0.0,
        heat=100.0,
        cool=100.0,
        bed=NAN,
        seat=NAN,
        cold=100.0,
        hot=100.0,
        draught=100.0,
    )
    return replace(base, **other)


def points(*rooms: RoomPoints, **other) -> Points:
    base = Points(
        rooms=rooms or (a_room(),),
        units=(UnitPoints(100.0, 100.0, 1000.0),),
        outdoor=NAN,
        damp=NAN,
        cost=100.0,
        energy=100.0,
        sight=100.0,
        cool_share_frac=0.30,
    )
    return replace(base, **other)


def test_means() -> None:
    assert weighted_mean([(80.0, 1.0), (40.0, 3.0)]) == pytest.approx(50.0)
    assert weighted_mean([(80.0, 0.0), (40.0, 0.0)]) == pytest.approx(60.0)
    assert weighted_mean([(80.0, 1.0), (NAN, 9.0)]) == 80.0
    assert math.isnan(weighted_mean([]))
    assert worst_and_mean([20.0, 90.0], 60.0, 0.5) == pytest.approx(40.0)
    assert worst_and_mean([NAN], 60.0, 0.5) == 60.0


def test_load_match_by_design_load_and_share_of_the_year() -> None:
    living = a_room(heat_load_w=3000.0, cool_load_w=1000.0, heat=100.0, cool=90.0)
    bedroom = a_room(1, heat_load_w=1000.0, cool_load_w=1000.0, heat=40.0, cool=0.0)
    hall = a_room(2, habitable=False, heat_load_w=9e9, heat=NAN, cool=NAN)
    # heat (3 x 100 + 40) / 4 = 85; cool 45; 0.7 x 85 + 0.3 x 45
    assert load_match(points(living, bedroom, hall), NUMBERS) == pytest.approx(0.7 * 85 + 0.3 * 45)


@pytest.mark.parametrize(("share", "kept"), [(0.0, 0.2), (0.05, 0.2), (0.45, 0.45), (0.9, 0.6)])
def test_cooling_share_in_load_match_is_kept_within_limits(share: float, kept: float) -> None:
    found = load_match(points(a_room(heat=100.0, cool=0.0), cool_share_frac=share), NUMBERS)
    assert found == pytest.approx(100.0 * (1.0 - kept))


@pytest.mark.parametrize(
    ("source", "day", "night", "heat", "cool"),
    [
        (Source.SERVED, False, False, 90, 80),
        (Source.BORROWED, True, True, 90, 80),
        (Source.BORROWED, True, False, 0, 0),
        (Source.BORROWED, False, True, 0, 0),
        (Source.NOTHING, False, False, 0, 0),
        (Source.HEATER, False, False, 40, 0),
        (Source.HEATER, True, False, 40, 0),
        (Source.HEATER, True, True, 90, 80),
        (Source.OLD_HEAT, False, False, 40, 0),
    ],
)
def test_credit_of_a_room_by_its_source(source: Source, day: bool, night: bool, heat: float, cool: float) -> None:
    found = room(source=source, open_by_day=day, open_by_night=night, heat_cover_frac=0.95, cool_cover_frac=0.91)
    measured = measure(evidence(rooms=(found,)), YEAR, NUMBERS).rooms[0]
    assert heat_points(measured, BOOK) == pytest.approx(heat)
    assert cool_points(measured, BOOK) == pytest.approx(cool)


def test_a_room_heater_never_makes_a_room_worse() -> None:
    weak = room(source=Source.HEATER, open_by_day=True, open_by_night=True, heat_cover_frac=0.60)
    assert heat_points(measure(evidence(rooms=(weak,)), YEAR, NUMBERS).rooms[0], BOOK) == 40.0


def test_a_room_on_a_unit_needs_its_cover() -> None:
    with pytest.raises(ValueError, match=r"option a: Bedroom: heat_cover_frac is missing"):
        score_option(evidence(rooms=(room(heat_cover_frac=NAN),)), YEAR)


def test_cycling_half_worst_half_mean_by_heat() -> None:
    units = (UnitPoints(80.0, 100.0, 3000.0), UnitPoints(40.0, 50.0, 1000.0))  # 90 and 45
    mean = (3 * 90 + 45) / 4
    assert cycling(points(units=units), NUMBERS) == pytest.approx(0.5 * 45 + 0.5 * mean)


def test_noise_beds_seats_outdoors() -> None:
    rooms = (
        a_room(0, seat=70.0),
        a_room(1, bed=80.0, sleepers=2.0),
        a_room(2, bed=50.0, sleepers=1.0),
        a_room(3, bed=10.0, sleepers=0.1, regular=False),  # a guest room is never the worst
    )
    beds = 0.5 * 50 + 0.5 * (2 * 80 + 50 + 0.1 * 10) / 3.1
    expected = 0.60 * beds + 0.25 * 70 + 0.15 * 90
    assert noise(points(*rooms, outdoor=90.0), NUMBERS) == pytest.approx(expected)


def test_noise_without_seats_gives_their_weight_to_the_rest() -> None:
    found = noise(points(a_room(bed=80.0, sleepers=1.0), outdoor=40.0), NUMBERS)
    assert found == pytest.approx((0.60 * 80 + 0.15 * 40) / 0.75)
    with pytest.raises(ValueError, match="no level"):
        noise(points(a_room()), NUMBERS)


def test_comfort_by_hand() -> None:
    # cooling share 0.30: hot hours weigh 0.45
    good = a_room(0, cold=90.0, hot=80.0, draught=100.0, people_frac=0.75)
    bad = a_room(1, cold=20.0, hot=60.0, draught=80.0, people_frac=0.25)
    guest = a_room(2, cold=0.0, hot=0.0, draught=0.0, people_frac=0.0, regular=False)
    first = 0.85 * (0.55 * 90 + 0.45 * 80) + 0.15 * 100
    second = 0.85 * (0.55 * 20 + 0.45 * 60) + 0.15 * 80
    expected = 0.5 * second + 0.5 * (0.75 * first + 0.25 * second)
    assert comfort(points(good, bad, guest), NUMBERS) == pytest.approx(expected)


@pytest.mark.parametrize(("share", "kept"), [(0.0, 0.2), (0.1, 0.2), (0.2, 0.3), (0.6, 0.5)])
def test_weight_of_hot_hours(share: float, kept: float) -> None:
    found = comfort(points(a_room(cold=100.0, hot=0.0, draught=100.0), cool_share_frac=share), NUMBERS)
    assert found == pytest.approx(0.85 * 100 * (1.0 - kept) + 15)


def test_damp_hours_take_a_tenth_from_temperature() -> None:
    found = comfort(points(a_room(cold=80.0, hot=80.0, draught=60.0), damp=50.0), NUMBERS)
    assert found == pytest.approx(0.75 * 80 + 0.15 * 60 + 0.10 * 50)


def test_a_room_without_bed_or_seat_has_no_draught_part() -> None:
    assert comfort(points(a_room(cold=80.0, hot=80.0, draught=NAN)), NUMBERS) == pytest.approx(80.0)


def test_cold_is_the_lower_of_morning_and_hours() -> None:
    found = all_points(measure(evidence(rooms=(room(air_f=63.0),)), YEAR, NUMBERS), BOOK).rooms[0]
    # 3 degF under the target: C1 gives 70; every cool night hour is more than 2 degF under: C2 gives 0
    assert found.cold == 0.0
    found = all_points(measure(evidence(rooms=(room(air_f=64.5),)), YEAR, NUMBERS), BOOK).rooms[0]
    assert found.cold == pytest.approx(85.0)  # 1.5 degF under, no cold hour


def test_whole_option_by_hand() -> None:
    found = score_option(evidence(), YEAR)
    assert found.score(Criterion.MATCH) == 100.0
    # beds 25 dB(A) -> 80, seat 25 -> 100, outdoors 42 -> 80
    assert found.score(Criterion.NOISE) == pytest.approx(0.6 * 80 + 0.25 * 100 + 0.15 * 80)
    assert found.score(Criterion.COMFORT) == pytest.approx(100.0)
    assert found.score(Criterion.COST) == pytest.approx(65.8)  # twice the single head
    assert found.score(Criterion.ENERGY) == pytest.approx(80.0)  # 11000 / 4000 = 2.75
    # 600 of 1200 W: always below (40); N = 1200 x 3600 / (4 x 2e6 x 1.5 / 1.8), x = 0.5
    starts = 1200 * 3600 / (4 * 2.0e6 * 1.5 / 1.8) * 8760
    assert found.score(Criterion.CYCLING) == pytest.approx(0.5 * 40 + 0.5 * (80 - 30 * (starts - 4000) / 6000))
    parts = (15, 10, 15, 30, 20, 10)
    by_hand = sum(w * s for w, s in zip(parts, found.scores[:6], strict=True)) / 100
    assert found.total(balanced()) == pytest.approx(by_hand)
    alone = make_weights("energy only", {Criterion.ENERGY: 7.0})
    assert found.total(alone) == pytest.approx(80.0)


def test_cover_price_and_cop() -> None:
    assert cover_frac(3000.0, 2000.0, 0.8) == pytest.approx(1.2)
    assert cover_frac(3000.0, 0.0) == 1.0
    assert shared_cover_frac(1.4, 0.9) == 0.9
    assert price_ratio(price(15000.0, 5000.0)) == 3.0
    topped_up = energy(3300.0, equal_service_kwh=7200.0, equal_service_heat_kwh=9800.0, equal_service_cool_kwh=1000.0)
    assert equal_service_cop(topped_up) == pytest.approx(1.5)
    with pytest.raises(ValueError, match="delivered_frac"):
        cover_frac(1.0, 1.0, 1.1)
    with pytest.raises(ValueError, match="reference_usd"):
        price_ratio(price(15000.0, 0.0))
    with pytest.raises(ValueError, match="no COP"):
        equal_service_cop(energy(0.0))


def test_every_measure_is_a_plain_number() -> None:
    found = readings(measure(evidence(compressors=(unit("One"), unit("Two"))), YEAR, NUMBERS))
    assert {item.measure for item in found} == {
        *("M1", "M2", "M3", "L1", "L2", "L3", "N1", "N2", "N3", "C1", "C2", "C3", "C4", "K", "E", "V")
    }  # damp hours are left out: the weather cannot say
    assert [item.subject for item in found if item.measure == "L1"] == ["One", "Two"]
    assert all(math.isfinite(item.value) for item in found)


def test_an_option_without_an_outdoor_unit_is_refused() -> None:
    with pytest.raises(ValueError, match=r"option a: compressors is empty"):
        measure(evidence(compressors=()), YEAR)


def test_an_option_without_habitable_rooms_is_refused() -> None:
    with pytest.raises(ValueError, match="no habitable room"):
        score_option(evidence(rooms=(room("Hall", Use.HALL),)), YEAR)
