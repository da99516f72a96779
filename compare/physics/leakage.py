"""Air leakage of the whole house: leakage area, two published models of its hourly flow, and its share by room.

Both models come from the ASHRAE Handbook-Fundamentals infiltration chapter. The *basic* model (Sherman-Grimsrud) works
with a leakage area and the wind at the weather station; its wind coefficients hold terrain and shelter. The *enhanced*
model (AIM-2) works with a flow coefficient and the wind at the eaves, which `site_wind_m_s` finds. The year and the
design loads use the enhanced model.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from compare.data.loads import rows
from compare.house.plan import Boundary, RoomPlan, SurfaceKind

FloatArray = npt.NDArray[np.float64]
Value = float | FloatArray

EXPONENT_FRAC = 0.67
"""Usual exponent of the leakage law Q = c dp^n (enhanced model)."""

_REFERENCE_PA = 4.0
_BLOWER_PA = 50.0
_AIR_KG_M3 = 1.204
_STATION_M = 10.0
_INSIDE_SHARE = 0.5
_WALL_KINDS = frozenset({SurfaceKind.WALL, SurfaceKind.WINDOW, SurfaceKind.DOOR})


@dataclass(frozen=True, slots=True)
class Envelope:
    """What the leakage models ask of a house besides its tightness.

    `shelter` runs from 1 (no obstructions) to 5 (very heavy shielding); `storeys` from 1 to 3.
    """

    storeys: int
    shelter: int
    crawlspace: bool
    eaves_m: float
    flue: bool = False


@dataclass(frozen=True, slots=True)
class Tightness:
    """Leakage of the whole house as Q = c dp^n, c in m3/(s Pa^n)."""

    coefficient_m3_s: float
    exponent_frac: float
    envelope: Envelope

    @property
    def area_m2(self) -> float:
        """Effective leakage area at 4 Pa with a discharge coefficient of 1."""
        flow_m3_s = self.coefficient_m3_s * _REFERENCE_PA**self.exponent_frac
        return float(flow_m3_s / np.sqrt(2.0 * _REFERENCE_PA / _AIR_KG_M3))

    @property
    def flow_50_m3_s(self) -> float:
        """Flow at 50 Pa, as a blower door shows it."""
        return float(self.coefficient_m3_s * _BLOWER_PA**self.exponent_frac)


def tightness_from_blower_door(
    ach50_per_h: float, volume_m3: float, envelope: Envelope, exponent_frac: float = EXPONENT_FRAC
) -> Tightness:
    """Leakage from air changes per hour at 50 Pa and the heated volume."""
    if ach50_per_h <= 0.0 or volume_m3 <= 0.0:
        raise ValueError("air.ach50 and the heated volume must be above 0")
    flow_m3_s = ach50_per_h * volume_m3 / 3600.0
    return Tightness(flow_m3_s / _BLOWER_PA**exponent_frac, exponent_frac, envelope)


def tightness_from_area(area_m2: float, envelope: Envelope, exponent_frac: float = EXPONENT_FRAC) -> Tightness:
    """Leakage from the effective leakage area at 4 Pa."""
    flow_m3_s = area_m2 * float(np.sqrt(2.0 * _REFERENCE_PA / _AIR_KG_M3))
    return Tightness(flow_m3_s / _REFERENCE_PA**exponent_frac, exponent_frac, envelope)


def tightness_from_class(name: str, exposed_m2: float, envelope: Envelope) -> Tightness:
    """Leakage from a class word and the exposed surface (walls and ceilings; no slab)."""
    return tightness_from_area(unit_leakage_m2_m2(name) * exposed_m2, envelope)


def unit_leakage_m2_m2(name: str) -> float:
    """Leakage area per area of exposed surface of a class: tight, good, average, leaky or very leaky."""
    table = {row["class"]: float(row["area_cm2_m2"]) for row in rows("unit_leakage")}
    if name not in table:
        raise ValueError(f"air.class is {name!r}; use one of {', '.join(table)}")
    return table[name] * 1e-4


def exposed_area_m2(rooms: Sequence[RoomPlan]) -> float:
    """Exposed surface of the load factor method: everything but slabs, heated neighbours and floors over basements."""
    hidden = (Boundary.GROUND, Boundary.ADIABATIC, Boundary.BASEMENT)
    return sum(face.area_m2 for room in rooms for face in room.surfaces if face.boundary not in hidden)


def basic_flow_m3_s(area_m2: float, envelope: Envelope, difference_k: Value, station_wind_m_s: Value) -> FloatArray:
    """Leakage flow by the basic model, wind as measured at the weather station [m3/s]."""
    stack, wind = _basic(envelope.storeys, envelope.shelter)
    speed = np.asarray(station_wind_m_s, dtype=np.float64)
    flow: FloatArray = 10.0 * area_m2 * np.sqrt(stack * np.abs(difference_k) + wind * speed**2)
    return flow


def enhanced_flow_m3_s(tightness: Tightness, difference_k: Value, eaves_wind_m_s: Value) -> FloatArray:
    """Leakage flow by the enhanced model, wind at the height of the eaves before local shelter [m3/s]."""
    envelope, exponent = tightness.envelope, tightness.exponent_frac
    stack, wind = _enhanced(envelope.storeys, envelope.flue, envelope.crawlspace)
    speed = shelter_frac(envelope.shelter) * np.asarray(eaves_wind_m_s, dtype=np.float64)
    by_stack = stack * np.abs(np.asarray(difference_k, dtype=np.float64)) ** exponent
    by_wind = wind * speed ** (2.0 * exponent)
    flow: FloatArray = tightness.coefficient_m3_s * np.hypot(by_stack, by_wind)
    return flow


def site_flow_m3_s(tightness: Tightness, difference_k: Value, station_wind_m_s: Value) -> FloatArray:
    """Leakage flow by the enhanced model from the wind at the weather station [m3/s]."""
    return enhanced_flow_m3_s(tightness, difference_k, site_wind_m_s(tightness.envelope, station_wind_m_s))


def site_wind_m_s(envelope: Envelope, station_wind_m_s: Value) -> FloatArray:
    """Wind at the eaves from the wind at 10 m over the open field of a weather station [m/s].

    Power-law profiles; the house stands in open country at shelter class 1 and in suburban or wooded country
    otherwise (our judgement: the house file asks for shelter alone).
    """
    terrain = {row["terrain"]: (float(row["exponent_frac"]), float(row["layer_m"])) for row in rows("terrain")}
    station_exponent, station_layer_m = terrain["open"]
    exponent, layer_m = terrain["open" if envelope.shelter == 1 else "suburban"]
    factor = float((station_layer_m / _STATION_M) ** station_exponent * (envelope.eaves_m / layer_m) ** exponent)
    return factor * np.asarray(station_wind_m_s, dtype=np.float64)


def room_shares_frac(rooms: Sequence[RoomPlan]) -> FloatArray:
    """Share of each room in the leakage of the house, shape (rooms,), sum 1.

    By volume (residential load factor method); a room without a wall, window or door to outdoors counts half
    (our judgement: its air is largely second-hand). The sum stays that of the house.
    """
    counts = (room.volume_m3 * (1.0 if _meets_outdoors(room) else _INSIDE_SHARE) for room in rooms)
    weights: FloatArray = np.fromiter(counts, dtype=np.float64)
    return weights / float(weights.sum())


@cache
def shelter_frac(shelter: int) -> float:
    """Factor of the enhanced model on the wind at the eaves, for a house without a flue."""
    table = {int(row["shelter"]): float(row["factor_frac"]) for row in rows("enhanced_shelter")}
    if shelter not in table:
        raise ValueError(f"site.shelter is {shelter}; use 1 (exposed) to 5 (very sheltered)")
    return table[shelter]


@cache
def _basic(storeys: int, shelter: int) -> tuple[float, float]:
    stack = {int(row["storeys"]): float(row["stack_l2_s2cm4k"]) for row in rows("basic_stack")}
    wind = {(int(row["storeys"]), int(row["shelter"])): float(row["wind_l2_s2cm4_m2s2"]) for row in rows("basic_wind")}
    if (storeys, shelter) not in wind:
        raise ValueError(f"leakage tables hold 1-3 storeys and shelter 1-5, not {storeys} and {shelter}")
    return stack[storeys], wind[storeys, shelter]


@cache
def _enhanced(storeys: int, flue: bool, crawlspace: bool) -> tuple[float, float]:
    """Stack and wind coefficients; over a crawlspace the wind coefficient does not depend on the flue."""
    table = {
        (int(row["storeys"]), row["flue"] == "yes", row["foundation"] == "crawlspace"): row
        for row in rows("enhanced_coefficients")
    }
    if (storeys, False, False) not in table:
        raise ValueError(f"leakage tables hold 1-3 storeys, not {storeys}")
    stack = float(table[storeys, flue, False]["stack_pa_k_n"])
    wind = float(table[storeys, flue and not crawlspace, crawlspace]["wind_pa_m2s2_n"])
    return stack, wind


def _meets_outdoors(room: RoomPlan) -> bool:
    return any(face.boundary is Boundary.OUTDOORS and face.kind in _WALL_KINDS for face in room.surfaces)
