"""Moisture removal while cycling: relation of Henderson and Rengarajan, ASHRAE Transactions 102(1), 1996."""

from __future__ import annotations

import math

import numpy as np
import pytest

from compare.equipment.latent import DEFAULT_LATENT, LatentLaw, latent_frac, latent_polynomial


def by_hand(run_frac: float, wet_s: float, gamma: float, tau_s: float, cycles: float) -> float:
    """The printed relation, step by step in plain floats (as quoted in public texts)."""
    on_s, off_s = 3600 / (4 * cycles * (1 - run_frac)), 3600 / (4 * cycles * run_frac)
    pause_s = min(off_s, 2 * wet_s / gamma)
    water_s = gamma * pause_s - 0.25 * gamma**2 * pause_s**2 / wet_s
    filled_s = 0.0
    for _ in range(5000):
        filled_s = water_s - tau_s * (math.exp(-filled_s / tau_s) - 1)
    return max(0.0, (on_s - filled_s) / (on_s + tau_s * (math.exp(-on_s / tau_s) - 1)))


@pytest.mark.parametrize("run_frac", [0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95])
@pytest.mark.parametrize(("wet_s", "gamma", "tau_s", "cycles"), [(1500, 1.5, 60, 3), (720, 0.6, 76, 2.5)])
def test_relation(run_frac: float, wet_s: float, gamma: float, tau_s: float, cycles: float) -> None:
    """Tolerance 0.01 for the table in between."""
    law = LatentLaw(wet_s, gamma, tau_s, cycles)
    assert float(latent_frac(run_frac, law)) == pytest.approx(by_hand(run_frac, wet_s, gamma, tau_s, cycles), abs=0.01)


def test_no_removal_below_half_and_full_removal_at_a_full_run() -> None:
    """Published finding of the relation's authors: with the fan always on, net removal vanishes at low run shares."""
    assert float(latent_frac(0.3)) == 0.0
    assert float(latent_frac(1.0)) == 1.0
    shares = latent_frac(np.linspace(0.0, 1.0, 200))
    assert np.all(np.diff(shares) >= -1e-12)


def test_polynomial_keeps_to_the_relation() -> None:
    """What is used for thousands of layouts; its place of 0 too, below which nothing is removed."""
    shares = np.linspace(0.0, 1.0, 2001)
    line = np.polynomial.Polynomial(latent_polynomial())(shares)
    assert np.abs(np.clip(line, 0.0, 1.0) - latent_frac(shares)).max() < 0.001


def test_slower_evaporation_keeps_more() -> None:
    slow = LatentLaw(evaporation_frac=0.4)
    assert float(latent_frac(0.7, slow)) > float(latent_frac(0.7, DEFAULT_LATENT))
