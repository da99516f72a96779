"""Sun on any face of the house for every hour of a year or a design day.

Position at mid-hour by the NREL solar position algorithm, sky diffuse by Perez (all-sites composite 1990), both from
the open library pvlib; ground-reflected sun with one albedo. Results are cached on disk, and a cached load does not
import pvlib.

Where the mid-hour sun is at or below the horizon, the little diffuse light of that hour counts as isotropic and beam
is zero. Beam on a face is direct normal times the cosine of incidence, never below zero. A face that looks straight up
gets the year's own global horizontal sun: beam is what global exceeds diffuse by.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import metadata

import numpy as np
import numpy.typing as npt

from compare.climate.sun_cache import load_arrays, store_arrays
from compare.climate.year import FloatArray, Site, WeatherYear

_METHOD = "1"
"""Raise when the way of computing changes, so that older cache files no longer match."""

ALBEDO_FRAC = 0.2
"""Ground reflectance of grass and weathered concrete, common practice; fresh snow is far higher."""

_MAX_AIRMASS_ZENITH_DEG = 90.0


@dataclass(frozen=True, slots=True, eq=False)
class Sun:
    """Sun on one face: beam, diffuse (sky and ground together) and cosine of the beam's incidence (0 behind it)."""

    beam_w_m2: FloatArray
    diffuse_w_m2: FloatArray
    incidence_cos: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class SunPosition:
    """Mid-hour height above the horizon and true bearing (0 north, 90 east) of the sun."""

    height_deg: FloatArray
    azimuth_deg: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class SunSet:
    """Sun on several faces of one year, in the order of the faces asked for, with the sun's position."""

    faces: tuple[Sun, ...]
    position: SunPosition


Face = tuple[float, float]
"""Tilt (0 facing up, 90 wall, 180 facing down) and true bearing of the outward normal, degrees."""


def _canonical(faces: Sequence[Face]) -> tuple[Face, ...]:
    """Distinct faces in a fixed order; bearings in 0-360, and none for a horizontal face."""
    return tuple(sorted({_rounded(face) for face in faces}))


def _rounded(face: Face) -> Face:
    tilt_deg, azimuth_deg = face
    if not (0.0 <= tilt_deg <= 180.0 and np.isfinite(azimuth_deg)):
        raise ValueError(f"face: tilt {tilt_deg:g} must be 0 to 180 degrees and bearing {azimuth_deg:g} a number.")
    tilt = round(float(tilt_deg), 4)
    bearing = 0.0 if tilt in (0.0, 180.0) else round(float(azimuth_deg) % 360.0, 4) % 360.0
    return tilt + 0.0, bearing + 0.0


@cache
def _version() -> str:
    return metadata.version("pvlib")


def _key(year: WeatherYear, faces: tuple[Face, ...], albedo_frac: float) -> str:
    text = f"{_METHOD}|{_version()}|{year.key}|{year.hours}|{year.first_day}|{albedo_frac:.6f}|{faces!r}"
    return hashlib.sha256(text.encode()).hexdigest()[:40]


