"""The year of many layouts on one network: prepares the arrays of the kernel and hands back one trace per layout.

Where numba cannot be imported the same arrays go through a slow numpy loop, with a warning. Layouts are put into lanes
in blocks of at most `LANES`; a block's lanes share the number of supplies (short layouts are padded with supplies that
can give nothing).
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from compare.physics.network import Network, Supply, YearTrace

FloatArray = npt.NDArray[np.float64]

LANES = 64
"""Layouts that run side by side."""

WARMUP_H = 336
"""Hours before 1 January (the end of December again) that settle the masses."""

TOLERANCE_W = 0.5
"""Largest change of any supply in the last sweep of the thermostats."""


@dataclass(frozen=True, slots=True, eq=False)
class StepMatrices:
    """Everything of the network that the layouts share, ready for the hourly step.

    `inverse` (M, R, R) is the inverse matrix by (door state, leakage level); `index` (H,) picks one per hour;
    `source` (H, R) holds the heat series, the pull of the fabric at 20 degC and outdoor air.
    """

    inverse: FloatArray
    ca_dt: FloatArray
    c_e: FloatArray
    e: FloatArray
    index: npt.NDArray[np.uint32]
    source: FloatArray


def step_matrices(network: Network) -> StepMatrices:
    """Factorise the network once per (door state, leakage level).

    Raises
    ------
    ValueError
        If any number of the network is not finite.
    """
    dt = network.step_s
    e = 1.0 / (1.0 + dt / network.branch_tau_s)
    c_e = np.ascontiguousarray(network.branch_g_w_k * e)
    ca_dt = network.air_j_k / dt
    leak = network.leak_w_k[network.leak_level]
    source = network.q20_w + 20.0 * network.g0_w_k + leak * network.outdoor_c[:, None]
    index = (network.door_state * network.leak_w_k.shape[0] + network.leak_level).astype(np.uint32)
    inverse = _inverses(network, ca_dt, c_e)
    _check_finite(inverse, source)
    return StepMatrices(inverse, ca_dt, c_e, np.ascontiguousarray(e), index, source)


@lru_cache(maxsize=4)
def common_matrices(network: Network) -> StepMatrices:
    """The same, kept for the networks asked for last: a house's own is stepped again for every layout."""
    return step_matrices(network)


def with_links(step: StepMatrices, network: Network) -> StepMatrices:
    """The matrices of a network that differs from the one of `step` in its links alone."""
    inverse = _inverses(network, step.ca_dt, step.c_e)
    _check_finite(inverse)
    return replace(step, inverse=inverse)


def _inverses(network: Network, ca_dt: FloatArray, c_e: FloatArray) -> FloatArray:
    own = ca_dt + network.g0_w_k + c_e.sum(axis=1)
    matrices = [
        np.diag(own + leak + links.sum(axis=1)) - links for links in network.link_w_k for leak in network.leak_w_k
    ]
    return np.ascontiguousarray(np.linalg.inv(np.stack(matrices)))


def _check_finite(*found: FloatArray) -> None:
    if not all(np.isfinite(part).all() for part in found):
        raise ValueError("the thermal network holds a number that is not finite; check areas, U-values and weather")


def simulate(
    network: Network,
    layouts: Sequence[Sequence[Supply]],
    matrices: StepMatrices | None = None,
    progress: Callable[[int], None] | None = None,
) -> list[YearTrace]:
    """Run every layout through the year.

    Parameters
    ----------
    network : the house, shared by all layouts.
    layouts : for each layout its supplies (none at all is allowed: the house then floats).
    matrices : result of `step_matrices(network)`, if at hand.
    progress : called with the number of layouts just finished.

    Returns
    -------
    One `YearTrace` per layout, in order.
    """
    step = matrices if matrices is not None else step_matrices(network)
    run = _kernel()
    traces: list[YearTrace] = []
    for start in range(0, len(layouts), LANES):
        block = layouts[start : start + LANES]
        traces.extend(_run_block(network, step, block, run))
        if progress is not None:
            progress(len(block))
    return traces


def _kernel() -> Callable[..., int]:
    try:
        from compare.physics import kernel
    except ImportError:  # pragma: no cover - depends on the platform
        warnings.warn("numba is not available: the year runs in slow numpy code", RuntimeWarning, stacklevel=3)
        from compare.physics import kernel_numpy

        return kernel_numpy.run_lanes
    return kernel.run


