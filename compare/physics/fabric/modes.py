"""Massless nodes eliminated exactly, the rest turned into independent modes, and the modes run through the hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.physics.fabric.assemble import FullRoom

FloatArray = npt.NDArray[np.float64]

BLOCK = 24
_LAG = np.arange(BLOCK)[None, :] - np.arange(BLOCK)[:, None]


@dataclass(frozen=True, slots=True, eq=False)
class Modes:
    """The full room by modes: `dy/dt = -rate y + into x (sources)`; M modes, N nodes, air held.

    Heat into the air is `air_w_k @ y + direct_frac @ sources`; mean radiant temperature is `radiant_frac @ y +
    radiant_direct_k_w @ sources`; both are differences to the state in which everything stands at the held
    temperature. `g0_w_k` is the steady conductance from air to the boundaries.
    """

    rate_per_s: FloatArray
    """(M,)"""
    into: FloatArray
    """(M, N), in K/J times sqrt(J/K)."""
    air_w_k: FloatArray
    """(M,) coupling of each mode to the room air, both ways (the network is reciprocal)."""
    direct_frac: FloatArray
    """(N,)"""
    radiant_frac: FloatArray
    """(M,)"""
    radiant_direct_k_w: FloatArray
    """(N,)"""
    g0_w_k: float
    radiant_air_frac: float
    """Share of a lasting change of air temperature that mean radiant temperature follows."""

    @property
    def branch_g_w_k(self) -> FloatArray:
        """Each mode as a branch from air to a mass: conductance [W/K]; never negative."""
        return self.air_w_k**2 / self.rate_per_s

    @property
    def branch_tau_s(self) -> FloatArray:
        """Time constant of each mode [s]."""
        return 1.0 / self.rate_per_s


def modes_of(full: FullRoom) -> Modes:
    """Eliminate surfaces, panes and star, then solve the symmetric eigenproblem of the masses."""
    mass = full.capacity_j_k > 0.0
    k, air = full.conductance_w_k, full.air_coupling_w_k
    k_sm, k_ss = k[np.ix_(~mass, mass)], k[np.ix_(~mass, ~mass)]
    inverse = np.linalg.inv(k_ss)
    carried = inverse @ k_sm
    reduced = k[np.ix_(mass, mass)] - k_sm.T @ carried
    air_m = air[mass] - carried.T @ air[~mass]
    root = np.sqrt(full.capacity_j_k[mass])
    scaled = reduced / np.outer(root, root)
    rate, vectors = np.linalg.eigh(0.5 * (scaled + scaled.T))
    shape = vectors / root[:, None]
    into = np.zeros((rate.size, k.shape[0]))
    into[:, mass] = shape.T
    into[:, ~mass] = -shape.T @ carried.T
    direct = np.zeros(k.shape[0])
    direct[~mass] = inverse @ air[~mass]
    weights = full.inner_area_frac
    radiant_direct = np.zeros(k.shape[0])
    radiant_direct[~mass] = inverse @ weights[~mass]
    air_modes = shape.T @ air_m
    radiant_modes = -shape.T @ (carried.T @ weights[~mass])
    instant_w_k = air.sum() - air[~mass] @ inverse @ air[~mass]
    return Modes(
        rate_per_s=rate,
        into=into,
        air_w_k=air_modes,
        direct_frac=direct,
        radiant_frac=radiant_modes,
        radiant_direct_k_w=radiant_direct,
        g0_w_k=float(max(0.0, instant_w_k - np.sum(air_modes**2 / rate))),
        radiant_air_frac=float(weights[~mass] @ inverse @ air[~mass] + np.sum(radiant_modes * air_modes / rate)),
    )


class Desk:
    """Arrays that runs of up to so many modes over the same hours use again: fresh ones cost more than the sums."""

    def __init__(self, modes: int, hours: int) -> None:
        blocks = -(-hours // BLOCK)
        self.forcing = np.empty((modes, hours))
        self.padded = np.zeros((modes, blocks * BLOCK))
        self.states = np.empty((modes, blocks, BLOCK))
        self.rise = np.empty((modes, blocks, BLOCK))


def run_periodic(rate_per_s: FloatArray, forcing: FloatArray, step_s: float, desk: Desk | None = None) -> FloatArray:
    """Implicit Euler of `dy/dt = -rate y + forcing`, the hours taken as one period that repeats; exact, no warm-up.

    Parameters
    ----------
    rate_per_s
        (M,) all above zero.
    forcing
        (M, H) mean of each step.
    step_s
        Length of a step [s].
    desk
        Arrays to work in, for at least M modes and these hours; the result is then good until the next run on it.

    Returns
    -------
    (M, H) states at the end of each step.
    """
    modes, hours = forcing.shape
    on = desk or Desk(modes, hours)
    decay = 1.0 / (1.0 + rate_per_s * step_s)
    padded, states, rise = on.padded[:modes], on.states[:modes], on.rise[:modes]
    blocks = states.shape[1]
    np.multiply(forcing, (step_s * decay)[:, None], out=padded[:, :hours])
    np.matmul(padded.reshape(modes, blocks, BLOCK), _fading(decay), out=states)
    start = np.zeros((blocks, modes))
    if blocks > 1:
        start[1:] = _run_from_rest(decay**BLOCK, states[:, :-1, -1]).T
    rest = hours - (blocks - 1) * BLOCK
    final = states[:, -1, rest - 1] + decay**rest * start[-1]
    before = final / -np.expm1(hours * np.log(decay))
    start += before * _left_frac(decay, blocks)
    after = decay[:, None] ** np.arange(1.0, BLOCK + 1.0)
    states += np.multiply(start.T[:, :, None], after[:, None, :], out=rise)
    return states.reshape(modes, blocks * BLOCK)[:, :hours]


def _fading(decay: FloatArray) -> FloatArray:
    """(M, BLOCK, BLOCK) what is left of an impulse of each step (rows) at the end of each step (columns) of a block."""
    powers = decay[:, None] ** np.arange(BLOCK)
    return np.where(_LAG >= 0, powers[:, _LAG], 0.0)


def _run_from_rest(decay: FloatArray, impulses: FloatArray) -> FloatArray:
    """States after each impulse, `y <- decay y + impulse` from 0, (M, steps); blocks of blocks keep the loop short."""
    modes, steps = impulses.shape
    blocks = -(-steps // BLOCK)
    padded = np.zeros((modes, blocks * BLOCK))
    padded[:, :steps] = impulses
    states = padded.reshape(modes, blocks, BLOCK) @ _fading(decay)
    after = decay[:, None] ** np.arange(1.0, BLOCK + 1.0)
    for block in range(1, blocks):
        states[:, block] += states[:, block - 1, -1:] * after
    return states.reshape(modes, blocks * BLOCK)[:, :steps]


def _left_frac(decay: FloatArray, blocks: int) -> FloatArray:
    """What is left of a state at the start of each block, (blocks, M); not asked where it is too small for a float."""
    hours = BLOCK * np.arange(blocks)
    block, mode = np.nonzero(hours[:, None] * np.log(decay) > -760.0)
    left = np.zeros((blocks, decay.size))
    left[block, mode] = decay[mode] ** hours[block]
    return left
