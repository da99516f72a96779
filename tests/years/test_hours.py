"""Hours on demand: the same to the last digit as those that were scored, and no more of them held than asked for."""

from __future__ import annotations

import gc
import pickle
from collections.abc import Iterator
from dataclasses import replace
from itertools import repeat
from typing import Any

import numpy as np
import pytest

from compare.house.model import HouseFile
from compare.options.option import Option
from compare.pipeline import Comparison, compare_case
from compare.scoring.judgements import rulebook
from compare.scoring.scores import score_option
from compare.trials.pieces import pieces_of
from compare.trials.places import choices, within_room
from compare.trials.seats import with_moves
from compare.views.bands import unit_bands
from compare.whatif import at_rate, at_set_points
from compare.years import recent
from compare.years.bench import Bench, FreshYear
from compare.years.case import HouseCase
from compare.years.energy import bill_of
from compare.years.gather import OptionRun, Shared
from compare.years.hills import hills_of
from compare.years.kept import KeptYear
from compare.years.recent import MOST_RECENT, RecentHours
from compare.years.run import run_years, settle
from compare.years.sound import indoor_listening, outdoor_hours, outdoor_listening, unit_hours
from tests.houses import changed, compared, compared_text, evidence_at, scenario_text, supplies_of

UNIT, RANCH, CABIN = "accessory_unit", "ranch", "cabin"


def same(one: OptionRun, other: OptionRun) -> bool:
    """Whether rooms, supplies and power of two years agree in every bit."""
    return (
        np.array_equal(one.trace.room_c, other.trace.room_c)
        and np.array_equal(one.trace.supply_w, other.trace.supply_w)
        and np.array_equal(one.run.power_w, other.run.power_w)
    )


class Watched(Bench):
    """A bench that keeps the hours of every year that it gives to scoring."""

    seen: list[OptionRun]

    def result(self, fresh: FreshYear, shared: Shared, *, settled: bool, name: str | None = None):
        self.seen.append(fresh.run)
        return super().result(fresh, shared, settled=settled, name=name)


@pytest.fixture
def watched(monkeypatch: pytest.MonkeyPatch) -> list[OptionRun]:
    seen: list[OptionRun] = []
    monkeypatch.setattr(Watched, "seen", seen, raising=False)
    monkeypatch.setattr("compare.pipeline.Bench", Watched)
    return seen


def compared_again(name: str) -> Comparison:
    known = compared(name)
    return compare_case(known.case, known.sources)


