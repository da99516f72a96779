"""Air speed and draught rating at beds and seats in front of an outlet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from compare.air.draught.comfort import draught_rate_frac
from compare.air.draught.jet import Jet, JetAir, RoomAir, jet_air, return_stream_m_s
from compare.air.draught.outlets import AirOutlet, jet_of
from compare.air.tables import FloatArray, constant


@dataclass(frozen=True, slots=True)
class Aim:
    """An outlet on the plan: where it is and the plan bearing it blows to (0 = plan-north, 90 = east)."""

    x_m: float
    y_m: float
    bearing_deg: float


@dataclass(frozen=True, slots=True)
class Listener:
    """A head at rest: a pillow or a seat."""

    label: str
    x_m: float
    y_m: float
    height_m: float


@dataclass(frozen=True, slots=True)
class Draught:
    """Air at one head: speed, local temperature and share dissatisfied by draught."""

    speed_m_s: float
    air_c: float
    rate_frac: float


@dataclass(frozen=True, slots=True)
class Duty:
    """Airflow and sensible output of a unit at one moment; output is negative when it cools."""

    flow_m3_s: float
    output_w: float

    def room_c(self) -> float:
        """Room temperature the duty keeps."""
        return constant("heat_room_c") if self.output_w > 0 else constant("cool_room_c")


def plan_offsets_m(aim: Aim, point: Listener) -> tuple[float, float]:
    """Distance ahead of and to the side of an outlet, horizontal."""
    bearing = math.radians(aim.bearing_deg)
    east, north = point.x_m - aim.x_m, point.y_m - aim.y_m
    return east * math.sin(bearing) + north * math.cos(bearing), east * math.cos(bearing) - north * math.sin(bearing)


def _strongest(jet: Jet, aim: Aim, outlet: AirOutlet, point: Listener, room: RoomAir) -> JetAir:
    best = JetAir(0.0, 0.0)
    for stream in range(outlet.streams):
        turned = replace(aim, bearing_deg=aim.bearing_deg + 360 / outlet.streams * stream)
        ahead, aside = plan_offsets_m(turned, point)
        found = jet_air(jet, ahead, aside, point.height_m, room)
        best = max(best, found, key=lambda air: air.speed_m_s)
    return best


def draught_at(outlet: AirOutlet, aim: Aim, duty: Duty, point: Listener, room: RoomAir) -> Draught:
    """Draught at a head: the jet, the return stream and still air, speeds added by energy."""
    if duty.flow_m3_s <= 0:
        return Draught(constant("still_air_m_s"), room.room_c, 0.0)
    jet = jet_of(outlet, duty.flow_m3_s, duty.output_w, room.ceiling_m)
    direct = _strongest(jet, aim, outlet, point, room)
    back = 0.0 if outlet.kind == "register_floor" else return_stream_m_s(jet, outlet.streams, room)
    speed = math.sqrt(direct.speed_m_s**2 + back**2 + constant("still_air_m_s") ** 2)
    local = room.room_c + direct.shift_k
    return Draught(speed, local, float(draught_rate_frac(local, speed)))


@dataclass(frozen=True, slots=True)
class DraughtCurve:
    """Draught rate at one head against the share of the unit's output range, heating and cooling apart."""

    fraction: tuple[float, ...]
    cool_frac: tuple[float, ...]
    heat_frac: tuple[float, ...]

    def rate_frac(self, fraction_of_range: FloatArray | float, *, heating: bool) -> FloatArray:
        """Draught rate at a share of the output range, 0 to 1."""
        known = self.heat_frac if heating else self.cool_frac
        return np.asarray(np.interp(fraction_of_range, self.fraction, known), dtype=float)


@dataclass(frozen=True, slots=True)
class OutputRange:
    """Airflow and total output of a unit from its least to its greatest; outputs are magnitudes."""

    flow_quiet_m3_s: float
    flow_high_m3_s: float
    cool_least_w: float
    cool_most_w: float
    heat_least_w: float
    heat_most_w: float

    def duty(self, fraction: float, *, heating: bool) -> Duty:
        """Airflow linear in output; cooling counts its sensible part."""
        flow = self.flow_quiet_m3_s + fraction * (self.flow_high_m3_s - self.flow_quiet_m3_s)
        if heating:
            return Duty(flow, self.heat_least_w + fraction * (self.heat_most_w - self.heat_least_w))
        total = self.cool_least_w + fraction * (self.cool_most_w - self.cool_least_w)
        return Duty(flow, -constant("sensible_frac") * total)


def draught_curve(outlet: AirOutlet, aim: Aim, span: OutputRange, point: Listener, room: RoomAir) -> DraughtCurve:
    """Draught at one head over the unit's whole range, eleven points."""
    fractions = tuple(np.linspace(0, 1, 11).tolist())
    rates: dict[bool, tuple[float, ...]] = {}
    for heating in (False, True):
        found = []
        for fraction in fractions:
            duty = span.duty(fraction, heating=heating)
            found.append(draught_at(outlet, aim, duty, point, replace(room, room_c=duty.room_c())).rate_frac)
        rates[heating] = tuple(found)
    return DraughtCurve(fractions, rates[False], rates[True])
