"""The measuring kernel against traces: the same scores, lane by lane, but for what it says that it leaves out."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from compare.equipment.performance import Mode
from compare.physics.year import simulate, step_matrices
from compare.pipeline import Comparison
from compare.scoring.criteria import CRITERIA, Criterion
from compare.search.lanes import Houses, Shake
from compare.search.machines import reach_line
from compare.search.points import Asked, lane_fatal, lane_scores
from compare.search.shaken import house_parts, link_parts, shaken_houses
from compare.search.strip import Lane
from compare.years.gather import OUTDOOR_LIMIT_DBA
from compare.years.heads import Outside, reaching
from compare.years.run import network_with
from compare.zones.attach import leaning_on

LEFT_OUT = {
    Criterion.COMFORT: 10.5,  # damp hours: a tenth of the comfort score
    Criterion.NOISE: 0.25,  # classes of the output range
    Criterion.ENERGY: 0.5,  # thermostats settle to 2 W, in single precision
    Criterion.CYCLING: 0.3,  # hours at the edge of the least output
}
"""Points that the kernel may be off, by what it leaves out; the other criteria must agree."""


def scored(found: Comparison, one: int):
    kit = found.kit
    result = found.results[one]
    strip = kit.strip(result.option)
    runner = kit.runner()
    network = network_with(found.case, result.year.doors.open_w_k)
    houses = Houses.one(network, step_matrices(network))
    got = runner.run(houses, [strip.lane])
    tally = kit.tally([strip], got)
    run, rest, heater, old = kit.topped_kwh((runner, houses, None), [strip], (tally, got))
    need = found.need
    kwh = run.sum(axis=0) + rest + heater + old / kit.old.efficiency_frac
    numbers = kit.book.numbers
    asked = Asked(
        price_ratio=np.array([float(result.option.price.mid_usd) / kit.base.reference_usd]),
        cop=(need.heat_kwh + need.cool_kwh) / kwh,
        visible=np.array([float(result.option.visible_units)]),
        cool_share_frac=np.array([need.cool_kwh / (need.heat_kwh + need.cool_kwh)]),
        outdoor_limit_dba=OUTDOOR_LIMIT_DBA,
        heater_credit=np.array([numbers.heater_credit]),
        old_heat_credit=np.array([numbers.old_heat_credit]),
    )
    return lane_scores(tally, kit.facts, asked, kit.book)[0], bool(lane_fatal(tally, kit.facts, numbers)[0])


@pytest.mark.parametrize("house", ["unit", "wing"])
def test_lane_scores_equal_those_of_traces(house: str, request: pytest.FixtureRequest) -> None:
    found: Comparison = request.getfixturevalue(house)
    for place, result in enumerate(found.results):
        scores, fatal = scored(found, place)
        assert fatal == result.score.rejected, result.option.key
        energy = result.score.measures.energy
        # where rooms are topped up, the second run settles its doors anew, ours does not
        topped = energy.equal_service_kwh != energy.electricity_kwh + energy.old_fuel_kwh
        for criterion, own, full in zip(CRITERIA, scores, result.score.scores, strict=True):
            allowed = 2.5 if topped and criterion is Criterion.ENERGY else LEFT_OUT.get(criterion, 0.1)
            assert abs(own - full) <= allowed, (result.option.key, criterion, own, full)


def test_equal_houses_in_lanes_give_the_house(unit: Comparison) -> None:
    """A house of its own in every lane, nothing shaken, is the common house."""
    kit = unit.kit
    result = unit.results[0]
    strip = kit.strip(result.option)
    runner = kit.runner()
    network = network_with(unit.case, result.year.doors.open_w_k)
    same = runner.run(Houses.one(network, step_matrices(network)), [strip.lane])
    one = np.ones(64)
    names = ("ua", "leakage", "partition", "opening", "solar")
    links = link_parts(unit.case, result.year.doors.open_w_k)
    lanes = shaken_houses(unit.case, house_parts(unit.case), links, dict.fromkeys(names, one))
    apart = runner.run(lanes, [strip.lane] * 64, Shake.none(64))
    assert np.nanmax(np.abs(apart.air_c[..., 0] - same.air_c[..., 0])) < 0.02
    assert np.allclose(apart.group_sums[..., 5], same.group_sums[..., 0], rtol=2e-3, atol=20.0)


def test_lanes_do_not_depend_on_their_neighbours(unit: Comparison) -> None:
    kit = unit.kit
    strips = [kit.strip(result.option) for result in unit.results]
    runner, houses = kit.runner(), kit.common_houses()
    paired = [strip for strip in strips if not strip.lane.shared]
    together = runner.run(houses, [strip.lane for strip in paired])
    for lane in (0, len(paired) - 1):
        alone = runner.run(houses, [paired[lane].lane])
        groups = alone.group_sums.shape[0]
        assert np.allclose(alone.group_sums[..., 0], together.group_sums[:groups, :, lane], rtol=1e-3, atol=10.0)
        assert np.nanmax(np.abs(alone.air_c[..., 0] - together.air_c[..., lane])) < 0.02


def test_duct_lines_are_the_hourly_losses(wing: Comparison) -> None:
    """The lines that the kernel takes over outdoor temperature and sun, against the losses worked out by the hour."""
    outside = Outside.of(wing.case.weather)
    zones = {z.key: z for option in wing.options for z in option.zones if z.ducts is not None}
    assert zones
    for zone in zones.values():
        heat, by_heat, cold, by_cold, by_sun = reach_line(zone.ducts.loss)
        warm = np.clip(heat + by_heat * outside.outdoor_c, 0.05, 1.0)
        cool = np.clip(cold + by_cold * outside.outdoor_c + by_sun * outside.sun_frac, 0.05, 1.0)
        assert np.abs(warm - reaching(zone, Mode.HEAT, outside)).max() < 1e-6, zone.key
        assert np.abs(cool - reaching(zone, Mode.COOL, outside)).max() < 1e-6, zone.key


def test_rooms_lean_as_in_the_full_run(wing: Comparison) -> None:
    plan = wing.case.plan
    for option in wing.options:
        lean = leaning_on(plan, option.layout)
        served = {room: zone for zone, own in enumerate(option.zones) for room in own.rooms}
        found = wing.kit.strip(option).zone_of_room
        assert found == tuple({**lean, **served}.get(room, -1) for room in range(len(plan.rooms))), option.key


def test_many_lanes_come_back_in_their_order(wing: Comparison) -> None:
    """Sorted into blocks of alike and put back: each lane's years are those of a run of its own."""
    kit = wing.kit
    strips = [kit.strip(result.option) for result in wing.results]
    runner, houses = kit.runner(), kit.common_houses()
    many = runner.run_many(houses, [strip.lane for strip in strips])
    for place in range(0, len(strips), 7):
        alone = runner.run(houses, [strips[place].lane])
        rows = alone.group_sums.shape[0]
        assert np.allclose(many.group_sums[:rows, :, place], alone.group_sums[..., 0], rtol=1e-3, atol=10.0)
        assert np.allclose(many.loud[place], alone.loud[0], rtol=2e-2, atol=1.0)
        assert not many.group_sums[rows:, 0, place].any()


