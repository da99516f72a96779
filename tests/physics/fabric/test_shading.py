"""Shadows of overhangs and fins by plain geometry."""

import numpy as np
import pytest

from compare.physics.fabric.shading import Shading, sky_seen_frac, sunlit_frac

ALTITUDE, SOUTH = np.array([45.0]), np.array([180.0])


@pytest.mark.parametrize(
    ("shading", "lit"),
    [
        (Shading(0.5, 0.0, 2.0), 0.75),  # 45 degree sun straight on: shadow as long as the overhang is deep
        (Shading(0.5, 0.5, 2.0), 1.0),  # the gap above the head takes the whole shadow
        (Shading(3.0, 0.0, 2.0), 0.0),
        (Shading(0.0, 0.0, 2.0), 1.0),
    ],
)
def test_overhang_under_a_45_degree_sun(shading, lit):
    assert sunlit_frac(shading, 180.0, ALTITUDE, SOUTH)[0] == pytest.approx(lit)


def test_profile_angle_grows_beside_the_window():
    # Sun 60 degrees to the side: tan(profile) = tan 45 / cos 60 = 2, so half a metre throws one metre (geometry).
    assert sunlit_frac(Shading(0.5, 0.0, 2.0), 180.0, ALTITUDE, np.array([240.0]))[0] == pytest.approx(0.5)


def test_fin_shadow():
    # Sun 45 degrees to the side: a 1 m fin covers 1 m of a 3 m window (geometry).
    lit = sunlit_frac(Shading(0.0, 0.0, 2.0, 1.0, 3.0), 180.0, ALTITUDE, np.array([225.0]))[0]
    assert lit == pytest.approx(2.0 / 3.0)


def test_sky_below_an_overhang():
    # View factor from a window to a long overhang at right angles that shares its head edge (Hottel's crossed strings):
    # F = (h + d - sqrt(h^2 + d^2)) / (2 h); the sky seen is 1 - 2 F of the half view.
    height_m, depth_m = 2.0, 1.0
    view = (height_m + depth_m - np.hypot(height_m, depth_m)) / (2.0 * height_m)
    assert sky_seen_frac(Shading(depth_m, 0.0, height_m)) == pytest.approx(1.0 - 2.0 * view)
    assert sky_seen_frac(Shading(0.0, 0.0, 2.0)) == 1.0
    assert sky_seen_frac(Shading(0.5, 0.0, 2.0)) > sky_seen_frac(Shading(1.0, 0.0, 2.0))