def _run_block(
    network: Network, step: StepMatrices, block: Sequence[Sequence[Supply]], run: Callable[..., int]
) -> list[YearTrace]:
    return _run_lanes(step, lanes_of(network, step, block), run)


@dataclass(frozen=True, slots=True, eq=False)
class Lanes:
    """Layouts side by side as the kernel takes them: Z supplies, R rooms, N lanes, P profiles."""

    zones: tuple[FloatArray, FloatArray, FloatArray, npt.NDArray[np.uint32]]
    """Heat by room, sensors and mixing, (Z, R, N) each, and the profile of each supply, (Z, N)."""
    limits: tuple[FloatArray, FloatArray, FloatArray, FloatArray]
    """Limits and set points of heating and cooling, (H, P) each."""
    supplies: tuple[int, ...]
    """How many each lane has."""
    warmup: int
    """Hours."""


def lanes_of(network: Network, step: StepMatrices, block: Sequence[Sequence[Supply]]) -> Lanes:
    """Lay out up to `LANES` layouts; good for every network that differs from this one in its links alone."""
    rooms, hours, lanes = network.rooms, network.hours, len(block)
    zones = max(1, max((len(layout) for layout in block), default=1))
    profiles = _Profiles(hours)
    share = np.zeros((zones, rooms, lanes))
    sensor = np.zeros((zones, rooms, lanes))
    mix = np.zeros((zones, rooms, lanes))
    profile = np.zeros((zones, lanes), dtype=np.uint32)
    own = step.ca_dt + network.g0_w_k + step.c_e.sum(axis=1)
    for lane, layout in enumerate(block):
        for zone, supply in enumerate(layout):
            share[zone, :, lane] = supply.share
            sensor[zone, :, lane] = supply.sensor
            mix[zone, :, lane] = stable_mix(supply.mix_w_k, own)
            profile[zone, lane] = profiles.index_of(supply)
    return Lanes(
        zones=(share, sensor, mix, profile),
        limits=profiles.tables(),
        supplies=tuple(len(layout) for layout in block),
        warmup=min(round(WARMUP_H * 3600.0 / network.step_s), hours),
    )


def simulate_lanes(step: StepMatrices, lanes: Lanes) -> list[YearTrace]:
    """Run layouts that are laid out already; one `YearTrace` per lane."""
    return _run_lanes(step, lanes, _kernel())


def _run_lanes(step: StepMatrices, lanes: Lanes, run: Callable[..., int]) -> list[YearTrace]:
    hours, rooms = step.source.shape
    zones, _, count = lanes.zones[0].shape
    room_out = np.empty((hours, rooms, count), dtype=np.float32)
    supply_out = np.empty((hours, zones, count), dtype=np.float32)
    run(
        (step.inverse, step.ca_dt, step.c_e, step.e),
        (step.index, step.source),
        lanes.zones,
        lanes.limits,
        TOLERANCE_W,
        lanes.warmup,
        room_out,
        supply_out,
    )
    return [
        YearTrace(np.ascontiguousarray(room_out[:, :, lane]), np.ascontiguousarray(supply_out[:, :supplies, lane]))
        for lane, supplies in enumerate(lanes.supplies)
    ]


def stable_mix(mix_w_k: FloatArray, own_w_k: FloatArray) -> FloatArray:
    """Return-air mixing is taken from the hour before; scale it so that this explicit step cannot overshoot."""
    largest = float(np.max(mix_w_k / own_w_k, initial=0.0))
    return mix_w_k / (1.0 + largest)


class _Profiles:
    """Distinct (heat limit, cool limit, heat set, cool set) series, told apart by identity; entry 0 gives nothing."""

    def __init__(self, hours: int) -> None:
        idle = np.zeros(hours)
        self._series = [(idle, idle, np.full(hours, -100.0), np.full(hours, 100.0))]
        self._index: dict[tuple[int, int, int, int], int] = {}

    def index_of(self, supply: Supply) -> int:
        series = (supply.heat_limit_w, supply.cool_limit_w, supply.heat_set_c, supply.cool_set_c)
        heat_id, cool_id, on_id, off_id = (id(one) for one in series)
        key = (heat_id, cool_id, on_id, off_id)
        if key not in self._index:
            self._index[key] = len(self._series)
            self._series.append(series)
        return self._index[key]

    def tables(self) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        heat, cool, on, off = (
            np.ascontiguousarray(np.stack([series[part] for series in self._series], axis=1)) for part in range(4)
        )
        return heat, cool, on, off
