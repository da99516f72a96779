"""Drivers of rooms from a weather year or a design day, with the sun on every face."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from compare.climate.sun import ALBEDO_FRAC, sun_set
from compare.climate.year import WeatherYear
from compare.house.plan import Boundary
from compare.physics.fabric.drivers import Drivers, Face, FaceSun

FloatArray = npt.NDArray[np.float64]


def drivers_from_year(
    year: WeatherYear,
    faces: Iterable[Face],
    boundary_c: Mapping[Boundary, FloatArray] | None = None,
    albedo_frac: float = ALBEDO_FRAC,
) -> Drivers:
    """Outside conditions of a year or of a design day (any whole number of days), sun on the faces asked for."""
    wanted = tuple(faces)
    found = sun_set(year, [(face.tilt_deg, face.azimuth_deg) for face in wanted], albedo_frac)
    suns: dict[Face, FaceSun] = {}
    for face, sun in zip(wanted, found.faces, strict=True):
        below_frac = 0.5 * (1.0 - float(np.cos(np.radians(face.tilt_deg))))
        ground_w_m2 = albedo_frac * below_frac * year.global_horizontal_w_m2
        sky_w_m2 = np.maximum(sun.diffuse_w_m2 - ground_w_m2, 0.0)
        suns[face] = FaceSun(sun.beam_w_m2, sky_w_m2, ground_w_m2, sun.incidence_cos)
    return Drivers(
        dry_bulb_c=year.dry_bulb_c,
        sky_c=year.sky_c,
        sun=suns,
        sun_altitude_deg=found.position.height_deg,
        sun_azimuth_deg=found.position.azimuth_deg,
        boundary_c=dict(boundary_c or {}),
    )


def without_sun(drivers: Drivers) -> Drivers:
    """The same conditions in the dark (heating design day)."""
    return replace(drivers, sun={})
