"""Options of a house: outdoor units both ways, what stands against them, and jobs whose price lines add up."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from compare.equipment.outdoor import MOST_ZONES
from compare.house.plan import Plan
from compare.options.build import Offer, ZoneShelf, build_options
from compare.options.option import Option
from compare.prices.job import check_job
from compare.prices.price_list import load_price_list
from compare.zones.basis import DesignBasis
from compare.zones.families import families
from compare.zones.sketch import Family, LayoutSketch, Rest, ZoneSketch
from tests.houses import basis_of, compared, option_of, prepared

SCENARIOS = ("ranch", "accessory_unit", "flat_roof_ranch")


def built(basis: DesignBasis, free_spaces: int | None = None, *families_wanted: Family) -> tuple[Option, ...]:
    layouts = [lay for lay in families(basis.plan) if not families_wanted or lay.family in families_wanted]
    return build_options(Offer(basis, load_price_list(), free_spaces), layouts)


def ranch(**plan_changes: object) -> DesignBasis:
    basis = basis_of(prepared("ranch"))
    return replace(basis, plan=replace(basis.plan, **plan_changes))


def codes(option: Option, *, fatal: bool = True) -> set[str]:
    return {finding.code for finding in option.findings if finding.fatal is fatal}


def test_layouts_of_several_zones_come_with_own_and_with_shared_outdoor_units() -> None:
    found = built(ranch(), None, Family.HEAD_EACH)
    by_layout: dict[str, list[Option]] = {}
    for option in found:
        by_layout.setdefault(option.layout.key, []).append(option)
    for apart, together in by_layout.values():
        assert apart.outdoor.count == len(apart.zones)
        assert together.outdoor.count < apart.outdoor.count
        assert apart.key != together.key
        assert together.zones == apart.zones


def test_one_zone_has_nothing_to_share() -> None:
    (single,) = built(ranch(), None, Family.SINGLE_HEAD)
    assert single.outdoor.count == 1
    assert not single.outdoor.groups[0].shared


def test_a_shared_head_covers_no_more_than_it_would_alone() -> None:
    apart, together = built(ranch(), None, Family.HEAD_EACH)[:2]
    for zone in range(len(apart.zones)):
        assert together.cover(zone).heat_frac <= apart.cover(zone).heat_frac + 1e-12


def test_shares_of_a_shared_outdoor_unit_add_up_to_one() -> None:
    for option in compared("ranch").options:
        for group in option.outdoor.groups:
            parts = [option.load_share(group, zone) for zone in group.zones]
            assert sum(part[0] for part in parts) == pytest.approx(1.0)
            assert sum(part[1] for part in parts) == pytest.approx(1.0)


@pytest.mark.parametrize("name", SCENARIOS)
def test_every_zone_hangs_on_one_outdoor_unit_by_one_line(name: str) -> None:
    for option in compared(name).options:
        hung = [zone for group in option.outdoor.groups for zone in group.zones]
        assert sorted(hung) == list(range(len(option.zones)))
        assert len(option.routes) == len(option.zones)
        for group in option.outdoor.groups:
            assert len({option.routes[zone].spot.name for zone in group.zones}) == 1


@pytest.mark.parametrize("name", SCENARIOS)
def test_outdoor_units_share_no_spot_unless_the_lack_is_told(name: str) -> None:
    for option in compared(name).options:
        spots = [option.routes[group.zones[0]].spot.name for group in option.outdoor.groups]
        assert len(set(spots)) == len(spots) or "no_outdoor_place" in codes(option)


@pytest.mark.parametrize("name", SCENARIOS)
def test_ids_are_unique(name: str) -> None:
    keys = [option.key for option in compared(name).options]
    assert len(set(keys)) == len(keys)


def test_more_outdoor_units_than_spots_is_told_with_both_counts() -> None:
    basis = ranch(outdoor_spots=prepared("ranch").plan.outdoor_spots[:2])
    for option in built(basis, None, Family.HEAD_EACH, Family.SINGLE_HEAD):
        lacking = option.outdoor.count > 2
        assert ("no_outdoor_place" in codes(option)) is lacking
        if lacking:
            texts = [finding.text for finding in option.findings if finding.code == "no_outdoor_place"]
            assert any(f"{option.outdoor.count} outdoor units, places for 2" in text for text in texts)


def test_no_outdoor_spot_at_all_rejects_every_option_but_prices_it() -> None:
    for option in built(ranch(outdoor_spots=())):
        assert "no_outdoor_place" in codes(option)
        assert option.routes == ()
        assert option.price.mid_usd > 0


def test_the_panel_decides_by_breaker_spaces() -> None:
    """Two spaces for each two-pole breaker, one breaker for each outdoor unit (common practice)."""
    for option in built(ranch(), 4, Family.HEAD_EACH, Family.SINGLE_HEAD, Family.MIX):
        assert ("panel" in codes(option)) is (2 * option.outdoor.count > 4)


def test_an_unsurveyed_panel_rejects_nothing() -> None:
    assert all("panel" not in codes(option) for option in built(ranch(), None, Family.HEAD_EACH))


def test_a_place_too_low_for_the_unit_is_no_fit() -> None:
    plan = prepared("ranch").plan
    low = tuple(replace(space, clear_height_m=0.1) for space in plan.unit_spaces)
    ducted = built(ranch(unit_spaces=low), None, Family.DUCTED_ALL, Family.MIX)
    assert ducted
    assert all("no_fit" in codes(option) for option in ducted)


def test_a_small_closed_room_is_too_small_for_a_large_shared_charge() -> None:
    """The whole charge of a shared outdoor unit may leak into its smallest room (ASHRAE 15.2, UL 60335-2-40)."""
    plan = prepared("ranch").plan
    tiny = tuple(replace(room, area_m2=2.5) if room.sleepers else room for room in plan.rooms)
    found = built(ranch(rooms=tiny), None, Family.HEAD_EACH)
    assert all("refrigerant" in codes(option) for option in found if any(g.shared for g in option.outdoor.groups))


def test_short_heat_is_read_out_and_not_fatal() -> None:
    (single,) = built(basis_of(prepared("ranch"), 6.0), None, Family.SINGLE_HEAD)
    assert "short_heat" in codes(single, fatal=False)


def test_fatal_findings_come_first() -> None:
    for option in built(ranch(outdoor_spots=()), 0):
        flags = [finding.fatal for finding in option.findings]
        assert flags == sorted(flags, reverse=True)


@pytest.mark.parametrize("name", SCENARIOS)
def test_price_lines_add_up_and_the_job_holds_together(name: str) -> None:
    for option in compared(name).options:
        check_job(option.job)
        price = option.price
        assert sum((line.mid_usd for line in price.lines), Decimal(0)) == price.mid_usd
        assert sum((line.low_usd for line in price.lines), Decimal(0)) == price.low_usd
        assert sum((line.high_usd for line in price.lines), Decimal(0)) == price.high_usd
        assert price.low_usd <= price.mid_usd <= price.high_usd


@pytest.mark.parametrize("name", SCENARIOS)
def test_the_job_holds_every_part_of_the_option(name: str) -> None:
    found = compared(name)
    names = [room.name for room in found.case.plan.rooms]
    for option in found.options:
        job = option.job
        assert len(job.units) == len(option.zones)
        assert len(job.outdoor) == option.outdoor.count
        heaters = [names[room] for room, rest in option.layout.rest if rest is Rest.HEATER]
        assert list(job.room_heaters) == heaters
        tags = [unit.name for unit in (*job.units, *job.outdoor)]
        assert len(set(tags)) == len(tags)


def test_a_further_room_on_ducts_costs_far_less_than_a_further_head() -> None:
    """One more head with its outdoor unit costs several times one more branch (common practice)."""
    found = compared("ranch")
    head = option_of(found, "h0-h6").price.mid_usd - option_of(found, "h0").price.mid_usd
    branch = next(line.unit_usd for line in option_of(found, "h0-d1.4.5.6@0").price.lines if "branch" in line.item)
    assert head > 4 * branch


def test_zones_are_designed_once_for_all_layouts_that_hold_them() -> None:
    shelf = ZoneShelf(ranch())
    assert shelf.zone(ZoneSketch((0,)), ()) is shelf.zone(ZoneSketch((0,)), ())
    assert shelf.zone(ZoneSketch((0,)), ()) is not shelf.zone(ZoneSketch((0,)), (2,))


def test_more_heads_than_can_be_grouped_each_keep_an_outdoor_unit() -> None:
    basis = _row_of_bedrooms(MOST_ZONES + 1)
    heads = tuple(ZoneSketch((room,)) for room in range(MOST_ZONES + 1))
    (option,) = build_options(Offer(basis, load_price_list(), None), [LayoutSketch(Family.HEAD_EACH, heads, ())])
    assert option.outdoor.count == MOST_ZONES + 1


def _row_of_bedrooms(count: int) -> DesignBasis:
    """The ranch's first bedroom, many times over."""
    basis = basis_of(prepared("ranch"))
    plan: Plan = basis.plan
    one = next(i for i, room in enumerate(plan.rooms) if room.sleepers)
    many = replace(
        plan,
        rooms=(plan.rooms[one],) * count,
        links=(),
        partitions=(),
        open_spaces=tuple((i,) for i in range(count)),
        unit_spaces=(),
        wall_places=(),
    )
    return replace(
        basis,
        plan=many,
        heat_load_w=basis.heat_load_w[[one] * count],
        cool_load_w=basis.cool_load_w[:, [one] * count],
    )
