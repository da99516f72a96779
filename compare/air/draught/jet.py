"""One air jet in a room: its path, decay and spread, bent by buoyancy."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from compare.air.tables import constant, require_positive

GRAVITY_M_S2 = 9.81
KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Jet:
    """Air leaving an outlet of free area `area_m2` and width `width_m` at `height_m` above the floor.

    `delta_k` is supply less room temperature (negative for a cold jet). `aim_deg` is the angle below the
    horizontal, `half_spread_deg` the lateral angle at half speed. `radial` outlets blow to all sides.
    """

    flow_m3_s: float
    area_m2: float
    width_m: float
    throw_k: float
    height_m: float
    delta_k: float
    aim_deg: float
    half_spread_deg: float
    radial: bool = False
    outlet_m_s: float = field(init=False, repr=False, compare=False)
    """Speed at the outlet."""
    root_area_m: float = field(init=False, repr=False, compare=False)
    aim_cos: float = field(init=False, repr=False, compare=False)
    """Run on the plan over path; at least 0.1."""
    aim_tan: float = field(init=False, repr=False, compare=False)
    spread_tan: float = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Refuse an outlet without area; keep what every point of the jet needs."""
        require_positive(self.area_m2, "area_m2", "m2")
        if self.flow_m3_s < 0:
            raise ValueError(f"flow_m3_s must not be negative, got {self.flow_m3_s}")
        aim = math.radians(self.aim_deg)
        kept = {
            "outlet_m_s": self.flow_m3_s / self.area_m2,
            "root_area_m": math.sqrt(self.area_m2),
            "aim_cos": max(math.cos(aim), 0.1),
            "aim_tan": math.tan(aim),
            "spread_tan": math.tan(math.radians(self.half_spread_deg)),
        }
        for name, value in kept.items():
            object.__setattr__(self, name, value)


@dataclass(frozen=True, slots=True)
class JetAir:
    """What a jet does at a point: its speed and how much it shifts the local temperature."""

    speed_m_s: float
    shift_k: float


NO_JET = JetAir(0.0, 0.0)


def axis_speed_m_s(jet: Jet, distance_m: float) -> float:
    """Speed on the axis, Vx = K Q/(x sqrt A), never above the outlet speed."""
    require_positive(distance_m, "distance_m", "m")
    return min(jet.outlet_m_s, jet.throw_k * jet.flow_m3_s / (distance_m * jet.root_area_m))


def throw_m(jet: Jet, speed_m_s: float) -> float:
    """Distance at which the axis has slowed to `speed_m_s` (isothermal)."""
    return jet.throw_k * jet.flow_m3_s / (speed_m_s * jet.root_area_m)


def axis_height_m(jet: Jet, along_m: float, ceiling_m: float, room_c: float) -> float:
    """Height of the axis at a horizontal distance, held between floor and ceiling.

    Straight aim plus the bend by buoyancy. With Vx = K1 U0 sqrt(A)/x and dTx = K2 dT0 sqrt(A)/x the vertical
    momentum gives a rise of (g/T) dT0 (K2/K1^2) x^3 / (3 U0^2 sqrt A) (own derivation of the Koestel form).
    """
    path_m = along_m / jet.aim_cos
    straight = jet.height_m - along_m * jet.aim_tan
    rise = 0.0
    if jet.outlet_m_s > 0:
        share = constant("heat_spread_share") / jet.throw_k
        bend = GRAVITY_M_S2 / (room_c + KELVIN) * jet.delta_k * share
        rise = bend * path_m**3 / (3 * jet.outlet_m_s**2 * jet.root_area_m)
    return min(max(straight + rise, 0.0), ceiling_m)


@dataclass(frozen=True, slots=True)
class RoomAir:
    """The room that a jet blows into: length along it, width across it, ceiling height and air temperature."""

    length_m: float
    width_m: float
    ceiling_m: float
    room_c: float


def _widths_m(jet: Jet, path_m: float) -> tuple[float, float]:
    """Half-speed half widths of a jet at a path length: across its thickness and to its side."""
    thick = constant("jet_half_width") * path_m + jet.area_m2 / jet.width_m / 2
    if jet.radial:
        return thick, math.inf
    return thick, path_m * jet.spread_tan + jet.width_m / 2


def _air_at(jet: Jet, path_m: float, offsets_m: tuple[float, float]) -> JetAir:
    """Gaussian profile about the axis: speed and temperature shift at offsets across its thickness and to its side."""
    thick, side = _widths_m(jet, path_m)
    square = (offsets_m[0] / thick) ** 2 + (0.0 if math.isinf(side) else (offsets_m[1] / side) ** 2)
    profile = math.exp(-math.log(2) * square)
    axis = axis_speed_m_s(jet, path_m)
    warmth = constant("heat_spread_share") * axis / jet.outlet_m_s
    return JetAir(axis * profile, jet.delta_k * min(warmth, 1.0) * math.sqrt(profile))


def _path_m(jet: Jet, along_m: float) -> float:
    return max(along_m / jet.aim_cos, 0.1)


def _down_the_wall(jet: Jet, along_m: float, across_m: float, point_m: float, room: RoomAir) -> JetAir:
    """The part of a jet that turns down at the far wall and passes a point near it; warm air does not come down."""
    if jet.delta_k > 0:
        return NO_JET
    top = axis_height_m(jet, room.length_m, room.ceiling_m, room.room_c)
    if top <= point_m:
        return NO_JET
    path = _path_m(jet, room.length_m) + top - point_m
    found = _air_at(jet, path, (room.length_m - along_m, across_m))
    share = constant("wall_turn_share")
    return JetAir(share * found.speed_m_s, found.shift_k)


def jet_air(jet: Jet, along_m: float, across_m: float, point_m: float, room: RoomAir) -> JetAir:
    """Speed and temperature shift of a jet at a point `along_m` ahead, `across_m` aside and `point_m` high.

    The faster of the jet on its way and of what comes down the far wall.
    """
    reach_m = math.hypot(along_m, across_m) if jet.radial else along_m
    if reach_m <= 0.05 or along_m > room.length_m + 0.05 or jet.flow_m3_s == 0:
        return NO_JET
    lift = point_m - axis_height_m(jet, reach_m, room.ceiling_m, room.room_c)
    direct = _air_at(jet, _path_m(jet, reach_m), (lift, across_m))
    if jet.radial:
        return direct
    falling = _down_the_wall(jet, along_m, across_m, point_m, room)
    return falling if falling.speed_m_s > direct.speed_m_s else direct


def return_stream_m_s(jet: Jet, streams: int, room: RoomAir) -> float:
    """Highest speed of the air that flows back through the occupied zone, 0.78 U0 sqrt(A0)/sqrt(H B)."""
    momentum = jet.outlet_m_s * math.sqrt(jet.area_m2 * streams)
    return constant("reverse_flow") * momentum / math.sqrt(room.ceiling_m * room.width_m)
