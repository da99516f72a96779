"""Flammable refrigerant: UL/IEC 60335-2-40 annex GG relation, as quoted with worked areas in installation manuals."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from compare.equipment.catalogue import catalogue
from compare.equipment.refrigerant import (
    M2_CEILING_M3,
    Refrigerant,
    ServedRoom,
    Verdict,
    check_charge,
    largest_charge_kg,
    least_area_m2,
    line_charge_kg,
    release_height_m,
    unlimited_charge_kg,
)
from compare.equipment.unit import UnitKind

ROWS = Path(__file__).parent / "equipment"
LB_KG = 0.45359237
R32, R454B = Refrigerant.R32, Refrigerant.R454B


@pytest.mark.parametrize(
    ("kind", "area_m2"), [(UnitKind.FLOOR, 28.81), (UnitKind.WALL, 3.20), (UnitKind.CEILING, 2.14)]
)
def test_least_area_for_1_84_kg_of_r32(kind, area_m2):
    """Printed minimum areas for 1.84 kg of R-32 (installation manuals quoting UL/IEC 60335-2-40); 0.01 m2.

    The manuals print them for the European LFL of 0.307 kg/m3.
    """
    assert least_area_m2(1.84, release_height_m(kind), R32.lfl_kg_m3) == pytest.approx(area_m2, abs=0.01)


@pytest.mark.parametrize(
    ("height_m", "lfl", "limits"),
    [
        (0.6, R32, [0.91, 1.08, 1.33, 1.53, 1.88]),
        (1.0, R32, [1.51, 1.81, 2.21, 2.55, 3.13]),
        (1.8, R32, [2.72, 3.25, 3.98, 4.60, 5.63]),
        (2.2, R32, [3.33, 3.97, 4.87, 5.62, 6.88]),
        (1.8, R454B, [2.60, 3.11, 3.81, 4.39, 5.38]),
    ],
)
def test_largest_charge_table(height_m, lfl, limits):
    """Annex GG relation worked by hand for 7, 10, 15, 20, 30 m2; 0.01 kg."""
    got = [largest_charge_kg(area, height_m, lfl.lfl_kg_m3) for area in (7, 10, 15, 20, 30)]
    assert got == pytest.approx(limits, abs=0.0101)


@pytest.mark.parametrize(("refrigerant", "pounds"), [(R32, 4.05), (R454B, 3.91)])
def test_charge_without_area_rule(refrigerant, pounds):
    """UL 60335-2-40 4th edition, printed in pounds; 0.02 lb for the two values of LFL in use."""
    assert unlimited_charge_kg(refrigerant.lfl_kg_m3) / LB_KG == pytest.approx(pounds, abs=0.02)


@pytest.mark.parametrize(("refrigerant", "pounds"), [(R32, 35.1), (R454B, 33.9)])
def test_largest_charge_at_all(refrigerant, pounds):
    """UL 60335-2-40 4th edition, printed in pounds; 0.1 lb."""
    assert M2_CEILING_M3 * refrigerant.lfl_kg_m3 / LB_KG == pytest.approx(pounds, abs=0.1)


def test_floor_console_asks_for_nine_times_the_area_of_a_wall_head():
    """Release heights 0.6 and 1.8 m in the annex GG relation: (1.8 / 0.6)^2 = 9."""
    areas = [least_area_m2(2.0, release_height_m(kind), R32.lfl_kg_m3) for kind in (UnitKind.FLOOR, UnitKind.WALL)]
    assert areas[0] / areas[1] == pytest.approx(9.0, rel=1e-12)
    assert areas == pytest.approx([34.0, 3.8], abs=0.06)


def test_least_areas_of_the_catalogues_outdoor_units():
    """Annex GG relation worked by hand for a wall head; 0 where the charge needs no area; 0.06 m2 (printed 0.1)."""
    for name, find in (("single", None), ("shared", catalogue().shared_unit)):
        with (ROWS / f"least_area_{name}.csv").open(encoding="utf-8") as file:
            for row in csv.DictReader(file):
                charge = float(row["charge_kg"])
                if find is not None:
                    assert find(float(row["size"])).outdoor.charge_kg == charge
                area = least_area_m2(charge, 1.8, R32.lfl_kg_m3) if charge > unlimited_charge_kg(R32.lfl_kg_m3) else 0.0
                assert area == pytest.approx(float(row["wall_m2"]), abs=0.06)


def test_shared_36_against_wall_head_and_console():
    """2.8 kg: 7.4 and 66.7 m2 (annex GG relation worked by hand)."""
    charge = catalogue().shared_unit(36).outdoor.charge_kg
    areas = [least_area_m2(charge, release_height_m(kind), R32.lfl_kg_m3) for kind in (UnitKind.WALL, UnitKind.FLOOR)]
    assert areas == pytest.approx([7.4, 66.7], abs=0.06)


def test_a_lower_duct_opening_decides_and_never_below_0_6_m():
    """Installation manuals: the lowest opening above 5 cm2 counts; h0 never below 0.6 m."""
    assert release_height_m(UnitKind.DUCTED_LOW) == 2.2
    assert release_height_m(UnitKind.DUCTED_LOW, 1.0) == 1.0
    assert release_height_m(UnitKind.DUCTED_LOW, 0.1) == 0.6
    assert release_height_m(UnitKind.WALL, 2.5) == 1.8


def test_whole_circuit_against_its_smallest_room():
    """A shared unit of 2.8 kg is rejected for one small console room though its other rooms are large (annex GG)."""
    rooms = [
        ServedRoom("Living", 60.0, UnitKind.WALL),
        ServedRoom("Small bedroom", 9.0, UnitKind.FLOOR),
        ServedRoom("Bedroom", 12.0, UnitKind.WALL),
    ]
    result = check_charge(2.8, rooms)
    assert result.verdict is Verdict.REJECTED
    assert result.room == "Small bedroom"
    assert result.least_area_m2 == pytest.approx(66.7, abs=0.06)
    assert "annex GG" in result.clause
    assert result.confirm == "confirm with the adopted code and the unit's listing"
    walls = [ServedRoom(room.name, room.area_m2, UnitKind.WALL) for room in rooms]
    assert check_charge(2.8, walls).verdict is Verdict.CLEAR


def test_between_the_two_limits_without_area_rule_is_a_caution():
    """4 LFL (base IEC, from memory) < charge <= 6 LFL (UL 4th edition) in a small console room."""
    room = [ServedRoom("Study", 8.0, UnitKind.FLOOR)]
    assert check_charge(1.20, room).verdict is Verdict.CLEAR
    assert check_charge(1.30, room).verdict is Verdict.CAUTION
    assert check_charge(1.84, room).verdict is Verdict.CAUTION
    assert check_charge(1.85, room).verdict is Verdict.REJECTED
    assert check_charge(1.30, [ServedRoom("Hall", 40.0, UnitKind.FLOOR)]).verdict is Verdict.CLEAR


def test_more_than_the_ceiling_is_rejected_in_any_room():
    """52 LFL (UL 4th edition): 16 kg of R-32 whatever the room."""
    assert check_charge(16.0, [ServedRoom("Barn", 5000.0, UnitKind.CEILING)]).verdict is Verdict.REJECTED


def test_single_zone_consoles_stay_below_the_base_limit_until_a_long_line():
    """Factory charges lie under 4 LFL = 1.228 kg (base IEC, from memory); a long line carries the 18 over it."""
    base = unlimited_charge_kg(R32.lfl_kg_m3, tight=False)
    for pair in catalogue().pairs_of(UnitKind.FLOOR):
        assert pair.outdoor.charge_kg + line_charge_kg(pair.size_kbtuh, 7.0) <= base
    big = catalogue().pair(UnitKind.FLOOR, 18)
    assert big.outdoor.charge_kg + line_charge_kg(18, big.outdoor.line_total_m) > base


@pytest.mark.parametrize(
    ("charge_kg", "rooms", "message"),
    [
        (1.0, [], "rooms: give at least one room"),
        (0.0, [ServedRoom("A", 10.0, UnitKind.WALL)], "must be above 0"),
        (1.0, [ServedRoom("A", 0.0, UnitKind.WALL)], "must be above 0"),
    ],
)
def test_bad_input_is_named(charge_kg, rooms, message):
    with pytest.raises(ValueError, match=message):
        check_charge(charge_kg, rooms)
