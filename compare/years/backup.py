"""Backup heat: where and when the heat pump leaves rooms under their target, and what it takes to hold them.

The year is run once more with a heater without limit in every habitable room that comes in 2 degF under the room's own
target, as backup stages are commonly set. What those heaters give is the heat that is missing; hours and depth of the
shortfall come from the run without them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.options.option import Option
from compare.physics.network import Supply, YearTrace
from compare.years.case import HouseCase
from compare.years.energy import OldHeat
from compare.years.habits import DAYS, months
from compare.years.run import run_years
from compare.years.supplies import SupplyFactory
from compare.zones.sketch import Rest

FloatArray = npt.NDArray[np.float64]

UNMET_K = 2.0 / 1.8
"""An hour counts as unmet when a room lies more than 2 degF under its target in its hours (as for cold hours)."""

ALARM = (
    "A heat pump that fails in the cold is easily overlooked while electric heaters carry the house: fit an alarm or a "
    "lamp that shows the heaters running, and look at the first winter bill."
)
"""Printed with maintenance wherever resistance heat can carry the house."""


FREEZING_RISK_C = 4.0
"""Room temperature under which water pipes in outside walls are at risk (common practice)."""
FREEZING = (
    "Without backup, rooms get cold enough for water pipes to freeze and for people to come to harm: keep a heat "
    "source that works when the heat pump does not."
)


@dataclass(frozen=True, slots=True)
class RoomBackup:
    """One room: unmet hours, its coldest hour in use, heat that a backup has to add, and the most of it at once."""

    room: int
    unmet_h: int
    coldest_c: float
    backup_kwh: float
    backup_h: int
    peak_w: float


@dataclass(frozen=True, slots=True, eq=False)
class Backup:
    """Backup heat of one option's year. `monthly_kwh` by calendar month, 12 values, of heat added by the backup."""

    rooms: tuple[RoomBackup, ...]
    monthly_kwh: FloatArray
    heat_pump_kwh: float
    """Heat from heat pumps with the backup at work."""
    cut_out_c: float
    """Outdoor temperature under which the first of the units gives no heat."""
    cut_out_h: int
    """Hours of the year below it."""
    resistance_usd: float
    """A year's cost of the backup as electric resistance."""
    old_heat_usd: float | None
    """The same from the old heat in its own fuel; None without old heat."""
    resistance_month_usd: float
    """The dearest month of it as electric resistance."""

    @property
    def backup_kwh(self) -> float:
        """Heat added by the backup in the year."""
        return float(self.monthly_kwh.sum())

    @property
    def backup_h(self) -> int:
        """Hours in which the backup runs in the room that needs it longest."""
        return max((room.backup_h for room in self.rooms), default=0)


def backup_of(case: HouseCase, factory: SupplyFactory, option: Option, on_frac: FloatArray | None = None) -> Backup:
    """Backup heat that an option needs in its year.

    Parameters
    ----------
    case, factory, option
        The house, its supplies and the option.
    on_frac
        Share of its output that the heat pump is allowed in each hour (`compare.years.habits`); None leaves it alone.
    """
    own = factory.of_option(option, on_frac)
    rooms = _rooms(case, option)
    held: list[Supply] = [factory.room_heater(room, case.plan.rooms[room].target_c - UNMET_K) for room in rooms]
    alone, backed = run_years(case, [own, (*own, *held)])
    added = np.maximum(backed.supply_w[:, len(own) :].astype(np.float64), 0.0)
    monthly = np.array([added[months() == month].sum() / 1000.0 for month in range(1, len(DAYS) + 1)])
    pumps = np.maximum(backed.supply_w[:, : len(option.zones)].astype(np.float64), 0.0)
    old, rates = OldHeat.of(case.house), case.house.rates
    cut_out_c = max(group.output.cutoff_c for group in option.outdoor.groups)
    return Backup(
        rooms=tuple(_room(case, alone, room, added[:, place]) for place, room in enumerate(rooms)),
        monthly_kwh=monthly,
        heat_pump_kwh=float(pumps.sum()) / 1000.0,
        cut_out_c=cut_out_c,
        cut_out_h=int((case.weather.dry_bulb_c < cut_out_c).sum()),
        resistance_usd=float(monthly.sum()) * rates.electricity_usd_kwh,
        old_heat_usd=_old_usd(case, old, float(monthly.sum())),
        resistance_month_usd=float(monthly.max()) * rates.electricity_usd_kwh,
    )


def _old_usd(case: HouseCase, old: OldHeat, heat_kwh: float) -> float | None:
    return None if case.house.existing_heat is None else heat_kwh / old.efficiency_frac * old.usd_kwh


def _rooms(case: HouseCase, option: Option) -> Sequence[int]:
    """Habitable rooms without a heater or old heat of their own."""
    heated = {room for room, rest in option.layout.rest if rest is not Rest.NEIGHBOUR}
    return [i for i, room in enumerate(case.plan.rooms) if room.habitable and i not in heated]


def _room(case: HouseCase, alone: YearTrace, room: int, added_w: FloatArray) -> RoomBackup:
    plan = case.plan.rooms[room]
    air_c = alone.room_c[:, room].astype(np.float64)
    clock = np.arange(air_c.size) % 24
    used = np.isin(clock, sorted(plan.use_hours)) if plan.use_hours else np.ones(air_c.size, dtype=np.bool_)
    return RoomBackup(
        room=room,
        unmet_h=int((used & (air_c < plan.target_c - UNMET_K)).sum()),
        coldest_c=float(air_c[used].min()),
        backup_kwh=float(added_w.sum()) / 1000.0,
        backup_h=int((added_w > 1.0).sum()),
        peak_w=float(added_w.max(initial=0.0)),
    )
