"""Sky temperature: limits that physics sets, and the fallbacks. Its published yearly column is in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from compare.climate.sky import Clouds, clear_emissivity, cloud_share, clouds_from_sun, sky_temperature_c

DAY = np.zeros(24)


def test_clear_emissivity_worked_by_hand() -> None:
    # Dew point 10 C, 1000 mbar, mid-hour 0.5 and 12.5: .711 + .056 + .0073 +- .013 cos(2 pi 0.5 / 24)
    found = clear_emissivity(DAY + 10.0, DAY + 100000.0)
    swing = 0.013 * np.cos(np.pi / 24.0)
    assert found[0] == pytest.approx(0.7743 + swing)
    assert found[12] == pytest.approx(0.7743 - swing)


def test_low_overcast_is_nearly_as_warm_as_the_air() -> None:
    overcast = Clouds(DAY + 10.0, DAY + 10.0, DAY)
    sky_c = sky_temperature_c(DAY + 15.0, DAY + 12.0, DAY + 101325.0, overcast)
    np.testing.assert_allclose(sky_c, 15.0, atol=1e-9)


def test_clouds_warm_the_sky_by_height_and_kind() -> None:
    """Clear < thin < high opaque < low opaque; missing ceilings count as 2 km, thin high ones as 8 km."""
    shares = [
        float(cloud_share(Clouds(np.array([total]), np.array([opaque]), np.array([ceiling])))[0])
        for total, opaque, ceiling in ((0, 0, -1.0), (10, 0, -1.0), (10, 10, -3.0), (10, 10, -2.0), (10, 10, 300.0))
    ]
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert shares[3] == pytest.approx(np.exp(-2000.0 / 8200.0))
    assert shares[1] == pytest.approx(0.4 * np.exp(-8000.0 / 8200.0))


def test_clouds_from_sun() -> None:
    """Clear-sky sun gives no cloud, a quarter of it an overcast (Kasten & Czeplak); nights take what lies between."""
    height = np.array([-0.5, 0.5, 0.8, 0.5, -0.5, -0.6])
    clear = 910.0 * np.maximum(height, 0.0) - 30.0
    assert clouds_from_sun(np.maximum(clear, 0.0), height).total_tenths == pytest.approx(np.zeros(6))
    assert clouds_from_sun(np.maximum(0.25 * clear, 0.0), height).total_tenths == pytest.approx(np.full(6, 10.0))
    assert clouds_from_sun(np.zeros(6), np.full(6, -0.5)).total_tenths == pytest.approx(np.full(6, 5.0))
