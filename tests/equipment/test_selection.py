"""Size by load, and outdoor units by an exact search."""

from __future__ import annotations

import math

import numpy as np
import pytest

from compare.equipment.catalogue import catalogue
from compare.equipment.circuit import PANEL_NOTE, panel_check
from compare.equipment.heater import heater_circuits
from compare.equipment.lines import PipeRun, line_problems
from compare.equipment.outdoor import ZoneUnit, few_then_small, paired, shared, smallest_shared
from compare.equipment.performance import Mode, performance
from compare.equipment.selection import Demand, cover, select
from compare.equipment.table import BTU_H_W, to_c
from compare.equipment.unit import UnitKind

UNITS = catalogue()


def demand(
    heat_kbtuh: float, cool_kbtuh: float, heat_f: float = 5.0, cool_f: float = 95.0, ducts: float = 1.0
) -> Demand:
    watts = 1000 * BTU_H_W
    return Demand(heat_kbtuh * watts, cool_kbtuh * watts, to_c(heat_f), to_c(cool_f), ducts, ducts)


def test_capacity_at_the_design_temperature_decides_and_not_the_size_class():
    """12.5 kBtu/h at 5 F: the 12 gives 13.6 there, the 9 only 10.9 though it is "15.5" at 47 F (catalogue rows)."""
    got = select(UnitKind.WALL, demand(12.5, 8), UNITS)
    assert got.pair.size_kbtuh == 12
    assert got.cover.heat_frac == pytest.approx(13.6 / 12.5, rel=1e-9)
    assert select(UnitKind.WALL, demand(12.5, 8, heat_f=47), UNITS).pair.size_kbtuh == 7


def test_next_size_down_is_shown_from_0_92():
    """11.5 kBtu/h at 5 F: the 9 reaches 10.9/11.5 = 0.948; 12.5: 0.872."""
    near = select(UnitKind.WALL, demand(11.5, 8), UNITS)
    assert near.next_down is not None
    assert near.next_down.size_kbtuh == 9
    assert near.next_down_cover is not None
    assert near.next_down_cover.heat_frac == pytest.approx(10.9 / 11.5)
    assert select(UnitKind.WALL, demand(12.5, 8), UNITS).next_down is None


def test_cooling_may_fall_to_0_95_and_heating_may_not_fall_below_1():
    assert select(UnitKind.WALL, demand(5, 13.8 / 0.951), UNITS).pair.size_kbtuh == 12
    assert select(UnitKind.WALL, demand(5, 13.8 / 0.949), UNITS).pair.size_kbtuh == 15
    assert select(UnitKind.WALL, demand(13.6, 8), UNITS).pair.size_kbtuh == 12
    assert select(UnitKind.WALL, demand(13.61, 8), UNITS).pair.size_kbtuh == 15


def test_duct_loss_asks_for_a_larger_unit():
    """Ducts that deliver 0.80 ask for load / 0.80 (definition)."""
    inside = select(UnitKind.DUCTED_LOW, demand(12.0, 8), UNITS)
    attic = select(UnitKind.DUCTED_LOW, demand(12.0, 8, ducts=0.80), UNITS)
    assert (inside.pair.size_kbtuh, attic.pair.size_kbtuh) == (12, 15)
    assert attic.cover.heat_frac == pytest.approx(0.8 * 15.3 / 12.0)


def test_every_other_size_has_a_reason():
    got = select(UnitKind.WALL, demand(12.5, 13), UNITS)
    assert len(got.rejected) == len(UNITS.pairs_of(UnitKind.WALL)) - 1
    small = [item.reason for item in got.rejected if item.pair.size_kbtuh < got.pair.size_kbtuh]
    assert all("of the load" in reason for reason in small)
    assert "heating covers 0.87 of the load, 1.00 is needed" in small[-1]
    large = [item.reason for item in got.rejected if item.pair.size_kbtuh > got.pair.size_kbtuh]
    assert set(large) == {"larger than needed: a smaller size covers both loads"}


def test_too_large_a_load_takes_the_largest_and_says_short():
    got = select(UnitKind.FLOOR, demand(40, 10), UNITS)
    assert got.short
    assert got.pair.size_kbtuh == 18
    assert any("short in heating: 0.47" in note for note in got.notes)


def test_a_tiny_room_gets_a_note_that_the_unit_never_modulates():
    """Owners' reports: bedrooms of 1-2 kBtu/h against a smallest head near 6-7 kBtu/h; oversize is named."""
    got = select(UnitKind.WALL, demand(1.2, 1.0), UNITS)
    assert got.pair.size_kbtuh == 6
    assert got.cover.heat_frac == pytest.approx(8.0 / 1.2)
    assert any("never modulates" in note for note in got.notes)
    assert any("above 1.30" in note for note in got.notes)


def test_no_load_is_covered_without_end():
    got = select(UnitKind.WALL, demand(5, 0), UNITS)
    assert math.isinf(got.cover.cool_frac)
    assert not got.short


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((-1.0, 0.0, 0.0, 35.0), "heat_w must be a finite load"),
        ((1.0, float("nan"), 0.0, 35.0), "cool_w must be a finite load"),
        ((1.0, 0.0, float("inf"), 35.0), "heat_outdoor_c must be a finite"),
        ((1.0, 0.0, 0.0, 35.0, 0.0), "delivered_heat_frac must lie above 0"),
        ((1.0, 0.0, 0.0, 35.0, 1.0, 1.2), "delivered_cool_frac must lie above 0"),
    ],
)
def test_bad_demand_is_named(values, message):
    with pytest.raises(ValueError, match=message):
        Demand(*values)


# Outdoor units


