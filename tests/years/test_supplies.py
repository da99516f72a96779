"""What zones, heaters and old heat can give, hour by hour."""

from __future__ import annotations

import numpy as np
import pytest

from compare.equipment.heater import HEATER_MARGIN, HEATER_STEP_W
from compare.equipment.system import outdoor_limits
from compare.physics.network import Supply
from compare.pipeline import Comparison
from compare.years.run import run_years
from compare.years.supplies import HEATER_C, SupplyFactory
from compare.zones.sketch import Rest
from tests.houses import bench_of, compared, option_of


@pytest.fixture(scope="module")
def ranch() -> Comparison:
    return compared("ranch")


@pytest.fixture(scope="module")
def factory(ranch: Comparison) -> SupplyFactory:
    return bench_of(ranch.case)._factory


def test_heads_on_one_outdoor_unit_never_get_more_than_it_can_give(ranch: Comparison, factory: SupplyFactory) -> None:
    option = option_of(ranch, "h0-h1-h5-h6~0123")
    supplies = factory.of_option(option)
    whole, _ = outdoor_limits(option.outdoor.groups[0].output, ranch.case.weather.dry_bulb_c)
    together = sum(supply.heat_limit_w for supply in supplies)
    assert np.all(together <= whole + 1e-6)
    assert together.max() > 0.5 * whole.max()
    alone = factory.of_option(option_of(ranch, "h0-h1-h5-h6"))
    for shared, own in zip(supplies, alone, strict=True):
        assert np.all(shared.heat_limit_w <= own.heat_limit_w + 1e-6)
        assert np.all(shared.cool_limit_w <= own.cool_limit_w + 1e-6)


def test_ducts_bring_less_than_the_unit_gives(ranch: Comparison, factory: SupplyFactory) -> None:
    option = option_of(ranch, "h0-d1.4.5.6@0")
    ducted = next(i for i, zone in enumerate(option.zones) if zone.ducts is not None)
    arrives = factory.of_option(option)[ducted].heat_limit_w
    gives, _ = outdoor_limits(option.group_of(ducted).output, ranch.case.weather.dry_bulb_c)
    outdoor_c = ranch.case.weather.dry_bulb_c
    share = arrives / gives
    assert np.all((share > 0.5) & (share < 1.0))
    near = np.abs(outdoor_c - ranch.case.design.heating_99_c) < 0.5
    assert np.allclose(share[near], option.zones[ducted].demand.delivered_heat_frac, rtol=0.03)
    assert np.corrcoef(outdoor_c, share)[0, 1] > 0.9


def test_a_heater_covers_its_room_with_a_margin_and_cannot_cool(ranch: Comparison, factory: SupplyFactory) -> None:
    for room, load in enumerate(ranch.case.heat_load_w):
        heater = factory.heater(room)
        top = heater.heat_limit_w.max()
        assert HEATER_MARGIN * load <= top < HEATER_MARGIN * load + HEATER_STEP_W
        assert top % HEATER_STEP_W == 0.0
        assert not heater.cool_limit_w.any()
        assert set(heater.heat_set_c) == {HEATER_C}
        assert np.flatnonzero(heater.share).tolist() == [room]


def test_old_heat_covers_twice_its_load(ranch: Comparison, factory: SupplyFactory) -> None:
    assert factory.heater(1, Rest.OLD_HEAT).heat_limit_w.max() == pytest.approx(2.0 * ranch.case.heat_load_w[1])


def test_supplies_stand_in_the_order_of_zones_then_rooms(ranch: Comparison, factory: SupplyFactory) -> None:
    option = option_of(ranch, "h0-e1-e4-e5-e6")
    rooms = [int(np.flatnonzero(supply.share)[0]) for supply in factory.of_option(option)]
    assert rooms == [0, 1, 4, 5, 6]


def test_equal_units_share_their_hourly_limits(factory: SupplyFactory, ranch: Comparison) -> None:
    """So that the kernel's tables stay small: as many series as there are unlike units, not as there are zones."""
    option = option_of(ranch, "h0-h1-h5-h6")
    first, again = factory.of_option(option), factory.of_option(option)
    assert all(one.heat_limit_w is two.heat_limit_w for one, two in zip(first, again, strict=True))


def test_ideal_sources_hold_their_rooms_in_every_hour(ranch: Comparison, factory: SupplyFactory) -> None:
    case = ranch.case
    habitable = [i for i, room in enumerate(case.plan.rooms) if room.habitable]
    trace = run_years(case, [[factory.ideal(room) for room in habitable]])[0]
    held = trace.room_c[:, habitable]
    assert held.min() > case.house.comfort.heating_c - 0.02
    assert held.max() < case.house.comfort.cooling_c + 0.02


def test_runs_come_back_in_order_and_do_not_touch_each_other(ranch: Comparison, factory: SupplyFactory) -> None:
    wanted: list[tuple[Supply, ...]] = [factory.of_option(option_of(ranch, key)) for key in ("h0", "h0-e1-e5-e6")]
    together = run_years(ranch.case, wanted)
    for supplies, trace in zip(wanted, together, strict=True):
        alone = run_years(ranch.case, [supplies])[0]
        assert trace.supply_w.shape[1] == len(supplies)
        assert np.max(np.abs(alone.room_c - trace.room_c)) < 2e-3
