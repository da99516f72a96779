"""Every number of the scoring that is not a curve or a weight, read from one editable table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache

from compare.scoring.curves import Curve, bundled_curves
from compare.scoring.tables import SUFFIX, ScoringDataError, number, read_rows, to_si


@dataclass(frozen=True, slots=True)
class Judgements:
    """Numbers of `defaults.csv` in SI; what each means, its source and reason stand there."""

    night_from_h: float
    night_to_h: float
    evening_from_h: float
    evening_to_h: float
    morning_h: float
    coldest_mornings: float
    coldest_night_frac: float
    coldest_night_percentile_frac: float
    high_percentile_frac: float
    cold_margin_k: float
    heating_season_below_c: float
    hot_margin_k: float
    warm_day_from_c: float
    mild_from_c: float
    mild_to_c: float
    running_from_w: float
    heater_credit: float
    old_heat_credit: float
    match_cool_least_frac: float
    match_cool_most_frac: float
    comfort_cool_factor: float
    comfort_cool_least_frac: float
    comfort_cool_most_frac: float
    bed_share_frac: float
    seat_share_frac: float
    outdoor_share_frac: float
    draught_share_frac: float
    damp_share_frac: float
    worst_share_frac: float
    hours_share_frac: float
    guest_weight: float
    outdoor_limit_dba: float
    fatal_below_c: float
    amber_below_c: float
    amber_cover: float
    amber_draught_frac: float
    amber_bed_dba: float
    amber_starts_per_h: float
    tie_points: float
    clear_share_frac: float
    likely_share_frac: float
    limit_energy_frac: float
    limit_noise_dba: float
    limit_price_frac: float
    limit_price_least_usd: float
    limit_temperature_k: float
    limit_starts: float
    limit_hours_below_frac: float
    limit_cover: float
    limit_share_frac: float
    limit_draught_frac: float
    least_points: float


def parse_judgements(text: str | None = None) -> Judgements:
    """Judgements from `text`, else from the bundled table.

    Raises
    ------
    ScoringDataError
        When a row is missing, unknown or given twice.
    """
    values: dict[str, float] = {}
    for row in read_rows("defaults.csv", text):
        name = row["name"] + SUFFIX.get(row["unit"], "")
        if name in values:
            raise ScoringDataError(f"defaults.csv: {row['name']} stands twice: keep one row")
        values[name] = to_si(number(row, "value", "defaults.csv"), row["unit"])
    known = {field.name for field in fields(Judgements)}
    if missing := sorted(known - values.keys()):
        raise ScoringDataError(f"defaults.csv: missing {', '.join(missing)} (check name and unit)")
    if unknown := sorted(values.keys() - known):
        raise ScoringDataError(f"defaults.csv: not known: {', '.join(unknown)} (check name and unit)")
    return Judgements(**values)


@dataclass(frozen=True, slots=True, eq=False)
class Rulebook:
    """Curves and judgements that one scoring uses."""

    curves: Mapping[str, Curve]
    numbers: Judgements


@cache
def rulebook() -> Rulebook:
    """The rulebook that comes with the program."""
    return Rulebook(bundled_curves(), parse_judgements())
