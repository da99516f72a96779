"""What is heard of units over a year."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from compare.air.tables import constant
from compare.equipment.year import UnitYear, unit_year
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.years.energy import systems_of
from compare.years.sound import felt_frac, heard_dba, outdoor_dba, outdoor_hours, unit_hours
from compare.zones.ears import ears_of
from tests.houses import compared, option_of

KEY = "h0-h1-h5-h6"


@pytest.fixture(scope="module")
def ranch() -> Comparison:
    return compared("ranch")


def year_of(found: Comparison, option: Option, heat_w: float) -> tuple[UnitYear, ...]:
    """Units that give the same heat in every hour."""
    hours = found.case.weather.dry_bulb_c
    return tuple(
        unit_year(system, np.full((hours.shape[0], len(system.heads)), heat_w), hours)
        for system in systems_of(found.case, option)
    )


def test_a_unit_that_never_runs_leaves_the_background(ranch: Comparison) -> None:
    option = option_of(ranch, KEY)
    hours = unit_hours(option, year_of(ranch, option, 0.0))
    for zone, running in zip(option.zones, hours, strict=True):
        for ear in ears_of(ranch.case.plan, zone, ranch.sources.units):
            assert heard_dba([(ear, running)]) == pytest.approx(constant("background_dba"), abs=1e-6)
            assert felt_frac(ear, running, ranch.season, frozenset(range(24))) == 0.0


def test_more_heat_is_louder_at_the_pillow(ranch: Comparison) -> None:
    option = option_of(ranch, KEY)
    bedroom = 1
    ear = next(e for e in ears_of(ranch.case.plan, option.zones[bedroom], ranch.sources.units) if e.bed)
    levels = [
        heard_dba([(ear, unit_hours(option, year_of(ranch, option, heat_w))[bedroom])]).mean()
        for heat_w in (100.0, 400.0, 900.0, 1500.0)
    ]
    assert levels == sorted(levels)
    assert levels[-1] > levels[0] + 1.0


def test_two_equal_units_are_three_decibels_louder_than_one_over_the_background(ranch: Comparison) -> None:
    """Sum of two equal incoherent sources: 10 log 2 = 3.01 dB (acoustics textbooks); the background once."""
    option = option_of(ranch, KEY)
    running = unit_hours(option, year_of(ranch, option, 1200.0))[1]
    ear = next(e for e in ears_of(ranch.case.plan, option.zones[1], ranch.sources.units) if e.bed)
    background = 10 ** (constant("background_dba") / 10)
    one, two = (10 ** (heard_dba([(ear, running)] * n) / 10) - background for n in (1, 2))
    assert np.allclose(10 * np.log10(two / one), 3.0103, atol=1e-6)


def far_away(option: Option, factor: float) -> Option:
    routes = tuple(
        replace(r, spot=replace(r.spot, property_line_m=r.spot.property_line_m * factor, bedroom_window_m=None))
        for r in option.routes
    )
    return replace(option, routes=routes)


def test_the_level_at_the_line_falls_by_six_decibels_per_doubled_distance(ranch: Comparison) -> None:
    """Geometrical divergence of a point source, 20 log r (ISO 9613-2:1996, 7.1)."""
    option = option_of(ranch, KEY)
    years = outdoor_hours(ranch.hours(KEY).run.units)
    numbers = rulebook().numbers
    near, far = (outdoor_dba(far_away(option, k), years, ranch.season, numbers) for k in (1.0, 2.0))
    assert near - far == pytest.approx(20 * np.log10(2), abs=1e-6)


def test_more_outdoor_units_are_louder_together(ranch: Comparison) -> None:
    numbers = rulebook().numbers
    option, years = option_of(ranch, KEY), outdoor_hours(ranch.hours(KEY).run.units)
    fewer = replace(option, outdoor=replace(option.outdoor, groups=option.outdoor.groups[:2]))
    assert outdoor_dba(option, years, ranch.season, numbers) > outdoor_dba(fewer, years[:2], ranch.season, numbers)


def test_a_bedroom_window_nearer_than_the_line_counts(ranch: Comparison) -> None:
    option, years = option_of(ranch, "h0"), outdoor_hours(ranch.hours("h0").run.units)
    spot = option.routes[0].spot
    close = replace(option, routes=(replace(option.routes[0], spot=replace(spot, bedroom_window_m=1.5)),))
    numbers = rulebook().numbers
    assert outdoor_dba(close, years, ranch.season, numbers) > outdoor_dba(option, years, ranch.season, numbers)


def test_no_spot_has_no_level(ranch: Comparison) -> None:
    option = replace(option_of(ranch, "h0"), routes=())
    assert np.isnan(outdoor_dba(option, (), ranch.season, rulebook().numbers))
