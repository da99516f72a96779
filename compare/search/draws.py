"""Joint draws of everything that a recommendation rests on: house, unit families, prices, credit, weights.

One seed, one fixed order: the same house gives the same draws on every machine. Spreads are one sigma (our judgement).
Factors are log-normal with median 1; levels are normal; the credit is even between its limits. Draw 0 is the house as
it is taken to be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.scoring.judgements import Judgements
from compare.scoring.weights import Weights

FloatArray = npt.NDArray[np.float64]

DRAWS = 512
"""Draws in all, the first without any change."""
SEED = 20261125
CONCENTRATION = 40.0
"""Of the weights' Dirichlet law around the chosen ones."""
CREDIT = (20.0, 60.0)
"""Points of a room that only a resistance heater warms, from ... to."""
SHARED_FACTOR = (0.75, 0.85)
"""COP factor of several indoor units on one outdoor unit; the catalogue takes the middle."""
PRICE_SIGMA = 0.12
DUCTED_DB = 5.0
SIGMAS = {
    "ua": 0.10,
    "leakage": 0.25,
    "partition": 0.20,
    "opening": 0.25,
    "solar": 0.15,
    "least": 0.15,
    "loss": 0.30,
    "differential": 0.30,
    "ducted_cop": 0.07,
    "shared_cop": 0.10,
}
MOST_SIGMAS = 2.5
"""Factors are held within so many sigmas: beyond, a survey would have noticed."""


@dataclass(frozen=True, slots=True, eq=False)
class Draws:
    """D draws; every array has D entries."""

    factor: dict[str, FloatArray]
    """By the names of `SIGMAS`."""
    ducted_db: FloatArray
    credit: FloatArray
    price: dict[str, FloatArray]
    """Factor on the prices of each family of items."""

    @property
    def count(self) -> int:
        """Number of draws, the unchanged one included."""
        return int(self.credit.size)


def make_draws(families: Sequence[str], numbers: Judgements, count: int = DRAWS, seed: int = SEED) -> Draws:
    """Draws of everything but the weights.

    Parameters
    ----------
    families
        Families of price items, in a fixed order.
    numbers
        Judgements; draw 0 has their credit.
    count, seed
        Number of draws and the seed.
    """
    rng = np.random.Generator(np.random.PCG64(seed))
    factor = {}
    for name, sigma in SIGMAS.items():
        step = np.clip(rng.standard_normal(count), -MOST_SIGMAS, MOST_SIGMAS)
        step[0] = 0.0
        factor[name] = np.exp(sigma * step)
    middle = sum(SHARED_FACTOR) / 2.0
    even = rng.uniform(*SHARED_FACTOR, count) / middle
    even[0] = 1.0
    factor["shared_cop"] = factor["shared_cop"] * even
    ducted_db = DUCTED_DB * np.clip(rng.standard_normal(count), -MOST_SIGMAS, MOST_SIGMAS)
    ducted_db[0] = 0.0
    credit = rng.uniform(*CREDIT, count)
    credit[0] = numbers.heater_credit
    price = {}
    for family in families:
        step = np.clip(rng.standard_normal(count), -MOST_SIGMAS, MOST_SIGMAS)
        step[0] = 0.0
        price[family] = np.exp(PRICE_SIGMA * step)
    return Draws(factor, ducted_db, credit, price)


def draw_weights(weights: Weights, count: int = DRAWS, seed: int = SEED) -> FloatArray:
    """(count, 7) weights around the chosen ones; a criterion that counts nothing stays at nothing."""
    rng = np.random.Generator(np.random.PCG64(seed + 1))
    base = weights.array
    used = base > 0.0
    drawn = np.zeros((count, base.size))
    drawn[:, used] = rng.dirichlet(CONCENTRATION * base[used], count)
    drawn[0] = base
    return drawn
