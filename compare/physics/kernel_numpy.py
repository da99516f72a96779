"""The year kernel without numba: the same step, written in numpy over all lanes. Slow; used where numba is missing."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.uint32]

SWEEPS_MAX = 60


def run_lanes(
    matrix: tuple[Array, Array, Array, Array],
    hours: tuple[IntArray, Array],
    zones: tuple[Array, Array, Array, IntArray],
    limits: tuple[Array, Array, Array, Array],
    tolerance_w: float,
    warmup: int,
    room_out: npt.NDArray[np.float32],
    supply_out: npt.NDArray[np.float32],
) -> int:
    """Run all lanes through the year; same arguments and result as `compare.physics.kernel.run_lanes`."""
    inverse, ca_dt, c_e, e = matrix
    index, source = hours
    share, sensor, mix, profile = zones
    z_count, r_count, lanes = share.shape
    h_count = index.shape[0]
    reach = np.einsum("mab,zbn->mzan", inverse, share)
    pull = np.einsum("zrn,mwrn->mzwn", sensor, reach)
    mix_sum = np.maximum(mix.sum(axis=1), 1e-30)
    air = np.full((r_count, lanes), 20.0)
    mass = np.full((2, r_count, lanes), 20.0)
    supply = np.zeros((z_count, lanes))
    most = 0
    for step in range(h_count + warmup):
        t = (step - warmup) % h_count
        m = index[t]
        rhs = ca_dt[:, None] * air + (c_e.T[:, :, None] * mass).sum(axis=0) + source[t][:, None]
        mixed = (mix * air).sum(axis=1) / mix_sum
        rhs += ((supply != 0.0)[:, None, :] * mix * (mixed[:, None, :] - air)).sum(axis=0)
        free = inverse[m] @ rhs
        sensed = (sensor * free).sum(axis=1)
        box = tuple(table[t][profile] for table in limits)
        sweeps = _settle(pull[m], sensed, supply, box, tolerance_w)
        most = max(most, sweeps)
        air = free + np.einsum("zrn,zn->rn", reach[m], supply)
        mass = e.T[:, :, None] * mass + (1.0 - e.T[:, :, None]) * air
        if step >= warmup:
            room_out[t] = air
            supply_out[t] = supply
    return most


def _settle(pull: Array, sensed: Array, supply: Array, box: tuple[Array, ...], tolerance_w: float) -> int:
    heat_limit, cool_limit, heat_set, cool_set = box
    for sweep in range(1, SWEEPS_MAX + 1):
        change = 0.0
        for z in range(supply.shape[0]):
            own = np.where(pull[z, z] > 1e-12, pull[z, z], 1e30)
            other = sensed[z] + (pull[z] * supply).sum(axis=0) - pull[z, z] * supply[z]
            up = (heat_set[z] - other) / own
            down = (cool_set[z] - other) / own
            wanted = np.where(up > 0.0, up, np.where(down < 0.0, down, 0.0))
            wanted = np.clip(wanted, -cool_limit[z], heat_limit[z])
            change = max(change, float(np.max(np.abs(wanted - supply[z]))))
            supply[z] = wanted
        if change <= tolerance_w:
            return sweep
    return SWEEPS_MAX
