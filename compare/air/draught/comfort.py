"""Thermal comfort by ISO 7730 (PMV, PPD) and local discomfort by ISO 7730 and ASHRAE 55."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.air.tables import FloatArray, constant

MET_W_M2 = 58.15
CLO_M2K_W = 0.155
STEPS = 150
CLOSE_K = 1e-7


@dataclass(frozen=True, slots=True)
class Person:
    """What a person does and wears; `met` is without external work."""

    met: float = 1.2
    clo: float = 0.5

    def __post_init__(self) -> None:
        """Keep to the range of ISO 7730."""
        if not 0.8 <= self.met <= 4.0:
            raise ValueError(f"met must lie within 0.8 to 4.0 (ISO 7730), got {self.met}")
        if not 0.0 <= self.clo <= 2.0:
            raise ValueError(f"clo must lie within 0 to 2.0 (ISO 7730), got {self.clo}")


@dataclass(frozen=True, slots=True)
class Air:
    """Air around a person; arrays must broadcast. `speed_m_s` is the relative air speed."""

    air_c: FloatArray | float
    radiant_c: FloatArray | float
    speed_m_s: FloatArray | float
    humidity_frac: FloatArray | float


def vapour_pressure_pa(air_c: FloatArray, humidity_frac: FloatArray) -> FloatArray:
    """Water vapour pressure by the form that ISO 7730 annex D uses."""
    return np.asarray(humidity_frac * 1000 * np.exp(16.6536 - 4030.183 / (air_c + 235)))


def _clothing_area(clo_m2k_w: float) -> float:
    return 1.0 + 1.29 * clo_m2k_w if clo_m2k_w <= 0.078 else 1.05 + 0.645 * clo_m2k_w


def _clothing_c(
    air: FloatArray, radiant: FloatArray, speed: FloatArray, person: Person
) -> tuple[FloatArray, FloatArray]:
    """Clothing surface temperature and convective coefficient, by Newton steps on the standard's balance."""
    icl = CLO_M2K_W * person.clo
    area = _clothing_area(icl)
    heat = MET_W_M2 * person.met
    forced = 12.1 * np.sqrt(speed)
    surface = air + (35.5 - air) / (3.5 * (6.45 * icl + 0.1))
    convective = forced
    for _ in range(STEPS):
        convective = np.maximum(forced, 2.38 * np.abs(surface - air) ** 0.25)
        radiated = 3.96e-8 * area * ((surface + 273) ** 4 - (radiant + 273) ** 4)
        wanted = 35.7 - 0.028 * heat - icl * (radiated + area * convective * (surface - air))
        slope = 1 + icl * area * (4 * 3.96e-8 * (surface + 273) ** 3 + convective)
        change = (wanted - surface) / slope
        surface = surface + change
        if float(np.max(np.abs(change))) < CLOSE_K:
            break
    return surface, convective


def pmv(air: Air, person: Person) -> FloatArray:
    """Predicted mean vote (ISO 7730), no external work; -3 cold to +3 hot."""
    arrays = np.broadcast_arrays(air.air_c, air.radiant_c, air.speed_m_s, air.humidity_frac)
    air_c, radiant_c, speed, humidity = (np.asarray(part, dtype=float) for part in arrays)
    if np.any(speed < 0):
        raise ValueError("speed_m_s must not be negative")
    if np.any((humidity < 0) | (humidity > 1)):
        raise ValueError("humidity_frac must lie within 0 to 1")
    heat = MET_W_M2 * person.met
    area = _clothing_area(CLO_M2K_W * person.clo)
    surface, convective = _clothing_c(air_c, radiant_c, speed, person)
    vapour = vapour_pressure_pa(air_c, humidity)
    skin = 3.05e-3 * (5733 - 6.99 * heat - vapour)
    sweat = 0.42 * max(heat - MET_W_M2, 0.0)
    breath_latent = 1.7e-5 * heat * (5867 - vapour)
    breath_dry = 0.0014 * heat * (34 - air_c)
    radiated = 3.96e-8 * area * ((surface + 273) ** 4 - (radiant_c + 273) ** 4)
    convected = area * convective * (surface - air_c)
    scale = 0.303 * np.exp(-0.036 * heat) + 0.028
    return np.asarray(scale * (heat - skin - sweat - breath_latent - breath_dry - radiated - convected))


