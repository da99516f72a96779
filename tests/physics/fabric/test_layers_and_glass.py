"""Layers stretched to a U-value, and glass mapped from U and SHGC, against their definitions."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.physics.fabric.glass import clear_optics, glazing_from_ratings, opaque_panel, shares_at
from compare.physics.fabric.layers import Layer, chain_of, construction, stretched_to_u
from compare.physics.fabric.tables import rows

NAMES = sorted({row["construction"] for row in rows("layers.csv")})
STRETCHED = sorted({row["construction"] for row in rows("layers.csv") if row["stretch"] == "1"})


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(STRETCHED), st.floats(0.05, 4.0))
def test_stretched_layers_have_the_stated_u(name, u_w_m2k):
    # Definition of the U-value (ISO 6946): 1 over the sum of layer and film resistances.
    made = stretched_to_u(construction(name), u_w_m2k, 0.15)
    assert made.u_w_m2k(0.15) == pytest.approx(u_w_m2k, rel=1e-9)
    assert all(layer.thickness_m > 0.0 and layer.conductivity_w_mk > 0.0 for layer in made.layers)


@pytest.mark.parametrize("name", NAMES)
def test_cells_keep_resistance_and_heat_capacity(name):
    made = construction(name)
    chain = chain_of(made)
    assert sum(chain.resistance_m2k_w) == pytest.approx(made.resistance_m2k_w)
    assert sum(chain.capacity_j_m2k) == pytest.approx(made.heat_capacity_j_m2k)
    assert len(chain.resistance_m2k_w) == len(chain.capacity_j_m2k) + 1


def test_concrete_gets_the_finer_division():
    assert Layer("concrete", 0.1, 1.7, 2300.0, 900.0).cells == 8
    assert Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0).cells == 4
    assert Layer("air", 0.1, 0.04, 0.0, 0.0).cells == 0


@pytest.mark.parametrize("row", rows("layers.csv"), ids=lambda row: f"{row['construction']} {row['order']}")
def test_every_layer_has_a_source(row):
    assert row["source"]
    assert float(row["thickness_m"]) > 0.0


def test_faults_in_numbers_are_named():
    with pytest.raises(ValueError, match="u_w_m2k = 0"):
        stretched_to_u(construction("frame wall"), 0.0, 0.15)
    with pytest.raises(KeyError, match=r"there are: .*frame wall"):
        construction("straw bale")
    with pytest.raises(ValueError, match=r"shgc_frac = 1\.2"):
        glazing_from_ratings(2.0, 1.2)
    with pytest.raises(ValueError, match="window u_w_m2k = -1"):
        glazing_from_ratings(-1.0, 0.4)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.8, 6.0), st.floats(0.05, 0.85))
def test_glazing_returns_its_ratings(u_w_m2k, shgc_frac):
    # Two-node balance between rated films, solved here: U from the series, SHGC = transmitted + inward-flowing part.
    glazing = glazing_from_ratings(u_w_m2k, shgc_frac)
    outside, inside, gap = 29.3, 8.29, glazing.between_w_m2k
    assert 1.0 / (1.0 / outside + 1.0 / inside + 1.0 / gap) == pytest.approx(u_w_m2k, rel=1e-9)
    optics = glazing.optics
    absorbed = np.array([optics.outer_frac[0], optics.inner_frac[0]])
    panes_k = np.linalg.solve([[outside + gap, -gap], [-gap, gap + inside]], absorbed)
    assert optics.transmitted_frac[0] + inside * panes_k[1] == pytest.approx(shgc_frac, rel=1e-9)


@pytest.mark.parametrize("panes", [1, 2])
def test_light_on_glass_is_conserved(panes):
    # Shares never exceed 1 in sum, fall to nothing at grazing incidence, and transmission falls with angle.
    optics = clear_optics(panes)
    total = np.array(optics.transmitted_frac) + np.array(optics.outer_frac) + np.array(optics.inner_frac)
    assert np.all(total <= 1.0)
    assert optics.transmitted_frac[90] == pytest.approx(0.0, abs=1e-6)
    assert np.all(np.diff(optics.transmitted_frac) < 1e-6)
    assert sum(optics.diffuse_frac) < 1.0


def test_shares_between_whole_degrees_lie_between():
    optics = clear_optics(2)
    shares = shares_at(optics, np.cos(np.radians(np.array([0.0, 40.5, 90.0]))))
    assert shares[0, 0] == pytest.approx(optics.transmitted_frac[0])
    assert optics.transmitted_frac[41] < shares[0, 1] < optics.transmitted_frac[40]
    assert shares[0, 2] == pytest.approx(0.0, abs=1e-9)


def test_opaque_panel_lets_nothing_through():
    panel = opaque_panel(5.6, 0.9)
    assert max(panel.optics.transmitted_frac) == 0.0
    assert panel.optics.diffuse_frac == (0.0, 0.9, 0.0)
