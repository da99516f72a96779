"""ANSI/ASHRAE Standard 140-2020 thermal fabric cases through the reduced room and the year kernel.

Ranges: Tables B8-1 to B8-5, lowest and highest result of the reference programs, in `standard140_ranges.csv` with the
source on every row. A figure passes inside its range. Figures that are known to fall outside stand in `OUTSIDE` with
what is known of the cause, and must stay within 5 % of the nearer end. Interior films and sky model were chosen once on
these cases, together, after about six sets had been tried; no case was then tuned by itself.
"""

from dataclasses import replace

import pytest

from compare.climate.reader import load_weather
from compare.physics.fabric.drivers import Face
from compare.physics.fabric.forcing import glass_sun_w
from compare.physics.validation.standard140 import NEAR_FRAC, case_drivers, case_figures, check_year, standard140_table
from compare.physics.validation.standard140_box import box_options, prepared_box
from compare.physics.validation.standard140_cases import case_named, cases, ranges

FILE = "denver_co_725650_standard140.epw"

OUTSIDE = {
    ("200", "annual cooling"): "constant film inside the panel: 2.0 in place of 2.4 W/m2K gives 0.822, inside",
    ("215", "annual heating"): "constant film inside the panel: 2.0 in place of 2.4 W/m2K gives 5.651, inside",
    ("215", "peak heating"): "constant film inside the panel: 2.0 in place of 2.4 W/m2K gives 2.504, inside",
    ("300", "annual cooling"): "runs high in nearly every variant of films, glass and sky; cause not found",
    (
        "320",
        "annual cooling",
    ): "0.1 % above; radiation outside made linear about 20 in place of 10 degC gives 4.981, inside",
}


@pytest.fixture(scope="module")
def year(shared_weather):
    return load_weather(shared_weather / FILE).year


@pytest.fixture(scope="module")
def table(year):
    return {(row.case, row.quantity): row for row in standard140_table(year)}


@pytest.mark.parametrize("span", ranges(), ids=lambda r: f"{r.case} {r.quantity}")
def test_figure_lies_in_its_range(table, span):
    row = table[span.case, span.quantity]
    assert (row.low, row.high, row.unit) == (span.low, span.high, span.unit)
    if (span.case, span.quantity) in OUTSIDE:
        assert not row.inside, "it is inside now: take it out of OUTSIDE"
        assert row.off_frac <= NEAR_FRAC
    else:
        assert row.inside, f"{row.value:.3f} {row.unit} is {row.off_frac:.1%} outside {row.low} to {row.high}"


# What the reasons in OUTSIDE rest on: with this one change the figure moves inside (the defaults stay as they are).
REASONS = [
    ("200", "annual cooling", {"inside_glass_w_m2k": 2.0}),
    ("215", "annual heating", {"inside_glass_w_m2k": 2.0}),
    ("215", "peak heating", {"inside_glass_w_m2k": 2.0}),
    ("320", "annual cooling", {"mean_outside_c": 20.0}),
]


@pytest.mark.parametrize(("name", "quantity", "changed"), REASONS, ids=str)
def test_reason_for_a_figure_outside(year, name, quantity, changed):
    case, options = case_named(name), box_options()
    altered = replace(options, films=replace(options.films, **changed))
    value = case_figures(case, case_drivers(case, year), prepared=prepared_box(case, altered))[quantity][1]
    span = next(r for r in ranges() if (r.case, r.quantity) == (name, quantity))
    assert span.low <= value <= span.high


# Differences of the means of the published ranges: one air change an hour, and 200 W of gains; 5 %.
@pytest.mark.parametrize(("more", "less", "mwh"), [("230", "220", 3.32), ("220", "240", 1.22)])
def test_difference_between_cases(table, more, less, mwh):
    found = table[more, "annual heating"].value - table[less, "annual heating"].value
    assert found == pytest.approx(mwh, rel=0.05)


# ISO 13790 simple hourly model as published for the same cases (guide of an open library of building models): the
# project's model must not be further from the middle of the range than that simpler one.
SIMPLE = {
    ("600", "annual heating"): 4.658,
    ("900", "annual heating"): 1.833,
    ("900", "peak cooling"): 2.365,
    ("600FF", "lowest temperature"): -12.9,
    ("600FF", "highest temperature"): 67.0,
    ("900FF", "lowest temperature"): 0.3,
}


@pytest.mark.parametrize("key", SIMPLE, ids=" ".join)
def test_no_further_off_than_the_simple_hourly_model(table, key):
    row = table[key]
    middle = 0.5 * (row.low + row.high)
    assert abs(row.value - middle) < abs(SIMPLE[key] - middle)


# Sun let through the glass of the box in a year, kWh/m2: span of the reference programs (2020 edition).
@pytest.mark.parametrize(("case", "azimuth_deg", "low", "high"), [("600", 180.0, 804, 826), ("620", 270.0, 569, 624)])
def test_transmitted_sun(year, case, azimuth_deg, low, high):
    chosen = case_named(case)
    drivers = case_drivers(chosen, year)
    window = next(
        p for p in prepared_box(chosen).full.parts if p.kind.value == "window" and p.azimuth_deg == azimuth_deg
    )
    through_w = glass_sun_w(window, window.make, drivers.sun[Face.of(90.0, azimuth_deg)], drivers)[0]
    assert low <= through_w.sum() / window.area_m2 / 1000.0 <= high


# Cases without a published range here: only their direction is checked, from what they change of a case with one.
ORDER = [
    ("610", "600", "annual cooling", "an overhang"),
    ("910", "900", "annual cooling", "an overhang"),
    ("290", "270", "annual cooling", "an overhang"),
    ("310", "300", "annual cooling", "overhang and fins"),
    ("640", "600", "annual heating", "setback"),
    ("940", "900", "annual heating", "setback"),
    ("280", "270", "annual cooling", "a light interior that sends sun out again"),
    ("920", "620", "annual cooling", "mass"),
]


@pytest.mark.parametrize(("lower", "higher", "quantity", "cause"), ORDER, ids=str)
def test_definition_only_cases_move_the_right_way(table, lower, higher, quantity, cause):
    assert table[lower, quantity].value < table[higher, quantity].value, cause


def test_cases_without_a_range_are_reported_as_such(table):
    known = {r.case for r in ranges()}
    for (case, _), row in table.items():
        assert (row.source == "definition only") == (case not in known or row.low is None)
    assert {case.name for case in cases()} == {case for case, _ in table}


def test_setback_raises_the_morning_peak(table):
    assert table["640", "peak heating"].value > table["600", "peak heating"].value


def test_another_year_is_refused(year):
    with pytest.raises(ValueError, match="Standard 140 year 725650"):
        check_year(replace(year, dry_bulb_c=year.dry_bulb_c + 1.0))


def test_a_new_case_needs_only_its_parameters(year):
    # A case of the family that is not in the table: 600 with three air changes in place of a half needs more heat.
    airy = replace(case_named("600"), name="600 at 3 air changes", air_changes_per_h=3.0)
    rows = {row.quantity: row for row in standard140_table(year, [airy])}
    assert rows["annual heating"].value > 8.0
    assert rows["annual heating"].inside is None
