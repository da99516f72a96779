"""What would change the answer, by other houses: envelope work first, doors; changes of the house confirmed in full."""

from __future__ import annotations

import numpy as np
import pytest

from compare.every_layout import with_best
from compare.pipeline import Comparison, compare_house
from compare.search.check import full_scores
from compare.search.flips import Flip
from compare.search.house_flips import PARTS, ladder
from compare.turning_points import _turned, anew, envelope_first, flips_of
from compare.whatif import ATTIC_U_W_M2K, doors_at_night


@pytest.fixture(scope="module")
def flips(unit: Comparison) -> dict[str, Flip]:
    return {flip.kind: flip for flip in flips_of(unit)}


def test_envelope_first_has_lower_loads_and_its_own_sizes(wing: Comparison) -> None:
    after = envelope_first(wing)
    assert after is not None
    assert after is envelope_first(wing)
    assert after.heat_w < wing.case.loads.house.heat_w
    assert after.options.keys() == {score.option_id for score in after.scores}
    best = after.best_of_kinds(wing.weights)
    assert len({item.option.family for item in best}) == len(best)
    assert [item.total for item in best] == sorted((item.total for item in best), reverse=True)

    def size(options) -> float:
        return sum(zone.pair.indoor.size_kbtuh for option in options.values() for zone in option.zones)

    same = {key: option for key, option in after.options.items() if key in wing.by_id}
    before = {key: wing.by_id[key].option for key in same}
    assert size(same) <= size(before)


def test_an_insulated_attic_has_nothing_to_work_out(unit: Comparison) -> None:
    house = unit.case.house
    fabric = house.fabric.model_copy(update={"ceiling_u_w_m2k": ATTIC_U_W_M2K / 2})
    assert envelope_first(unit) is not None
    done = compare_house(house.model_copy(update={"fabric": fabric}))
    after = envelope_first(done)
    assert after is None or after.heat_w < done.case.loads.house.heat_w


def test_one_door_is_turned_and_no_other(wing: Comparison) -> None:
    house = wing.case.house
    bedroom = next(room.name for room in wing.case.plan.rooms if room.use.value == "bedroom")
    other, after = _turned(house, bedroom)
    changed = [(a, b) for a, b in zip(house.doors, other.doors, strict=True) if a != b]
    assert changed
    assert all(bedroom in one.between for one, _ in changed)
    assert all(b.night_open_frac == after for _, b in changed)
    assert _turned(house, "no such room") == (None, 0.0)


def test_the_best_layouts_of_today_stand_in_the_changed_house(unit: Comparison) -> None:
    """Also one that only the enumeration has; and an unchanged house gives its own totals."""
    whole = with_best(unit)
    families = {option.layout.key for option in unit.options}
    only = next(item for item in whole.rank().ranked if item.place and item.option.option_id not in unit.by_id)
    assert whole.by_id[only.option.option_id].option.layout.key not in families
    again = anew(whole, whole.case.house)
    first = {item.option.family: item for item in reversed(whole.rank().ranked) if item.place}
    for item in first.values():
        key = item.option.option_id
        assert again.rank().find(key).total == pytest.approx(item.total, abs=1e-6)


@pytest.mark.slow
def test_a_door_flip_flips(unit: Comparison, flips: dict[str, Flip]) -> None:
    """Told as a change of all doors: the house with them so, compared anew, has that kind first."""
    flip = flips["doors"]
    other = compare_house(doors_at_night(unit.case.house, shut=flip.after == 0.0))
    assert other.rank(unit.weights).winner.option.option_id == flip.winner
    assert flip.family != unit.rank().winner.option.family


@pytest.mark.slow
def test_changes_of_the_house_hold_in_full_years(unit: Comparison, flips: dict[str, Flip]) -> None:
    """The house built anew with so much more or less loss has the named option before today's winner."""
    winner = unit.by_id[unit.rank().winner.option.option_id]
    told = [flip for flip in flips.values() if flip.kind in PARTS.values()]
    assert told
    for flip in told:
        draws = ladder(flip.subject)
        lane = int(np.argmin(np.abs(draws.factor[flip.subject] - flip.after)))
        pair = unit.by_id[flip.winner], winner
        totals = full_scores(unit.kit, pair, draws, lane) @ unit.weights.array
        assert totals[0] > totals[1] - 0.2, flip  # load match follows its own design loads there
