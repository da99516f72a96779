"""The adjusted year: nearest-in-climate embedded year bent to a town's four published numbers, with its limits."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

import numpy as np

from compare.climate.embedded import Station, embedded_series, station, stations
from compare.climate.moist import standard_pressure_pa
from compare.climate.morph import Bend, Climate, bent, climate_of, fit, split
from compare.climate.move_sun import move_sun
from compare.climate.places import Town
from compare.climate.series import Label, Series, build_year
from compare.climate.year import FloatArray, WeatherSource, WeatherYear

_LARGEST_MISS_K = 1.0
_FAR_CLIMATE = 1.0
"""Distance above which the measured errors were the largest (our judgement from the thirteen measured years)."""

_UNLIKE_CLIMATE = 2.0
"""Distance beyond which nothing was measured (our judgement)."""

_HEATING_CLAIM_HDD65_F_D = 1000.0
_LATENT_NOTE = (
    "Humidity is borrowed from another place: hours above 60 % relative humidity, moisture removed and latent "
    "energy are not available for an adjusted year."
)


class AdjustmentRefusedError(ValueError):
    """No honest adjusted year exists for this town; the message says why and asks for a weather file."""


@dataclass(frozen=True, slots=True, eq=False)
class AdjustedYear:
    """An adjusted year, its donor, the bend used, and by how much the four numbers were missed."""

    year: WeatherYear
    donor: Station
    bend: Bend
    met: Climate
    miss_99_k: float
    miss_1_k: float


def donor_distance(town: Town, donor: Station) -> float:
    """How unlike two climates are; 1 is a large difference in every number."""
    terms = (
        (town.hdd18_k_d - donor.hdd18_k_d) / 900.0,
        (town.cdd10_k_d - donor.cdd10_k_d) / 700.0,
        (town.heating_99_c - donor.low_99_c) / 6.0,
        (town.cooling_1_c - donor.high_1_c) / 4.0,
    )
    latitude = (town.site.latitude_deg - donor.site.latitude_deg) / 8.0
    return float(np.sqrt(np.mean(np.square(terms)) + 0.25 * latitude**2))


def choose_donor(town: Town, without: str = "") -> Station:
    """Nearest embedded year in climate of the same moisture letter; `without` leaves one out (for tests of error)."""
    pool = [item for item in stations().values() if item.moisture == town.moisture and item.slug != without]
    if not pool:
        raise AdjustmentRefusedError(
            f"{town.site.name}: no embedded year has moisture letter {town.moisture!r}. {_CURE}"
        )
    return min(pool, key=lambda item: donor_distance(town, item))


_CURE = "Load a weather file of the place (a free typical-year EPW), or choose an embedded year by name."


@cache
def error_band(moisture: str) -> str:
    """Measured error of adjusted years in one sentence, from `adjusted_errors.csv`."""
    if moisture == "":
        return "Error not measured: no test stations in this climate; use for rough comparison only."
    text = resources.files("compare.data.climate").joinpath("adjusted_errors.csv").read_text(encoding="utf-8")
    rows = {row["measure"]: row for row in csv.DictReader(text.splitlines())}

    def span(measure: str) -> str:
        return f"±{rows[measure]['typical_pct']} %, up to ±{rows[measure]['upper_pct']} %"

    return (
        f"Error of adjusted years against real ones: heating typically {span('heating')}; cooling {span('cooling')} "
        f"where cooling matters; hours of low heating load {span('low_load_hours')}. "
        "Published degree-days of another period can differ by 5 to 20 % more."
    )


def _refuse_by_zone(town: Town) -> None:
    if town.zone.upper() == "3C":
        raise AdjustmentRefusedError(
            f"{town.site.name}: in zone 3C (mild coast) an adjusted year misjudges loads several-fold. {_CURE}"
        )


def _label(town: Town, donor: Station, hdd65_f_d: float) -> Label:
    """Claims that hold, and the notes that say which do not."""
    heating_ok = hdd65_f_d >= _HEATING_CLAIM_HDD65_F_D
    cooling_ok = town.moisture != "C"
    notes = [_LATENT_NOTE]
    if not heating_ok:
        notes.append("Under 1000 heating degree-days (°F·d, base 65): no claim on heating energy without a local file.")
    if not cooling_ok:
        notes.append("Mild coast: no claim on cooling energy without a local file.")
    if donor_distance(town, donor) > _FAR_CLIMATE:
        notes.append("No embedded climate is close: the errors are then nearer to their upper figures.")
    return Label(
        source=WeatherSource.ADJUSTED,
        provenance=(
            f"Adjusted from {donor.site.name} to the degree-days and design temperatures of {town.site.name}; "
            "not local weather, fair for comparing options on one house."
        ),
        latent_ok=False,
        error_band=error_band(town.moisture),
        heating_claims_ok=heating_ok,
        cooling_claims_ok=cooling_ok,
        notes=tuple(notes),
    )


def _series(town: Town, donor: Station, dry_bulb_c: FloatArray) -> Series:
    own = embedded_series(donor.slug)
    sun = move_sun(own, donor.site, town.site)
    depression_k = np.maximum(own.dry_bulb_c - own.dew_point_c, 0.0)
    pressure_pa = None
    if own.pressure_pa is not None:
        ratio = standard_pressure_pa(town.site.elevation_m) / standard_pressure_pa(donor.site.elevation_m)
        pressure_pa = own.pressure_pa * ratio
    return Series(
        dry_bulb_c=dry_bulb_c,
        dew_point_c=dry_bulb_c - depression_k,
        global_horizontal_w_m2=sun.global_horizontal_w_m2,
        direct_normal_w_m2=sun.direct_normal_w_m2,
        diffuse_horizontal_w_m2=sun.diffuse_horizontal_w_m2,
        wind_m_s=own.wind_m_s,
        pressure_pa=pressure_pa,
        total_sky_tenths=own.total_sky_tenths,
        opaque_sky_tenths=own.opaque_sky_tenths,
        ceiling_m=own.ceiling_m,
    )


def hdd65_f_d(dry_bulb_c: FloatArray) -> float:
    """Heating degree-days of base 65 °F in °F d, from daily means."""
    daily = dry_bulb_c.reshape(-1, 24).mean(axis=1)
    return float(np.maximum(65.0 - (daily * 1.8 + 32.0), 0.0).sum())


def bend_to(town: Town, donor_slug: str) -> AdjustedYear:
    """Bend one named donor to a town without any refusal; `adjusted_year` is the guarded way."""
    donor = station(donor_slug)
    target = Climate(town.hdd18_k_d, town.cdd10_k_d, town.heating_99_c, town.cooling_1_c)
    parts = split(embedded_series(donor_slug).dry_bulb_c)
    bend = fit(parts, target)
    dry_bulb_c = bent(parts, bend)
    met = climate_of(dry_bulb_c)
    label = _label(town, donor, hdd65_f_d(dry_bulb_c))
    return AdjustedYear(
        year=build_year(town.site, _series(town, donor, dry_bulb_c), label),
        donor=donor,
        bend=bend,
        met=met,
        miss_99_k=met.low_99_c - town.heating_99_c,
        miss_1_k=met.high_1_c - town.cooling_1_c,
    )


def adjusted_year(town: Town) -> AdjustedYear:
    """The adjusted year of a town. Raises `AdjustmentRefusedError` where no honest one exists.

    Refused: zone 3C, no like donor of the same moisture letter, a 99 % or 1 % value missed by more than 1 K.
    """
    _refuse_by_zone(town)
    donor = choose_donor(town)
    if donor_distance(town, donor) > _UNLIKE_CLIMATE:
        raise AdjustmentRefusedError(
            f"{town.site.name}: no embedded climate is like it (the nearest is {donor.site.name}). {_CURE}"
        )
    found = bend_to(town, donor.slug)
    for words, miss_k in (("99 % heating", found.miss_99_k), ("1 % cooling", found.miss_1_k)):
        if abs(miss_k) > _LARGEST_MISS_K:
            raise AdjustmentRefusedError(
                f"{town.site.name}: the nearest embedded climate, {found.donor.site.name}, misses the town's {words} "
                f"dry bulb by {abs(miss_k):.1f} K. {_CURE}"
            )
    return found