def mid_hour_position(site: Site, hours: int, first_day: int = 0) -> SunPosition:
    """Geometric (unrefracted) mid-hour positions; the calendar year 2001 stands for the typical year.

    Imports pvlib; `sun_set` gives the same positions from the cache.
    """
    import pandas as pd
    from pvlib.solarposition import spa_python

    start = np.datetime64("2001-01-01T00:30:00", "ns") + np.timedelta64(first_day * 24, "h")
    local = start + np.arange(hours) * np.timedelta64(1, "h")
    shift = np.timedelta64(round(site.timezone_h * 3600.0), "s")
    moments = pd.DatetimeIndex(local - shift, tz="UTC")
    found = spa_python(moments, site.latitude_deg, site.longitude_deg, altitude=site.elevation_m)
    return SunPosition(
        height_deg=np.asarray(found["elevation"], dtype=np.float64),
        azimuth_deg=np.asarray(found["azimuth"], dtype=np.float64),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Sky:
    """What the transposition of every face shares."""

    position: SunPosition
    extra_w_m2: FloatArray
    airmass: FloatArray
    up: npt.NDArray[np.bool_]


def _shared(year: WeatherYear, position: SunPosition) -> _Sky:
    from pvlib.atmosphere import get_relative_airmass
    from pvlib.irradiance import get_extra_radiation

    zenith_deg = 90.0 - position.height_deg
    up = zenith_deg < _MAX_AIRMASS_ZENITH_DEG
    day = (np.arange(year.hours) // 24 + year.first_day) % 365 + 1
    airmass = get_relative_airmass(np.minimum(zenith_deg, 89.9))
    return _Sky(position, np.asarray(get_extra_radiation(day)), np.asarray(airmass), up)


def _on_horizontal(year: WeatherYear, sky: _Sky) -> Sun:
    beam_w_m2 = np.maximum(year.global_horizontal_w_m2 - year.diffuse_horizontal_w_m2, 0.0)
    return Sun(
        beam_w_m2=beam_w_m2,
        diffuse_w_m2=np.asarray(year.global_horizontal_w_m2 - beam_w_m2),
        incidence_cos=np.where(sky.up, np.sin(np.radians(sky.position.height_deg)), 0.0),
    )


def _on_face(year: WeatherYear, sky: _Sky, face: Face, albedo_frac: float) -> Sun:
    from pvlib.irradiance import aoi_projection, perez

    tilt_deg, azimuth_deg = face
    if tilt_deg == 0.0:
        return _on_horizontal(year, sky)
    zenith_deg = 90.0 - sky.position.height_deg
    cosine = np.maximum(aoi_projection(tilt_deg, azimuth_deg, zenith_deg, sky.position.azimuth_deg), 0.0)
    cosine = np.where(sky.up, cosine, 0.0)
    tilt_cos = float(np.cos(np.radians(tilt_deg)))
    isotropic = year.diffuse_horizontal_w_m2 * 0.5 * (1.0 + tilt_cos)
    ground = year.global_horizontal_w_m2 * albedo_frac * 0.5 * (1.0 - tilt_cos)
    found = perez(
        tilt_deg,
        azimuth_deg,
        year.diffuse_horizontal_w_m2,
        year.direct_normal_w_m2,
        sky.extra_w_m2,
        np.minimum(zenith_deg, 89.9),
        sky.position.azimuth_deg,
        sky.airmass,
    )
    diffuse = np.where(sky.up & np.isfinite(found), np.maximum(found, 0.0), isotropic)
    return Sun(
        beam_w_m2=np.asarray(year.direct_normal_w_m2 * cosine),
        diffuse_w_m2=np.asarray(diffuse + ground),
        incidence_cos=np.asarray(cosine),
    )


def _compute(year: WeatherYear, faces: tuple[Face, ...], albedo_frac: float) -> dict[str, FloatArray]:
    position = mid_hour_position(year.site, year.hours, year.first_day)
    sky = _shared(year, position)
    suns = [_on_face(year, sky, face, albedo_frac) for face in faces]
    return {
        "beam": np.array([sun.beam_w_m2 for sun in suns]).reshape(len(faces), year.hours),
        "diffuse": np.array([sun.diffuse_w_m2 for sun in suns]).reshape(len(faces), year.hours),
        "cosine": np.array([sun.incidence_cos for sun in suns]).reshape(len(faces), year.hours),
        "position": np.array([position.height_deg, position.azimuth_deg]),
    }


def sun_set(year: WeatherYear, faces: Sequence[Face], albedo_frac: float = ALBEDO_FRAC) -> SunSet:
    """Sun on every face (tilt, bearing) in degrees, and the sun's position; one cache file for the whole set.

    Raises `ValueError` for a tilt outside 0-180 degrees or an albedo outside 0-1.
    """
    if not 0.0 <= albedo_frac <= 1.0:
        raise ValueError(f"albedo: {albedo_frac:g} must be 0 to 1.")
    distinct = _canonical(faces)
    key = _key(year, distinct, albedo_frac)
    shape = (len(distinct), year.hours)
    shapes = {"beam": shape, "diffuse": shape, "cosine": shape, "position": (2, year.hours)}
    stored = load_arrays(key, shapes)
    if stored is None:
        stored = _compute(year, distinct, albedo_frac)
        store_arrays(key, stored)
    suns = {
        face: Sun(stored["beam"][row], stored["diffuse"][row], stored["cosine"][row])
        for row, face in enumerate(distinct)
    }
    height_deg, azimuth_deg = stored["position"]
    return SunSet(tuple(suns[_rounded(face)] for face in faces), SunPosition(height_deg, azimuth_deg))


def suns_on(year: WeatherYear, faces: Sequence[Face], albedo_frac: float = ALBEDO_FRAC) -> tuple[Sun, ...]:
    """Sun on every face (tilt, bearing) in degrees, in the order given."""
    return sun_set(year, faces, albedo_frac).faces


def sun_on(year: WeatherYear, tilt_deg: float, azimuth_deg: float, albedo_frac: float = ALBEDO_FRAC) -> Sun:
    """Sun on one face; ask for all faces of a house at once with `suns_on`, which keeps one cache file."""
    return suns_on(year, [(tilt_deg, azimuth_deg)], albedo_frac)[0]
