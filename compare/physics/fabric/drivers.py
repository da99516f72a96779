"""What drives a room from outside, hour by hour, independent of where the sun was computed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from compare.house.plan import Boundary, RoomPlan, SurfaceKind

FloatArray = npt.NDArray[np.float64]

STEFAN_W_M2K4 = 5.670374419e-8
ZERO_C_K = 273.15


def radiation_w_m2k(temperature_c: float) -> float:
    """Black-body radiant conductance about a temperature: 4 sigma T^3 [W/m2K]."""
    return 4.0 * STEFAN_W_M2K4 * (temperature_c + ZERO_C_K) ** 3


@dataclass(frozen=True, slots=True, order=True)
class Face:
    """A direction in which a surface looks: tilt 0 up, 90 vertical; bearing clockwise from north."""

    tilt_deg: float
    azimuth_deg: float

    @staticmethod
    def of(tilt_deg: float, azimuth_deg: float) -> Face:
        """A face rounded to a hundredth of a degree, so that equal directions compare equal."""
        tilt = round(tilt_deg, 2)
        return Face(tilt, 0.0 if tilt in (0.0, 180.0) else round(azimuth_deg % 360.0, 2) % 360.0)


@dataclass(frozen=True, slots=True, eq=False)
class FaceSun:
    """Sun on one face, per hour: beam on the plane, diffuse from the sky, diffuse from the ground [W/m2]."""

    beam_w_m2: FloatArray
    sky_w_m2: FloatArray
    ground_w_m2: FloatArray
    cos_incidence_frac: FloatArray

    @property
    def total_w_m2(self) -> FloatArray:
        """All sun on the plane [W/m2]."""
        return self.beam_w_m2 + self.sky_w_m2 + self.ground_w_m2


@dataclass(frozen=True, slots=True, eq=False)
class Drivers:
    """Hourly outside conditions; every array has the same length, any whole number of hours.

    The hours are taken as one period that repeats: a year follows a year, a design day follows the same day.
    """

    dry_bulb_c: FloatArray
    sky_c: FloatArray
    """Effective sky temperature."""
    sun: Mapping[Face, FaceSun]
    """Empty means no sun at all (the heating design day)."""
    sun_altitude_deg: FloatArray
    sun_azimuth_deg: FloatArray
    boundary_c: Mapping[Boundary, FloatArray] = field(default_factory=dict)
    """Temperature behind surfaces that do not face outdoors; ground means the ground beside and below."""
    step_s: float = 3600.0

    def __post_init__(self) -> None:
        """Refuse arrays of unequal length and numbers that are not finite."""
        named = {"dry_bulb_c": self.dry_bulb_c, "sky_c": self.sky_c}
        named |= {"sun_altitude_deg": self.sun_altitude_deg, "sun_azimuth_deg": self.sun_azimuth_deg}
        named |= {f"boundary_c[{key.value}]": array for key, array in self.boundary_c.items()}
        for name, array in named.items():
            if array.shape != self.dry_bulb_c.shape:
                raise ValueError(f"{name} has shape {array.shape}, dry_bulb_c {self.dry_bulb_c.shape}: make them equal")
            if not np.isfinite(array).all():
                raise ValueError(f"{name} holds a value that is not a finite number; fill gaps before the room model")

    @property
    def hours(self) -> int:
        """Number of steps."""
        return int(self.dry_bulb_c.shape[0])

    def sun_on(self, face: Face) -> FaceSun | None:
        """Sun on a face; None where the drivers carry no sun; `KeyError` where only this face is missing."""
        if not self.sun:
            return None
        if face not in self.sun:
            raise KeyError(f"no sun was computed for tilt {face.tilt_deg}, azimuth {face.azimuth_deg}; add this face")
        return self.sun[face]

    def behind_c(self, boundary: Boundary) -> FloatArray:
        """Temperature behind a surface [degC]; `KeyError` names a buffer space that is missing."""
        if boundary is Boundary.OUTDOORS:
            return self.dry_bulb_c
        if boundary not in self.boundary_c:
            raise KeyError(f"no temperature was given for {boundary.value!r}; see compare.physics.fabric.spaces")
        return self.boundary_c[boundary]

    @property
    def sky_flux_w_m2(self) -> FloatArray:
        """Black-body exchange between a sky and a body at air temperature, negative when the sky is colder."""
        sky_k, air_k = self.sky_c + ZERO_C_K, self.dry_bulb_c + ZERO_C_K
        flux: FloatArray = STEFAN_W_M2K4 * (sky_k**4 - air_k**4)
        return flux


def faces_of(rooms: Iterable[RoomPlan]) -> tuple[Face, ...]:
    """Every face of the rooms that the sun can reach, sorted; the roof over a vented attic counts as horizontal."""
    found: set[Face] = set()
    for room in rooms:
        for surface in room.surfaces:
            if surface.boundary is Boundary.OUTDOORS:
                found.add(Face.of(surface.tilt_deg, surface.azimuth_deg))
            elif surface.boundary is Boundary.ATTIC and surface.kind is SurfaceKind.CEILING:
                found.add(Face.of(0.0, 0.0))
    return tuple(sorted(found))
