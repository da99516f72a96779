"""Hourly tables of indoor and outdoor units for the measuring kernel; equal units share a row."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.equipment.fan import rated_fan, sensible_frac
from compare.equipment.outdoor import OutdoorGroup
from compare.equipment.partload import room_capacity_j_k
from compare.equipment.performance import Mode, Performance
from compare.equipment.system import Head, OutdoorSystem, head_performance, system_performance
from compare.options.option import Option
from compare.years.case import HouseCase
from compare.years.gather import head_weights
from compare.years.heads import Outside, head_of, swung_area_m2
from compare.zones.served import ServedZone

FloatArray = npt.NDArray[np.float64]
LaneArray = npt.NDArray[np.float32]

MODES = (Mode.COOL, Mode.HEAT)
"""Row of each mode in the tables."""


@dataclass(frozen=True, slots=True, eq=False)
class Machine:
    """One outdoor unit with its heads: its row, what its starts follow from, and what it uses at rest."""

    row: int
    start_per_h_w: float
    """Most starts an hour per watt of least output at the room, before the cap."""
    rest_w: float
    crankcase_w: float
    crankcase_below_c: float
    pan_kwh: float


@dataclass(eq=False)
class MachineTables:
    """Rows of heads (least, most, sensible at both, delivered) and of outdoor units, as they are asked for."""

    case: HouseCase
    outside: Outside
    _heads: dict[Hashable, int] = field(default_factory=dict)
    _head_rows: list[LaneArray] = field(default_factory=list)
    _groups: dict[Hashable, Machine] = field(default_factory=dict)
    _group_rows: list[LaneArray] = field(default_factory=list)
    _made: dict[str, Head] = field(default_factory=dict)

    def head(self, zone: ServedZone) -> Head:
        """The zone's indoor unit, kept."""
        if zone.key not in self._made:
            self._made[zone.key] = head_of(self.case.plan, zone, self.outside, self.case.house.controls)
        return self._made[zone.key]

    def head_row(self, zone: ServedZone) -> int:
        """Row of a zone's indoor unit."""
        key: Hashable = zone.pair.label if zone.ducts is None else zone.key
        if key not in self._heads:
            self._heads[key] = len(self._head_rows)
            self._head_rows.append(self._head_table(self.head(zone)))
        return self._heads[key]

    def machine(self, option: Option, group: OutdoorGroup) -> Machine:
        """The outdoor unit of a group of zones."""
        zones = [option.zones[zone] for zone in group.zones]
        key = (group.outdoor.label, group.shared, *(zone.key for zone in zones))
        if key not in self._groups:
            self._groups[key] = self._made_machine(option, group)
        return self._groups[key]

    def quiet_fan_w(self, zone: ServedZone) -> float:
        """Power of the fan that runs on in pauses; 0 where it does not."""
        head = self.head(zone)
        return (head.real_fan or rated_fan(head.pair.indoor)).quiet_w if head.fan_in_pauses else 0.0

    def runs_on(self, zone: ServedZone) -> bool:
        """Whether the fan runs on while the compressor pauses."""
        return self.head(zone).fan_in_pauses

    @property
    def tables(self) -> tuple[LaneArray, LaneArray]:
        """Heads (U, 2, H, 5) and outdoor units (V, 2, H, 7)."""
        return np.stack(self._head_rows), np.stack(self._group_rows)

    def _head_table(self, head: Head) -> LaneArray:
        return np.stack([self._head_mode(head, mode) for mode in MODES])

    def _head_mode(self, head: Head, mode: Mode) -> LaneArray:
        perf = head_performance(head, self.outside.outdoor_c, mode)
        least, most = perf.min_w, perf.max_w
        low, high = least, most
        if mode is Mode.COOL:
            least, most = np.maximum(least, 1.0), np.maximum(most, 2.0)
            flow = head.pair.indoor.airflow_m3_s
            low, high = least * sensible_frac(flow.quiet, least), most * sensible_frac(flow.high, most)
        reach = np.broadcast_to(head.delivered_frac(mode), least.shape)
        return np.stack([least, most, low, high, reach], axis=1).astype(np.float32)

    def _made_machine(self, option: Option, group: OutdoorGroup) -> Machine:
        zones = [option.zones[zone] for zone in group.zones]
        system = OutdoorSystem(group.output, tuple(self.head(zone) for zone in zones))
        weights = head_weights(option, group)
        modes = []
        for mode in MODES:
            perf = system_performance(system, self.outside.outdoor_c, mode)
            parts = (w * np.broadcast_to(self.head(z).delivered_frac(mode), perf.min_w.shape) for w, z in
                     zip(weights, zones, strict=True))  # fmt: skip
            modes.append(_outdoor_columns(perf, sum(parts, start=np.zeros(perf.min_w.shape))))
        self._group_rows.append(np.stack(modes))
        areas = np.array([swung_area_m2(self.case.plan, zone) for zone in zones])
        capacity = float(weights @ room_capacity_j_k(areas))
        aux = system.auxiliary
        return Machine(
            row=len(self._group_rows) - 1,
            start_per_h_w=3600.0 / (4.0 * capacity * system.law.differential_k),
            rest_w=aux.standby_outdoor_w + aux.standby_indoor_w * len(zones),
            crankcase_w=aux.crankcase_w,
            crankcase_below_c=aux.crankcase_below_c,
            pan_kwh=float(aux.pan_w(self.outside.outdoor_c).sum()) / 1000.0,
        )


def _outdoor_columns(perf: Performance, reach: FloatArray) -> LaneArray:
    outputs = (perf.min_w, perf.mid_w, perf.max_w)
    powers = (perf.min_power_w, perf.mid_power_w, perf.max_power_w)
    cops = [np.divide(w, p, out=np.zeros_like(w), where=p > 0.0) for w, p in zip(outputs, powers, strict=True)]
    return np.stack([*outputs, *cops, reach], axis=1).astype(np.float32)
