"""Beds and seats of a house, and which unit each hears and feels in an option."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial

import numpy as np
import numpy.typing as npt

from compare.air.noise.outdoors import outdoor_curve
from compare.equipment.outdoor import OutdoorGroup
from compare.house.plan import Plan
from compare.options.option import Option
from compare.physics.many.sizes import GRID
from compare.scoring.judgements import Judgements
from compare.scoring.season import bed_hours, clock_hours, first_hour, seat_hours
from compare.search.kinds import Heard
from compare.zones.ears import Ear

FloatArray = npt.NDArray[np.float64]

DRAUGHT_GRID = 11


@dataclass(frozen=True, slots=True)
class Listener:
    """One bed or seat; the loudest of a room counts."""

    room: int
    bed: bool
    at_m: tuple[float, float]
    hours: frozenset[int]

    def is_at(self, ear: Ear) -> bool:
        """Whether an ear is this bed or seat."""
        return (ear.room, ear.bed, ear.at_m) == (self.room, self.bed, self.at_m)

    @property
    def start(self) -> int:
        """The hour that opens its night or evening."""
        return first_hour(self.hours)


def listeners_of(plan: Plan, numbers: Judgements) -> tuple[Listener, ...]:
    """Every bed and seat with the hours in which it is judged."""
    found = []
    for index, room in enumerate(plan.rooms):
        nights, evenings = bed_hours(room, numbers), seat_hours(room, numbers)
        found += [Listener(index, True, (bed.x_m, bed.y_m), nights) for bed in room.beds]
        found += [Listener(index, False, (seat.x_m, seat.y_m), evenings) for seat in room.seats]
    return tuple(dict.fromkeys(found))


@dataclass(eq=False)
class EarTables:
    """Energy curves over the output range; row 0 is silence. Made as they are asked for."""

    listeners: tuple[Listener, ...]
    ears: dict[str, tuple[Ear, ...]]
    _rows: list[FloatArray] = field(default_factory=lambda: [np.zeros(GRID)])
    _known: dict[tuple[object, ...], int] = field(default_factory=dict)
    _outside: dict[tuple[float, float], tuple[int, int]] = field(default_factory=dict)

    @property
    def curves(self) -> npt.NDArray[np.float32]:
        """(C, 40, 2) value at the start of each step of the range, and how much more at its end."""
        rows = np.stack(self._rows)
        return np.stack([rows[:, :-1], np.diff(rows, axis=1)], axis=-1).astype(np.float32)

    def heard(self, key: str) -> tuple[Heard, ...]:
        """What each listener hears and feels of a zone, by its key."""
        return tuple(
            Heard(index, self._row(("ear", key, index), partial(_loudest, own)), _draughtiest(own))
            for index, listener in enumerate(self.listeners)
            if (own := [ear for ear in self.ears[key] if listener.is_at(ear)])
        )

    def outdoors(self, option: Option, group: OutdoorGroup) -> tuple[int, int]:
        """Rows of an outdoor unit's curves at the property line or a bedroom window, cooling and heating."""
        if not option.routes:
            return 0, 0
        spot = option.routes[group.zones[0]].spot
        distance = max(min(spot.property_line_m, spot.bedroom_window_m or spot.property_line_m), 1.0)
        power = group.outdoor.sound_power_dba
        known = self._outside.get((power, distance))
        if known is None:
            cool, heat = (
                self._row(("outdoors", power, distance, heating), partial(_outside, power, distance, heating=heating))
                for heating in (False, True)
            )
            known = self._outside[power, distance] = cool, heat
        return known

    def _row(self, key: tuple[object, ...], energy: Callable[[], FloatArray]) -> int:
        if key not in self._known:
            self._known[key] = len(self._rows)
            self._rows.append(energy())
        return self._known[key]


def _outside(power_dba: float, distance_m: float, *, heating: bool) -> FloatArray:
    level = np.asarray(outdoor_curve(power_dba, distance_m, heating=heating).level_dba)
    return np.asarray(10.0 ** (level / 10.0), dtype=np.float64)


def _loudest(ears: Sequence[Ear]) -> FloatArray:
    levels = np.array([ear.level.level_dba for ear in ears])
    return np.asarray(10.0 ** (levels.max(axis=0) / 10.0), dtype=np.float64)


def _draughtiest(ears: Sequence[Ear]) -> FloatArray:
    rates = np.array([(ear.draught.cool_frac, ear.draught.heat_frac) for ear in ears])
    return np.asarray(rates.max(axis=0), dtype=np.float64)


def hour_sets(listeners: Sequence[Listener]) -> tuple[frozenset[int], ...]:
    """The distinct sets of hours of all listeners, in order of first use."""
    return tuple(dict.fromkeys(listener.hours for listener in listeners))


def night_hours(numbers: Judgements) -> frozenset[int]:
    """Hours in which outdoor units are judged."""
    return clock_hours(numbers.night_from_h, numbers.night_to_h)


def energy_dba(energy: FloatArray) -> FloatArray:
    """Level of a sound energy; silence is far below any background."""
    return np.asarray(10.0 * np.log10(np.maximum(energy, 10.0 ** (-9.0))), dtype=np.float64)
