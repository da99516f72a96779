"""Reasons of random pairs with the number that decides taken away: the reason goes with it, and comes back with it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from compare.scoring.facts import Reason, facts
from compare.scoring.judgements import rulebook
from compare.scoring.measures import Measures
from compare.scoring.reasons import compare_two, reasons_for
from compare.scoring.scores import OptionScore, score_measures
from compare.scoring.weights import balanced
from tests.scoring.draws import options

NUMBERS = rulebook().numbers
ALL_OF_A_SUPPLY = ("source", "open_always", "open_ever", "heat_cover", "cool_cover")
ROOM_FIELDS = {
    "unserved": ALL_OF_A_SUPPLY,
    "on_heaters": ALL_OF_A_SUPPLY,
    "on_old_heat": ALL_OF_A_SUPPLY,
    "no_cooling": ALL_OF_A_SUPPLY,
    "heat_short": ("heat_cover",),
    "heat_oversize": ("heat_cover",),
    "cool_short": ("cool_cover",),
    "cool_oversize": ("cool_cover",),
    "bed_noise": ("bed_dba",),
    "seat_noise": ("seat_dba",),
    "morning": ("morning_c", "morning_drop_k"),
    "cold_hours": ("cold_frac",),
    "hot_hours": ("hot_frac",),
    "draught": ("draught_frac",),
}
OPTION_FIELDS = {
    "below_minimum": ("units",),
    "starts": ("units",),
    "outdoor_noise": ("outdoor_dba",),
    "damp": ("damp_frac",),
    "price": ("price", "price_ratio"),
    "energy": ("energy", "cop"),
    "bill": ("energy",),
    "visible_units": ("visible_units",),
    "outdoor_units": ("outdoor_units",),
}
"""What each fact rests on, written down a second time."""
LIMITS = {
    "bed_noise": ("bed_dba", 3.0),
    "seat_noise": ("seat_dba", 3.0),
    "cold_hours": ("cold_frac", NUMBERS.limit_share_frac),
    "hot_hours": ("hot_frac", NUMBERS.limit_share_frac),
    "draught": ("draught_frac", NUMBERS.limit_draught_frac),
}
"""Least differences of some facts whose number is better when lower."""


def healed(worse: OptionScore, better: OptionScore, reason: Reason, short: float = 0.0) -> OptionScore:
    """The worse option with the deciding numbers of the better one, or `short` of them above it."""
    measures, good = worse.measures, better.measures
    if not reason.rooms:
        fields = OPTION_FIELDS[reason.fact]
        return score_measures(replace(measures, **{field: getattr(good, field) for field in fields}))
    fields = ROOM_FIELDS[reason.fact]
    rooms = list(measures.rooms)
    for k in reason.rooms:
        taken = {field: getattr(good.rooms[k], field) for field in fields}
        if short:
            taken[fields[0]] += short
        rooms[k] = replace(rooms[k], **taken)
    return score_measures(replace(measures, rooms=tuple(rooms)))


def told(better: OptionScore, worse: OptionScore, reason: Reason) -> bool:
    """Whether the same fact is still given, of any of the same rooms."""
    found = [r for r in reasons_for(better, worse, balanced()) if r.fact == reason.fact]
    return any(not r.rooms or set(r.rooms) & set(reason.rooms) for r in found)


def test_every_fact_has_its_numbers_here() -> None:
    assert set(ROOM_FIELDS) | set(OPTION_FIELDS) == set(facts())


@settings(max_examples=25, deadline=None)
@given(options(2, 2))
def test_a_reason_goes_with_the_number_that_makes_it(pair: list[OptionScore]) -> None:
    for better, worse in (pair, pair[::-1]):
        for reason in reasons_for(better, worse, balanced()):
            assert told(better, worse, reason)
            assert not told(better, healed(worse, better, reason), reason)


@settings(max_examples=25, deadline=None)
@given(options(2, 2), st.floats(0.01, 0.99))
def test_a_difference_within_its_error_is_no_reason(pair: list[OptionScore], part: float) -> None:
    for better, worse in (pair, pair[::-1]):
        for reason in reasons_for(better, worse, balanced()):
            if reason.fact in LIMITS:
                _, limit = LIMITS[reason.fact]
                assert not told(better, healed(worse, better, reason, short=part * limit), reason)


@settings(max_examples=25, deadline=None)
@given(options(2, 2))
def test_both_sides_are_always_looked_at(pair: list[OptionScore]) -> None:
    """What speaks for the second is given as what speaks for the first would be, turned round."""
    one, other = pair
    there, back = compare_two(one, other, balanced()), compare_two(other, one, balanced())
    assert there.for_first == back.for_second
    assert there.for_second == back.for_first
    assert all(reason.better_id == other.option_id for reason in there.for_second)


@settings(max_examples=25, deadline=None)
@given(options(2, 2))
def test_an_option_against_itself_has_no_reasons(pair: list[OptionScore]) -> None:
    twin: Measures = replace(pair[0].measures, option_id="twin")
    assert reasons_for(pair[0], score_measures(twin), balanced()) == ()