@pytest.mark.parametrize(
    ("name", "settle_all"),
    [(UNIT, 64), (CABIN, 64), pytest.param(CABIN, 2, id="most with common doors")],
)
def test_hours_on_demand_are_those_that_were_scored(
    name: str, settle_all: int, watched: list[OptionRun], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Settled years, taken-over ones, and those of the common run, which come out so only beside their neighbours."""
    monkeypatch.setattr("compare.pipeline.SETTLE_ALL", settle_all)
    found = compared_again(name)
    scored = {run.option.key: run for run in watched}  # the last of each: settled ones replace their first run
    assert scored.keys() == found.by_id.keys()
    kinds = {(result.settled, any(g.shared for g in result.option.outdoor.groups)) for result in found.results}
    assert len(kinds) == (4 if settle_all == 2 else 2)
    for key, run in scored.items():
        assert same(found.hours(key), run), key


def test_a_settled_year_is_the_common_run_and_the_rounds_after_it() -> None:
    """By hand, without a bench: every option beside the others, then each with the doors of its own temperatures."""
    found = compared(UNIT)
    apart = [option for option in found.options if not any(group.shared for group in option.outdoor.groups)]
    supplies = [supplies_of(found.case, option) for option in apart]
    first = run_years(found.case, supplies)
    for option, own, trace in zip(apart, supplies, first, strict=True):
        by_hand, again = settle(found.case, own, trace), found.hours(option.key).trace
        np.testing.assert_array_equal(again.room_c, by_hand.room_c)
        np.testing.assert_array_equal(again.supply_w, by_hand.supply_w)


def test_measures_follow_from_the_hours_on_demand() -> None:
    found = compared(RANCH)
    for result in found.results:
        evidence = evidence_at(found, result.option.key)
        measures = score_option(evidence, found.season).measures
        energy = result.score.measures.energy
        told = replace(measures, energy=energy, cop=result.score.measures.cop)
        assert repr(told) == repr(result.score.measures)  # nan is not equal to itself
        assert evidence.energy.bill_usd == energy.bill_usd


def test_what_is_kept_follows_from_the_hours() -> None:
    found = compared(RANCH)
    cold, numbers = found.season.cold_days, rulebook().numbers
    night = found.season.in_hours(outdoor_listening(numbers))
    for result in found.results:
        run = found.hours(result.option.key)
        evidence = evidence_at(found, result.option.key)
        heard = [
            found.season.in_hours(indoor_listening(found.case.plan, found.ears[zone.key], numbers))
            for zone in result.option.zones
        ]
        assert all(mask.any() for mask in heard)
        assert result.year.hills == hills_of(found.case, result.option, evidence.compressors)
        for room, moments in enumerate(result.year.moments):
            days = evidence.rooms[room].air_c.reshape(-1, 24)[cold]
            assert (moments.morning_c, moments.evening_c) == (days[:, 6].mean(), days[:, 19].mean())
        for packed, hours, when in (
            *zip(result.year.heads, unit_hours(result.option, run.run.units), heard, strict=True),
            *zip(result.year.outdoor, outdoor_hours(run.run.units), repeat(night)),
        ):
            back = packed.unpacked()
            for field in ("fraction", "run_frac", "heating"):
                np.testing.assert_array_equal(getattr(back, field)[when], getattr(hours, field)[when])


@pytest.mark.parametrize("name", [UNIT, RANCH])
def test_what_moved_pieces_hear_is_what_the_hours_say(name: str) -> None:
    """From the hours that are kept of each unit, against all hours of the year gathered anew for the moved house."""
    found = compared(name)
    plan, north = found.case.plan, found.case.house.house.plan_north_deg
    for piece, stood in enumerate(pieces_of(plan)):
        places = [one.at_m for one in choices(plan, piece, north) if one.at_m != stood.at_m]
        if not places:
            continue
        moved = with_moves(found, [within_room(plan, piece, places[-1])])
        for result in moved.results:
            measures, key = result.score.measures, result.option.key
            told = score_option(evidence_at(moved, key), moved.season).measures
            assert repr(told.rooms) == repr(measures.rooms), key  # nan is not equal to itself
            assert repr(told.outdoor_dba) == repr(measures.outdoor_dba)


def test_bills_at_another_rate_are_those_of_the_hours() -> None:
    """Prices by time of use, and old heat that stays: power times price in every hour, as at first."""
    text = changed(scenario_text(RANCH), ("keep = false", "keep = true"))
    found = compared_text(f'{text}\n[[rate_period]]\nname = "peak"\nhours = "16-21"\nelectricity = 0.40\n')
    dear = at_rate(found, 2.5 * found.case.house.rates.electricity_usd_kwh)
    for result in dear.results:
        bill_usd = bill_of(dear.case.house, found.hours(result.option.key).run)
        assert result.score.measures.energy.bill_usd == pytest.approx(bill_usd, rel=1e-12)


def arrays_of(root: Any) -> Iterator[np.ndarray]:
    """Every array that a result alone keeps alive: not those of the house, nor of units and ducts."""
    seen, rest = set(), [root]
    while rest:
        one = rest.pop()
        if id(one) in seen or isinstance(one, (type, HouseCase, HouseFile, Option)):
            continue
        seen.add(id(one))
        if isinstance(one, np.ndarray):
            yield one if one.base is None else one.base
        else:
            rest += gc.get_referents(one)


def holds_hours(found: Comparison) -> int:
    """Options with a whole year of hours in memory."""
    hours = found.case.weather.hours
    return sum(any(hours in array.shape for array in arrays_of(result)) for result in found.results)


@pytest.mark.parametrize("name", [UNIT, RANCH])
def test_after_a_comparison_no_more_than_the_shown_options_hold_hours(name: str) -> None:
    found = compared_again(name)
    shown = len(found.shown(found.rank()))
    assert len(found.results) > shown
    assert holds_hours(found) + len(found.recent) <= shown
    assert found.customer_view().options
    assert all(unit_bands(found.case, result) for result in found.results)
    assert len(found.recent) == 0  # cards of all options need none


def test_what_an_option_keeps_is_a_tenth_of_its_hours() -> None:
    """By far the most of it: the hours in which a unit runs while somebody listens."""
    found = compared(RANCH)
    for result in found.results:
        kept = sum(array.nbytes for array in {id(a): a for a in arrays_of(result)}.values())
        run, evidence = found.hours(result.option.key), evidence_at(found, result.option.key)
        whole = sum(array.nbytes for array in {id(a): a for part in (run, evidence) for a in arrays_of(part)}.values())
        assert kept < 0.1 * whole


def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Ids of options whose years are run again from now on."""
    ran: list[str] = []
    again = KeptYear.again

    def count(self: KeptYear) -> OptionRun:
        ran.append(self.option.key)
        return again(self)

    monkeypatch.setattr(KeptYear, "again", count)
    return ran


def test_what_runs_over_all_options_runs_no_year_again(monkeypatch: pytest.MonkeyPatch) -> None:
    found = compared_again(UNIT)
    ran = counted(monkeypatch)
    comfort = found.case.house.comfort
    piece = next(n for n, _ in enumerate(pieces_of(found.case.plan)))
    at_m = choices(found.case.plan, piece, found.case.house.house.plan_north_deg)[-1].at_m
    at_rate(found, 0.3).customer_view()
    at_set_points(found, comfort.heating_c - 1.0, comfort.cooling_c, found.by_id).customer_view()
    with_moves(found, [within_room(found.case.plan, piece, at_m)]).customer_view()
    found.sampler.draw(found.results)
    assert ran == []


def test_the_latest_years_are_remembered_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    found = compared(RANCH)
    ran = counted(monkeypatch)
    held = RecentHours(3)
    keys = [option.key for option in found.options[:5]]
    for key in keys:
        held.of(found.by_id[key].year)
    assert ran == keys
    assert len(held) == 3
    held.of(found.by_id[keys[2]].year)
    assert ran == keys
    held.of(found.by_id[keys[0]].year)
    held.of(found.by_id[keys[2]].year)
    assert ran == [*keys, keys[0]]
    assert len(found.shown(found.rank())) <= MOST_RECENT, "the shown options fit"
    assert len(found.results) > recent.MOST_RECENT


def test_other_set_points_have_hours_of_their_own() -> None:
    found = compared(UNIT)
    comfort = found.case.house.comfort
    key = found.options[0].key
    lower = at_set_points(found, comfort.heating_c - 3.0, comfort.cooling_c, [key])
    living = lower.hours(key).trace.room_c[:, lower.by_id[key].option.zones[0].rooms[0]]
    before = found.hours(key).trace.room_c[:, lower.by_id[key].option.zones[0].rooms[0]]
    winter = found.case.weather.dry_bulb_c < -2.0
    assert living[winter].mean() < before[winter].mean() - 2.0
    energy = lower.by_id[key].score.measures.energy
    assert evidence_at(lower, key).energy.electricity_kwh == energy.electricity_kwh


def test_a_kept_year_runs_again_from_a_pickle() -> None:
    found = compared(UNIT)
    key = found.options[-1].key
    year = found.by_id[key].year
    other = pickle.loads(pickle.dumps(year))
    assert same(other.again(), found.hours(key))
