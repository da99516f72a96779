"""The fan on its real ducts, and duct loss by the hour, in the year of an option."""

from __future__ import annotations

import numpy as np
import pytest

from compare.equipment.catalogue import catalogue
from compare.equipment.fan import fan_on_ducts, rated_fan
from compare.equipment.performance import Mode
from compare.equipment.system import Head, OutdoorSystem
from compare.equipment.unit import UnitKind
from compare.equipment.year import unit_year
from compare.house.plan import SpaceKind
from compare.years.heads import Outside, head_of, reaching, real_fan
from tests.houses import compared

UNITS = catalogue()
CFM_M3_S = 0.3048**3 / 60.0


def test_rated_static_takes_the_rated_watts():
    """The catalogue's own point: 0.18 W/cfm at 375 cfm against 0.20 in. w.c. is 68 W (generic catalogue)."""
    unit = UNITS.pair(UnitKind.DUCTED_LOW, 12).indoor
    got = fan_on_ducts(unit, unit.static_pa, unit.airflow_m3_s.high)
    assert got.high_w == pytest.approx(67.5, abs=0.2)
    assert got.quiet_w == pytest.approx(rated_fan(unit).quiet_w)


def test_overall_efficiency_is_that_of_such_fans():
    """W = Q P / eta with eta 0.15 to 0.45 for small fans (handbook range, from memory), external static and cabinet."""
    for kind in (UnitKind.DUCTED_LOW, UnitKind.DUCTED_MID):
        for pair in UNITS.pairs_of(kind):
            unit = pair.indoor
            air_w = unit.airflow_m3_s.high * (unit.static_pa + 49.8)
            assert 0.15 < air_w / fan_on_ducts(unit, unit.static_pa, unit.airflow_m3_s.high).high_w < 0.45


def test_fan_power_follows_flow_and_pressure():
    """Fan laws (handbook): on one duct system power goes with the cube of flow; at one flow it rises with static."""
    unit = UNITS.pair(UnitKind.DUCTED_MID, 18).indoor
    high = unit.airflow_m3_s.high
    full = fan_on_ducts(unit, 100.0, high)
    slow = fan_on_ducts(unit, 100.0 * 0.8**2, 0.8 * high)
    assert slow.high_w == pytest.approx(0.8**3 * full.high_w)
    assert slow.quiet_w == pytest.approx(full.quiet_w)
    assert fan_on_ducts(unit, 50.0, high).high_w < full.high_w < fan_on_ducts(unit, 150.0, high).high_w


def test_hourly_loss_is_paid_hour_by_hour():
    """One hour at each delivered share equals two years with a fixed share (identity)."""
    pair = UNITS.pair(UnitKind.DUCTED_LOW, 12)
    outdoor, supply = np.full(4, -3.0), np.full((4, 1), 2000.0)
    shares = np.array([0.7, 0.8, 0.9, 1.0])
    hourly = unit_year(OutdoorSystem(pair.output, (Head(pair, 1e6, shares),)), supply, outdoor)
    for i, share in enumerate(shares):
        fixed = unit_year(OutdoorSystem(pair.output, (Head(pair, 1e6, float(share)),)), supply, outdoor)
        assert hourly.heating.load_w[i] == pytest.approx(2000.0 / share)
        assert hourly.power_w[i] == pytest.approx(fixed.power_w[i])


def ducted_zones():
    found = compared("ranch")
    zones = {zone.key: zone for option in found.options for zone in option.zones if zone.ducts is not None}
    return found.case, zones


def test_an_attic_loses_most_in_cold_and_under_sun_and_an_inside_place_always_the_same():
    case, zones = ducted_zones()
    outside = Outside.of(case.weather)
    coldest, mild = int(np.argmin(outside.outdoor_c)), int(np.argmin(np.abs(outside.outdoor_c - 15.0)))
    sunny = int(np.argmax(outside.sun_frac))
    seen = set()
    for zone in zones.values():
        assert zone.ducts is not None
        seen.add(zone.ducts.space.kind)
        heat, cool = reaching(zone, Mode.HEAT, outside), reaching(zone, Mode.COOL, outside)
        if zone.ducts.space.inside_envelope:
            assert heat == cool == pytest.approx(zone.demand.delivered_heat_frac)
        else:
            assert np.all((heat > 0.0) & (heat <= 1.0))
            assert heat[coldest] < heat[mild]
        if zone.ducts.space.kind is SpaceKind.ATTIC:
            same_air = Outside(outside.outdoor_c, np.zeros_like(outside.sun_frac))
            assert cool[sunny] < reaching(zone, Mode.COOL, same_air)[sunny]
    assert SpaceKind.ATTIC in seen
    assert SpaceKind.HALL_DROP in seen


def test_ducts_lose_at_the_design_hour_what_the_size_was_chosen_with():
    """Same relation at the same outdoor temperature and full sun (identity)."""
    _, zones = ducted_zones()
    for zone in zones.values():
        at = np.array([zone.demand.heat_outdoor_c, zone.demand.cool_outdoor_c])
        outside = Outside.under_full_sun(at)
        heat = np.broadcast_to(reaching(zone, Mode.HEAT, outside), 2)
        cool = np.broadcast_to(reaching(zone, Mode.COOL, outside), 2)
        assert heat[0] == pytest.approx(zone.demand.delivered_heat_frac, rel=1e-9)
        assert cool[1] == pytest.approx(zone.demand.delivered_cool_frac, rel=1e-9)


def test_heads_carry_their_real_fan():
    case, zones = ducted_zones()
    for zone in zones.values():
        assert zone.ducts is not None
        fan = real_fan(zone)
        assert fan is not None
        rated = rated_fan(zone.pair.indoor)
        below = zone.ducts.static.total_pa < zone.pair.indoor.static_pa
        assert (fan.high_w < rated.high_w) == below
        assert head_of(case.plan, zone, Outside.of(case.weather)).real_fan == fan
