"""Evidence for tests, built from plain numbers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from compare.house.plan import Bed, RoomPlan, Seat, Use
from compare.scoring.evidence import (
    Calendar,
    CompressorEvidence,
    EnergyEvidence,
    Evidence,
    PriceEvidence,
    RoomEvidence,
    Source,
)

HOURS = 8760
SLEEP = frozenset({22, 23, 0, 1, 2, 3, 4, 5, 6})
LIVE = frozenset(range(7, 22))
WORK = frozenset(range(9, 17))


def f_to_c(value: float) -> float:
    return (value - 32.0) / 1.8


def year_c() -> np.ndarray:
    """A smooth year: 45 degF mean, 20 degF seasonal and 8 degF daily half-swing, coldest on 1 January at 5 h."""
    hour = np.arange(HOURS)
    season_f = -20.0 * np.cos(2.0 * np.pi * hour / HOURS)
    day_f = -8.0 * np.cos(2.0 * np.pi * (hour - 5.0) / 24.0)
    return f_to_c(45.0 + season_f + day_f)


def calendar() -> Calendar:
    return Calendar(year_c())


def flat(value: float) -> np.ndarray:
    return np.full(HOURS, float(value))


def plan(name: str, use: Use = Use.BEDROOM, sleepers: float = 2.0, regular: bool = True, **other) -> RoomPlan:
    hours = {Use.BEDROOM: SLEEP, Use.WORK: WORK, Use.HALL: frozenset()}.get(use, LIVE)
    target = {Use.BEDROOM: 66.0, Use.LIVING: 70.0}.get(use, 68.0)
    beds = (Bed(1.0, 1.0, sleepers, regular),) if use is Use.BEDROOM else ()
    base = RoomPlan(
        name=name,
        level=0,
        use=use,
        outline_m=((0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)),
        height_m=2.4,
        area_m2=12.0,
        volume_m3=28.8,
        surfaces=(),
        beds=beds,
        seats=() if beds else (Seat(1.0, 1.0, "sofa"),),
        regular=regular,
        use_hours=hours,
        target_c=f_to_c(target),
    )
    return replace(base, **other)


def room(
    name: str = "Bedroom", use: Use = Use.BEDROOM, air_f: float = 70.0, level: float = 25.0, **other
) -> RoomEvidence:
    plan_keys = {key: other.pop(key) for key in ("sleepers", "regular", "use_hours", "target_c") if key in other}
    bed = use is Use.BEDROOM
    base = RoomEvidence(
        room=plan(name, use, **plan_keys),
        source=Source.SERVED,
        open_by_day=False,
        open_by_night=False,
        heat_load_w=1000.0,
        cool_load_w=800.0,
        heat_cover_frac=1.0,
        cool_cover_frac=1.0,
        air_c=flat(f_to_c(air_f)),
        bed_dba=flat(level) if bed else None,
        seat_dba=None if bed else flat(level),
        bed_draught_frac=0.10 if bed else float("nan"),
        seat_draught_frac=float("nan") if bed else 0.10,
        people_frac=0.3,
    )
    return replace(base, **other)


def unit(name: str = "Outdoor unit 1", load_w: float = 600.0, min_w: float = 1200.0, **other) -> CompressorEvidence:
    base = CompressorEvidence(
        name=name,
        rooms=(0,),
        heads=1,
        heat_w=flat(load_w),
        cool_w=flat(0.0),
        heat_min_w=flat(min_w),
        cool_min_w=flat(min_w),
        heat_capacity_j_k=2.0e6,
    )
    return replace(base, **other)


def energy(kwh: float = 4000.0, need_kwh: float = 11000.0, **other) -> EnergyEvidence:
    base = EnergyEvidence(
        electricity_kwh=kwh,
        old_fuel_kwh=0.0,
        heat_kwh=10000.0,
        cool_kwh=1000.0,
        resistance_heat_kwh=0.0,
        equal_service_kwh=kwh,
        equal_service_heat_kwh=need_kwh - 1000.0,
        equal_service_cool_kwh=1000.0,
        bill_usd=kwh * 0.165,
        carbon_kg=kwh * 0.37,
    )
    return replace(base, **other)


def price(mid_usd: float = 12000.0, reference_usd: float = 6000.0) -> PriceEvidence:
    return PriceEvidence(0.85 * mid_usd, mid_usd, 1.2 * mid_usd, reference_usd)


def evidence(option_id: str = "a", **other) -> Evidence:
    base = Evidence(
        option_id=option_id,
        family="mix",
        name=f"Option {option_id}",
        rooms=(room("Living", Use.LIVING), room("Bedroom 1"), room("Bedroom 2")),
        compressors=(unit(),),
        outdoor_dba=42.0,
        outdoor_limit_dba=50.0,
        energy=energy(),
        price=price(),
        heat_kwh=10000.0,
        cool_kwh=1000.0,
        visible_units=1,
        outdoor_units=1,
        damp_hours_frac=float("nan"),
    )
    return replace(base, **other)
