"""Reasons: what they say by hand, and that none is false or inside its error."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.house.plan import Use
from compare.scoring.aggregate import cycling
from compare.scoring.criteria import Criterion, Kind
from compare.scoring.evidence import Source
from compare.scoring.facts import Audience, Reason, facts
from compare.scoring.judgements import rulebook
from compare.scoring.option_facts import cycling_parts, price_differs
from compare.scoring.phrases import SI, show, templates
from compare.scoring.ranking import rank
from compare.scoring.reasons import (
    by_criterion,
    compare_two,
    for_audience,
    reason_sentence,
    reasons_for,
    where_it_loses,
    winner_against,
)
from compare.scoring.room_facts import ROOM_FACTS
from compare.scoring.scores import OptionScore, score_option
from compare.scoring.season import season
from compare.scoring.weights import Weights, balanced, make_weights, profiles
from tests.scoring.builders import calendar, energy, evidence, price, room, unit
from tests.scoring.draws import options

NUMBERS = rulebook().numbers
YEAR = season(calendar(), NUMBERS)


def scored(option_id: str = "a", **other) -> OptionScore:
    return score_option(evidence(option_id, **other), YEAR)


def rooms(**bedroom):
    return (room("Living", Use.LIVING), room("Bedroom 1", **bedroom), room("Bedroom 2", **bedroom))


def found(better: OptionScore, worse: OptionScore, weights: Weights | None = None) -> dict[str, Reason]:
    return {reason.fact: reason for reason in reasons_for(better, worse, weights or balanced())}


def test_equal_options_have_nothing_to_say() -> None:
    assert reasons_for(scored("a"), scored("b"), balanced()) == ()


def test_cold_bedrooms_by_hand() -> None:
    warm, cold = scored("a"), scored("b", rooms=rooms(air_f=60.0))
    reason = found(warm, cold)["morning"]
    pair = reason.pairs[0]
    assert pair.better * 1.8 + 32 == pytest.approx(70.0)
    assert pair.worse * 1.8 + 32 == pytest.approx(60.0)
    assert reason.room_names == ("Bedroom 1", "Bedroom 2")
    assert reason.points == pytest.approx(0.30 * (warm.score(Criterion.COMFORT) - cold.score(Criterion.COMFORT)))
    assert reason_sentence(reason, "The mix", "One wall unit") == (
        "On the coldest mornings Bedroom 1 is at 70 °F with The mix, at 60 °F with One wall unit."
        " 1 more in the same way: Bedroom 2."
    )
    assert "21.1 °C" in reason_sentence(reason, "a", "b", SI)
    assert found(cold, warm) == {}


@pytest.mark.parametrize(("air_f", "told"), [(64.9, True), (65.1, False)])
def test_a_temperature_inside_one_degree_is_no_reason(air_f: float, told: bool) -> None:
    # target 66 degF
    better, worse = scored("a", rooms=rooms(air_f=66.0)), scored("b", rooms=rooms(air_f=air_f))
    assert ("morning" in found(better, worse)) is told


@pytest.mark.parametrize(("level", "told"), [(28.1, True), (27.9, False)])
def test_noise_inside_3_db_is_no_reason(level: float, told: bool) -> None:
    assert ("bed_noise" in found(scored("a"), scored("b", rooms=rooms(level=level)))) is told


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (6000.0, 6900.0, False),  # 13 % but under $1,000
        (27000.0, 28500.0, False),  # $1,500 but under 7 %
        (16000.0, 17300.0, True),
        (14000.0, 15001.0, False),  # 6.7 %
        (10000.0, 11001.0, True),
    ],
)
def test_price_must_exceed_both_limits(one: float, other: float, told: bool) -> None:
    assert price_differs(one, other, NUMBERS) is told
    assert ("price" in found(scored("a", price=price(one)), scored("b", price=price(other)))) is told


@pytest.mark.parametrize(("kwh", "told"), [(4400.0, False), (4450.0, True)])
def test_energy_inside_10_percent_is_no_reason(kwh: float, told: bool) -> None:
    assert ("energy" in found(scored("a"), scored("b", energy=energy(kwh)))) is told


@pytest.mark.parametrize(("load", "told"), [(1300.0, False), (900.0, True)])
def test_hours_below_minimum_need_10_points(load: float, told: bool) -> None:
    full = scored("a", compressors=(unit(load_w=1300.0),))
    other = scored("b", compressors=(unit(load_w=load),))
    assert ("below_minimum" in found(full, other)) is told


def test_starts_need_a_factor_of_one_and_a_half() -> None:
    calm = scored("a", compressors=(unit(heat_capacity_j_k=2.0e6),))
    near = scored("b", compressors=(unit(heat_capacity_j_k=2.0e6 / 1.45),))
    far = scored("c", compressors=(unit(heat_capacity_j_k=2.0e6 / 1.55),))
    assert "starts" not in found(calm, near)
    assert found(calm, far)["starts"].pairs[0].worse == pytest.approx(1.55 * found(calm, far)["starts"].pairs[0].better)


def test_cycling_parts_sum_to_the_score() -> None:
    option = scored("a", compressors=(unit(), unit("Two", load_w=1500.0), unit("Three", load_w=100.0)))
    assert sum(cycling_parts(option.points, NUMBERS)) == pytest.approx(cycling(option.points, NUMBERS))


def test_rooms_on_heaters() -> None:
    served = scored("a")
    heated = scored("b", rooms=rooms(source=Source.HEATER, cool_cover_frac=math.nan, heat_cover_frac=math.nan))
    reasons = found(served, heated)
    assert reasons["on_heaters"].pairs[0].worse == 2.0
    assert reasons["no_cooling"].room_names == ("Bedroom 1", "Bedroom 2")
    # heating: 2000 of 3000 W at 40; cooling share 1000/11000 kept at 0.2; 1600 of 2400 W at 0
    assert reasons["on_heaters"].criterion_points == pytest.approx(0.8 * 60 * 2 / 3)
    assert reasons["no_cooling"].criterion_points == pytest.approx(0.2 * 100 * 2 / 3)
    text = reason_sentence(reasons["on_heaters"], "Mix", "Heaters")
    assert text == "2 rooms on room heaters with Heaters: Bedroom 1 and Bedroom 2. Mix heats them by heat pump."


def test_short_and_oversized_units() -> None:
    right = scored("a")
    short = scored("b", rooms=rooms(heat_cover_frac=0.80, cool_cover_frac=0.85))
    large = scored("c", rooms=rooms(heat_cover_frac=4.0, cool_cover_frac=5.0))
    assert {"heat_short", "cool_short"} <= found(right, short).keys()
    assert {"heat_oversize", "cool_oversize"} <= found(right, large).keys()
    assert found(right, large)["heat_oversize"].audience is Audience.DESIGNER
    reasons = reasons_for(right, large, balanced())
    assert "heat_oversize" not in {reason.fact for reason in for_audience(reasons, Audience.EVERYONE)}
    assert for_audience(reasons, Audience.DESIGNER) == reasons


def test_where_the_winner_loses() -> None:
    best = scored("a", price=price(16000.0), outdoor_units=2)
    cheap = scored("b", price=price(9000.0), rooms=rooms(air_f=63.0))
    thrifty = scored("c", price=price(15800.0), energy=energy(3300.0), rooms=rooms(air_f=63.5))
    cold = scored("d", price=price(6000.0), rooms=rooms(air_f=50.0))
    ranking = rank([best, cheap, thrifty, cold], make_weights("comfort", {Criterion.COMFORT: 1.0}))
    assert ranking.winner is not None
    assert ranking.winner.option.option_id == "a"
    lost = {reason.fact: reason.better_id for reason in where_it_loses(best, [best, cheap, thrifty, cold], balanced())}
    assert lost["price"] == "b"  # the cheaper one is rejected and does not count
    assert lost["energy"] == "c"
    against = winner_against(ranking, [best, cheap, thrifty, cold])
    assert [item.second_id for item in against] == ["b", "c", "d"]
    assert against[2].second_faults[0].code == "cold_bedroom"


def test_facts_without_a_score_come_last() -> None:
    first = scored("a", outdoor_units=1, visible_units=1)
    second = scored("b", outdoor_units=4, visible_units=5, price=price(20000.0))
    reasons = reasons_for(first, second, balanced())
    assert [reason.fact for reason in reasons] == ["price", "visible_units", "outdoor_units"]
    assert [reason.points > 0 for reason in reasons] == [True, False, False]
    assert not reasons[-1].scored
    assert list(by_criterion(reasons)) == [Criterion.COST, Criterion.SIGHT]


def test_options_of_two_houses_cannot_be_compared() -> None:
    with pytest.raises(ValueError, match="same rooms"):
        compare_two(scored("a"), scored("b", rooms=(room("Other"),)), balanced())


def test_every_fact_has_a_sentence_and_a_rule() -> None:
    told = set(templates()["reasons"]) - {"also"}
    by_rooms = {rule.fact for rule in ROOM_FACTS}
    rest = set(OPTION_CLAIMS)
    assert set(facts()) == told == by_rooms | rest
    assert {fact.fact for fact in facts().values() if fact.criterion is None} == {"outdoor_units", "bill"}


# What each fact claims, written down a second time: the number (higher is better) and its least difference.
ROOM_VALUES = {
    "bed_noise": (lambda r: -r.bed_dba, 3.0),
    "seat_noise": (lambda r: -r.seat_dba, 3.0),
    "morning": (lambda r: r.morning_c, 1.0 / 1.8),
    "cold_hours": (lambda r: -r.cold_frac, 0.03),
    "hot_hours": (lambda r: -r.hot_frac, 0.03),
    "draught": (lambda r: -r.draught_frac, 0.05),
    "heat_short": (lambda r: r.heat_cover, 0.10),
    "cool_short": (lambda r: r.cool_cover, 0.10),
    "heat_oversize": (lambda r: -r.heat_cover, 0.10),
    "cool_oversize": (lambda r: -r.cool_cover, 0.10),
}
KEEPS_HEAT = {Source.SERVED, Source.HEATER, Source.OLD_HEAT}


def _carried(r) -> bool:
    return r.source is Source.SERVED or r.open_always


def _room_claim(reason: Reason, good, bad) -> bool:
    match reason.fact:
        case "on_heaters" | "on_old_heat":
            source = Source.HEATER if reason.fact == "on_heaters" else Source.OLD_HEAT
            return bad.source is source and not bad.open_always and _carried(good)
        case "no_cooling":
            return _carried(good) and not _carried(bad)
        case "unserved":
            kept = [r.source in KEEPS_HEAT or r.open_always for r in (good, bad)]
            return kept == [True, False]
    value, least = ROOM_VALUES[reason.fact]
    return value(good) - value(bad) > least


def _worst(measures, field: str) -> float:
    return max(getattr(u, field) for u in measures.units)


# Is the claim true of the better and the worse option's measures?
OPTION_CLAIMS = {
    "below_minimum": lambda good, bad: _worst(bad, "below_min_frac") - _worst(good, "below_min_frac") > 0.10,
    "starts": lambda good, bad: _worst(bad, "starts_per_y") > 1.5 * _worst(good, "starts_per_y"),
    "outdoor_noise": lambda good, bad: bad.outdoor_dba - good.outdoor_dba > 3.0,
    "damp": lambda good, bad: bad.damp_frac - good.damp_frac > 0.03,
    "price": lambda good, bad: bad.price.mid_usd - good.price.mid_usd > max(1000.0, 0.07 * bad.price.mid_usd),
    "energy": lambda good, bad: (
        good.energy.equal_service_kwh < 0.9 * bad.energy.equal_service_kwh and good.cop > bad.cop
    ),
    "bill": lambda good, bad: good.energy.bill_usd < 0.9 * bad.energy.bill_usd,
    "visible_units": lambda good, bad: good.visible_units < bad.visible_units,
    "outdoor_units": lambda good, bad: good.outdoor_units < bad.outdoor_units,
}


@settings(max_examples=150, deadline=None)
@given(options(2, 2), st.sampled_from(profiles()))
def test_no_reason_is_false_or_inside_its_error(pair: list[OptionScore], profile) -> None:
    one, other = pair
    for better, worse in ((one, other), (other, one)):
        reasons = reasons_for(better, worse, profile.weights)
        order = [reason.points for reason in reasons]
        assert order == sorted(order, reverse=True)
        for reason in reasons:
            assert reason.better_id == better.option_id
            good, bad = better.measures, worse.measures
            if reason.rooms:
                assert all(_room_claim(reason, good.rooms[k], bad.rooms[k]) for k in reason.rooms)
            else:
                assert OPTION_CLAIMS[reason.fact](good, bad)
            assert reason.points >= 0.0
            assert not reason.scored or reason.criterion_points >= 1.0
            assert reason.criterion_points <= 100.0
            assert all(math.isfinite(p.better) and math.isfinite(p.worse) for p in reason.pairs)
            shown = [show(value, reason.pairs[0].kind) for value in (reason.pairs[0].better, reason.pairs[0].worse)]
            assert shown[0] != shown[1], (reason.fact, shown)


@settings(max_examples=60, deadline=None)
@given(options(2, 2))
def test_a_fact_cannot_speak_for_both_sides_of_one_room(pair: list[OptionScore]) -> None:
    first = {(r.fact, room) for r in reasons_for(pair[0], pair[1], balanced()) for room in (r.rooms or (-1,))}
    second = {(r.fact, room) for r in reasons_for(pair[1], pair[0], balanced()) for room in (r.rooms or (-1,))}
    assert not first & second


@settings(max_examples=60, deadline=None)
@given(options(2, 2), st.sampled_from(profiles()))
def test_the_numbers_of_the_first_room_are_told(pair: list[OptionScore], profile) -> None:
    fields = {"morning": "morning_c", "bed_noise": "bed_dba", "draught": "draught_frac", "hot_hours": "hot_frac"}
    for reason in reasons_for(pair[0], pair[1], profile.weights):
        if reason.fact in fields:
            index = reason.rooms[0]
            told = (reason.pairs[0].better, reason.pairs[0].worse)
            assert told == tuple(getattr(o.measures.rooms[index], fields[reason.fact]) for o in pair)
            assert reason.room_names[0] == f"Room {index}"


def test_a_weight_of_nothing_leaves_the_fact_without_points() -> None:
    alone = make_weights("energy", {Criterion.ENERGY: 1.0})
    reason = found(scored("a"), scored("b", price=price(20000.0)), alone)["price"]
    assert reason.points == 0.0
    assert reason.criterion_points > 20.0


@pytest.mark.parametrize(
    ("value", "kind", "text"),
    [
        (20.0, Kind.TEMPERATURE, "68 °F"),
        (5.0 / 9.0, Kind.DIFFERENCE, "1 °F"),
        (0.123, Kind.SHARE, "12 %"),
        (26.4, Kind.LEVEL, "26 dB(A)"),
        (12345.0, Kind.STARTS, "12,300 starts"),
        (15960.0, Kind.MONEY, "$16,000"),
        (705.0, Kind.MONEY, "$700"),
        (4321.0, Kind.ENERGY, "4,300 kWh"),
        (1.0, Kind.ROOMS, "1 room"),
        (3.0, Kind.UNITS, "3 units"),
        (2.345, Kind.RATIO, "2.35"),
        (2.26, Kind.STARTS_H, "2.3 starts"),
        (6.0, Kind.COUNT, "6"),
    ],
)
def test_numbers_as_text(value: float, kind: Kind, text: str) -> None:
    assert show(value, kind) == text


def test_rooms_must_be_in_the_same_order() -> None:
    one = scored("a")
    turned = replace(one, measures=replace(one.measures, option_id="b", rooms=one.measures.rooms[::-1]))
    with pytest.raises(ValueError, match="same rooms"):
        reasons_for(one, turned, balanced())
