"""Thermostats of the house file: where the unit of a room takes its temperature, and what it holds."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, model_validator

from compare.house.rooms import Table
from compare.house.values import Name, Quantity, Word, refusal


class Sensor(StrEnum):
    """Where a unit takes the temperature that it holds."""

    RETURN_AIR = "return air"
    """At the unit itself; for a ducted unit the mix of its rooms."""
    WALL = "wall control"
    REMOTE = "remote sensor"


class Control(Table):
    """How the unit that serves a room is controlled, whatever layout it stands in."""

    room: Name
    """The unit that serves this room is meant; a room without a unit is not controlled."""
    sensor: Annotated[Sensor, Word(Sensor)] = Sensor.RETURN_AIR
    sensor_room: Name | None = None
    """Room of a wall control or remote sensor; left out: `room`."""
    heating_c: Annotated[float | None, Quantity("comfort.heating")] = Field(default=None, alias="heating")
    cooling_c: Annotated[float | None, Quantity("comfort.cooling")] = Field(default=None, alias="cooling")
    """Set points of this unit; left out: those of `[comfort]`."""

    @model_validator(mode="after")
    def _sensor_has_a_room(self) -> Self:
        if self.sensor is Sensor.RETURN_AIR and self.sensor_room is not None:
            raise refusal('sensor_room needs sensor = "wall control" or "remote sensor"')
        return self

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        heat, cool = self.heating_c, self.cooling_c
        if heat is not None and cool is not None and cool < heat + 1.0:
            raise refusal("cooling must be at least 2 °F (1 °C) above heating")
        return self

    @property
    def sensed_room(self) -> str:
        """Room whose air a wall control or remote sensor feels."""
        return self.sensor_room or self.room
