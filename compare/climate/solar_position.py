"""A light sun position for clearness, cloud estimates and checks of time stamps.

Spencer's Fourier series for declination, equation of time and distance (J. W. Spencer, Search 2, 1971): within half a
degree of an exact almanac. The sun on the faces of the house uses the exact position of `compare.climate.sun`.
"""

from __future__ import annotations

import numpy as np

from compare.climate.year import FloatArray, Site

SOLAR_CONSTANT_W_M2 = 1361.1
_SAMPLES = 12


def day_angle_rad(day: FloatArray) -> FloatArray:
    """Angle of the year; `day` is 0 on 1 January and may carry the part of the day."""
    return np.asarray(2.0 * np.pi * day / 365.0)


def declination_rad(angle: FloatArray) -> FloatArray:
    """Declination of the sun from the day angle."""
    return np.asarray(
        0.006918
        - 0.399912 * np.cos(angle)
        + 0.070257 * np.sin(angle)
        - 0.006758 * np.cos(2 * angle)
        + 0.000907 * np.sin(2 * angle)
        - 0.002697 * np.cos(3 * angle)
        + 0.00148 * np.sin(3 * angle)
    )


def equation_of_time_h(angle: FloatArray) -> FloatArray:
    """Sundial time minus mean time, hours."""
    series = (
        0.000075
        + 0.001868 * np.cos(angle)
        - 0.032077 * np.sin(angle)
        - 0.014615 * np.cos(2 * angle)
        - 0.040849 * np.sin(2 * angle)
    )
    return np.asarray(series * 12.0 / np.pi)


def extraterrestrial_normal_w_m2(angle: FloatArray) -> FloatArray:
    """Sun outside the atmosphere on a face that looks at it."""
    distance = (
        1.00011
        + 0.034221 * np.cos(angle)
        + 0.00128 * np.sin(angle)
        + 0.000719 * np.cos(2 * angle)
        + 0.000077 * np.sin(2 * angle)
    )
    return np.asarray(SOLAR_CONSTANT_W_M2 * distance)


def sun_sin(site: Site, time_h: FloatArray) -> FloatArray:
    """Sine of the sun's height at local standard times, hours since 1 January 0:00."""
    angle = day_angle_rad(time_h / 24.0)
    declination = declination_rad(angle)
    solar_h = time_h % 24.0 + equation_of_time_h(angle) + site.longitude_deg / 15.0 - site.timezone_h
    hour_angle = np.pi / 12.0 * (solar_h - 12.0)
    latitude = np.radians(site.latitude_deg)
    return np.asarray(
        np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(declination) * np.cos(hour_angle)
    )


def mid_hours_h(hours: int, first_day: int = 0) -> FloatArray:
    """Mid-hour times of a series, hours since 1 January 0:00."""
    return np.arange(hours, dtype=np.float64) + 0.5 + 24.0 * first_day


def extraterrestrial_horizontal_w_m2(site: Site, hours: int, first_day: int = 0) -> FloatArray:
    """Hourly mean sun outside the atmosphere on a horizontal face (mean of 12 five-minute positions)."""
    start_h = np.arange(hours, dtype=np.float64) + 24.0 * first_day
    total = np.zeros(hours)
    for sample in range(_SAMPLES):
        time_h = start_h + (sample + 0.5) / _SAMPLES
        total += np.maximum(sun_sin(site, time_h), 0.0)
    normal = extraterrestrial_normal_w_m2(day_angle_rad((start_h + 0.5) / 24.0))
    return np.asarray(normal * total / _SAMPLES)