def ppd_frac(vote: FloatArray | float) -> FloatArray:
    """Predicted share dissatisfied for a mean vote (ISO 7730), 0 to 1."""
    square = np.asarray(vote, dtype=float) ** 2
    return np.asarray(1 - 0.95 * np.exp(-0.03353 * square**2 - 0.2179 * square))


def draught_rate_frac(
    air_c: FloatArray | float, speed_m_s: FloatArray | float, turbulence_frac: FloatArray | float | None = None
) -> FloatArray:
    """Share dissatisfied by draught, DR of ISO 7730, 0 to 1.

    (34 - ta)(v - 0.05)^0.62 (0.37 v Tu + 3.14) per cent; v under 0.05 m/s counts as 0.05, the result is kept
    within 0 to 1. `turbulence_frac` is the turbulence intensity, 0.4 when not measured.
    """
    turbulence = constant("turbulence_frac") if turbulence_frac is None else turbulence_frac
    still = constant("still_air_m_s")
    speed = np.maximum(np.asarray(speed_m_s, dtype=float), still)
    rate = (34 - np.asarray(air_c)) * (speed - still) ** 0.62 * (0.37 * speed * 100 * np.asarray(turbulence) + 3.14)
    return np.asarray(np.clip(rate / 100, 0.0, 1.0))


def draught_rate_at_frac(air_c: float, speed_m_s: float) -> float:
    """The same at one temperature and speed, turbulence not measured, in plain floats for the many calls of siting."""
    still = constant("still_air_m_s")
    speed = max(speed_m_s, still)
    rate: float = (34 - air_c) * (speed - still) ** 0.62 * (0.37 * speed * 100 * constant("turbulence_frac") + 3.14)
    return min(max(rate / 100, 0.0), 1.0)


def ankle_draught_frac(vote: FloatArray | float, ankle_speed_m_s: FloatArray | float) -> FloatArray:
    """Share dissatisfied by ankle draught for a whole-body vote (ASHRAE 55-2020), 0 to 1; limit 0.2."""
    odds = np.exp(-2.58 + 3.05 * np.asarray(ankle_speed_m_s) - 1.06 * np.asarray(vote))
    return np.asarray(odds / (1 + odds))


def gradient_frac(vote: FloatArray | float, gradient_k_m: FloatArray | float) -> FloatArray:
    """Share dissatisfied by a vertical temperature gradient (ASHRAE 55-2020), never under 0; limit 0.05."""
    odds = np.exp(0.13 * (np.asarray(vote) - 1.91) ** 2 + 0.15 * np.asarray(gradient_k_m) - 1.6)
    return np.asarray(np.maximum(odds / (1 + odds) - 0.345, 0.0))


def head_ankle_frac(difference_k: FloatArray | float) -> FloatArray:
    """Share dissatisfied by warmer air at the head than at the ankles (ISO 7730, from memory), 0 to 1."""
    return np.asarray(1 / (1 + np.exp(5.76 - 0.856 * np.asarray(difference_k))))


def floor_frac(floor_c: FloatArray | float) -> FloatArray:
    """Share dissatisfied by a warm or cool floor (ISO 7730, from memory), 0 to 1."""
    floor = np.asarray(floor_c, dtype=float)
    return np.asarray(1 - 0.94 * np.exp(-1.387 + 0.118 * floor - 0.0025 * floor**2))


def draught_class(rate_frac: float) -> str:
    """ISO 7730 class by draught rate: A up to 10 %, B 20 %, C 30 %, else none."""
    for name, limit in (("A", 0.10), ("B", 0.20), ("C", 0.30)):
        if rate_frac <= limit:
            return name
    return "none"


def draft_temperature_k(local_c: float, room_c: float, speed_m_s: float) -> float:
    """Effective draft temperature (tx - tc) - 0.07 (V - 30 fpm), converted to kelvin (handbook, from memory)."""
    return (local_c - room_c) - 0.07 / 1.8 * (speed_m_s / 0.00508 - 30)


def neither_cold_nor_fast(local_c: float, room_c: float, speed_m_s: float) -> bool:
    """Whether a point counts as comfortable for air diffusion in cooling: -3 < EDT < +2 F and under 70 fpm."""
    edt_f = 1.8 * draft_temperature_k(local_c, room_c, speed_m_s)
    return -3 < edt_f < 2 and speed_m_s < 70 * 0.00508
