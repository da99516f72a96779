"""Defaults and presets: listed when used, silent when the file speaks, and checked against outside figures."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from compare.house.defaults import Assumption, assumptions
from compare.house.model import HouseFile
from compare.house.reading import read_house_text
from compare.house.services import Age, Leakage
from compare.house.tables import age_presets, clock_hours, default_of, fields, leakage_classes, preset_of_year, uses
from compare.kinds import Kind, System
from compare.units import from_si
from tests.house.houses import HEAD, RANCH, TWO_STOREYS

BARE = (
    HEAD
    + '[[level]]\nname = "l"\nbelow = "outdoors"\n'
    + '[[room]]\nname = "r"\nlevel = "l"\nuse = "hall"\nat = [0, 0]\nsize = [4, 4]\n'
)


def listed(text: str) -> dict[str, Assumption]:
    return {found.path: found for found in assumptions(read_house_text(text, "t"))}


def test_a_bare_house_lists_everything_it_leaves_out() -> None:
    found = listed(BARE)
    for path in (
        "comfort.heating", "comfort.sleep", "fabric.age", "fabric.wall_u", "fabric.window_shgc", "fabric.partition_u",
        "air.class", "air.ach50", "house.plan_north", "house.people", "site.elevation", "site.weather", "site.design",
        "rates.electricity", "panel.service_amps", "priorities", "existing_heat", "level.above",
        "level.height (1 of 1)",
    ):  # fmt: skip
        assert path in found, path
        assert found[path].value_text
        assert found[path].reason
    assert found["comfort.heating"].value_text == "21.1 °C"
    assert found["fabric.age"].reason == "the house was built in 1990"


def test_what_the_file_says_is_not_assumed() -> None:
    found = listed(RANCH)
    assert not {
        path for path in found if path.startswith(("comfort", "site", "bed", "door", "level", "panel", "house"))
    }
    assert "fabric.wall_u" not in found
    assert "air.class" not in found
    assert found["window.shade (9 of 9)"].value_text == "100 %"
    assert found["fabric.roof_u"].value_text.endswith("Btu/h·ft²·°F")


def test_only_what_matters_is_listed() -> None:
    found = listed(TWO_STOREYS)
    assert "window.overhang_above (1 of 2)" in found, "one window has an overhang"
    assert "window.overhang (1 of 2)" in found
    assert "door.undercut (3 of 4)" in found, "the fourth is an outside door"
    assert "rates.gas" not in found
    assert found["room.bed"].value_text == "Bed B: one bed"
    assert found["room.seat"].value_text == "Living, Kitchen: one seat"
    gas = TWO_STOREYS + '[existing_heat]\nfuel = "gas"\n'
    assert {"rates.gas", "existing_heat.efficiency"} <= listed(gas).keys()
    assert "rates.gas" not in listed(gas + "price = 1.4\n")
    assert "air.heat_recovery" in listed(TWO_STOREYS + '[air]\nventilation = 20\nventilation_kind = "balanced"\n')


def _people(text: str) -> float:
    return read_house_text(text, "t").people


def test_people_are_counted_from_the_beds() -> None:
    assert _people(TWO_STOREYS) == 3.0, "two in bed A, one in bed B which has no bed in the file"
    assert _people(TWO_STOREYS.replace("sleepers = 2", "sleepers = 2\nregular = false")) == 1.0
    assert _people(TWO_STOREYS.replace("built = 1990", "built = 1990\npeople = 7")) == 7.0


def _house(more: str) -> HouseFile:
    return read_house_text(BARE + more, "t")


def test_age_and_leakage_fall_back_on_each_other() -> None:
    presets = age_presets()
    assert _house("").fabric.age is Age.TO_1999
    assert _house("").air.ach50_1_h == leakage_classes()["average"].ach50_1_h
    old = _house('[fabric]\nage = "before 1940"\nwall_u = 0.4\n')
    assert old.fabric.wall_u_w_m2k == 0.4
    assert old.fabric.ceiling_u_w_m2k == presets["before 1940"].values["ceiling_u"]
    assert old.air.leakage is Leakage.LEAKY
    assert _house('[air]\nclass = "tight"\n').air.ach50_1_h == leakage_classes()["tight"].ach50_1_h
    assert _house('[air]\nclass = "tight"\nach50 = 9\n').air.ach50_1_h == 9.0


def test_presets_cover_every_year_and_improve_with_it() -> None:
    spans = [(preset.first_year, preset.last_year) for preset in age_presets().values()]
    assert all(after[0] == before[1] + 1 for before, after in pairwise(spans))
    assert [age.value for age in Age] == list(age_presets())
    assert [preset_of_year(year).age for year in (1600, 1939, 1940, 1979, 1980, 2014, 2015, 2100)] == [
        "before 1940", "before 1940", "1940-1979", "1940-1979", "1980-1999", "2000-2014", "2015 and later",
        "2015 and later",
    ]  # fmt: skip
    for older, newer in pairwise(age_presets().values()):
        for key in older.values:
            assert newer.values[key] <= older.values[key], key


def test_presets_and_defaults_lie_in_their_ranges() -> None:
    for preset in age_presets().values():
        for key, value in preset.values.items():
            assert fields()[f"fabric.{key}"].low <= value <= fields()[f"fabric.{key}"].high
    for name, spec in fields().items():
        assert spec.low < spec.high, name
        if spec.default is not None:
            assert spec.low <= spec.default <= spec.high, name
            assert spec.mark, name
            assert spec.sentence, name


def test_unit_leakage_areas_and_blower_door_figures() -> None:
    """Unit leakage areas: ASHRAE Handbook of Fundamentals 2017, ch. 17, cm² a m² at 4 Pa.

    The blower-door figure follows from it by Q = A·sqrt(2·4/1.2)·(50/4)^0.65 and 0.65 m² of surface a m³.
    """
    areas = [row.unit_area_cm2_m2 for row in leakage_classes().values()]
    assert areas == [0.7, 1.4, 2.8, 5.6, 10.4]
    for row in leakage_classes().values():
        flow_m3_s = row.unit_area_cm2_m2 * 1e-4 * 0.65 * math.sqrt(2 * 4 / 1.2) * (50 / 4) ** 0.65
        assert row.ach50_1_h == pytest.approx(flow_m3_s * 3600, rel=0.01)
    assert [word.value for word in Leakage] == list(leakage_classes())


def test_handbook_figures_behind_the_presets() -> None:
    """Round trips of the table: R-values of usual assemblies, from memory, in h·ft²·°F/Btu."""
    ceiling = from_si(age_presets()["1980-1999"].values["ceiling_u"], Kind.U_VALUE, System.US)
    assert 1.0 / ceiling == pytest.approx(30, rel=0.02)
    slab = from_si(age_presets()["1940-1979"].values["slab_edge"], Kind.EDGE_LOSS, System.US)
    assert slab == pytest.approx(0.73), "ASHRAE 90.1 table A6.3, uninsulated unheated slab, from memory"


def test_clock_hours() -> None:
    assert clock_hours("09-17") == set(range(9, 17))
    assert clock_hours("22-07") == {22, 23, *range(7)}
    assert clock_hours("06-08, 19-22") == {6, 7, 19, 20, 21}
    assert clock_hours("00-24") == set(range(24))
    assert clock_hours("18-24") == set(range(18, 24))
    assert clock_hours("") == frozenset()
    for wrong in ("9", "9-", "a-b", "24-3", "5-5", "9-25", "9-17;", "٩-17", "009-17"):
        with pytest.raises(ValueError, match="hours"):
            clock_hours(wrong)


def test_every_use_has_hours_or_is_passed_through() -> None:
    assert len(uses()) == 11
    passed = {use.value for use, row in uses().items() if not row.hours}
    assert passed == {"hall", "entry", "laundry", "storage"}


def test_a_field_without_a_default_has_none() -> None:
    with pytest.raises(LookupError):
        default_of("site.latitude")
