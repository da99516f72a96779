"""Moist-air functions against psychrolib, an independent implementation of the same Handbook chapter."""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest

from compare.climate import moist

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("temperature_c", [-60.0, -20.0, -0.5, 0.0, 0.005, 0.02, 5.0, 21.0, 40.0, 60.0])
def test_saturation_pressure(temperature_c: float) -> None:
    expected = psychrolib.GetSatVapPres(temperature_c)
    assert float(moist.saturation_pressure_pa(temperature_c)) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("dry_c", "humidity"), [(-20.0, 0.7), (0.0, 0.5), (20.0, 0.3), (24.0, 0.5), (40.0, 0.9)])
def test_dew_point_and_wet_bulb(dry_c: float, humidity: float) -> None:
    dew = float(moist.dew_point_from_humidity_c(dry_c, humidity))
    assert dew == pytest.approx(psychrolib.GetTDewPointFromRelHum(dry_c, humidity), abs=0.01)
    assert float(moist.relative_humidity_frac(dry_c, dew)) == pytest.approx(humidity, rel=1e-6)
    wet = float(moist.wet_bulb_c(np.array([dry_c]), np.array([dew]), 101325.0)[0])
    assert wet == pytest.approx(psychrolib.GetTWetBulbFromRelHum(dry_c, humidity, 101325.0), abs=0.02)
    ratio = float(moist.ratio_from_wet_bulb(dry_c, wet, 101325.0))
    assert ratio == pytest.approx(psychrolib.GetHumRatioFromTWetBulb(dry_c, wet, 101325.0), rel=1e-4)


def test_handbook_state() -> None:
    # 24 C, 50 %, 101,325 Pa: dew point 12.95, wet bulb 17.07 C, humidity ratio .00930 (psychrolib 2.5.0).
    dew = moist.dew_point_from_humidity_c(24.0, 0.5)
    assert float(dew) == pytest.approx(12.95, abs=0.01)
    assert float(moist.wet_bulb_c(np.array([24.0]), dew, 101325.0)[0]) == pytest.approx(17.07, abs=0.02)
    ratio = moist.humidity_ratio(moist.saturation_pressure_pa(dew), 101325.0)
    assert float(ratio) == pytest.approx(0.00930, abs=5e-6)
    assert float(moist.vapour_pressure_pa(ratio, 101325.0)) == pytest.approx(0.5 * 2985.0, rel=1e-3)


@pytest.mark.parametrize("elevation_m", [0.0, 201.0, 1650.0, 3000.0])
def test_standard_pressure(elevation_m: float) -> None:
    assert moist.standard_pressure_pa(elevation_m) == pytest.approx(psychrolib.GetStandardAtmPressure(elevation_m))


def test_bone_dry_air_stays_finite() -> None:
    assert np.isfinite(moist.dew_point_c(0.0)).all()
