"""Seasonal ratings that the catalogue's points imply: shown beside a unit as a check, never as its rating.

The test points that the catalogue lacks are formed by fixed rules (from memory): see each function.
"""

from __future__ import annotations

from dataclasses import dataclass

from compare.equipment.output import RatedOutput
from compare.equipment.rules import rule
from compare.equipment.seasonal import (
    CoolingTests,
    HeatingTests,
    RatingPoint,
    cooling_season,
    default_full_35,
    heating_season,
    region,
)

_MIDDLE = 0.45
"""Place of the intermediate speed between least and full output."""
_MIDDLE_COP = 0.92
"""COP of the intermediate heating point as a share of rated COP at 47 degF."""


@dataclass(frozen=True, slots=True)
class ImpliedRatings:
    """SEER2 and HSPF2 in Btu/Wh."""

    seer2: float
    hspf2: float
    region: str


def implied_ratings(output: RatedOutput, region_name: str = "IV") -> ImpliedRatings:
    """Ratings implied by the catalogue's points in one heating climate region."""
    heat = heating_season(heating_tests(output), region(region_name), output.cool.rated_w)
    return ImpliedRatings(cooling_season(cooling_tests(output)).rating_btu_wh, heat.rating_btu_wh, region_name)


def cooling_tests(output: RatedOutput) -> CoolingTests:
    """Cooling test points: rated output as full speed, minimum scaled to 82 and 67 degF, intermediate at 87 degF."""
    cool = output.cool
    full_95 = RatingPoint(cool.rated_w, cool.rated_w / cool.rated_cop)
    full_82 = RatingPoint(
        full_95.capacity_w * rule("rating_conditions", "rated_82_capacity_frac"),
        full_95.power_w * rule("rating_conditions", "rated_82_power_frac"),
    )
    least_w = cool.min_w * rule("rating_conditions", "min_82_capacity_frac")
    least_82 = RatingPoint(least_w, least_w / (cool.min_cop * rule("rating_conditions", "min_82_cop_frac")))
    least_67 = RatingPoint(
        least_82.capacity_w * rule("rating_conditions", "min_67_capacity_frac"),
        least_82.power_w * rule("rating_conditions", "min_67_power_frac"),
    )
    low, high = _at(least_67, least_82, 20.0 / 15.0), _at(full_82, full_95, 5.0 / 13.0)
    capacity = low.capacity_w + _MIDDLE * (high.capacity_w - low.capacity_w)
    cop = 0.5 * (low.capacity_w / low.power_w + high.capacity_w / high.power_w)
    return CoolingTests(full_95, full_82, RatingPoint(capacity, capacity / cop), least_82, least_67)


def heating_tests(output: RatedOutput) -> HeatingTests:
    """Heating test points: the maximum line as full speed, minimum at 47 and 62 degF, intermediate at 35 degF."""
    heat = output.heat
    least_47 = RatingPoint(heat.min_w[0], heat.min_w[0] / heat.min_cop[0])
    least_62 = RatingPoint(least_47.capacity_w * rule("rating_conditions", "min_62_capacity_frac"), least_47.power_w)
    full_47, full_17, full_5 = (RatingPoint(heat.max_w[i], heat.max_w[i] / heat.max_cop[i]) for i in range(3))
    low, high = _at(least_47, least_62, -12.0 / 15.0), default_full_35(full_17, full_47)
    capacity = low.capacity_w + _MIDDLE * (high.capacity_w - low.capacity_w)
    middle = RatingPoint(capacity, capacity / (_MIDDLE_COP * heat.rated_cop))
    return HeatingTests(least_62, least_47, full_47, middle, full_17, full_5)


def _at(a: RatingPoint, b: RatingPoint, share: float) -> RatingPoint:
    return RatingPoint(
        a.capacity_w + share * (b.capacity_w - a.capacity_w), a.power_w + share * (b.power_w - a.power_w)
    )
