"""Fit a few branches "mass to room air" to the step response of the full room; the steady conductance stays exact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.physics.fabric.modes import Modes

FloatArray = npt.NDArray[np.float64]

FIRST_H, LAST_H, TIMES = 0.5, 600.0, 120
GRID = 24
ZOOMS = 5


@dataclass(frozen=True, slots=True, eq=False)
class Branches:
    """Branches from air to mass, their read-out of mean radiant temperature, and the error of the fit."""

    g_w_k: FloatArray
    tau_s: FloatArray
    radiant_frac: FloatArray
    """How far mean radiant temperature lags: it is `air share * air + sum(radiant * (mass - air))`."""
    error_frac: float
    """Largest error of the step response against the full room, as a share of its range."""


def step_times_s() -> FloatArray:
    """Log-spaced times of the fit, half an hour to 600 hours [s]."""
    return 3600.0 * np.geomspace(FIRST_H, LAST_H, TIMES)


def fit_branches(modes: Modes, count: int) -> Branches:
    """Fit `count` (1 or 2) branches with conductances not negative to the step response of the modes."""
    if count not in (1, 2):
        raise ValueError(f"count = {count}: a room takes 1 or 2 mass branches")
    times_s = step_times_s()
    decays = np.exp(-np.outer(modes.rate_per_s, times_s))
    target_w_k = modes.branch_g_w_k @ decays
    if modes.rate_per_s.size == 0 or target_w_k[0] <= 0.0:
        tau_s = np.full(count, 3600.0)
        return Branches(np.zeros(count), tau_s, np.zeros(count), 0.0)
    tau_s = _best_taus_s(times_s, target_w_k, count)
    basis = np.exp(-times_s / tau_s[:, None])
    g_w_k = _amplitudes(basis @ basis.T, basis @ target_w_k)
    error_w_k = np.max(np.abs(g_w_k @ basis - target_w_k))
    lag_frac = (modes.radiant_frac * modes.air_w_k / modes.rate_per_s) @ decays
    radiant: FloatArray = np.asarray(np.linalg.lstsq(basis.T, lag_frac, rcond=None)[0], dtype=np.float64)
    return Branches(g_w_k, tau_s, radiant, float(error_w_k / (modes.g0_w_k + target_w_k[0])))


def _best_taus_s(times_s: FloatArray, target_w_k: FloatArray, count: int) -> FloatArray:
    """Time constants of least squared error, by a grid that closes in on the best cell."""
    low, high = np.log(0.1 * 3600.0), np.log(1000.0 * 3600.0)
    first = second = np.linspace(low, high, 2 * GRID)
    for _ in range(ZOOMS):
        at_first, at_second = _best_cell(times_s, target_w_k, first, second, count)
        width = max(first[1] - first[0], second[1] - second[0])
        first = at_first + np.linspace(-1.5 * width, 1.5 * width, GRID)
        second = at_second + np.linspace(-1.5 * width, 1.5 * width, GRID)
    found = np.exp([at_first, at_second] if count == 2 else [at_first])
    return np.sort(found)


def _best_cell(
    times_s: FloatArray, target_w_k: FloatArray, first: FloatArray, second: FloatArray, count: int
) -> tuple[float, float]:
    a = np.exp(-times_s / np.exp(first)[:, None])
    if count == 1:
        gain = np.maximum(a @ target_w_k, 0.0) ** 2 / np.sum(a * a, axis=1)
        return float(first[int(np.argmax(gain))]), float(second[0])
    b = np.exp(-times_s / np.exp(second)[:, None])
    squares = np.sum(a * a, axis=1)[:, None], a @ b.T, np.sum(b * b, axis=1)[None, :]
    gain = _explained(squares, (a @ target_w_k)[:, None], (b @ target_w_k)[None, :])
    i, j = np.unravel_index(int(np.argmax(gain)), gain.shape)
    return float(first[i]), float(second[j])


def _explained(squares: tuple[FloatArray, FloatArray, FloatArray], at: FloatArray, bt: FloatArray) -> FloatArray:
    """Squared target explained by each pair of decays with amplitudes not negative."""
    aa, ab, bb = squares
    determinant = aa * bb - ab * ab
    apart = determinant > 1e-9 * aa * bb
    safe = np.where(apart, determinant, 1.0)
    x, y = (bb * at - ab * bt) / safe, (aa * bt - ab * at) / safe
    both = np.where(apart & (x >= 0.0) & (y >= 0.0), x * at + y * bt, -np.inf)
    alone = np.maximum(np.maximum(at, 0.0) ** 2 / aa, np.maximum(bt, 0.0) ** 2 / bb)
    best: FloatArray = np.maximum(both, alone)
    return best


def _amplitudes(gram: FloatArray, right: FloatArray) -> FloatArray:
    """Least-squares amplitudes that are not negative, for one or two decays."""
    if right.size == 2 and np.linalg.det(gram) > 1e-9 * gram[0, 0] * gram[1, 1]:
        free: FloatArray = np.asarray(np.linalg.solve(gram, right), dtype=np.float64)
        if np.all(free >= 0.0):
            return free
    alone = np.maximum(right, 0.0) / np.diag(gram)
    best = int(np.argmax(np.maximum(right, 0.0) ** 2 / np.diag(gram)))
    kept = np.zeros_like(alone)
    kept[best] = alone[best]
    return kept
