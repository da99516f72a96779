"""Cases from the trade: an undersized return, an overloaded fan, water uphill, ducts in an attic, a transfer fan.

V7, the shut bedroom with its quarter-inch undercut, stands with the published duct rows.
"""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from compare.air.ducts.design import design_ducts
from compare.air.ducts.fit import DuctUnit
from compare.air.ducts.friction import friction_pa_m
from compare.air.ducts.network import solve_design
from compare.air.ducts.remarks import return_warning
from compare.air.ducts.result import DuctRequest
from compare.air.ducts.sizing import Face
from compare.air.ducts.transfer import carried_w
from compare.air.from_catalogue import room_unit
from compare.air.lines import drain_needs_pump, end_of_siting, line_route
from compare.air.noise.bands import level_dba
from compare.air.noise.outlet import outlet_power_db
from compare.air.siting import place_room_unit
from compare.air.tables import fitting
from compare.air.units_us import CFM_M3_S, FPM_M_S, FT_M, IN_M, IN_WC_PA
from compare.equipment.catalogue import catalogue
from compare.equipment.unit import UnitKind
from compare.prices.items import items
from compare.prices.job import IndoorItem, IndoorKind, JobDescription, OutdoorItem
from compare.prices.price_list import load_price_list, price
from compare.prices.takeoff import take_off
from compare.zones.served import design_zone
from compare.zones.sketch import ZoneSketch
from tests.houses import basis_of, prepared

from .ranch import BED_2, HALL, ranch_plan, spaces
from .test_duct_design import ALL, BEDS, SLIM

PLAN = ranch_plan()
UNITS = catalogue()
BTU_H_W = 0.29307107
BIG = DuctUnit(500 * CFM_M3_S, 1050 * CFM_M3_S, 0.5 * IN_WC_PA, 0.9, 0.35, 0.7, 9000, 9000)
SMALL_GRILLE, LARGE_GRILLE = Face(30 * IN_M, 12 * IN_M), Face(30 * IN_M, 30 * IN_M)


def with_return(face):
    return design_ducts(PLAN, DuctRequest(spaces()["attic"], ALL, BIG, "normal", reach_m=None, return_face=face))


def test_undersized_return():
    """V8 (hvacrschool.com/sizing-return-grilles): 1,050 cfm, a 30 x 12 in. grille where 30 x 30 in. was wanted."""
    small, large = with_return(SMALL_GRILLE), with_return(LARGE_GRILLE)
    speeds = [got.design_flow_m3_s / got.return_path.filter_face.area_m2 for got in (small, large)]
    assert speeds[0] / speeds[1] == pytest.approx(2.5)
    assert speeds[0] > 400 * FPM_M_S > speeds[1]
    back = [got.static.filter_pa + got.static.grille_pa for got in (small, large)]
    assert back[0] > 2.5 * back[1]
    allowance_pa = 0.15 * IN_WC_PA  # filter allowance of an air handler (hvactoday.com)
    assert back[0] > allowance_pa > back[1]
    assert any("return undersized" in note for note in small.notes)
    assert return_warning(LARGE_GRILLE, BIG.flow_high_m3_s) is None
    flow = np.array([BIG.flow_high_m3_s])
    heads = fitting("return_grille_face")
    own = [float(level_dba(outlet_power_db(face.area_m2, flow, heads))[0]) for face in (SMALL_GRILLE, LARGE_GRILLE)]
    assert own[0] > own[1] + 10


def test_undersized_return_on_a_slim_unit_is_over_budget_and_flagged():
    got = design_ducts(PLAN, DuctRequest(spaces()["hall"], BEDS, SLIM, "normal", return_face=Face(12 * IN_M, 8 * IN_M)))
    assert not got.feasible
    assert any("filter" in reason and "static" in reason for reason in got.reasons)
    assert any("return undersized" in note for note in got.notes)


def test_static_overload():
    """V9 (christophermolnar.com, return filters): rated 0.20 in., measured 0.47; airflow short, cause split by part.

    Doubled dirty filters are raised until the ducts measure 0.47 in.; half of them out gains little, as reported.
    """
    low, high = 1.0, 200.0
    for _ in range(60):
        load = (low + high) / 2
        got = design_ducts(PLAN, DuctRequest(spaces()["hall"], BEDS, SLIM, "normal", filter_load_frac=load))
        flows = solve_design(got)
        low, high = (load, high) if flows.static_pa < 0.47 * IN_WC_PA else (low, load)
    assert flows.static_pa == pytest.approx(0.47 * IN_WC_PA, abs=0.1)
    assert flows.total_m3_s / got.design_flow_m3_s == pytest.approx(0.57, abs=0.01)  # the fan's limit, from memory
    assert got.static.setting_pa == SLIM.static_pa
    assert not got.feasible
    assert max(got.static.parts, key=lambda part: part[1])[0] == "filter"
    assert "filter" in got.reasons[-1]
    fewer = design_ducts(PLAN, DuctRequest(spaces()["hall"], BEDS, SLIM, "normal", filter_load_frac=load / 2))
    better = solve_design(fewer)
    assert 0.02 * IN_WC_PA < flows.static_pa - better.static_pa < 0.15 * IN_WC_PA
    assert better.total_m3_s > flows.total_m3_s


