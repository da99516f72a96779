"""Sound power of a unit: total A-weighted level by airflow, and its octave bands."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
import numpy.typing as npt

from compare.equipment.catalogue import Catalogue
from compare.equipment.rules import rule
from compare.equipment.unit import IndoorUnit, UnitKind

FloatArray = npt.NDArray[np.float64]


class Port(StrEnum):
    """Where the sound of a unit leaves it."""

    ROOM = "room"
    DISCHARGE = "ducted discharge"
    INLET = "ducted inlet"
    CASING = "ducted casing"
    OUTDOOR = "outdoor"


def sound_power_dba(unit: IndoorUnit, flow_m3_s: npt.ArrayLike, port: Port = Port.ROOM) -> FloatArray:
    """Sound power level [dB(A) re 1 pW] at an airflow [m3/s], in the shape of `flow_m3_s`.

    Between the four speeds the level is linear in the logarithm of the airflow; beyond them the fan-speed law holds.
    For a ducted unit `Port.ROOM` means its supply outlet; inlet and casing lie below it by fixed amounts (memory).
    """
    flow = np.log10(np.asarray(flow_m3_s, dtype=np.float64))
    speeds, levels = unit.airflow_m3_s, unit.sound_power_dba
    points = np.log10([speeds.quiet, speeds.low, speeds.medium, speeds.high])
    values = np.array([levels.quiet, levels.low, levels.medium, levels.high])
    inside = np.interp(flow, points, values)
    beyond = np.minimum(flow - points[0], 0.0) + np.maximum(flow - points[-1], 0.0)
    drop = {Port.INLET: "ducted_inlet_subtract_db", Port.CASING: "ducted_casing_subtract_db"}.get(port)
    level: FloatArray = inside + rule("sound", "fan_speed_slope_db") * beyond - (rule("sound", drop) if drop else 0.0)
    return level


def octave_db(units: Catalogue, unit: IndoorUnit, level_dba: float, port: Port = Port.ROOM) -> FloatArray:
    """Octave-band sound power levels [dB re 1 pW], 63 Hz to 8 kHz, of an indoor unit at a total level.

    Each band is interpolated linearly in the total level between the shapes at quiet and at high speed.
    """
    if port is Port.ROOM:
        port = Port.DISCHARGE if unit.kind.ducted else Port.ROOM
    if port in (Port.INLET, Port.CASING):
        return level_dba + np.array(units.spectra[(str(port), "any")])
    shape = _shape_name(unit.kind) if port is Port.ROOM else str(port)
    quiet, high = (np.array(units.spectra[(shape, speed)]) for speed in ("quiet", "high"))
    span = unit.sound_power_dba.high - unit.sound_power_dba.quiet
    share = 0.0 if span <= 0.0 else float(np.clip((level_dba - unit.sound_power_dba.quiet) / span, 0.0, 1.0))
    bands: FloatArray = level_dba + quiet + share * (high - quiet)
    return bands


def outdoor_octave_db(units: Catalogue, level_dba: float) -> FloatArray:
    """Octave-band sound power levels [dB re 1 pW], 63 Hz to 8 kHz, of an outdoor unit at a total level."""
    return level_dba + np.array(units.spectra[(str(Port.OUTDOOR), "any")], dtype=np.float64)


def outdoor_sound_dba(rated_cooling_dba: float, heating: bool, load_share: npt.ArrayLike) -> FloatArray:
    """Sound power level [dB(A) re 1 pW] of an outdoor unit at a share of its output span.

    Parameters
    ----------
    rated_cooling_dba
        Level at rated cooling.
    heating
        Whether it heats (rated heating is 2 dB, most heating 3 dB above rated cooling; from memory).
    load_share
        0 at minimum output, 1 at maximum.
    """
    share = np.clip(np.asarray(load_share, dtype=np.float64), 0.0, 1.0)
    low = rated_cooling_dba - rule("sound", "min_output_subtract_db")
    top = rated_cooling_dba + (rule("sound", "max_heating_add_db") if heating else 0.0)
    return low + share * (top - low)


def _shape_name(kind: UnitKind) -> str:
    return str(kind)
