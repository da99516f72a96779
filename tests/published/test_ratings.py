"""Seasonal ratings against the public rating procedure's tables and a worked example.

Bins, zero-load temperatures and slopes: AHRI 210/240-2023 tables (10 CFR 430 subpart B appendix M1), read as quoted in
public texts. The worked example was computed from the procedure's equations as remembered, apart from this program:
it is a regression value, not independent proof of the equations.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from compare.equipment.catalogue import catalogue
from compare.equipment.implied import implied_ratings
from compare.equipment.seasonal import (
    REGIONS,
    CoolingTests,
    HeatingTests,
    RatingPoint,
    cooling_season,
    default_full_35,
    defrost_credit_frac,
    heating_season,
    region,
)
from compare.equipment.table import BTU_H_W, to_c
from compare.equipment.unit import UnitKind

ROWS = Path(__file__).parent / "equipment"


def point(capacity_btu_h: float, power_w: float) -> RatingPoint:
    return RatingPoint(capacity_btu_h * BTU_H_W, power_w)


COOLING = CoolingTests(
    full_95=point(12000, 960),
    full_82=point(12900, 840),
    middle_87=point(7800, 430),
    least_82=point(3600, 150),
    least_67=point(4000, 110),
)
HEATING = HeatingTests(
    least_62=point(4200, 210),
    least_47=point(3400, 210),
    full_47=point(15000, 1200),
    middle_35=point(7000, 560),
    full_17=point(11000, 1180),
    full_5=point(9600, 1220),
)
COOL_95_W = 12000 * BTU_H_W


def test_cooling_bin_shares_are_those_of_the_procedure():
    """AHRI 210/240-2023: 67 to 102 F, sum exactly 1."""
    shares = cooling_season(COOLING).shares
    assert shares.tolist() == [0.214, 0.231, 0.216, 0.161, 0.104, 0.052, 0.018, 0.004]
    assert shares.sum() == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize(
    ("name", "zero_load_f", "slope", "total"),
    [
        ("I", 58, 1.03, 0.709),
        ("II", 57, 0.99, 0.596),
        ("III", 56, 1.21, 0.705),
        ("IV", 55, 1.07, 0.757),
        ("V", 55, 1.08, 0.802),
        ("VI", 57, 1.03, 0.681),
    ],
)
def test_heating_regions_are_those_of_the_procedure(name, zero_load_f, slope, total):
    """AHRI 210/240-2023: zero-load temperature and variable-speed slope exact; sums of the printed fractions."""
    where = region(name)
    assert where.zero_load_c == pytest.approx(to_c(zero_load_f), abs=1e-9)
    assert where.slope == slope
    assert sum(where.shares) == pytest.approx(total, abs=1e-9)


def test_region_iv_bins_and_slope_of_other_units():
    """AHRI 210/240-2023 fractions from 52 to -8 F; slope 1.15 also in the ORNL/TM-2015/281 addendum (OSTI 1287036)."""
    where = region("IV", variable_speed=False)
    shares = {round(c * 1.8 + 32): share for c, share in zip(where.bins_c, where.shares, strict=True) if share > 0}
    assert shares == {
        52: 0.103, 47: 0.093, 42: 0.100, 37: 0.109, 32: 0.126, 27: 0.087, 22: 0.055, 17: 0.036, 12: 0.026, 7: 0.013,
        2: 0.006, -3: 0.002, -8: 0.001,
    }  # fmt: skip
    assert where.slope == 1.15


def test_unknown_region_names_the_allowed_ones():
    with pytest.raises(ValueError, match="region 'VII' is not one of I, II"):
        region("VII")


@pytest.mark.parametrize(("degradation", "seer2"), [(0.25, 20.844), (0.0, 21.167)])
def test_worked_cooling_season(degradation, seer2):
    """Worked example, tolerance 0.001 Btu/Wh."""
    assert cooling_season(COOLING, degradation).rating_btu_wh == pytest.approx(seer2, abs=0.001)


def test_worked_cooling_bins():
    """Worked example, power by bin to the printed 0.01 W and load to 0.1 Btu/h."""
    season = cooling_season(COOLING)
    assert season.power_w == pytest.approx([23.48, 83.61, 150.73, 261.39, 404.44, 591.97, 842.90, 1024.62], abs=0.0051)
    loads = [676.4, 2367.3, 4058.2, 5749.1, 7440.0, 9130.9, 10821.8, 12512.7]
    assert season.load_w / BTU_H_W == pytest.approx(loads, abs=0.051)


@pytest.mark.parametrize(
    ("name", "hspf2", "resistance_percent"),
    [
        ("I", 14.167, 0.0),
        ("II", 13.390, 0.0),
        ("III", 12.232, 3.0),
        ("IV", 10.704, 7.7),
        ("V", 8.406, 25.4),
        ("VI", 13.963, 0.0),
    ],
)
def test_worked_heating_season_by_region(name, hspf2, resistance_percent):
    """Worked example, HSPF2 to 0.001 Btu/Wh and resistance share to the printed 0.1 %."""
    season = heating_season(HEATING, region(name), COOL_95_W)
    assert season.rating_btu_wh == pytest.approx(hspf2, abs=0.001)
    assert 100 * season.resistance_share_frac == pytest.approx(resistance_percent, abs=0.051)


def test_worked_heating_bins_of_region_iv():
    """Worked example: load, three speeds [Btu/h], power and resistance [W] of every bin with hours.

    Resistance is printed with 3.413 Btu/Wh, hence 0.03 % wider than the last digit.
    """
    rows = np.array(
        [
            [52, 770.4, 3666.7, 7949.7, 15666.7, 54.98, 0],
            [47, 2054.4, 3400.0, 7670.4, 15000.0, 140.82, 0],
            [42, 3338.4, 3133.3, 7391.1, 12472.2, 224.98, 0],
            [37, 4622.4, 2866.7, 7111.7, 12177.8, 348.61, 0],
            [32, 5906.4, 2600.0, 6832.4, 11883.3, 482.78, 0],
            [27, 7190.4, 2333.3, 6553.1, 11588.9, 627.98, 0],
            [22, 8474.4, 2066.7, 6273.7, 11294.4, 808.90, 0],
            [17, 9758.4, 1800.0, 5994.4, 11000.0, 1010.73, 0],
            [12, 11042.4, 1533.3, 5715.1, 10416.7, 1196.67, 183.34],
            [7, 12326.4, 1266.7, 5435.7, 9833.3, 1213.33, 730.46],
            [2, 13610.4, 1000.0, 5156.4, 9250.0, 1230.00, 1277.59],
            [-3, 14894.4, 733.3, 4877.1, 8666.7, 1246.67, 1824.71],
            [-8, 16178.4, 466.7, 4597.8, 8083.3, 1263.33, 2371.83],
        ]
    )
    where = region("IV")
    season = heating_season(HEATING, where, COOL_95_W)
    keep = [place for place, share in enumerate(where.shares) if share > 0]
    got = [season.load_w, season.least_w, season.middle_w, season.full_w]
    for column, values in enumerate(got, start=1):
        assert values[keep] / BTU_H_W == pytest.approx(rows[:, column], abs=0.051)
    assert season.power_w[keep] == pytest.approx(rows[:, 5], abs=0.0051)
    assert season.resistance_w[keep] == pytest.approx(rows[:, 6], rel=4e-4, abs=0.01)


@pytest.mark.parametrize(
    ("degradation", "expected"),
    [
        (0.25, [10.704, 11.428, 11.358, 10.747]),
        (0.50, [10.602, 11.191, 10.967, 10.062]),
        (0.0, [10.776, 11.602, 11.653, 11.290]),
    ],
)
def test_worked_oversize_table(degradation, expected):
    """Worked example: load divided by 1, 1.5, 2, 3 in region IV; tolerance 0.001 Btu/Wh."""
    got = [
        heating_season(HEATING, region("IV"), COOL_95_W / factor, degradation).rating_btu_wh
        for factor in (1, 1.5, 2, 3)
    ]
    assert got == pytest.approx(expected, abs=0.001)


def test_default_full_speed_point_at_35_f():
    """Worked example: 12,060 Btu/h and 1,174.12 W."""
    got = default_full_35(HEATING.full_17, HEATING.full_47)
    assert got.capacity_w / BTU_H_W == pytest.approx(12060, abs=0.01)
    assert got.power_w == pytest.approx(1174.12, abs=0.005)


@pytest.mark.parametrize(
    ("between_h", "longest_h", "credit"), [(1.5, 12, 1.030), (6, 12, 1.0171), (12, 12, 1.0), (1.0, 12, 1.03)]
)
def test_demand_defrost_credit(between_h, longest_h, credit):
    """10 CFR 430 appendix M1 relation (from memory); values to the last printed digit."""
    assert defrost_credit_frac(between_h, longest_h) == pytest.approx(credit, abs=5e-5)


def implied_rows() -> list[dict[str, str]]:
    with (ROWS / "implied_ratings.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", implied_rows(), ids=lambda row: f"{row['kind']} {row['size']}")
def test_ratings_implied_by_the_catalogue(row):
    """Values computed from the same catalogue points apart from this program; tolerance 0.1 Btu/Wh (regression)."""
    pair = catalogue().pair(UnitKind(row["kind"]), float(row["size"]))
    got = implied_ratings(pair.output)
    assert got.seer2 == pytest.approx(float(row["seer2"]), abs=0.1)
    assert got.hspf2 == pytest.approx(float(row["hspf2"]), abs=0.1)
    assert pair.output.cold_climate is (row["cold_climate"] == "Y")


def test_ratings_implied_for_shared_outdoor_units():
    """As above, with the minimum of one indoor unit calling."""
    with (ROWS / "implied_ratings_shared.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            got = implied_ratings(catalogue().shared_unit(float(row["size"])).output)
            assert got.seer2 == pytest.approx(float(row["seer2"]), abs=0.1)
            assert got.hspf2 == pytest.approx(float(row["hspf2"]), abs=0.1)


def test_every_generic_pair_reaches_the_us_minimum_of_2023():
    """10 CFR 430.32: SEER2 14.3 and HSPF2 7.5 for split-system heat pumps (from memory)."""
    for pair in catalogue().pairs:
        got = implied_ratings(pair.output)
        assert got.seer2 >= 14.3
        assert got.hspf2 >= 7.5


def test_colder_regions_rate_lower():
    """Order of the regions by cold: V under IV under III under II (the procedure's own reason for regions)."""
    ratings = {name: heating_season(HEATING, region(name), COOL_95_W).rating_btu_wh for name in REGIONS}
    assert ratings["V"] < ratings["IV"] < ratings["III"] < ratings["II"] < ratings["I"]
