"""Relations of whole house files: other units, other names and order, larger, better insulated, in a colder place."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compare.climate.embedded import embedded
from compare.house.geometry import plan_of
from compare.house.model import HouseFile
from compare.house.reading import house_of, read_house_text
from compare.loads.case import load_case_of
from compare.loads.report import LoadsReport, loads_report
from compare.physics.fabric.spaces import ground_of_year
from compare.years.case import design_of, weather_of
from tests.house.houses import tables
from tests.house.test_invariance import LISTS, renamed, si_twin

NAMES = ("ranch", "colonial", "cabin")
few = settings(max_examples=5, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def report_of(house: HouseFile, folder: Path) -> LoadsReport:
    plan = plan_of(house)
    place = weather_of(house, folder)
    case = load_case_of(house, plan, design_of(house, place), ground_of_year(place.year.dry_bulb_c))
    return loads_report(house, case, place.year)


def text_of(folder: Path, name: str) -> str:
    return (folder / f"{name}.toml").read_text(encoding="utf-8")


def figures(report: LoadsReport) -> list[float]:
    """Every figure of a report by opinion and room, in the order of the plan."""
    found = []
    for opinion in report.opinions:
        for room in opinion.loads.rooms:
            found += [room.heat_w, room.cool_sensible_w, room.cool_latent_w]
        found += [opinion.loads.house.heat_w, opinion.loads.house.cool_total_w]
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_si_twin_has_the_same_loads(scenarios, name):
    # One house in US and in SI units: 1e-9 (exact factors, NIST SP 811).
    text = text_of(scenarios, name)
    us, si = read_house_text(text, "us", scenarios), read_house_text(si_twin(text), "si", scenarios)
    assert figures(report_of(si, scenarios)) == pytest.approx(figures(report_of(us, scenarios)), rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("name", ["ranch", "colonial"])
@given(seed=st.integers(0, 2**32))
@few
def test_names_and_order_in_the_file_change_nothing(scenarios, name, seed):
    text = text_of(scenarios, name)
    raw, shuffle = tables(text), random.Random(seed)
    for key in LISTS:
        if key in raw:
            shuffle.shuffle(raw[key])
    other = renamed(raw, {room["name"]: f"Q{shuffle.random():.12f}" for room in raw["room"]})
    here = figures(report_of(read_house_text(text, "a", scenarios), scenarios))
    assert figures(report_of(house_of(other), scenarios)) == pytest.approx(here, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_a_colder_place_never_lowers_the_heating(scenarios, name):
    raw = tables(text_of(scenarios, name))
    mild = report_of(house_of(raw), scenarios)
    raw["site"]["design"]["heating_99"] = raw["site"]["design"]["heating_99"] - 15
    cold = report_of(house_of(raw), scenarios)
    for opinion in ("program", "load factors"):
        rooms = zip(mild.opinion(opinion).loads.rooms, cold.opinion(opinion).loads.rooms, strict=True)
        assert all(theirs.heat_w >= ours.heat_w for ours, theirs in rooms)


@pytest.mark.parametrize(
    "better",
    [{"wall_u": 0.04}, {"ceiling_u": 0.02, "roof_u": 0.02}, {"floor_u": 0.02}, {"window_u": 0.2}],
    ids=lambda change: next(iter(change)),
)
def test_envelope_work_never_raises_the_heating(scenarios, better):
    raw = tables(text_of(scenarios, "ranch"))
    before = report_of(house_of(raw), scenarios)
    raw["fabric"].update(better)
    after = report_of(house_of(raw), scenarios)
    for opinion in ("program", "load factors"):
        assert after.opinion(opinion).loads.house.heat_w <= before.opinion(opinion).loads.house.heat_w


@pytest.mark.parametrize("name", NAMES)
def test_a_house_turned_round_has_the_same_heating(scenarios, name):
    # Heating knows no sun: turning the plan by any angle changes nothing.
    raw = tables(text_of(scenarios, name))
    here = report_of(house_of(raw), scenarios)
    raw["house"]["plan_north"] = 77
    there = report_of(house_of(raw), scenarios)
    assert there.loads.house.heat_w == pytest.approx(here.loads.house.heat_w, rel=1e-9)
    assert there.loads.house.cool_sensible_w != pytest.approx(here.loads.house.cool_sensible_w, rel=1e-6)


def test_a_full_turn_changes_nothing(scenarios):
    raw = tables(text_of(scenarios, "ranch"))
    here = figures(report_of(house_of(raw), scenarios))
    raw["house"]["plan_north"] = 360
    assert figures(report_of(house_of(raw), scenarios)) == pytest.approx(here, rel=1e-9, abs=1e-6)


def test_indoors_as_outdoors_needs_no_heat(scenarios):
    house = read_house_text(text_of(scenarios, "ranch"), "a", scenarios)
    year = embedded("richmond")
    plan, place = plan_of(house), weather_of(house, scenarios)
    ground = replace(ground_of_year(year.dry_bulb_c), mean_c=house.comfort.heating_c, swing_k=0.0)
    design = replace(design_of(house, place), heating_99_c=house.comfort.heating_c)
    found = loads_report(house, load_case_of(house, plan, design, ground), year)
    assert found.loads.house.heat_w == pytest.approx(0.0, abs=1e-6)
