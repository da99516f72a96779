"""What is tried with a house: what is run again, what only counts anew, what is kept, and who goes first."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house
from compare.units import System
from dashboard import trials as module
from dashboard.habits import Habit, with_value
from dashboard.house import PHYSICAL, House
from dashboard.session import Question, WhatIf
from dashboard.trials import MOST_HELD, Trials

pytestmark = pytest.mark.slow
HOUSE = "accessory_unit.toml"


@pytest.fixture(scope="module")
def first(scenarios: Path) -> Comparison:
    return compare_house(read_house(scenarios / HOUSE), scenarios)


@pytest.fixture
def house(scenarios: Path) -> House:
    return House(read_house(scenarios / HOUSE), scenarios, 0)


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """Ids of the options that were run at other set points, call by call."""
    seen: list[list[str]] = []
    really = module.at_set_points

    def counted(found: Comparison, heating_c: float, cooling_c: float, ids: list[str], told: Any) -> Comparison:
        seen.append(list(ids))
        return really(found, heating_c, cooling_c, ids, told)

    monkeypatch.setattr(module, "at_set_points", counted)
    return seen


@pytest.fixture
def tried(house: House, first: Comparison) -> Trials:
    found = Trials(house, lambda *_asked: pytest.fail("the house is compared anew"))
    found.keep(house.question.on & PHYSICAL, first)
    return found


def told(*_far: object) -> None:
    """Nobody watches."""


def with_number(question: Question, habit: Habit, value: float) -> Question:
    assert question.habits is not None
    return replace(question, habits=with_value(question.habits, habit, value, System.US))


def test_set_points_run_the_options_that_are_shown_and_once(
    tried: Trials, house: House, first: Comparison, runs: list[list[str]]
) -> None:
    question = with_number(house.question, Habit.HEATING, 66.0)
    found = tried.found(question, told)
    shown = [item.option.option_id for item in first.shown(first.rank())]
    assert runs == [shown]
    assert found.case.house.comfort.heating_c == pytest.approx(18.889, abs=1e-3)
    assert tried.found(question, told) is found
    assert len(runs) == 1
    dearer = tried.found(question.with_stop("lower_price", 5).with_stop("warm_and_even", 1), told)
    assert set(dearer.by_id) >= set(found.by_id)
    again = {one for call in runs[1:] for one in call}
    assert not again & set(shown)


def test_what_is_run_under_the_same_numbers_is_the_comparison_itself(
    tried: Trials, house: House, first: Comparison, runs: list[list[str]]
) -> None:
    assert tried.found(house.question, told) is first
    typed = with_number(with_number(house.question, Habit.RATE, 30.0), Habit.RATE, 31.0)
    dear = tried.found(typed, told)
    assert runs == []
    assert [result.year for result in dear.results] == [result.year for result in first.results]
    assert dear.rank().winner.option.option_id == first.rank().winner.option.option_id  # type: ignore[union-attr]


def test_rates_and_cooling_join_set_points(tried: Trials, house: House, runs: list[list[str]]) -> None:
    question = with_number(with_number(house.question, Habit.COOLING, 78.0), Habit.RATE, 40.0)
    found = tried.found(question.flipped(WhatIf.COOL_BEDROOMS), told)
    assert found.case.house.rates.electricity_usd_kwh == pytest.approx(0.40)
    bedrooms = [room for result in found.results for room in result.score.measures.rooms if room.room.use == "bedroom"]
    assert {room.hot_frac for room in bedrooms if room.judged} <= {0.0}
    assert len(runs) == 1


def test_no_more_is_kept_than_allowed(tried: Trials, house: House, runs: list[list[str]]) -> None:
    for step in range(MOST_HELD + 3):
        tried.found(with_number(house.question, Habit.COOLING, 74.0 + step), told)
    assert len(tried._held) <= MOST_HELD
    tried.drop()
    assert not tried.at_hand(house.question)
    assert not tried._held


def test_what_needs_a_year_is_not_at_hand(tried: Trials, house: House, runs: list[list[str]]) -> None:
    question = with_number(house.question, Habit.HEATING, 65.0)
    assert tried.at_hand(house.question.with_stop("quiet", 5))
    assert tried.at_hand(with_number(house.question, Habit.RATE, 50.0))
    assert not tried.at_hand(question)
    tried.found(question, told)
    assert tried.at_hand(with_number(question, Habit.RATE, 50.0).flipped(WhatIf.COOL_BEDROOMS))
    assert not tried.at_hand(question.flipped(WhatIf.INSULATE_FIRST))
    assert len(runs) == 1


def test_what_the_house_does_not_offer_is_refused(house: House) -> None:
    without = {WhatIf.DOORS_SHUT, WhatIf.INSULATE_FIRST} - {offer.what for offer in house.offers} - house.question.on
    for what in without:
        with pytest.raises(ValueError, match="what-if"):
            house.check(house.question.flipped(what))
    house.check(house.question)
