"""Which temperature each zone's thermostat feels, and what it holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.control import Control, Sensor
from compare.house.plan import Plan
from compare.zones.served import ServedZone

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class ZoneControl:
    """One zone's thermostat; set points of None are the house's."""

    sensor: FloatArray
    """(R,) weight of each room in the temperature that it feels, sum 1."""
    heat_c: float | None
    cool_c: float | None
    words: str
    """Where the sensor sits, as printed."""
    at_unit: bool = True
    """Whether it feels the unit's return air, for which the fan has to run."""


def control_of(plan: Plan, zone: ServedZone, controls: Sequence[Control] = ()) -> ZoneControl:
    """The thermostat of a zone: the first control of the house file whose room the zone serves, else its return air."""
    names = {plan.rooms[room].name for room in zone.rooms}
    found = next((control for control in controls if control.room in names), None)
    if found is None:
        return ZoneControl(zone.share, None, None, Sensor.RETURN_AIR.value)
    if found.sensor is Sensor.RETURN_AIR:
        return ZoneControl(zone.share, found.heating_c, found.cooling_c, found.sensor.value)
    sensor = np.zeros(len(plan.rooms))
    sensor[next(i for i, room in enumerate(plan.rooms) if room.name == found.sensed_room)] = 1.0
    words = f"{found.sensor.value} in {found.sensed_room}"
    return ZoneControl(sensor, found.heating_c, found.cooling_c, words, at_unit=False)