def test_water_does_not_run_uphill():
    """V10 (trade post on an uphill drain): a head that drains into the attic needs a pump; it costs and is heard."""
    assert drain_needs_pump(-0.5, 3.0)
    inside = place_room_unit(PLAN, HALL, room_unit(UNITS.pair(UnitKind.WALL, 9)))
    bath_side = [place for place in inside.rejected if "inside" in place.place.label]
    assert bath_side or inside.outside_wall
    plan = ranch_plan(wall_places=False)
    walled_in = _without_outside_walls(plan, BED_2)
    siting = place_room_unit(walled_in, BED_2, room_unit(UNITS.pair(UnitKind.WALL, 9)))
    assert siting.needs_pump
    route = line_route(walled_in, end_of_siting(walled_in, siting), walled_in.outdoor_spots[0])
    assert route.needs_pump
    assert any("condensate pump" in note for note in route.notes)
    prices = load_price_list()
    dear, cheap = (price(take_off(_job(pump=pump)), prices).mid_usd for pump in (True, False))
    assert "condensate_pump" in items()
    assert dear > cheap


def _without_outside_walls(plan, room):
    """A room in the middle of the house: every wall has a neighbour."""
    rooms = list(plan.rooms)
    surfaces = tuple(s for s in rooms[room].surfaces if s.azimuth_deg != 180.0 or s.tilt_deg != 90.0)
    rooms[room] = replace(rooms[room], surfaces=surfaces)
    (x0, y0), (x1, _), *_ = rooms[room].outline_m
    low = replace(rooms[HALL], name="south strip", outline_m=((x0, y0 - 2), (x1, y0 - 2), (x1, y0), (x0, y0)))
    return replace(plan, rooms=(*rooms, low), open_spaces=(*plan.open_spaces, (len(rooms),)))


def _job(*, pump):
    head = IndoorItem("W1", IndoorKind.WALL, 9, "O1", 6.0, 2.0, condensate_pump=pump)
    return JobDescription(indoor=(head,), outdoor=(OutdoorItem("O1", 9),))


def test_attic_ducts_raise_the_need():
    """V13 (greenbuildingadvisor.com, ducts in an unconditioned attic): about 20 % lost or more, so about +25 %.

    New sealed R-8 ducts lose a fifth of the cooling on a hot roof and somewhat less of the heat at 22 F outdoors; the
    reported fifth of the heat is met with the leakage that was measured in houses (10.3 % on the return side,
    ESL-HH-90-10-20).
    """
    case = prepared("ranch")
    basis = basis_of(case)
    rooms = tuple(i for i, room in enumerate(case.plan.rooms) if room.name in {"Bedroom 1", "Bedroom 2", "Bedroom 3"})
    kinds = {str(space.kind): index for index, space in enumerate(case.plan.unit_spaces)}
    attic = design_zone(basis, ZoneSketch(rooms, kinds["attic"]), ())
    inside = design_zone(basis, ZoneSketch(rooms, kinds["ceiling drop"]), ())
    assert inside.demand.delivered_heat_frac == inside.demand.delivered_cool_frac == 0.97
    assert 1.20 <= 1 / attic.demand.delivered_cool_frac <= 1.35
    assert 1.12 <= 1 / attic.demand.delivered_heat_frac <= 1.25
    assert attic.ducts is not None
    assert any("ice dam" in note and "sweat" in note for note in attic.ducts.notes)
    loss = attic.ducts.loss
    older = replace(loss, back=replace(loss.back, leak_frac=0.103))
    assert 0.70 <= float(older.heat_frac(case.design.heating_99_c)) <= 0.80


def test_a_transfer_fan_carries_little():
    """V15 (greenbuildingadvisor.com, small first-floor rooms): 100 cfm at 4 F carry 430 Btu/h, the rooms need 3,000."""
    carried = carried_w(100 * CFM_M3_S, 4 / 1.8)
    assert carried / BTU_H_W == pytest.approx(432, abs=6)
    assert carried < 3000 * BTU_H_W


def test_length_is_not_the_enemy():
    """Duct practice (greenbuildingadvisor.com, low-static units): at 400 fpm a straight run loses little."""
    flow = 400 * FPM_M_S * pi * (6 * IN_M) ** 2 / 4
    assert friction_pa_m(flow, 6 * IN_M) * 25 * FT_M < 0.02 * IN_WC_PA
