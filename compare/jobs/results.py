"""The results that a record freezes: every option with its place, scores, price, energy and findings."""

from __future__ import annotations

from compare.pipeline import Comparison
from compare.scoring.criteria import CRITERIA
from compare.scoring.ranking import Ranked
from compare.scoring.weights import Weights


def result_rows(found: Comparison, weights: Weights | None = None) -> list[dict[str, object]]:
    """One row per option, best first, in SI and dollars."""
    return [_row(item) for item in found.rank(weights).ranked]


def _row(item: Ranked) -> dict[str, object]:
    score = item.option
    measures, energy = score.measures, score.measures.energy
    beds = [room for room in measures.rooms if room.regular_bedroom]
    return {
        "option": score.option_id,
        "family": score.family,
        "place": item.place,
        "total": item.total,
        "scores": {c.value: s for c, s in zip(CRITERIA, score.scores, strict=True)},
        "price_low_usd": measures.price.low_usd,
        "price_usd": measures.price.mid_usd,
        "price_high_usd": measures.price.high_usd,
        "electricity_kwh": energy.electricity_kwh,
        "equal_service_kwh": energy.equal_service_kwh,
        "bill_usd": energy.bill_usd,
        "carbon_kg": energy.carbon_kg,
        "starts_per_y": [unit.starts_per_y for unit in measures.units],
        "below_minimum_frac": [unit.below_min_frac for unit in measures.units],
        "morning_c": {room.room.name: room.morning_c for room in beds},
        "bed_dba": {room.room.name: room.bed_dba for room in measures.rooms if room.room.beds},
        "findings": [[fault.code, fault.fatal] for fault in score.faults],
    }
