"""Fabric of a room against published standards and handbook tables; source and tolerance stand beside each row."""

import numpy as np
import pytest

from compare.house.plan import Boundary, SurfaceKind
from compare.physics.fabric.assemble import full_room_of_parts, sky_view_frac, star_factors
from compare.physics.fabric.glass import clear_optics, published_test_glass
from compare.physics.fabric.layers import Construction, Layer
from compare.physics.fabric.modes import modes_of
from compare.physics.fabric.parts import Part, house_options
from compare.physics.validation.standard140_box import box_layers, prepared_box
from compare.physics.validation.standard140_cases import case_named

# ANSI/ASHRAE 140-2020, U-values of its constructions with films 8.29 inside and 29.3 outside (films from memory);
# tolerance half of the last digit, 0.0006.
U_W_M2K = [
    ("wall", False, 0.514),
    ("ceiling", False, 0.318),
    ("floor", False, 0.039),
    ("wall", True, 0.512),
    ("floor", True, 0.039),
]


@pytest.mark.parametrize(("kind", "heavy", "u_w_m2k"), U_W_M2K)
def test_standard_140_constructions(kind, heavy, u_w_m2k):
    made = box_layers(SurfaceKind(kind), heavy)
    assert made.u_w_m2k(1.0 / 8.29 + 1.0 / 29.3) == pytest.approx(u_w_m2k, abs=0.0006)


# ASHRAE Fundamentals, ch. 15, table of optical properties, glazing 5a (two clear panes of 3 mm): transmittance,
# absorptance of outer and inner pane at 0, 40, 50, 60, 70, 80 degrees and diffuse; from memory; tolerance 0.03
# (their glass is not exactly ours, and they give two digits).
ANGLES_DEG = [0, 40, 50, 60, 70, 80, None]
TRANSMITTED = [0.70, 0.68, 0.65, 0.58, 0.44, 0.21, 0.60]
OUTER = [0.10, 0.11, 0.11, 0.12, 0.13, 0.13, 0.11]
INNER = [0.07, 0.08, 0.08, 0.08, 0.07, 0.05, 0.07]


@pytest.mark.parametrize(("index", "angle_deg"), list(enumerate(ANGLES_DEG)))
def test_two_clear_panes_by_angle(index, angle_deg):
    optics = clear_optics(2)
    if angle_deg is None:
        found = optics.diffuse_frac
    else:
        found = (optics.transmitted_frac[angle_deg], optics.outer_frac[angle_deg], optics.inner_frac[angle_deg])
    assert found == pytest.approx((TRANSMITTED[index], OUTER[index], INNER[index]), abs=0.03)


def test_clear_pane_returns_its_normal_properties():
    # ANSI/ASHRAE 140-2020 clear glass: transmittance .834, reflectance .075 of one pane; exact inversion, 1e-6.
    one = clear_optics(1)
    assert one.transmitted_frac[0] == pytest.approx(0.834, abs=1e-6)
    assert one.outer_frac[0] + one.inner_frac[0] == pytest.approx(1.0 - 0.834 - 0.075, abs=1e-6)


def test_heat_gain_of_the_test_glass():
    # ASHRAE Fundamentals, ch. 15, glazing 5a: SHGC .76 at normal incidence (from memory); 0.01.
    glass, outside, inside = published_test_glass(), 29.3, 8.29
    gap = glass.between_w_m2k
    absorbed = [glass.optics.outer_frac[0], glass.optics.inner_frac[0]]
    panes_k = np.linalg.solve([[outside + gap, -gap], [-gap, gap + inside]], absorbed)
    assert glass.optics.transmitted_frac[0] + inside * panes_k[1] == pytest.approx(0.76, abs=0.01)


# BESTEST (Judkoff and Neymark 1995), interior solar distribution of the box by absorptance: share kept by the floor and
# share lost through the glass; from memory; tolerance 0.01 (floor) and 0.006 (lost).
DISTRIBUTION = [("600", 0.642, 0.035), ("270", 0.903, 0.007), ("280", 0.244, 0.271)]


@pytest.mark.parametrize(("case", "floor_frac", "lost_frac"), DISTRIBUTION)
def test_interior_solar_distribution(case, floor_frac, lost_frac):
    full = prepared_box(case_named(case)).full
    floor = next(n.inner for p, n in zip(full.parts, full.nodes, strict=True) if p.kind is SurfaceKind.FLOOR)
    assert full.sun_node_frac[floor] == pytest.approx(floor_frac, abs=0.01)
    assert 1.0 - full.sun_node_frac.sum() - full.sun_air_frac == pytest.approx(lost_frac, abs=0.006)


