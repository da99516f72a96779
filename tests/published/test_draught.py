"""Draught rating, jets and air diffusion against ISO 7730 and handbook rows."""

import pytest

from compare.air.draught.comfort import (
    draft_temperature_k,
    draught_class,
    draught_rate_frac,
    neither_cold_nor_fast,
)
from compare.air.draught.jet import Jet, throw_m
from compare.air.units_us import CFM_M3_S, FPM_M_S, FT2_M2, FT_M


# Source: DR formula of ISO 7730 (read in two public codes that quote it), rows computed from it. 0.1 %.
@pytest.mark.parametrize(
    ("air_c", "speed_m_s", "turbulence", "percent"),
    [
        (20, 0.20, 0.4, 26.3),
        (23, 0.20, 0.4, 20.7),
        (23, 0.20, 0.6, 25.7),
        (24, 0.15, 0.4, 12.9),
        (24, 0.25, 0.4, 25.2),
        (24.5, 0.12, 0.4, 9.0),
        (24.5, 0.19, 0.4, 16.7),
        (24.5, 0.24, 0.4, 22.7),
        (22, 0.10, 0.4, 8.7),
        (22, 0.15, 0.4, 15.4),
        (22, 0.16, 0.4, 16.8),
        (22, 0.21, 0.4, 24.1),
        (26, 0.20, 0.2, 11.4),
        (26, 0.30, 0.4, 25.7),
        (18, 0.30, 0.4, 51.3),
        (20, 0.10, 0.0, 6.9),
    ],
)
def test_draught_rate(air_c, speed_m_s, turbulence, percent):
    assert 100 * float(draught_rate_frac(air_c, speed_m_s, turbulence)) == pytest.approx(percent, abs=0.1)


def test_limits_of_the_rate():
    """ISO 7730: speeds under 0.05 m/s count as 0.05, the rate is at most 100 %."""
    assert float(draught_rate_frac(20, 0.02)) == 0.0
    assert float(draught_rate_frac(10, 2.0)) == 1.0


def test_classes():
    """ISO 7730 classes A, B, C: 10, 20, 30 % (studfile.net/preview/2633563)."""
    got = [draught_class(rate) for rate in (0.10, 0.101, 0.20, 0.201, 0.30, 0.301)]
    assert got == ["A", "B", "B", "C", "C", "none"]


def test_throw():
    """Handbook jet law with K 5 (from memory): 100 cfm from 0.25 ft2 reaches 50 fpm at 20 ft. 0.1 ft."""
    jet = Jet(100 * CFM_M3_S, 0.25 * FT2_M2, 0.3, 5.0, 2.0, 0.0, 0.0, 12.0)
    assert throw_m(jet, 50 * FPM_M_S) / FT_M == pytest.approx(20.0, abs=0.1)


def test_effective_draft_temperature():
    """Trade column: comfortable within -3 to +2 F and under 70 fpm; 30 fpm is neutral."""
    assert draft_temperature_k(24, 24, 30 * FPM_M_S) == pytest.approx(0.0, abs=1e-9)
    assert neither_cold_nor_fast(24, 24, 60 * FPM_M_S)
    assert not neither_cold_nor_fast(24, 24, 75 * FPM_M_S)
    assert not neither_cold_nor_fast(22.2, 24, 40 * FPM_M_S)
