"""All measures of one option: M1-M3, L1-L3, N1-N3, C1-C5, K and E from its evidence."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.scoring.criteria import Kind, measure_infos
from compare.scoring.evidence import Calendar, EnergyEvidence, Evidence, Fault, PriceEvidence
from compare.scoring.judgements import Judgements, rulebook
from compare.scoring.room_measures import RoomMeasures, measure_room
from compare.scoring.season import Season, season
from compare.scoring.unit_measures import UnitMeasures, measure_unit


@dataclass(frozen=True, slots=True)
class Measures:
    """Every number behind one option's scores. Nothing is scored yet."""

    option_id: str
    family: str
    name: str
    rooms: tuple[RoomMeasures, ...]
    units: tuple[UnitMeasures, ...]
    backup_frac: float
    """M3."""
    outdoor_dba: float
    """N3; nan without an outdoor unit."""
    outdoor_limit_dba: float
    damp_frac: float
    """C5; nan where the weather cannot say."""
    price: PriceEvidence
    price_ratio: float
    """K as a ratio to the house's single wall head."""
    energy: EnergyEvidence
    cop: float
    """E."""
    cool_share_frac: float
    """Cold as a share of the house's yearly heat and cold."""
    visible_units: int
    outdoor_units: int
    faults: tuple[Fault, ...]
    """Findings that came with the evidence (place, panel, refrigerant, static, drain)."""


def cover_frac(capacity_w: float, load_w: float, delivered_frac: float = 1.0) -> float:
    """M1 and M2: capacity as delivered to the rooms / design load; 1 where there is no load.

    Raises
    ------
    ValueError
        For a negative number or a delivered share outside 0 to 1.
    """
    if capacity_w < 0.0 or load_w < 0.0 or not 0.0 <= delivered_frac <= 1.0:
        raise ValueError("capacity_w and load_w must not be below 0, delivered_frac must lie in 0 to 1")
    return capacity_w * delivered_frac / load_w if load_w > 0.0 else 1.0


def shared_cover_frac(head_cover_frac: float, outdoor_cover_frac: float) -> float:
    """Cover of a head on a shared outdoor unit: the lower of the head's and the outdoor unit's."""
    return min(head_cover_frac, outdoor_cover_frac)


def equal_service_cop(energy: EnergyEvidence) -> float:
    """E: heat and cold that the house needs / electricity, with every cold bedroom topped up.

    Raises
    ------
    ValueError
        When there is no electricity to divide by.
    """
    if not energy.equal_service_kwh > 0.0:
        raise ValueError(
            f"equal_service_kwh is {energy.equal_service_kwh:g}: a year without any use has no COP; "
            "check the weather and the set points"
        )
    return (energy.equal_service_heat_kwh + energy.equal_service_cool_kwh) / energy.equal_service_kwh


def price_ratio(price: PriceEvidence) -> float:
    """K: middle price / price of this house's single wall head.

    Raises
    ------
    ValueError
        When either price is not above 0.
    """
    if not (price.mid_usd > 0.0 and price.reference_usd > 0.0):
        raise ValueError(f"prices must be above 0: mid_usd {price.mid_usd:g}, reference_usd {price.reference_usd:g}")
    return price.mid_usd / price.reference_usd


def share(part: float, *others: float) -> float:
    """Share of a part in (part + others); 0 when there is nothing."""
    total = math.fsum((part, *others))
    return part / total if total > 0.0 else 0.0


def measure(evidence: Evidence, when: Calendar | Season, numbers: Judgements | None = None) -> Measures:
    """All measures of one option. Pass a `Season` when many options share one year.

    Raises
    ------
    ValueError
        When the evidence is incomplete; the text names the option and the field.
    """
    numbers = numbers or rulebook().numbers
    year = when if isinstance(when, Season) else season(when, numbers)
    try:
        return _measure(evidence, year, numbers)
    except ValueError as error:
        raise ValueError(f"option {evidence.option_id}: {error}") from error


def _measure(evidence: Evidence, year: Season, numbers: Judgements) -> Measures:
    energy = evidence.energy
    if not evidence.compressors:
        raise ValueError("compressors is empty: an option needs at least one outdoor unit")
    return Measures(
        option_id=evidence.option_id,
        family=evidence.family,
        name=evidence.name,
        rooms=tuple(measure_room(i, found, year, numbers) for i, found in enumerate(evidence.rooms)),
        units=tuple(measure_unit(unit, year, numbers) for unit in evidence.compressors),
        backup_frac=energy.resistance_heat_kwh / energy.heat_kwh if energy.heat_kwh > 0.0 else 0.0,
        outdoor_dba=evidence.outdoor_dba,
        outdoor_limit_dba=evidence.outdoor_limit_dba,
        damp_frac=evidence.damp_hours_frac,
        price=evidence.price,
        price_ratio=price_ratio(evidence.price),
        energy=energy,
        cop=equal_service_cop(energy),
        cool_share_frac=share(evidence.cool_kwh, evidence.heat_kwh),
        visible_units=evidence.visible_units,
        outdoor_units=evidence.outdoor_units,
        faults=evidence.faults,
    )


@dataclass(frozen=True, slots=True)
class Reading:
    """One measure of one room, unit or option as a plain number with its kind."""

    measure: str
    subject: str
    """Room or unit; empty for the whole option."""
    value: float
    """SI."""
    kind: Kind


_ROOM = (
    ("M1", "heat_cover"),
    ("M2", "cool_cover"),
    ("N1", "bed_dba"),
    ("N2", "seat_dba"),
    ("C1", "morning_drop_k"),
    ("C2", "cold_frac"),
    ("C3", "hot_frac"),
    ("C4", "draught_frac"),
)
_UNIT = (("L1", "below_min_frac"), ("L2", "starts_per_y"), ("L3", "mild_starts_per_h"))
_OPTION = (
    ("M3", "backup_frac"),
    ("N3", "outdoor_dba"),
    ("C5", "damp_frac"),
    ("K", "price_ratio"),
    ("E", "cop"),
    ("V", "visible_units"),
)


def readings(measures: Measures) -> tuple[Reading, ...]:
    """Every measure that exists, in the order of the measures table, then of rooms and units."""
    infos = measure_infos()
    found = [(m, r.room.name, float(getattr(r, f))) for m, f in _ROOM for r in measures.rooms]
    found += [(m, u.name, float(getattr(u, f))) for m, f in _UNIT for u in measures.units]
    found += [(m, "", float(getattr(measures, f))) for m, f in _OPTION]
    order = {name: i for i, name in enumerate(infos)}
    kept = [item for item in found if not math.isnan(item[2])]
    kept.sort(key=lambda item: order[item[0]])
    return tuple(Reading(m, subject, value, infos[m].kind) for m, subject, value in kept)
