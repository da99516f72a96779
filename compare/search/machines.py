"""Hourly tables of indoor and outdoor units for the measuring kernel: one row for each entry of the catalogue.

What a unit's own ducts and fan change is a handful of numbers of its kind (`compare.search.kinds`), so that hundreds of
zones read the same few rows.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.air.ducts.loss import DuctLoss
from compare.air.tables import constant
from compare.equipment.fan import rated_fan
from compare.equipment.outdoor import OutdoorGroup
from compare.equipment.output import RatedOutput
from compare.equipment.partload import DEFAULT_LAW, room_capacity_j_k
from compare.equipment.performance import Mode, performance
from compare.equipment.rules import rule
from compare.equipment.system import Auxiliary, Head
from compare.options.option import Option
from compare.physics.many.sizes import OWN, PROFILE
from compare.search.kinds import Heard, Kind, pad_hours
from compare.years.case import HouseCase
from compare.years.gather import head_weights
from compare.years.heads import Outside, head_of, swung_area_m2
from compare.zones.served import ServedZone

FloatArray = npt.NDArray[np.float64]
LaneArray = npt.NDArray[np.float32]

MODES = (Mode.HEAT, Mode.COOL)
"""Order of the modes in the tables."""
CFM_TON = 3516.852842 / (0.3048**3 / 60.0)
"""Watts per ton over cubic metres a second per cfm."""
TINY = 1e-3
"""Kelvins and shares of the sun by which a duct loss is moved to read its slope."""


@dataclass(frozen=True, slots=True, eq=False)
class Machine:
    """One outdoor unit with its heads: its row, what its starts follow from, and what it uses at rest."""

    row: int
    start_per_h_w: float
    """Most starts an hour per watt of least output at the room, before the cap."""
    fan_low_w: float
    """Power of the real fans over that of the rated ones."""
    fan_high_w: float
    weights: tuple[float, ...]
    """Parts of the design heating load that its heads carry."""
    rest_w: float
    crankcase_w: float
    pan_kwh: float


@dataclass(eq=False)
class MachineTables:
    """Rows of indoor units (least, most; heating, cooling) and of outdoor units, as they are asked for."""

    case: HouseCase
    outside: Outside
    auxiliary: Auxiliary = field(default_factory=Auxiliary)
    _heads: dict[RatedOutput, int] = field(default_factory=dict)
    _head_rows: list[LaneArray] = field(default_factory=list)
    _wholes: dict[RatedOutput, int] = field(default_factory=dict)
    _whole_rows: list[LaneArray] = field(default_factory=list)
    _groups: dict[Hashable, Machine] = field(default_factory=dict)
    _made: dict[str, tuple[Head, float, float, float]] = field(default_factory=dict)
    _pan_kwh: float = 0.0

    def __post_init__(self) -> None:
        """What a base pan uses in the year."""
        self._pan_kwh = float(self.auxiliary.pan_w(self.outside.outdoor_c).sum()) / 1000.0

    @property
    def weather(self) -> tuple[LaneArray, LaneArray, LaneArray]:
        """Outdoor temperature, sun on a roof, and 1 where a crankcase heater may run, up to whole chunks."""
        cold = pad_hours((self.outside.outdoor_c < self.auxiliary.crankcase_below_c).astype(np.float64))
        cold[self.outside.outdoor_c.size :] = 0.0
        return pad_hours(self.outside.outdoor_c), pad_hours(self.outside.sun_frac), cold

    @property
    def tables(self) -> tuple[LaneArray, LaneArray]:
        """Indoor units (U, 4, H) and outdoor units (V, 2, 6, H)."""
        return np.stack(self._head_rows), np.stack(self._whole_rows)

    @property
    def sensible_law(self) -> LaneArray:
        """Sensible cooling from total and flow: factor of each, and least share of the total."""
        base, slope = rule("sensible", "base_frac"), rule("sensible", "slope_per_cfm_ton")
        return np.array([base - 400.0 * slope, slope * CFM_TON, rule("sensible", "least_frac")], dtype=np.float32)

    def kind(
        self, zone: ServedZone, control: tuple[FloatArray, int], mix_w_k: FloatArray, heard: tuple[Heard, ...]
    ) -> Kind:
        """A zone's unit as a kind of supply; `control` is the sensor's weights and the row of set points."""
        head, low, high, _ = self._unit(zone)
        flow = head.pair.indoor.airflow_m3_s
        numbers = np.zeros(PROFILE)
        numbers[2:4] = low, high
        numbers[4:9] = _always(zone) if zone.ducts is None else reach_line(zone.ducts.loss)
        numbers[9:] = flow.quiet, flow.high, np.inf, np.inf, 1.0, 1.0
        quiet = (head.real_fan or rated_fan(head.pair.indoor)).quiet_w if head.fan_in_pauses else 0.0
        return Kind(
            numbers=numbers,
            kinds=(int(OWN), self._head_row(head.pair.output), 0),
            share=zone.share,
            sensor=control[0],
            mix_w_k=mix_w_k,
            held=control[1],
            runs_on=head.fan_in_pauses,
            quiet_fan_w=quiet,
            ducted=zone.ducts is not None,
            heard=heard,
        )

    def machine(self, option: Option, group: OutdoorGroup) -> Machine:
        """The outdoor unit of a group of zones."""
        zones = [option.zones[zone] for zone in group.zones]
        key = (group.outdoor.size_kbtuh, group.outdoor.ports, group.shared, *zones)
        if key not in self._groups:
            self._groups[key] = self._machine(option, group, zones)
        return self._groups[key]

    def _unit(self, zone: ServedZone) -> tuple[Head, float, float, float]:
        """The zone's indoor unit, what its fan takes over the rated one at low and high speed, floor that it swings."""
        if zone.key not in self._made:
            head = head_of(self.case.plan, zone, None, self.case.house.controls)
            low = high = 0.0
            if head.real_fan is not None:
                rated = rated_fan(head.pair.indoor)
                low, high = head.real_fan.quiet_w - rated.quiet_w, head.real_fan.high_w - rated.high_w
            self._made[zone.key] = head, low, high, swung_area_m2(self.case.plan, zone)
        return self._made[zone.key]

    def _head_row(self, output: RatedOutput) -> int:
        if output not in self._heads:
            found = (performance(output, self.outside.outdoor_c, mode) for mode in MODES)
            self._heads[output] = len(self._head_rows)
            self._head_rows.append(pad_hours(np.stack([part for p in found for part in (p.min_w, p.max_w)])))
        return self._heads[output]

    def whole_row(self, output: RatedOutput) -> int:
        """Row of an outdoor unit."""
        if output not in self._wholes:
            found = (performance(output, self.outside.outdoor_c, mode) for mode in MODES)
            parts = [[p.min_w, p.mid_w, p.max_w, p.min_power_w, p.mid_power_w, p.max_power_w] for p in found]
            self._wholes[output] = len(self._whole_rows)
            self._whole_rows.append(pad_hours(np.array(parts)))
        return self._wholes[output]

    def _machine(self, option: Option, group: OutdoorGroup, zones: list[ServedZone]) -> Machine:
        units = [self._unit(zone) for zone in zones]
        weights = head_weights(option, group)
        capacity = float(weights @ room_capacity_j_k(np.array([area for _, _, _, area in units])))
        aux = self.auxiliary
        return Machine(
            row=self.whole_row(group.output),
            start_per_h_w=3600.0 / (4.0 * capacity * DEFAULT_LAW.differential_k),
            fan_low_w=sum(low for _, low, _, _ in units),
            fan_high_w=sum(high for _, _, high, _ in units),
            weights=tuple(weights.tolist()),
            rest_w=aux.standby_outdoor_w + aux.standby_indoor_w * len(zones),
            crankcase_w=aux.crankcase_w,
            pan_kwh=self._pan_kwh,
        )


def reach_line(loss: DuctLoss) -> tuple[float, float, float, float, float]:
    """Share delivered as lines, before their limits: heat over outdoor temperature, cold over that and the sun."""
    warm, cool = constant("heat_room_c"), constant("cool_room_c")
    heat, cold = float(loss.heat_frac(warm)), float(loss.cool_frac(cool, 0.0))
    if loss.inside:
        return heat, 0.0, cold, 0.0, 0.0
    by_heat = (heat - float(loss.heat_frac(warm - TINY))) / TINY
    by_cold = (float(loss.cool_frac(cool + TINY, 0.0)) - cold) / TINY
    by_sun = (float(loss.cool_frac(cool, TINY)) - cold) / TINY
    return heat - by_heat * warm, by_heat, cold - by_cold * cool, by_cold, by_sun


def _always(zone: ServedZone) -> tuple[float, float, float, float, float]:
    return zone.demand.delivered_heat_frac, 0.0, zone.demand.delivered_cool_frac, 0.0, 0.0
