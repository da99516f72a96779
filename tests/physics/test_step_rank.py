"""Layouts in the order of their scores, by hourly steps and by one-minute steps, over every fully served layout."""

from __future__ import annotations

import pytest
from scipy.stats import spearmanr

from compare.house.reading import read_house
from compare.offer import Sources, old_heat_rooms, options_of
from compare.physics.timestep import MINUTE_S, finer, finer_supplies, hourly
from compare.physics.year import simulate
from compare.pipeline import compare_case
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import rank
from compare.years import bench
from compare.years.case import prepare
from compare.years.gather import Shared
from compare.zones.layouts import Layer, all_layouts

BLOCK = 8
"""Layouts at once, to bound memory."""


def _by_minute(case, supplies):
    network, found = finer(case.network, MINUTE_S), []
    for first in range(0, len(supplies), BLOCK):
        block = supplies[first : first + BLOCK]
        flat = iter(finer_supplies([supply for layout in block for supply in layout], MINUTE_S))
        runs = simulate(network, [[next(flat) for _ in layout] for layout in block])
        found += [hourly(trace, MINUTE_S) for trace in runs]
    return found


def _totals(found, options):
    """Score of every option under the house's own priorities, from first runs with the common doors."""
    base = found.kit.base
    numbers = rulebook().numbers
    stand = bench.Bench(found.case, base.factory, found.season, numbers)
    ears = stand.ears(options, found.sources.units)
    shared = Shared(found.case, found.season, numbers, found.need, base.reference_usd, ears)
    scores = [stand.result(run, shared, settled=False).score for run in stand.first_runs(options)]
    ranked = {item.option.option_id: item.total for item in rank(scores, found.weights).ranked}
    return [ranked[option.key] for option in options]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "every"), [("ranch", 7), ("cabin", 1), ("vaulted_four", 3)])
def test_the_order_of_layouts_does_not_hang_on_the_step(name, every, scenarios, monkeypatch):
    # Own one-minute run: rank correlation of scores, all fully served layouts (or some, evenly picked), 0.999.
    # The colonial is not here: its layouts reach 0.997, because a sunny upper room crosses the limit of "too hot" in a
    # few hours when cooling starts within the hour (see the guide).
    found = compare_case(prepare(read_house(scenarios / f"{name}.toml"), scenarios), Sources.bundled())
    rows = all_layouts(found.case.plan, old_heat_rooms=old_heat_rooms(found.case), layers=frozenset([Layer.FULL]))
    made = options_of(found.case, found.sources, [row.layout for row in rows])
    options = [option for option in made if all(not group.shared for group in option.outdoor.groups)][::every]
    assert len(options) >= 40
    by_hour = _totals(found, options)
    monkeypatch.setattr(bench, "run_years", _by_minute)
    by_minute = _totals(found, options)
    assert by_hour != by_minute
    assert spearmanr(by_hour, by_minute)[0] >= 0.999
