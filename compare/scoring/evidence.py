"""What scoring needs to know of one option: plain arrays and numbers, gathered by the pipeline.

Measures are pure functions of this evidence; nothing here is scored yet. H = 8760 hours, entry i is the hour from i to
i+1 local standard time. Levels are dB(A) re 20 uPa with the background already added.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from compare.house.plan import RoomPlan

FloatArray = npt.NDArray[np.float64]


class Source(StrEnum):
    """Where a room's heat comes from in a layout."""

    SERVED = "served"
    """Own unit or own duct branch."""
    BORROWED = "borrowed"
    """A neighbour's air through an opening or a door kept open."""
    HEATER = "room heater"
    OLD_HEAT = "old heat"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True, eq=False)
class RoomEvidence:
    """One room in one option's year."""

    room: RoomPlan
    source: Source
    open_by_day: bool
    """Open by day to a space that a unit serves (through openings, or doors kept open at least half the time)."""
    open_by_night: bool
    heat_load_w: float
    cool_load_w: float
    heat_cover_frac: float
    """Capacity at the 99 % condition delivered / load, of the unit it is served by or open to; nan without one."""
    cool_cover_frac: float
    air_c: FloatArray
    """(H,) room air temperature."""
    bed_dba: FloatArray | None
    """(H,) level at the worst pillow at the fan speed each hour needs; None without a bed."""
    seat_dba: FloatArray | None
    bed_draught_frac: float
    """Draught rate DR at the pillow at the 95th percentile airflow of its use hours; nan without a bed."""
    seat_draught_frac: float
    people_frac: float
    """Share of the household's occupied hours spent here (weights the comfort mean)."""
    cool_set_c: float = 215.0 / 9.0
    """Cooling set point (75 degF unless the house says otherwise); hot hours are counted above it."""
    bed_running_dba: float = math.nan
    """Level at the pillow while the unit runs, at the fan speed of the 95th percentile night; shown, not scored."""


@dataclass(frozen=True, slots=True, eq=False)
class CompressorEvidence:
    """One outdoor unit's year. Loads and minimum outputs at the same point (delivered at the unit)."""

    name: str
    rooms: tuple[int, ...]
    heads: int
    heat_w: FloatArray
    cool_w: FloatArray
    heat_min_w: FloatArray
    cool_min_w: FloatArray
    heat_capacity_j_k: float | FloatArray
    """Heat capacity that sees its on-off swings: the summed rooms' of one indoor unit; when several heads share the
    outdoor unit the load-weighted mean of theirs, as one number or (H,) by the hour."""


@dataclass(frozen=True, slots=True)
class EnergyEvidence:
    """Site energy of the year, kWh."""

    electricity_kwh: float
    """As the option runs: units, fans, defrost, standby, room heaters."""
    old_fuel_kwh: float
    heat_kwh: float
    """Heat delivered to rooms by everything."""
    cool_kwh: float
    resistance_heat_kwh: float
    equal_service_kwh: float
    """Electricity (and old heat at site kWh) with every cold bedroom topped up by resistance."""
    equal_service_heat_kwh: float
    """Heat the house needs with all habitable rooms held."""
    equal_service_cool_kwh: float
    bill_usd: float
    carbon_kg: float


@dataclass(frozen=True, slots=True)
class PriceEvidence:
    """Installed price, and the reference price of this house's single wall head."""

    low_usd: float
    mid_usd: float
    high_usd: float
    reference_usd: float


@dataclass(frozen=True, slots=True)
class Fault:
    """A fatal or amber finding that is decided outside the scores (place, panel, refrigerant, static, drain)."""

    fatal: bool
    code: str
    text: str
    """Plain sentence with its number."""
    room: int = -1
    """Room index, or -1 when it concerns the whole option."""
    value: float = math.nan
    """The number found, SI."""
    limit: float = math.nan
    """The number it is held against, SI."""
    kind: str = ""
    """How `value` and `limit` are shown: a word of `compare.scoring.criteria.Kind`, or nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """All of one option."""

    option_id: str
    family: str
    name: str
    rooms: tuple[RoomEvidence, ...]
    compressors: tuple[CompressorEvidence, ...]
    outdoor_dba: float
    """All outdoor units together at night, at the property line or the neighbour's window; nan without one."""
    outdoor_limit_dba: float
    energy: EnergyEvidence
    price: PriceEvidence
    heat_kwh: float
    """Yearly heat need of the house, for weighting heating against cooling."""
    cool_kwh: float
    visible_units: int
    outdoor_units: int
    damp_hours_frac: float
    """Hours above 60 % RH / cooling-season hours; nan where the weather cannot say."""
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Calendar:
    """Hours of the year that measures look at, from the weather alone."""

    outdoor_c: FloatArray
    """(H,) dry bulb."""

    @property
    def clock_h(self) -> npt.NDArray[np.int64]:
        """(H,) clock hour 0-23 at the start of each entry."""
        return np.arange(self.outdoor_c.shape[0]) % 24