def test_thermostats_settle_near_enough(wing: Comparison, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sweeps end by the rate of the last two; far more sweeps move no supply's year by more than a thousandth."""
    kit = wing.kit
    lanes = [kit.strip(result.option).lane for result in wing.results]
    runner, houses = kit.runner(), kit.common_houses()
    soon = runner.run_many(houses, lanes)
    monkeypatch.setattr("compare.search.lanes.TOLERANCE_W", 0.01)
    late = runner.run_many(houses, lanes)
    assert (soon.group_sums != late.group_sums).any()
    assert np.allclose(soon.group_sums[:, 8:], late.group_sums[:, 8:], rtol=1e-3, atol=2000.0)
    assert np.nanmax(np.abs(soon.air_c - late.air_c)) < 0.02


def test_energy_alone_is_the_energy(wing: Comparison) -> None:
    """A run that neither hears nor watches gives the same energy to the last digit, and no sound."""
    kit = wing.kit
    lanes = [kit.strip(result.option).lane for result in wing.results]
    runner, houses = kit.runner(), kit.common_houses()
    whole, bare = runner.run_many(houses, lanes), runner.run_many(houses, lanes, energy_alone=True)
    assert (bare.group_sums == whole.group_sums).all()
    assert (bare.rest_w_h == whole.rest_w_h).all()
    assert whole.loud[:, -1].max() > 0.0
    assert not bare.loud.any()


def test_set_points_that_change_by_the_hour(unit: Comparison) -> None:
    """A night setback for one room, beside the year by the hour in double precision: heat within a thousandth."""
    kit, network = unit.kit, unit.case.network
    hour = np.arange(unit.case.weather.hours) % 24
    steady = kit.factory.ideal(0)
    lowered = replace(steady, heat_set_c=np.where(hour < 6, steady.heat_set_c - 3.0, steady.heat_set_c))
    found = kit.runner().run(kit.common_houses(), [Lane((steady,)), Lane((lowered,))])
    held, saved = found.rest_w_h[0, 0]
    assert saved < 0.99 * held
    for own, supply in ((held, steady), (saved, lowered)):
        trace = simulate(network, [[supply]])[0]
        assert own == pytest.approx(np.maximum(trace.supply_w, 0.0).sum(), rel=1e-3)
