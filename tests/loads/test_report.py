"""The loads report: opinions, groups, coincident peaks, warnings, and both forms of writing it."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from compare.house.geometry import plan_of
from compare.house.reading import read_house
from compare.loads.case import load_case_of
from compare.loads.cautions import warnings_of
from compare.loads.designers import DesignersRoom
from compare.loads.groups import DAY, NIGHT, half_of_rooms, served_group, usual_groups
from compare.loads.house_loads import design_loads
from compare.loads.report import ReportExtras, loads_report
from compare.loads.report_text import report_text
from compare.loads.second_opinion import second_opinion
from compare.physics.fabric.spaces import ground_of_year
from compare.units import System
from compare.years.case import design_of, weather_of
from tests.loads.cases import small_case
from tests.physics.small_house import small_plan


def _inputs(scenarios: Path, name: str):
    house = read_house(scenarios / f"{name}.toml")
    plan = plan_of(house)
    place = weather_of(house, scenarios)
    case = load_case_of(house, plan, design_of(house, place), ground_of_year(place.year.dry_bulb_c))
    return house, case, place.year


@pytest.fixture(scope="module")
def ranch(scenarios):
    return _inputs(scenarios, "ranch")


@pytest.fixture(scope="module")
def report(ranch):
    return loads_report(*ranch)


@pytest.mark.parametrize("name", ["ranch", "colonial", "cabin", "tight_new", "flat_roof_ranch", "open_bungalow"])
def test_two_methods_on_the_demo_houses(scenarios, name):
    # Program against the published load factor method (ASHRAE Fundamentals 2021, ch. 17): heating of the house 25 %,
    # sensible cooling 35 % (the method rests on fixed swing, sun and storage factors and says so itself).
    house, case, year = _inputs(scenarios, name)
    found = loads_report(house, case, year)
    ours, other = found.opinion("program").loads.house, found.opinion("load factors").loads.house
    assert other.heat_w == pytest.approx(ours.heat_w, rel=0.25)
    assert other.cool_sensible_w == pytest.approx(ours.cool_sensible_w, rel=0.35)


def test_sum_of_rooms_and_coincident_peaks(report):
    # Definitions: heating adds; the coincident peak is at most the sum of the peaks; halves cover the house.
    rows = {(row.group.name, row.opinion): row for row in report.rows()}
    house = rows["whole house", "program"]
    assert house.load.heat_w == pytest.approx(sum(room.heat_w for room in report.loads.rooms))
    assert house.coincidence_frac < 1.0
    halves = [rows[half, "program"].load for half in (DAY, NIGHT)]
    assert sum(half.heat_w for half in halves) == pytest.approx(house.load.heat_w)
    assert sum(half.cool_total_w for half in halves) >= house.load.cool_total_w
    assert rows["whole house", "load factors"].coincidence_frac == pytest.approx(1.0)


def test_halves_follow_use_and_walls():
    # By the rule: the hall of the small house shares two walls with bedrooms and one with the living room.
    plan = small_plan()
    assert half_of_rooms(plan) == (DAY, NIGHT, NIGHT, NIGHT)
    tall = small_plan(stair=True)
    assert [group.kind for group in usual_groups(tall)] == ["open space", "level", "level", "half", "half"]
    lone = replace(plan, rooms=plan.rooms[:1], partitions=(), links=(), open_spaces=((0,),))
    assert usual_groups(lone) == ()


def test_served_zones_of_any_rooms(ranch):
    house, case, year = ranch
    zone = served_group(case.plan, (1, 5, 6))
    found = loads_report(house, case, year, ReportExtras(served=(zone,)))
    row = next(row for row in found.rows() if row.group is zone)
    assert row.load.heat_w == pytest.approx(sum(found.loads.rooms[room].heat_w for room in (1, 5, 6)))
    for wrong in ((), (1, 1), (99,)):
        with pytest.raises(ValueError, match="served zone"):
            served_group(case.plan, wrong)


def test_designers_figures_beside_and_in_place(ranch):
    house, case, year = ranch
    own = tuple(DesignersRoom(room.name, 500.0, 400.0, None) for room in case.plan.rooms)
    beside = loads_report(house, case, year, ReportExtras(designers=own))
    assert beside.in_use == "program"
    used = loads_report(house, case, year, ReportExtras(designers=own, use_designers=True))
    assert used.loads.house.heat_w == pytest.approx(500.0 * len(own))
    assert any("by the designer is" in warning for warning in used.warnings)
    assert any("Rooms whose heating by the designer" in warning for warning in used.warnings)
    assert "designer" in report_text(used, System.US)
    with pytest.raises(ValueError, match="no table"):
        loads_report(house, case, year, ReportExtras(use_designers=True))
    with pytest.raises(KeyError, match="program, load factors"):
        loads_report(house, case, year).opinion("designer")


def test_as_data_it_is_plain_json_and_says_the_same(report):
    data = json.loads(json.dumps(report.as_dict(), allow_nan=False))
    assert [opinion["name"] for opinion in data["opinions"]] == ["program", "load factors"]
    room = data["opinions"][0]["rooms"][0]
    assert sum(room["heating_parts_w"].values()) == pytest.approx(room["heating_w"])
    assert data["bills"] is None
    assert data["groups"][-1]["group"] == "whole house"
    assert len(data["assumptions"]) > 10


@pytest.mark.parametrize("units", list(System))
def test_text_holds_every_room_and_keeps_its_width(report, units):
    text = report_text(report, units)
    for room in report.plan.rooms:
        assert text.count(room.name) >= 3
    assert ("Figures in Btu/h" in text) == (units is System.US)
    assert max(map(len, text.splitlines())) <= 120
    assert "-0" not in text.replace("15-0", "").replace("2-0", "")
    for word in ("Rooms together", "Heating by part", "Look at", "Assumed", "Bills: none"):
        assert word in text


def test_a_room_that_peaks_in_the_morning_is_named(report):
    # Bedroom 1 of the ranch has east glass, the house peaks in the afternoon (solar geometry).
    assert any("other hours" in warning and "Bedroom 1" in warning for warning in report.warnings)


def test_us_figures_are_the_watts_in_btu(report):
    # 1 W = 3.41214 Btu/h; printed to whole Btu/h.
    living = report.opinion("program").loads.rooms[0]
    assert f"{living.heat_w * 3.412142:,.0f}" in report_text(report, System.US)


def test_bills_in_the_report(scenarios, ranch):
    from compare.loads.third_opinion import calculated_loss_w_k

    house, case, year = ranch
    with_bills = house.model_copy(update={"bills": _bills(house, calculated_loss_w_k(case, year), year)})
    found = loads_report(with_bills, case, year, ReportExtras(calendar_year=2023))
    assert found.third.agrees
    text = report_text(found, System.US)
    assert "They agree." in text
    assert json.loads(json.dumps(found.as_dict(), allow_nan=False))["bills"]["agrees"]
    few = loads_report(house.model_copy(update={"bills": with_bills.bills[:3]}), case, year)
    assert "cannot serve" in report_text(few, System.SI)


def _bills(house, loss_w_k, year):
    from datetime import date

    import numpy as np

    from compare.house.services import Bill

    daily_c = year.dry_bulb_c.reshape(-1, 24).mean(axis=1)
    bills = []
    for month in range(1, 13):
        start, end = date(2023, month, 1), date(2023 + month // 12, month % 12 + 1, 1)
        first = start.timetuple().tm_yday - 1
        days = daily_c[first : first + (end - start).days]
        use_kwh = 10.0 * len(days) + loss_w_k * 0.024 * np.maximum(16.0 - days, 0.0).sum()
        row = {"from": start, "to": end, "fuel": "electric", "amount": float(use_kwh)}
        bills.append(Bill.model_validate(row))
    return bills


CASE = small_case()
OURS, FACTORS = design_loads(CASE), second_opinion(CASE)


def test_warnings_say_where_to_look():
    # Our own limits, from both sides: a room halved, a house doubled, estimated humidity.
    calm = warnings_of(CASE.plan, {"program": OURS}, None, latent_ok=True)
    damp = warnings_of(CASE.plan, {"program": OURS}, None, latent_ok=False)
    assert len(damp) == len(calm) + 1
    twice = replace(FACTORS, rooms=tuple(replace(r, heat_w=2.0 * r.heat_w) for r in OURS.rooms))
    found = " ".join(warnings_of(CASE.plan, {"program": OURS, "load factors": twice}, None, latent_ok=True))
    assert "100% higher" in found
    bare = replace(OURS, rooms=tuple(replace(r, heat_w=0.1) for r in OURS.rooms))
    assert "per floor area is unusual" in " ".join(warnings_of(CASE.plan, {"program": bare}, None, latent_ok=True))
