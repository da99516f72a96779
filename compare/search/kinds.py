"""Kinds of supply of one house, each once: rooms, limits, set points, fan, and who hears it. Blocks of lanes hold rows.

The numbers of a kind, in order: most heat and most cold where both are constant (0, 1); difference of its real fan's
power to the rated one at low and high speed (2, 3); share of its heat that reaches the rooms, as a line over outdoor
temperature (4, 5), and of its cold over outdoor temperature and sun (6, 7, 8); flow at quiet and high speed (9, 10);
part of a shared outdoor unit's heat and cold (11, 12); factors of the duct loss and of the least output (13, 14).
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from threading import Lock

import numpy as np
import numpy.typing as npt

from compare.physics.many.sizes import CHUNK_H, FLAT, PROFILE, SERIES
from compare.physics.network import Supply

FloatArray = npt.NDArray[np.float64]
LaneArray = npt.NDArray[np.float32]
RowArray = npt.NDArray[np.uint32]

IDLE_K = 100.0
"""Set points of nothing lie so far from 0 degC."""


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """What one listener hears and feels of a unit."""

    listener: int
    curve: int
    """Row of the energy curve."""
    draught: FloatArray
    """(2, 11) worst draught rate over the output range, by mode (cooling, heating)."""


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """One kind of supply. R rooms."""

    numbers: FloatArray
    """(15,)"""
    kinds: tuple[int, int, int]
    """What limits it, row of the unit's (or the series') table, row of the outdoor unit's."""
    share: FloatArray
    """(R,)"""
    sensor: FloatArray
    mix_w_k: FloatArray
    held: int = 0
    """Row of set points."""
    runs_on: bool = False
    quiet_fan_w: float = 0.0
    ducted: bool = False
    heard: tuple[Heard, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Stacked:
    """All kinds as arrays, (K, ...); what is heard of kind k stands in rows `first[k]` to `first[k + 1]`."""

    numbers: LaneArray
    kinds: RowArray
    share: LaneArray
    sensor: LaneArray
    mix_w_k: FloatArray
    held: RowArray
    runs_on: LaneArray
    quiet_fan_w: LaneArray
    ducted: npt.NDArray[np.bool_]
    rooms: tuple[tuple[int, ...], ...]
    """Those that each kind serves."""
    first: RowArray
    listener: RowArray
    curve: RowArray
    draught: FloatArray
    """(heard, 2, 11)"""
    set_points: LaneArray
    """(H, 2, S)"""
    fresh: npt.NDArray[np.bool_]
    """(H,) hours in which any of them is not that of the hour before."""
    series: LaneArray
    """(., 2, padded hours)"""


@dataclass(eq=False)
class Kinds:
    """Kinds as they are asked for; row 0 gives nothing."""

    hours: int
    rooms: int
    _kinds: list[Kind] = field(default_factory=list)
    _rows: dict[Hashable, int] = field(default_factory=dict)
    _held: dict[tuple[int, int], int] = field(default_factory=dict)
    _points: list[tuple[FloatArray, FloatArray]] = field(default_factory=list)
    _series: list[LaneArray] = field(default_factory=list)
    _stacked: Stacked | None = None
    _turn: Lock = field(default_factory=Lock)
    _kept: list[Supply] = field(default_factory=list)
    """Supplies whose arrays are told apart by identity."""

    def __post_init__(self) -> None:
        """Row 0, and one series so that the table is never empty."""
        none, idle = np.zeros(self.rooms), np.zeros(self.hours)
        self.held(idle - IDLE_K, idle + IDLE_K)
        self._series.append(np.zeros((2, padded(self.hours)), dtype=np.float32))
        self._kinds.append(Kind(np.zeros(PROFILE), (int(FLAT), 0, 0), none, none, none))

    def row(self, key: Hashable, make: Callable[[], Kind]) -> int:
        """Row of a kind, made at its first use."""
        known = self._rows.get(key)
        if known is None:
            kind = make()
            with self._turn:
                known = self._rows.setdefault(key, len(self._kinds))
                if known == len(self._kinds):
                    self._kinds.append(kind)
                    self._stacked = None
        return known

    def held(self, heat_c: FloatArray, cool_c: FloatArray) -> int:
        """Row of a pair of set points, (H,) each, told apart by identity."""
        key = (id(heat_c), id(cool_c))
        if key not in self._held:
            self._held[key] = len(self._points)
            self._points.append((heat_c, cool_c))
        return self._held[key]

    def supply(self, supply: Supply) -> int:
        """Row of any other supply; equal ones share it."""
        room = supply.share.tobytes(), supply.sensor.tobytes()
        series = (supply.heat_limit_w, supply.cool_limit_w, supply.heat_set_c, supply.cool_set_c)
        return self.row(("supply", *room, *(id(one) for one in series)), lambda: self.made(supply))

    def made(self, supply: Supply) -> Kind:
        """A supply as a kind; it is held, for its arrays are told apart by identity."""
        self._kept.append(supply)
        numbers = np.zeros(PROFILE)
        numbers[:2] = supply.heat_limit_w[0], supply.cool_limit_w[0]
        kinds = int(FLAT), 0, 0
        limits = np.stack([supply.heat_limit_w, supply.cool_limit_w])
        if not (limits == limits[:, :1]).all():
            kinds = int(SERIES), len(self._series), 0
            self._series.append(pad_hours(limits))
        held = self.held(supply.heat_set_c, supply.cool_set_c)
        return Kind(numbers, kinds, supply.share, supply.sensor, supply.mix_w_k, held)

    @property
    def stacked(self) -> Stacked:
        """All of them so far."""
        with self._turn:
            if self._stacked is None:
                self._stacked = _stack(self._kinds, self._points, self._series)
            return self._stacked


def padded(hours: int) -> int:
    """Hours up to whole chunks."""
    return -(-hours // CHUNK_H) * CHUNK_H


def pad_hours(values: FloatArray) -> LaneArray:
    """The last axis up to whole chunks, in single precision; the last value is held."""
    more = padded(values.shape[-1]) - values.shape[-1]
    return np.pad(values, [(0, 0)] * (values.ndim - 1) + [(0, more)], mode="edge").astype(np.float32)


def _stack(
    kinds: Sequence[Kind], points: Sequence[tuple[FloatArray, FloatArray]], series: Sequence[LaneArray]
) -> Stacked:
    heard = [item for kind in kinds for item in kind.heard]
    set_points = np.ascontiguousarray(np.array(points, dtype=np.float32).transpose(2, 1, 0))
    draught = np.array([item.draught for item in heard]) if heard else np.zeros((1, 2, 11))
    return Stacked(
        numbers=np.array([kind.numbers for kind in kinds], dtype=np.float32),
        kinds=np.array([kind.kinds for kind in kinds], dtype=np.uint32),
        share=np.array([kind.share for kind in kinds], dtype=np.float32),
        sensor=np.array([kind.sensor for kind in kinds], dtype=np.float32),
        mix_w_k=np.array([kind.mix_w_k for kind in kinds]),
        held=np.array([kind.held for kind in kinds], dtype=np.uint32),
        runs_on=np.array([kind.runs_on for kind in kinds], dtype=np.float32),
        quiet_fan_w=np.array([kind.quiet_fan_w for kind in kinds], dtype=np.float32),
        ducted=np.array([kind.ducted for kind in kinds], dtype=np.bool_),
        rooms=tuple(tuple(np.flatnonzero(kind.share).tolist()) for kind in kinds),
        first=np.cumsum([0, *(len(kind.heard) for kind in kinds)]).astype(np.uint32),
        listener=np.array([item.listener for item in heard] or [0], dtype=np.uint32),
        curve=np.array([item.curve for item in heard] or [0], dtype=np.uint32),
        draught=draught,
        set_points=set_points,
        fresh=(set_points != np.roll(set_points, 1, axis=0)).any(axis=(1, 2)),
        series=np.stack(series),
    )
