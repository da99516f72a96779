"""The user's own weather file: EPW, TMY3 or TMY2, as a path or an upload, plain or packed."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from compare.climate.columns import WeatherFileError
from compare.climate.epw import looks_like_epw, parse_epw
from compare.climate.hottest import hottest_month, mean_daily_swing_k
from compare.climate.opening import decoded, read_bytes, unpacked
from compare.climate.parsed import GroundTemperatures, HeaderDesign, Parsed, bridged_notes, clean_series
from compare.climate.series import Label, Series, build_year
from compare.climate.tmy import looks_like_tmy2, looks_like_tmy3, parse_tmy2, parse_tmy3
from compare.climate.year import DesignConditions, Site, WeatherSource, WeatherYear

__all__ = ["WeatherFile", "WeatherFileError", "hottest_month", "load_weather", "mean_daily_swing_k", "parse_text"]


@dataclass(frozen=True, slots=True, eq=False)
class WeatherFile:
    """A user's file: the year, what its header says, and its checksum.

    `design` is None where the header gives no 99 % heating or 1 % cooling value; the designer then types them.
    """

    year: WeatherYear
    design: DesignConditions | None
    header: HeaderDesign | None
    ground: tuple[GroundTemperatures, ...]
    kind: str
    sha256: str


def parse_text(text: str) -> Parsed:
    """Recognise the format by content and read it; raises `WeatherFileError`."""
    if looks_like_epw(text):
        return parse_epw(text)
    if looks_like_tmy3(text):
        return parse_tmy3(text)
    if looks_like_tmy2(text):
        return parse_tmy2(text)
    start = " ".join(text[:60].split())
    raise WeatherFileError(
        f"file format: it starts with {start!r}, which is neither EPW (first word LOCATION) nor TMY3 (second line "
        "starts with Date) nor TMY2. Give the hourly file itself, not its statistics or design-day companion."
    )


def _design(site: Site, header: HeaderDesign | None, series: Series) -> DesignConditions | None:
    """Header values; the daily range falls back on the file's own hottest month, the wet bulb is never guessed."""
    if header is None or header.heating_99_c is None or header.cooling_1_c is None:
        return None
    if header.cooling_1_wet_bulb_c is None:
        return None
    source = f"header of the weather file ({header.edition})"
    swing_k = header.daily_range_k
    if swing_k is None:
        swing_k = mean_daily_swing_k(series.dry_bulb_c, hottest_month(series.dry_bulb_c))
        source += "; daily range from the file's hottest month"
    return DesignConditions(
        heating_99_c=header.heating_99_c,
        cooling_1_c=header.cooling_1_c,
        cooling_wet_bulb_c=header.cooling_1_wet_bulb_c,
        daily_range_k=swing_k,
        source=source,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        timezone_h=site.timezone_h,
        elevation_m=site.elevation_m,
    )


def load_weather(path_or_bytes: str | Path | bytes, name: str = "") -> WeatherFile:
    """Read a user's EPW, TMY3 or TMY2 file (also zip or gz, also as the bytes of an upload).

    `name` is shown in the provenance sentence; by default the file's own name. Raises `WeatherFileError`, whose text
    names the field and the cure, for anything that is not one complete year of hours.
    """
    data, found = read_bytes(path_or_bytes)
    inner = unpacked(data)
    parsed = parse_text(decoded(inner))
    series = clean_series(parsed)
    shown = name or found or "upload"
    label = Label(
        source=WeatherSource.USER_FILE,
        provenance=f"Local weather from the user's own file {shown} ({parsed.kind}, {parsed.site.name}).",
        notes=bridged_notes(parsed),
    )
    return WeatherFile(
        year=build_year(parsed.site, series, label),
        design=_design(parsed.site, parsed.header, series),
        header=parsed.header,
        ground=parsed.ground,
        kind=parsed.kind,
        sha256=hashlib.sha256(inner).hexdigest(),
    )