# Walton 1983 (from memory): view of the sky with the horizon weighed by the square root: roof 1, wall .354, floor 0.
@pytest.mark.parametrize(("tilt_deg", "view_frac"), [(0.0, 1.0), (90.0, 0.354), (180.0, 0.0)])
def test_sky_view(tilt_deg, view_frac):
    assert sky_view_frac(tilt_deg) == pytest.approx(view_frac, abs=0.0005)


def test_star_of_two_equal_plates():
    # Two large parallel plates (any heat-transfer text): black exchange is 4 sigma T^3 per area; through a star each
    # half has factor 2. The network of a cube gives 1.2 per face: F = 1/(1 - 1/6). 1e-6.
    assert star_factors(np.array([10.0, 10.0])) == pytest.approx([2.0, 2.0], rel=1e-6)
    assert star_factors(np.full(6, 5.0)) == pytest.approx(np.full(6, 1.2), rel=1e-6)


# ISO 13786:2017 (thermal inertia of building components): exact transfer matrix of layers under a daily sinusoid, built
# here from hyperbolic functions. Admittance seen from a room of one wall whose outer side is adiabatic or at constant
# temperature through a film. 4 cells a layer (8 in concrete): 3 % in modulus, 3 degrees in phase; our judgement.
DAY_PER_S = 2.0 * np.pi / 86400.0
WALLS = {
    "concrete, insulated outside": (
        Layer("foam", 0.0615, 0.04, 10.0, 1400.0),
        Layer("concrete", 0.1, 0.51, 1400.0, 1000.0),
    ),
    "thick concrete": (Layer("concrete", 0.2, 1.7, 2300.0, 900.0),),
    "frame": (Layer("siding", 0.009, 0.14, 530.0, 900.0), Layer("wool", 0.066, 0.04, 12.0, 840.0),
              Layer("board", 0.012, 0.16, 950.0, 840.0)),
    "timber floor on insulation": (
        Layer("insulation", 0.2, 0.04, 0.0, 0.0),
        Layer("timber", 0.025, 0.14, 650.0, 1200.0),
    ),
}  # fmt: skip


def transfer_matrix(layers, film_in_w_m2k, film_out_w_m2k):
    """From outdoors to the room air: [temperature, flux] outside = Z [temperature, flux] inside."""
    total = np.array([[1.0, 1.0 / film_in_w_m2k], [0.0, 1.0]], dtype=complex)
    for layer in reversed(layers):
        root = np.sqrt(1j * DAY_PER_S * layer.density_kg_m3 * layer.specific_heat_j_kgk * layer.conductivity_w_mk)
        if root == 0.0:
            one = np.array([[1.0, layer.resistance_m2k_w], [0.0, 1.0]], dtype=complex)
        else:
            arg = layer.thickness_m * root / layer.conductivity_w_mk
            one = np.array([[np.cosh(arg), np.sinh(arg) / root], [root * np.sinh(arg), np.cosh(arg)]])
        total = one @ total
    return np.array([[1.0, 1.0 / film_out_w_m2k], [0.0, 1.0]], dtype=complex) @ total


def one_wall(layers):
    options = house_options()
    part = Part(
        SurfaceKind.WALL, Boundary.GARAGE, 1.0, 90.0, 0.0, Construction("test", layers), 7.7, 25.0, 0.9, 0.9, 0.6, 0.0
    )
    return modes_of(full_room_of_parts((part,), 1.0, options))


@pytest.mark.parametrize("name", WALLS)
def test_daily_admittance(name):
    modes = one_wall(WALLS[name])
    ours = modes.g0_w_k + np.sum(modes.branch_g_w_k * (1.0 - modes.rate_per_s / (modes.rate_per_s + 1j * DAY_PER_S)))
    matrix = transfer_matrix(WALLS[name], 7.7, 25.0)
    exact = matrix[0, 0] / matrix[0, 1]
    assert abs(ours) == pytest.approx(abs(exact), rel=0.03)
    assert np.degrees(np.angle(ours)) == pytest.approx(np.degrees(np.angle(exact)), abs=3.0)


@pytest.mark.parametrize("name", WALLS)
def test_daily_transmittance(name):
    # Same standard: flux into the constant room per kelvin outdoors. The outer film meets the first node.
    modes = one_wall(WALLS[name])
    outer = modes.into[:, 0] * 25.0
    ours = np.sum(modes.air_w_k * outer / (modes.rate_per_s + 1j * DAY_PER_S)) + modes.direct_frac[0] * 25.0
    matrix = transfer_matrix(WALLS[name], 7.7, 25.0)
    exact = 1.0 / matrix[0, 1]
    assert abs(ours) == pytest.approx(abs(exact), rel=0.05)
    assert np.degrees(np.angle(ours / exact)) == pytest.approx(0.0, abs=5.0)
