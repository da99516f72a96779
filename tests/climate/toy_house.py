"""One toy house that turns a weather year into a few figures, to measure what an adjusted year gets wrong.

One zone: 180 W/K plus wind-driven leakage 30 (0.5 + 0.1 wind) W/K, 15 MJ/K, 14 m2 of glass (south 5, others 3) with
gain 0.35 (beam on the pane + 0.5 diffuse horizontal + 0.1 global), 500 W of gains, 20/24 °C, COP 2.2 + 0.075 (T + 8.3)
within 1.5-5.5, implicit hourly steps. Our own yardstick, not a model of any house.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from compare.climate.adjust import hdd65_f_d
from compare.climate.morph import climate_of
from compare.climate.sun import suns_on
from compare.climate.year import FloatArray, WeatherYear

GLASS_M2 = {180.0: 5.0, 90.0: 3.0, 270.0: 3.0, 0.0: 3.0}


@dataclass(frozen=True)
class Figures:
    """Yearly figures of the toy house and of the weather itself."""

    hdd65_f_d: float
    cdd65_f_d: float
    low_99_c: float
    high_1_c: float
    sun_kwh_m2: float
    bins: FloatArray
    heat_kwh: float
    cool_kwh: float
    heat_electric_kwh: float
    low_load_hours: float
    peak_heat_w: float
    dew_c: FloatArray


def loads_w(year: WeatherYear) -> tuple[FloatArray, FloatArray]:
    """Hourly heating and cooling of the toy house."""
    faces = list(GLASS_M2)
    beam = sum(
        GLASS_M2[azimuth] * sun.beam_w_m2
        for azimuth, sun in zip(faces, suns_on(year, [(90.0, azimuth) for azimuth in faces]), strict=True)
    )
    other = sum(GLASS_M2.values()) * (0.5 * year.diffuse_horizontal_w_m2 + 0.1 * year.global_horizontal_w_m2)
    gains_w = 500.0 + 0.35 * (beam + other)
    loss_w_k = 180.0 + 30.0 * (0.5 + 0.1 * year.wind_m_s)
    store_w_k = 15e6 / 3600.0
    heat_w, cool_w = np.zeros(year.hours), np.zeros(year.hours)
    room_c = 20.0
    for hour in range(year.hours):
        pull = store_w_k * room_c + loss_w_k[hour] * year.dry_bulb_c[hour] + gains_w[hour]
        free_c = pull / (store_w_k + loss_w_k[hour])
        room_c = min(max(free_c, 20.0), 24.0)
        need_w = (room_c - free_c) * (store_w_k + loss_w_k[hour])
        heat_w[hour], cool_w[hour] = max(need_w, 0.0), max(-need_w, 0.0)
    return heat_w, cool_w


def figures(year: WeatherYear) -> Figures:
    """Everything that the error table compares."""
    heat_w, cool_w = loads_w(year)
    dry_c = year.dry_bulb_c
    climate = climate_of(dry_c)
    daily_f = dry_c.reshape(-1, 24).mean(axis=1) * 1.8 + 32.0
    peak_w = float(np.percentile(heat_w[heat_w > 0.0], 99.0))
    cop = np.clip(2.2 + 0.075 * (dry_c + 8.3), 1.5, 5.5)
    bins, _ = np.histogram(dry_c * 1.8 + 32.0, bins=np.arange(-60.0, 140.0, 5.0))
    return Figures(
        hdd65_f_d=hdd65_f_d(dry_c),
        cdd65_f_d=float(np.maximum(daily_f - 65.0, 0.0).sum()),
        low_99_c=climate.low_99_c,
        high_1_c=climate.high_1_c,
        sun_kwh_m2=float(year.global_horizontal_w_m2.sum()) / 1e3,
        bins=bins.astype(np.float64),
        heat_kwh=float(heat_w.sum()) / 1e3,
        cool_kwh=float(cool_w.sum()) / 1e3,
        heat_electric_kwh=float((heat_w / cop).sum()) / 1e3,
        low_load_hours=float(((heat_w > 0.0) & (heat_w < 0.25 * peak_w)).sum()),
        peak_heat_w=peak_w,
        dew_c=year.dew_point_c,
    )


def errors_pct(found: Figures, truth: Figures) -> dict[str, float]:
    """Signed errors in percent; bins as half the summed difference in hours, in percent of the year."""
    names = ("hdd65_f_d", "sun_kwh_m2", "heat_kwh", "cool_kwh", "heat_electric_kwh", "low_load_hours", "peak_heat_w")
    result = {name: 100.0 * (getattr(found, name) / max(getattr(truth, name), 1e-9) - 1.0) for name in names}
    result["bins"] = 100.0 * float(np.abs(found.bins - truth.bins).sum()) / 2.0 / 8760.0
    return result
