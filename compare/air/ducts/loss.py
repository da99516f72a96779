"""What ducts outside the envelope lose: conduction and leakage, hour by hour.

Delivery effectiveness by the equation of ASHRAE 152 (equation from memory, terms as quoted in a California energy
code document). Sensible only: moisture drawn in by return leaks is not counted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from compare.air.tables import FloatArray, constant, require_positive, row
from compare.house.plan import UnitSpace


@dataclass(frozen=True, slots=True)
class DuctSide:
    """Supply or return ducts: surface, insulation and share of the flow that leaks."""

    area_m2: float
    insulation_m2k_w: float
    leak_frac: float

    def kept_frac(self, flow_m3_s: float) -> float:
        """Conduction fraction B = exp(-A/(Q rho cp R))."""
        if self.area_m2 == 0:
            return 1.0
        require_positive(self.insulation_m2k_w, "insulation_m2k_w", "m2K/W")
        stream = flow_m3_s * constant("air_density_kg_m3") * constant("air_heat_j_kgk")
        return math.exp(-self.area_m2 / (stream * self.insulation_m2k_w))


def delivery_effectiveness(
    supply: DuctSide, back: DuctSide, flow_m3_s: float, rise_k: float, ambient_k: FloatArray | float
) -> FloatArray:
    """Share of the unit's output that reaches the rooms.

    `rise_k` is the unit's temperature change, `ambient_k` how far the ducts' surroundings lie on the losing side of
    the room (colder when heating, hotter when cooling); arrays give an hour each. Kept within 0 to 1.
    """
    require_positive(flow_m3_s, "flow_m3_s", "m3/s")
    require_positive(rise_k, "rise_k", "K")
    kept_s, kept_r = supply.kept_frac(flow_m3_s), back.kept_frac(flow_m3_s)
    tight_s, tight_r = 1 - supply.leak_frac, 1 - back.leak_frac
    share = np.asarray(ambient_k, dtype=float) / rise_k
    first = tight_s * kept_s
    value = first - first * (1 - kept_r * tight_r) * share - tight_s * (1 - kept_s) * share
    return np.asarray(np.clip(value, 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class DuctLoss:
    """Loss of one zone's ducts: ready to be asked for any outdoor temperature."""

    inside: bool
    supply: DuctSide
    back: DuctSide
    flow_m3_s: float
    heat_rise_k: float
    cool_drop_k: float
    heat_outdoor_share: float
    cool_outdoor_share: float
    cool_sun_k: float

    def heat_frac(self, outdoor_c: FloatArray | float) -> FloatArray:
        """Share delivered when heating at an outdoor temperature; surroundings between indoors and outdoors."""
        if self.inside:
            return np.full(np.shape(outdoor_c), constant("inside_delivered_frac"))
        colder = self.heat_outdoor_share * (constant("heat_room_c") - np.asarray(outdoor_c, dtype=float))
        return delivery_effectiveness(self.supply, self.back, self.flow_m3_s, self.heat_rise_k, colder)

    def cool_frac(self, outdoor_c: FloatArray | float, sun_frac: FloatArray | float = 1.0) -> FloatArray:
        """Share delivered when cooling; `sun_frac` is the share of the roof's peak heating by sun (0 at night)."""
        if self.inside:
            return np.full(np.shape(outdoor_c), constant("inside_delivered_frac"))
        hotter = self.cool_outdoor_share * (np.asarray(outdoor_c, dtype=float) - constant("cool_room_c"))
        hotter = hotter + self.cool_sun_k * np.asarray(sun_frac, dtype=float)
        return delivery_effectiveness(self.supply, self.back, self.flow_m3_s, self.cool_drop_k, hotter)


@dataclass(frozen=True, slots=True)
class UnitDuty:
    """Airflow of a unit and the outputs that set its temperature change (sensible part for cooling)."""

    flow_m3_s: float
    heat_w: float
    cool_w: float


def duct_loss(space: UnitSpace, supply_area_m2: float, return_area_m2: float, duty: UnitDuty) -> DuctLoss:
    """Loss of a zone whose ducts of the given outer surface run in `space`."""
    place = row("duct_places", "kind", str(space.kind))
    wrap = float(place["insulation_m2k_w"]) or 1.0
    stream = duty.flow_m3_s * constant("air_density_kg_m3") * constant("air_heat_j_kgk")
    inside = space.inside_envelope
    return DuctLoss(
        inside=inside,
        supply=DuctSide(supply_area_m2, wrap, constant("supply_leak_frac")),
        back=DuctSide(return_area_m2, wrap, constant("return_leak_frac")),
        flow_m3_s=duty.flow_m3_s,
        heat_rise_k=duty.heat_w / stream,
        cool_drop_k=constant("sensible_frac") * duty.cool_w / stream,
        heat_outdoor_share=float(place["heat_outdoor_share"]) or 1.0,
        cool_outdoor_share=float(place["cool_outdoor_share"]) or 1.0,
        cool_sun_k=float(place["cool_sun_k"]),
    )