def zones(*loads_kbtuh: float, kind: UnitKind = UnitKind.WALL) -> list[ZoneUnit]:
    found = []
    for place, load in enumerate(loads_kbtuh):
        what = demand(load, 0.6 * load)
        found.append(ZoneUnit(f"zone {place}", select(kind, what, UNITS).pair, what))
    return found


def set_partitions(items: list[int]):
    if not items:
        yield []
        return
    first, rest = items[0], items[1:]
    for part in set_partitions(rest):
        yield [[first], *part]
        for place, block in enumerate(part):
            yield [*part[:place], [first, *block], *part[place + 1 :]]


@pytest.mark.parametrize("loads", [(3, 4), (3, 4, 5), (2, 3, 9, 4), (1, 2, 3, 4, 5, 6), (17, 12, 3, 2, 2, 8)])
def test_the_search_finds_what_trying_every_partition_finds(loads):
    """Oracle: all set partitions (Bell numbers) ranked by (count, sum of sizes)."""
    given = zones(*loads)
    best = None
    for partition in set_partitions(list(range(len(given)))):
        groups = []
        for block in partition:
            if len(block) == 1:
                groups.append(paired(given).groups[block[0]])
            else:
                groups.append(smallest_shared(given, tuple(sorted(block)), UNITS))
        if None not in groups:
            cost = tuple(np.sum([few_then_small(group) for group in groups], axis=0))
            best = cost if best is None else min(best, cost)
    plan = shared(given, UNITS)
    assert tuple(np.sum([few_then_small(group) for group in plan.groups], axis=0)) == best
    assert sorted(place for group in plan.groups for place in group.zones) == list(range(len(given)))


def test_shared_groups_keep_every_limit():
    plan = shared(zones(2, 2.5, 3, 3.5, 4, 8, 9), UNITS)
    for group in plan.groups:
        if group.shared:
            assert 2 <= len(group.zones) <= group.outdoor.ports
            assert 0.6 <= group.connected_frac <= 1.3


def test_cover_on_a_shared_unit_is_the_lower_of_head_and_outdoor_unit():
    given = zones(6.5, 10.5)
    group = shared(given, UNITS).groups[0]
    outdoor_w = performance(group.output, np.array([to_c(5)]), Mode.HEAT).max_w[0]
    whole = outdoor_w / (17 * 1000 * BTU_H_W)
    own = cover(given[0].pair.output, given[0].demand).heat_frac
    assert group.shared
    assert group.covers[0].heat_frac == pytest.approx(min(own, whole))
    assert whole < own


def test_the_sum_of_the_heads_is_not_the_outdoor_unit():
    """Trade guides: three 9s on a 24 share it when all call; loads that each 9 covers are together too much."""
    given = zones(10.5, 10.5, 10.5)
    assert all(zone.pair.size_kbtuh == 9 for zone in given)
    group = smallest_shared(given, (0, 1, 2), UNITS)
    assert group is not None
    assert group.outdoor.size_kbtuh == 36


def test_a_unit_that_may_not_share_keeps_its_own_and_says_why():
    given = [*zones(3, 4), *zones(12, kind=UnitKind.DUCTED_MID)]
    plan = shared(given, UNITS)
    assert plan.count == 2
    assert any("ducted mid static 12 is not offered for shared" in note for note in plan.notes)


def test_pairs_back_each_other_up():
    """Redundancy: one of three pairs fails, two zones stay; the only shared unit fails, none does (definition)."""
    given = zones(3, 4, 5)
    assert paired(given).still_served(1) == (0, 2)
    plan = shared(given, UNITS)
    assert plan.count == 1
    assert plan.still_served(0) == ()


def test_too_many_zones_are_refused():
    with pytest.raises(ValueError, match="13 zones are too many"):
        shared(zones(*[3] * 13), UNITS)


def test_panel_counts_two_spaces_for_each_outdoor_unit():
    """A 240 V circuit takes a two-pole breaker (common practice; NEC 440 by the nameplate)."""
    outdoor = [group.outdoor for group in paired(zones(3, 4, 12)).groups]
    check = panel_check(outdoor, 5)
    assert (check.spaces_needed, check.enough_spaces) == (6, False)
    assert panel_check(outdoor, 6).enough_spaces is True
    assert panel_check(outdoor, None).enough_spaces is None
    assert check.note == PANEL_NOTE
    assert "licensed electrician" in PANEL_NOTE


def test_pipe_runs_against_the_units_limits():
    outdoor = UNITS.shared_unit(24).outdoor
    good = [PipeRun("A", 12.0, 3.0), PipeRun("B", 20.0, -4.0)]
    assert line_problems(outdoor, good) == ()
    bad = line_problems(outdoor, [PipeRun("A", 30.0, 3.0), PipeRun("B", 20.0, -40.0)])
    assert len(bad) == 3
    assert "pipe to A is 30.0 m" in bad[0]
    assert "together" in bad[2]
    with pytest.raises(ValueError, match="pipe to C"):
        line_problems(outdoor, [PipeRun("C", -1.0, 0.0)])


@pytest.mark.parametrize(
    ("heaters_w", "circuits"),
    [((), 0), ((1000.0,), 1), ((1500.0, 1500.0), 1), ((2000.0, 2000.0), 2), ((4000.0,), 2), ((500.0,) * 8, 2)],
)
def test_heaters_take_circuits_of_their_own(heaters_w, circuits):
    # 20 A x 240 V x 80 % = 3,840 W of fixed heating on one circuit (NEC 424.4 and 210.20, from memory).
    assert heater_circuits(heaters_w) == circuits
    assert panel_check((), 20, heaters_w).spaces_needed == 2 * circuits
