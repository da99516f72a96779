"""What a unit is: indoor unit, outdoor unit, a single-zone pair and an outdoor unit shared by several indoor units."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from compare.equipment.output import RatedOutput

LABEL = "generic, not measured, editable"
"""Printed wherever a figure of the bundled catalogue is shown."""


class UnitKind(StrEnum):
    """Kinds of indoor unit."""

    WALL = "wall head"
    FLOOR = "floor console"
    CEILING = "ceiling cassette"
    DUCTED_LOW = "ducted low static"
    DUCTED_MID = "ducted mid static"

    @property
    def ducted(self) -> bool:
        """Whether the unit blows into ducts."""
        return self in (UnitKind.DUCTED_LOW, UnitKind.DUCTED_MID)


@dataclass(frozen=True, slots=True)
class BySpeed:
    """A value at each of the four fan speeds."""

    quiet: float
    low: float
    medium: float
    high: float


@dataclass(frozen=True, slots=True)
class Cabinet:
    """Outside size of a cabinet; the depth of a cassette is its height above the ceiling."""

    width_m: float
    height_m: float
    depth_m: float


@dataclass(frozen=True, slots=True)
class IndoorUnit:
    """One indoor unit.

    `airflow_m3_s` by fan speed; `sound_power_dba` is the sound power level re 1 pW by fan speed, of a ducted unit
    at its supply outlet at rated static. `fan_w_m3_s` is fan power per airflow at high speed; below it the cube law
    holds. `static_pa` is the external static available at high speed.
    """

    kind: UnitKind
    size_kbtuh: float
    airflow_m3_s: BySpeed
    sound_power_dba: BySpeed
    fan_w_m3_s: float
    static_pa: float
    cabinet: Cabinet
    source: str = LABEL
    model: str = ""

    @property
    def label(self) -> str:
        """Kind and size class, as printed."""
        return f"{self.kind} {self.size_kbtuh:g}"


@dataclass(frozen=True, slots=True)
class OutdoorUnit:
    """One outdoor unit. `ports` is 1 for a single-zone pair; connected sizes are the allowed sum of indoor classes."""

    size_kbtuh: float
    ports: int
    connected_least_kbtuh: float
    connected_most_kbtuh: float
    sound_power_dba: float
    circuit_a: float
    volts: str
    charge_kg: float
    cabinet: Cabinet
    line_total_m: float
    line_branch_m: float
    lift_m: float
    source: str = LABEL
    model: str = ""

    @property
    def label(self) -> str:
        """Size class, and ports where it has several."""
        ports = f", {self.ports} ports" if self.ports > 1 else ""
        return f"outdoor unit {self.size_kbtuh:g}{ports}"


@dataclass(frozen=True, slots=True)
class Pair:
    """An indoor unit with its own outdoor unit, and what the two deliver together."""

    indoor: IndoorUnit
    outdoor: OutdoorUnit
    output: RatedOutput

    @property
    def kind(self) -> UnitKind:
        """Kind of the indoor unit."""
        return self.indoor.kind

    @property
    def size_kbtuh(self) -> float:
        """Size class of the pair."""
        return self.indoor.size_kbtuh

    @property
    def label(self) -> str:
        """Kind and size class, as printed."""
        return self.indoor.label


@dataclass(frozen=True, slots=True)
class SharedUnit:
    """An outdoor unit that serves several indoor units, and what it delivers to all of them together."""

    outdoor: OutdoorUnit
    output: RatedOutput
