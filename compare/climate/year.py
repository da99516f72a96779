"""The weather year and the design conditions, as plain arrays in SI."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

HOURS = 8760


class WeatherSource(StrEnum):
    """Where a year comes from; only a user's own file is called local weather."""

    USER_FILE = "user file"
    EMBEDDED = "embedded year"
    ADJUSTED = "adjusted"
    SYNTHETIC = "synthetic"
    DESIGN_DAY = "design day"


@dataclass(frozen=True, slots=True)
class Site:
    """Where the weather was measured."""

    latitude_deg: float
    longitude_deg: float
    timezone_h: float
    elevation_m: float
    name: str


@dataclass(frozen=True, slots=True, eq=False)
class WeatherYear:
    """8760 hours; entry i is the interval from hour i to i+1 local standard time, mid-hour sun.

    A design-day series has the same shape with any whole number of days (24 hours as a rule): its arrays are shorter
    and `first_day` says which day of the year (0 = 1 January, no leap year) entry 0 belongs to.

    `sky_c` is the effective sky temperature. `total_sky_tenths`, `opaque_sky_tenths` and `ceiling_m` are None where
    the source lacks them; `ceiling_m` holds the codes of `compare.climate.series`. `absent` names the quantities the
    source lacks and that were filled by a rule, and `notes` says how, a sentence each. `key` is a digest of the data
    that caches may use.
    """

    site: Site
    dry_bulb_c: FloatArray
    dew_point_c: FloatArray
    pressure_pa: FloatArray
    global_horizontal_w_m2: FloatArray
    direct_normal_w_m2: FloatArray
    diffuse_horizontal_w_m2: FloatArray
    wind_m_s: FloatArray
    sky_c: FloatArray
    source: WeatherSource
    provenance: str
    """One sentence that every screen and proposal prints."""
    latent_ok: bool
    key: str
    error_band: str = ""
    total_sky_tenths: FloatArray | None = None
    opaque_sky_tenths: FloatArray | None = None
    ceiling_m: FloatArray | None = None
    first_day: int = 0
    absent: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    heating_claims_ok: bool = True
    cooling_claims_ok: bool = True

    @property
    def hours(self) -> int:
        """Length of the series: 8760 for a year, 24 for a design day."""
        return int(self.dry_bulb_c.size)


@dataclass(frozen=True, slots=True)
class DesignConditions:
    """Published design temperatures of the place. Never percentiles of a typical year."""

    heating_99_c: float
    cooling_1_c: float
    cooling_wet_bulb_c: float
    daily_range_k: float
    source: str
    latitude_deg: float
    longitude_deg: float
    timezone_h: float
    elevation_m: float
