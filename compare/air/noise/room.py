"""From sound power in a room to the level at a point, and on through a door into the next room."""

from __future__ import annotations

import math

import numpy as np

from compare.air.noise.bands import bands_hz
from compare.air.tables import FloatArray, column, constant, require_positive
from compare.air.units_us import FT3_M3, FT_M


def schultz_loss_db(volume_m3: float, distance_m: float) -> FloatArray:
    """Room effect Lw - Lp of a furnished room, per octave band, shape (8,).

    Schultz: Lp = Lw - 5 log V - 3 log f - 10 log r + 25 with V in ft3 and r in ft (2009 acoustics application
    guide, p. 76). Points nearer than about 3 ft are held at that distance.
    """
    require_positive(volume_m3, "volume_m3", "m3")
    require_positive(distance_m, "distance_m", "m")
    held_m = max(distance_m, constant("nearest_point_m"))
    near = 5 * math.log10(volume_m3 / FT3_M3) + 10 * math.log10(held_m / FT_M) - 25
    return near + 3 * np.log10(bands_hz())


def ceiling_array_loss_db(height_m: float, floor_area_m2: float, outlets: int) -> FloatArray:
    """Room effect for equal outlets spread over a ceiling, shape (8,), `height_m` from ear plane to ceiling.

    27.6 log H + 5 log X + 3 log f - 1.3 log N - 30, X = (area/N)/H2, feet (same guide, pp. 95-96).
    """
    require_positive(height_m, "height_m", "m")
    height_ft = height_m / FT_M
    spread = floor_area_m2 / FT_M**2 / outlets / height_ft**2
    fixed = 27.6 * math.log10(height_ft) + 5 * math.log10(spread) - 1.3 * math.log10(outlets) - 30
    return fixed + 3 * np.log10(bands_hz())


def room_constant_m2(surface_m2: float, mean_absorption_frac: float) -> float:
    """Room constant R = A/(1 - a) of a room of total surface `surface_m2`."""
    return surface_m2 * mean_absorption_frac / (1 - mean_absorption_frac)


def direct_reverberant_db(distance_m: float, room_constant: float, directivity: float = 2.0) -> float:
    """Lp - Lw by direct and reverberant field, 10 log(Q/(4 pi r2) + 4/R); Q = 2 wall, 4 edge, 8 corner."""
    return 10 * math.log10(directivity / (4 * math.pi * distance_m**2) + 4 / room_constant)


def furnished_absorption_m2(volume_m3: float) -> float:
    """Absorption area of a furnished room by Sabine, 0.161 V/RT with the furnished reverberation time."""
    return 0.161 * volume_m3 / constant("furnished_rt_s")


def door_loss_db(door_area_m2: float, gap_area_m2: float) -> FloatArray:
    """Sound reduction of a shut hollow-core door with its gap (undercut and edges), shape (8,).

    The gap passes everything; leaf and gap are summed by energy. Leaf values from memory.
    """
    leaf = 10 ** (-column("bands", "door_loss_db") / 10)
    total_m2 = door_area_m2 + gap_area_m2
    return np.asarray(-10 * np.log10((door_area_m2 * leaf + gap_area_m2) / total_m2), dtype=float)


def next_room_db(level_at_door_db: FloatArray, opening_m2: float, loss_db: FloatArray, volume_m3: float) -> FloatArray:
    """Level in the next room: Lp2 = Lp1 - loss + 10 log(S/A2), diffuse field on both sides.

    `loss_db` is zero for an open door. `volume_m3` is the receiving room's, furnished.
    """
    ratio = opening_m2 / furnished_absorption_m2(volume_m3)
    return np.asarray(level_at_door_db) - loss_db + 10 * math.log10(ratio)
