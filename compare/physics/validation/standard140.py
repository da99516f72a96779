"""ANSI/ASHRAE Standard 140 thermal fabric cases through the reduced room and the year kernel, against their ranges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.climate.year import WeatherYear
from compare.physics.fabric.drivers import Drivers, faces_of
from compare.physics.fabric.room import PreparedRoom, drive_room
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.network import Network, Supply
from compare.physics.room import BRANCHES, RoomFabric
from compare.physics.validation.standard140_box import LEAK_W_K_PER_AIR_CHANGE, box_gains, box_room, prepared_box
from compare.physics.validation.standard140_cases import NIGHT_HOURS, Case, cases, ranges
from compare.physics.year import simulate

FloatArray = npt.NDArray[np.float64]

NEAR_FRAC = 0.05
"""A result outside its range but this near to the closer end is a finding to explain, not a fault of the model."""
WITHOUT_LIMIT_W = 1.0e6
DRY_BULB_C = (-19.4, 10.88, 40.0)
"""Lowest, mean and highest dry bulb of the Standard 140 year."""
DRY_BULB_TOLERANCE_K = 0.01


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of one case beside its published range; `low` and `high` are None where only the case is defined."""

    case: str
    quantity: str
    unit: str
    value: float
    low: float | None
    high: float | None
    source: str

    @property
    def inside(self) -> bool | None:
        """Whether the value lies in its range; None without a range."""
        if self.low is None or self.high is None:
            return None
        return self.low <= self.value <= self.high

    @property
    def off_frac(self) -> float:
        """How far outside the range, as a share of the nearer end; 0 inside or without a range."""
        if self.low is None or self.high is None or self.inside:
            return 0.0
        end = self.low if self.value < self.low else self.high
        return abs(self.value - end) / abs(end)


def standard140_table(
    year: WeatherYear, chosen: Iterable[Case] | None = None, branches: int = BRANCHES
) -> tuple[Row, ...]:
    """Every figure of the cases, in order, run on the Standard 140 year (Denver, station 725650)."""
    check_year(year)
    picked = tuple(cases() if chosen is None else chosen)
    found: list[Row] = []
    for case in picked:
        found += _rows(case, case_figures(case, case_drivers(case, year), branches))
    return tuple(found)


def check_year(year: WeatherYear) -> None:
    """Refuse any year but the one the ranges belong to: Denver 725650, known by its dry bulb and its place."""
    seen = (float(year.dry_bulb_c.min()), float(year.dry_bulb_c.mean()), float(year.dry_bulb_c.max()))
    if not all(abs(a - b) <= DRY_BULB_TOLERANCE_K for a, b in zip(seen, DRY_BULB_C, strict=True)):
        raise ValueError(
            f"weather: dry bulb {seen[0]:.1f}/{seen[1]:.2f}/{seen[2]:.1f} degC (lowest/mean/highest) is not that of "
            f"the ranges, {DRY_BULB_C[0]}/{DRY_BULB_C[1]}/{DRY_BULB_C[2]}; give the Standard 140 year 725650 (Denver)"
        )


def case_drivers(case: Case, year: WeatherYear) -> Drivers:
    """Weather and sun on the faces of the box."""
    return drivers_from_year(year, faces_of([box_room(case)]))


def case_figures(
    case: Case, drivers: Drivers, branches: int = BRANCHES, prepared: PreparedRoom | None = None
) -> dict[str, tuple[str, float]]:
    """Figures of one case by quantity, each with its unit; `prepared` stands in for the box of the case."""
    box = prepared_box(case) if prepared is None else prepared
    fabric = drive_room(box, drivers, box_gains(case, drivers), branches)
    room_c, supply_w = run_case(case, fabric, drivers)
    if case.free:
        return {
            "lowest temperature": ("degC", float(room_c.min())),
            "mean temperature": ("degC", float(room_c.mean())),
            "highest temperature": ("degC", float(room_c.max())),
        }
    heat_w, cool_w = np.maximum(supply_w, 0.0), np.maximum(-supply_w, 0.0)
    hour_mwh = drivers.step_s / 3600.0 / 1.0e6
    return {
        "annual heating": ("MWh", float(heat_w.sum() * hour_mwh)),
        "annual cooling": ("MWh", float(cool_w.sum() * hour_mwh)),
        "peak heating": ("kW", float(heat_w.max() / 1000.0)),
        "peak cooling": ("kW", float(cool_w.max() / 1000.0)),
    }


def run_case(case: Case, fabric: RoomFabric, drivers: Drivers) -> tuple[FloatArray, FloatArray]:
    """Air temperature [degC] and heat supplied [W, cooling negative] of each hour, by the year kernel."""
    layout = [] if case.free else [_ideal_supply(case, drivers.hours)]
    trace = simulate(case_network(case, fabric, drivers), [layout])[0]
    supply_w = np.zeros(drivers.hours) if case.free else trace.supply_w[:, 0].astype(np.float64)
    return trace.room_c[:, 0].astype(np.float64), supply_w


def case_network(case: Case, fabric: RoomFabric, drivers: Drivers) -> Network:
    """The box as a house of one room."""
    return Network(
        room_names=(case.name,),
        g0_w_k=np.array([fabric.g0_w_k]),
        branch_g_w_k=fabric.branch_g_w_k[None, :],
        branch_tau_s=fabric.branch_tau_s[None, :],
        air_j_k=np.array([fabric.air_j_k]),
        q20_w=fabric.q20_w[:, None].copy(),
        link_w_k=np.zeros((1, 1, 1)),
        leak_w_k=np.array([[LEAK_W_K_PER_AIR_CHANGE * case.air_changes_per_h]]),
        door_state=np.zeros(drivers.hours, dtype=np.int64),
        leak_level=np.zeros(drivers.hours, dtype=np.int64),
        outdoor_c=drivers.dry_bulb_c,
        step_s=drivers.step_s,
    )


def _ideal_supply(case: Case, hours: int) -> Supply:
    heat_set_c = np.full(hours, case.heat_set_c)
    if case.setback_c is not None:
        night = np.isin(np.arange(hours) % 24, sorted(NIGHT_HOURS))
        heat_set_c[night] = case.setback_c
    one, ample_w = np.ones(1), np.full(hours, WITHOUT_LIMIT_W)
    return Supply(one, one, ample_w, ample_w, heat_set_c, np.full(hours, case.cool_set_c), np.zeros(1))


def _rows(case: Case, figures: dict[str, tuple[str, float]]) -> list[Row]:
    known = {(r.case, r.quantity): r for r in ranges()}
    found = []
    for quantity, (unit, value) in figures.items():
        span = known.get((case.name, quantity))
        if span is None:
            found.append(Row(case.name, quantity, unit, value, None, None, "definition only"))
        else:
            found.append(Row(case.name, quantity, unit, value, span.low, span.high, span.source))
    return found
