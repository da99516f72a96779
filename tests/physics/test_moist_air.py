"""Moist air over its whole range: inverses, order of temperatures, and psychrolib as referee."""

import numpy as np
import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.physics import moist_air

DRY_C = st.floats(-45.0, 50.0)
HUMIDITY = st.floats(0.05, 1.0)
PRESSURE_PA = st.floats(70_000.0, 104_000.0)


@settings(max_examples=60, deadline=None)
@given(DRY_C, HUMIDITY, PRESSURE_PA)
def test_humidity_ratio_agrees_with_psychrolib(dry_c, humidity, pressure_pa):
    # psychrolib 2.5; 1e-6 relative.
    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = psychrolib.GetHumRatioFromRelHum(dry_c, humidity, pressure_pa)
    assert float(moist_air.ratio_from_humidity_kg_kg(dry_c, humidity, pressure_pa)) == pytest.approx(expected, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(DRY_C, HUMIDITY, PRESSURE_PA)
def test_inverses_and_order(dry_c, humidity, pressure_pa):
    # By definition: dew point <= wet bulb <= dry bulb, and each inverse returns its argument.
    ratio = moist_air.ratio_from_humidity_kg_kg(dry_c, humidity, pressure_pa)
    dew_c, wet_c = moist_air.dew_point_c(ratio, pressure_pa), moist_air.wet_bulb_c(dry_c, ratio, pressure_pa)
    assert dew_c <= wet_c + 0.02  # over ice the two differ by their reference states
    assert wet_c <= dry_c + 1e-6
    assert float(moist_air.relative_humidity_frac(dry_c, ratio, pressure_pa)) == pytest.approx(humidity, rel=1e-9)
    assert float(moist_air.ratio_from_dew_point_kg_kg(dew_c, pressure_pa)) == pytest.approx(float(ratio), rel=1e-6)
    assert float(moist_air.ratio_from_wet_bulb_kg_kg(dry_c, wet_c, pressure_pa)) == pytest.approx(
        float(ratio), rel=1e-3, abs=1e-7
    )


def test_arrays_broadcast():
    dry_c = np.array([-10.0, 5.0, 30.0])
    ratio = moist_air.ratio_from_humidity_kg_kg(dry_c, 0.6, 100_000.0)
    alone = [float(moist_air.wet_bulb_c(float(t), float(w), 100_000.0)) for t, w in zip(dry_c, ratio, strict=True)]
    np.testing.assert_allclose(moist_air.wet_bulb_c(dry_c, ratio, 100_000.0), alone, atol=1e-9)


def test_thin_air_carries_less_heat():
    # Ideal gas: the factors go with pressure at equal temperature.
    denver_pa = moist_air.standard_pressure_pa(1655.0)
    ratio = moist_air.sensible_factor_j_m3k(denver_pa) / moist_air.sensible_factor_j_m3k()
    assert ratio == pytest.approx(denver_pa / 101325.0, rel=1e-12)
