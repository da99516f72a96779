"""Sun position, clear sky and sun on faces against published figures.

Sources: ANSI/ASHRAE Standard 140-2020 (ranges of yearly incident sun over its reference programs); ASHRAE Handbook of
Fundamentals, chapter 14, examples 3 and 4 (Atlanta, 21 July); extraterrestrial column of an NREL TMY3 file; pvlib.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from compare.climate.clear_sky import OpticalDepths, ashrae_clear_sky, extraterrestrial_normal_w_m2
from compare.climate.embedded import embedded, station
from compare.climate.move_sun import erbs_diffuse_frac
from compare.climate.reader import load_weather
from compare.climate.solar_position import extraterrestrial_horizontal_w_m2, mid_hours_h, sun_sin
from compare.climate.sun import sun_on, sun_set, suns_on
from compare.climate.year import Site

# Face (tilt, bearing), lowest and highest yearly incident sun of the reference programs, kWh/m2, Denver.
INCIDENT = {
    "north": ((90.0, 0.0), 399.0, 477.0),
    "east": ((90.0, 90.0), 1017.0, 1068.0),
    "south": ((90.0, 180.0), 1291.0, 1387.0),
    "west": ((90.0, 270.0), 903.0, 997.0),
    "horizontal": ((0.0, 0.0), 1663.0, 1670.0),
}


def test_incident_sun_of_standard_140(shared_weather: Path) -> None:
    year = load_weather(shared_weather / "denver_co_725650_standard140.epw").year
    suns = suns_on(year, [face for face, _, _ in INCIDENT.values()])
    for (name, (_, low, high)), sun in zip(INCIDENT.items(), suns, strict=True):
        total = float((sun.beam_w_m2 + sun.diffuse_w_m2).sum()) / 1e3
        assert low - 0.5 <= total <= high + 0.5, f"{name}: {total:.1f}"  # the ranges are printed in whole kWh/m2


def test_mid_hour_sun_fits_the_extraterrestrial_column(shared_weather: Path) -> None:
    """Column 10 of the Minneapolis file: the sun at half past follows it, at the full hours it does not.

    Expected correlations 0.9996 against 0.988 (measured on a Chicago TMY3 file); tolerance 0.001 and 0.004.
    """
    path = shared_weather / "minneapolis_mn_726580_tmy3.epw"
    column = np.array([float(line.split(",")[10]) for line in path.read_text("latin-1").splitlines()[8:]])
    site = load_weather(path).year.site
    height = np.maximum(sun_sin(site, mid_hours_h(8760)), 0.0)
    early = np.maximum(sun_sin(site, mid_hours_h(8760) - 0.5), 0.0)
    late = np.maximum(sun_sin(site, mid_hours_h(8760) + 0.5), 0.0)
    assert np.corrcoef(height, column)[0, 1] == pytest.approx(0.9996, abs=0.001)
    assert np.corrcoef(early, column)[0, 1] == pytest.approx(0.988, abs=0.004)
    assert np.corrcoef(late, column)[0, 1] == pytest.approx(0.988, abs=0.004)
    hourly = extraterrestrial_horizontal_w_m2(site, 8760)
    assert hourly.sum() == pytest.approx(column.sum(), rel=0.01)


def test_clear_sky_worked_example() -> None:
    # Atlanta 21 July, depths .515 and 2.066, Eo 1324: noon 76.80 deg -> 784 / 166; 15:00 EDT 68.62 deg -> 770 / 162.
    # Tolerance 1 W/m2: the print rounds its exponents.
    beam, diffuse = ashrae_clear_sky(np.array([76.80, 68.62, -5.0]), np.full(3, 1324.0), OpticalDepths(0.515, 2.066))
    assert beam == pytest.approx([783.4, 770.2, 0.0], abs=0.1)
    assert diffuse == pytest.approx([165.5, 161.8, 0.0], abs=0.1)
    assert beam[:2] == pytest.approx([784.0, 770.0], abs=1.0)
    assert diffuse[:2] == pytest.approx([166.0, 162.0], abs=1.0)
    assert extraterrestrial_normal_w_m2(202) == pytest.approx(1324.0, abs=1.0)


def test_worked_example_of_the_sun_position() -> None:
    """Same example, 15:00 EDT = 14:00 EST: height 68.62, bearing 56.69 west of south, within 0.5 degrees.

    The wall 60 degrees west of south then has an incidence of 68.66 degrees (tolerance 0.5).
    """
    from compare.climate.design_day import cooling_design_day
    from compare.climate.sun import mid_hour_position
    from compare.climate.year import DesignConditions

    # Half an hour is shifted into the time zone so that the mid-hour of entry 13 falls on 14:00 EST.
    site = Site(33.64, -84.43, -5.5, 308.0, "Atlanta")
    found = mid_hour_position(site, 24, 201)
    assert found.height_deg[13] == pytest.approx(68.62, abs=0.5)
    assert found.azimuth_deg[13] - 180.0 == pytest.approx(56.69, abs=0.5)
    design = DesignConditions(-3.5, 33.2, 23.2, 9.3, "example", 33.64, -84.43, -5.5, 308.0)
    wall = sun_on(cooling_design_day(design, 7), 90.0, 240.0)
    assert np.degrees(np.arccos(wall.incidence_cos[13])) == pytest.approx(68.66, abs=0.5)


@pytest.mark.parametrize("slug", ["miami", "chicago_ohare", "northway"])
def test_light_position_against_the_exact_one(slug: str) -> None:
    """The series of Spencer against the NREL algorithm by pvlib: half a degree of height at most."""
    year = embedded(slug)
    exact = sun_set(year, [(0.0, 0.0)]).position.height_deg
    light = np.degrees(np.arcsin(sun_sin(station(slug).site, mid_hours_h(8760))))
    assert np.abs(light - exact).max() < 0.5


def test_diffuse_share_against_pvlib() -> None:
    """Correlation of Erbs et al. as pvlib has it; zenith 0 and an extraterrestrial of 1 make clearness the input."""
    from pvlib.irradiance import erbs

    clearness = np.linspace(0.0, 1.0, 101)
    theirs = erbs(clearness * 1000.0, np.zeros(101), 200, min_cos_zenith=0.065)
    expected = np.asarray(theirs["dhi"]) / np.maximum(clearness * 1000.0, 1e-9)
    np.testing.assert_allclose(erbs_diffuse_frac(np.asarray(theirs["kt"]))[1:], expected[1:], rtol=1e-6)


def test_faces_against_pvlib() -> None:
    """Whole-year total of one tilted face against pvlib's own summing function at the same mid-hours; 0.3 %."""
    import pandas as pd
    import pvlib

    year = embedded("richmond")
    times = pd.date_range("2001-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+5")
    place = pvlib.solarposition.get_solarposition(
        times, year.site.latitude_deg, year.site.longitude_deg, altitude=year.site.elevation_m
    )
    theirs = pvlib.irradiance.get_total_irradiance(
        35.0,
        200.0,
        place["zenith"].to_numpy(),
        place["azimuth"].to_numpy(),
        year.direct_normal_w_m2,
        year.global_horizontal_w_m2,
        year.diffuse_horizontal_w_m2,
        dni_extra=pvlib.irradiance.get_extra_radiation(times).to_numpy(),
        airmass=pvlib.atmosphere.get_relative_airmass(place["zenith"].to_numpy()),
        albedo=0.2,
        model="perez",
    )
    ours = sun_on(year, 35.0, 200.0)
    total = float((ours.beam_w_m2 + ours.diffuse_w_m2).sum())
    assert total == pytest.approx(float(np.nansum(theirs["poa_global"])), rel=0.003)
