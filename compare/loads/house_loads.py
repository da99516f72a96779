"""The design loads of a house: heating at the 99 % condition, cooling on the design day, room by room."""

from __future__ import annotations

from collections.abc import Sequence

from compare.loads.case import LoadCase
from compare.loads.cooling import CoolingDays, cooling_days
from compare.loads.heating import heating_parts_w
from compare.loads.result import HouseLoads, RoomLoad
from compare.physics.fabric.room import PreparedRoom

METHOD = "room by room, full fabric, hourly design day"


def design_loads(case: LoadCase, prepared: Sequence[PreparedRoom] | None = None) -> HouseLoads:
    """Design loads of every room.

    Parameters
    ----------
    case
        House, air, design conditions and set points.
    prepared
        Full room models from `compare.loads.cooling.prepared_rooms`, where they are at hand.

    Returns
    -------
    HouseLoads
        With hourly cooling, so that any group of rooms has its coincident peak.
    """
    heating = heating_parts_w(case)
    cooling = cooling_days(case, prepared)
    rooms = tuple(_room(case, index, heating[index], cooling) for index in range(len(case.plan.rooms)))
    return HouseLoads(rooms, METHOD, cooling.sensible_w, cooling.latent_w)


def _room(case: LoadCase, index: int, heat_parts_w: dict[str, float], cooling: CoolingDays) -> RoomLoad:
    sensible_w = cooling.sensible_w[:, index]
    hour = int(sensible_w.argmax())
    return RoomLoad(
        name=case.plan.rooms[index].name,
        heat_w=max(sum(heat_parts_w.values()), 0.0),
        heat_parts_w=heat_parts_w,
        cool_sensible_w=max(float(sensible_w[hour]), 0.0),
        cool_latent_w=float(cooling.latent_w[hour, index]),
        cool_parts_w={name: float(series_w[hour, index]) for name, series_w in cooling.parts_w.items()},
        peak_hour_h=hour % 24,
    )
