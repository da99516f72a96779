"""Moisture removal of a cooling unit that cycles: what drains from the coil in its pauses goes back into the air.

Relation of Henderson and Rengarajan (ASHRAE Transactions 102(1), 1996): during a run the coil first fills with water,
removal then rises to its steady value with a time constant; in a pause with the fan running the water evaporates
again. The multiplier applies to the latent part of the steady output; total output stays, so what is not latent is
sensible.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.equipment.rules import rule

FloatArray = npt.NDArray[np.float64]

_POINTS = 501
_ROUNDS = 200
_DEGREE = 4


@dataclass(frozen=True, slots=True)
class LatentLaw:
    """Constants of the relation; the defaults are the rules file's."""

    wet_s: float = rule("latent", "wet_s")
    """Time in which the steady latent output would fill the coil."""
    evaporation_frac: float = rule("latent", "evaporation_frac")
    """Evaporation at the start of a pause over steady latent output (gamma)."""
    time_constant_s: float = rule("latent", "time_constant_s")
    cycles_per_hour_max: float = rule("part_load", "cycles_per_hour_max")


DEFAULT_LATENT = LatentLaw()


def latent_frac(run_frac: npt.ArrayLike, law: LatentLaw = DEFAULT_LATENT) -> FloatArray:
    """Latent output while cycling over steady latent output [-] with the fan running in pauses; 1 at a full run.

    Parameters
    ----------
    run_frac
        Share of the time that the compressor runs, any shape.
    law
        Constants of the relation.
    """
    shares, fractions = _table(law)
    return np.interp(np.asarray(run_frac, dtype=np.float64), shares, fractions)


@cache
def latent_polynomial(law: LatentLaw = DEFAULT_LATENT) -> tuple[float, ...]:
    """The same relation as a polynomial of the run share, lowest power first; it counts as 0 where it is negative.

    Fitted where the relation is above 0, by least squares; it lies within 0.001 of it.
    """
    shares, fractions = _table(law)
    on = fractions > 0.0
    fit = np.polynomial.Polynomial.fit(shares[on], fractions[on], _DEGREE).convert()
    return tuple(float(c) for c in fit.coef)


@cache
def _table(law: LatentLaw) -> tuple[FloatArray, FloatArray]:
    shares = np.linspace(0.0, 1.0, _POINTS)
    inner = shares[1:-1]
    return shares, np.concatenate([[0.0], _exact(inner, law), [1.0]])


def _exact(run_frac: FloatArray, law: LatentLaw) -> FloatArray:
    cycles, tau = law.cycles_per_hour_max, law.time_constant_s
    on_s = 3600.0 / (4.0 * cycles * (1.0 - run_frac))
    off_s = 3600.0 / (4.0 * cycles * run_frac)
    gamma, wet = law.evaporation_frac, law.wet_s
    drying_s = np.minimum(off_s, 2.0 * wet / gamma)
    dried = gamma * drying_s - 0.25 * gamma**2 / wet * drying_s**2
    filled_s = dried + tau
    for _ in range(_ROUNDS):
        filled_s = dried + tau * (1.0 - np.exp(-filled_s / tau))
    steady_s = on_s + tau * (np.exp(-on_s / tau) - 1.0)
    return np.clip((on_s - filled_s) / np.maximum(steady_s, 1e-9), 0.0, 1.0)
