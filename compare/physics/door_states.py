"""Which state the doors of a house are in, hour by hour: by night and by day, and with stairs also by season."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

NIGHT_HOURS = frozenset({22, 23, 0, 1, 2, 3, 4, 5, 6})
"""Clock hours of the night, 22 to 07; hour h is the interval from h to h+1."""

WARM_DAY_C = 18.333
"""Mean outdoor temperature (65 degF) from which a day counts to the warm season."""


@dataclass(frozen=True, slots=True, eq=False)
class DoorStates:
    """The states that occur and the state of each hour."""

    night: tuple[bool, ...]
    """Per state."""
    warm: tuple[bool, ...]
    """Per state: warm season (for stairs)."""
    hourly: IntArray
    """(H,) index of the state."""


def night_mask(hours: int, step_s: float = 3600.0) -> npt.NDArray[np.bool_]:
    """True for steps that lie in the night, shape (hours,), the first step starting at midnight."""
    clock = (np.arange(hours) * step_s / 3600.0 % 24.0).astype(np.int64)
    return np.isin(clock, list(NIGHT_HOURS))


def warm_mask(outdoor_c: FloatArray, step_s: float = 3600.0) -> npt.NDArray[np.bool_]:
    """True for steps of days with a mean outdoor temperature of at least 65 degF, shape (hours,)."""
    day = (np.arange(len(outdoor_c)) * step_s / 86400.0).astype(np.int64)
    means_c = np.bincount(day, outdoor_c) / np.bincount(day)
    return np.asarray(means_c[day] >= WARM_DAY_C)


def door_states(outdoor_c: FloatArray, by_season: bool, step_s: float = 3600.0) -> DoorStates:
    """States of a series that starts at midnight: day, night; and the two again for the warm season if asked."""
    night = night_mask(len(outdoor_c), step_s).astype(np.int64)
    if not by_season:
        return known_states(night, by_season)
    warm = warm_mask(outdoor_c, step_s).astype(np.int64)
    return known_states(night + 2 * warm, by_season)


def known_states(hourly: IntArray, by_season: bool) -> DoorStates:
    """The states of which `door_states` gave the hours."""
    if not by_season:
        return DoorStates((False, True), (False, False), hourly)
    return DoorStates((False, True, False, True), (False, False, True, True), hourly)
