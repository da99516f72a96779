"""The embedded years as stored: complete, coded as documented, honest about what is absent."""

from __future__ import annotations

import numpy as np
import pytest

from compare.climate.embedded import embedded, embedded_names, embedded_series, station
from compare.climate.moist import standard_pressure_pa
from compare.climate.sky import CEILING_MISSING, NO_CEILING, THIN_HIGH
from compare.climate.year import HOURS, WeatherSource


@pytest.mark.parametrize("slug", embedded_names())
def test_every_year_is_whole(slug: str) -> None:
    year = embedded(slug)
    assert year.source is WeatherSource.EMBEDDED
    assert year.latent_ok
    assert "NREL" in year.provenance
    for values in (
        year.dry_bulb_c,
        year.dew_point_c,
        year.pressure_pa,
        year.global_horizontal_w_m2,
        year.direct_normal_w_m2,
        year.diffuse_horizontal_w_m2,
        year.wind_m_s,
        year.sky_c,
    ):
        assert values.shape == (HOURS,)
        assert np.isfinite(values).all()
    assert (year.dew_point_c <= year.dry_bulb_c).all()
    assert (year.sky_c <= year.dry_bulb_c + 0.5).all()
    assert len(year.key) == 32


@pytest.mark.parametrize("slug", embedded_names())
def test_sky_cover_ceiling_and_pressure_are_kept(slug: str) -> None:
    """All thirteen sources have both sky covers in every hour and 2509 to 7062 hours without a ceiling (open files)."""
    year = embedded(slug)
    assert year.total_sky_tenths is not None
    assert year.opaque_sky_tenths is not None
    assert year.ceiling_m is not None
    assert 0.0 <= year.total_sky_tenths.min() <= year.total_sky_tenths.max() <= 10.0
    assert (year.ceiling_m >= THIN_HIGH).all()
    clear = int((year.ceiling_m == NO_CEILING).sum())
    assert 2509 <= clear <= 7062
    codes = set(np.unique(year.ceiling_m[year.ceiling_m < 0.0]))
    assert codes <= {NO_CEILING, CEILING_MISSING, THIN_HIGH}
    assert (THIN_HIGH in codes) == (slug == "miami")


def test_sand_points_filler_pressure_is_absent() -> None:
    """Its source says 1012 mbar in every hour; stored as absent and computed from the elevation of 7 m."""
    assert embedded_series("sand_point").pressure_pa is None
    year = embedded("sand_point")
    assert year.absent == ("pressure",)
    assert np.all(year.pressure_pa == standard_pressure_pa(7.0))
    assert all(embedded(slug).absent == () for slug in embedded_names() if slug != "sand_point")


def test_keys_differ_and_repeat() -> None:
    keys = {embedded(slug).key for slug in embedded_names()}
    assert len(keys) == len(embedded_names()) == 13
    assert embedded("golden") is embedded("golden")


def test_unknown_name_gets_a_hint() -> None:
    with pytest.raises(ValueError, match="Did you mean denver_aurora"):
        station("Denver")
