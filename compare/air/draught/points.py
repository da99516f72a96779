"""Air speed and draught rating at beds and seats in front of an outlet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from compare.air.draught.comfort import draught_rate_at_frac
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


Offsets = tuple[tuple[float, float], ...]
"""How far a head lies ahead of and beside each stream of an outlet."""


def stream_offsets_m(outlet: AirOutlet, aim: Aim, point: Listener) -> Offsets:
    """Where a head lies for each stream; the same at every output."""
    streams = outlet.streams
    turned = (replace(aim, bearing_deg=aim.bearing_deg + 360 / streams * stream) for stream in range(streams))
    return tuple(plan_offsets_m(one, point) for one in turned)


def _strongest(jet: Jet, offsets_m: Offsets, height_m: float, room: RoomAir) -> JetAir:
    best = JetAir(0.0, 0.0)
    for ahead, aside in offsets_m:
        found = jet_air(jet, ahead, aside, height_m, room)
        if found.speed_m_s > best.speed_m_s:
            best = found
    return best


def draught_at(outlet: AirOutlet, aim: Aim, duty: Duty, point: Listener, room: RoomAir) -> Draught:
    """Draught at a head: the jet, the return stream and still air, speeds added by energy."""
    return draught_beside(outlet, stream_offsets_m(outlet, aim, point), duty, point.height_m, room)


def draught_beside(outlet: AirOutlet, offsets_m: Offsets, duty: Duty, height_m: float, room: RoomAir) -> Draught:
    """The same where the head's place beside the streams is at hand."""
    return draught_of(jet_at(outlet, duty, room.ceiling_m), outlet, offsets_m, height_m, room)


def jet_at(outlet: AirOutlet, duty: Duty, ceiling_m: float) -> Jet | None:
    """What an outlet blows at a duty under a ceiling; None where no air moves."""
    return jet_of(outlet, duty.flow_m3_s, duty.output_w, ceiling_m) if duty.flow_m3_s > 0 else None


def draught_of(jet: Jet | None, outlet: AirOutlet, offsets_m: Offsets, height_m: float, room: RoomAir) -> Draught:
    """The same where the outlet's jet is at hand too."""
    if jet is None:
        return Draught(constant("still_air_m_s"), room.room_c, 0.0)
    direct = _strongest(jet, offsets_m, height_m, room)
    back = 0.0 if outlet.kind == "register_floor" else return_stream_m_s(jet, len(offsets_m), room)
    speed = math.sqrt(direct.speed_m_s**2 + back**2 + constant("still_air_m_s") ** 2)
    local = room.room_c + direct.shift_k
    return Draught(speed, local, draught_rate_at_frac(local, speed))


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
    offsets_m = stream_offsets_m(outlet, aim, point)
    rates: dict[bool, tuple[float, ...]] = {}
    for heating in (False, True):
        found = []
        for fraction in fractions:
            duty = span.duty(fraction, heating=heating)
            air = replace(room, room_c=duty.room_c())
            found.append(draught_beside(outlet, offsets_m, duty, point.height_m, air).rate_frac)
        rates[heating] = tuple(found)
    return DraughtCurve(fractions, rates[False], rates[True])
