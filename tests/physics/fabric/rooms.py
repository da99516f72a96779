"""Rooms, weather and an independent dense solver for the tests of the fabric."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from compare.house.plan import Boundary, RoomPlan, Surface, SurfaceKind, Use
from compare.physics.fabric import Drivers, Face, FaceSun
from compare.physics.fabric.forcing import sources

OUT = Boundary.OUTDOORS


def wall(area_m2, azimuth_deg, u_w_m2k=0.5, **more):
    return Surface(SurfaceKind.WALL, OUT, area_m2, azimuth_deg, 90.0, u_w_m2k, height_m=2.5, **more)


def window(area_m2, azimuth_deg, u_w_m2k=2.0, shgc_frac=0.4, **more):
    more = {"height_m": 1.2} | more
    return Surface(SurfaceKind.WINDOW, OUT, area_m2, azimuth_deg, 90.0, u_w_m2k, shgc_frac=shgc_frac, **more)


def ceiling(area_m2, boundary=OUT, u_w_m2k=0.2):
    return Surface(SurfaceKind.CEILING, boundary, area_m2, 0.0, 0.0, u_w_m2k, solar_absorptance_frac=0.85)


def floor(area_m2, boundary=OUT, u_w_m2k=0.3, **more):
    return Surface(SurfaceKind.FLOOR, boundary, area_m2, 0.0, 180.0, u_w_m2k, **more)


def room(*surfaces, area_m2=20.0, name="corner room"):
    return RoomPlan(
        name=name,
        level=0,
        use=Use.LIVING,
        outline_m=((0.0, 0.0), (5.0, 0.0), (5.0, 4.0), (0.0, 4.0)),
        height_m=2.5,
        area_m2=area_m2,
        volume_m3=2.5 * area_m2,
        surfaces=surfaces,
    )


def corner_room(scale=1.0):
    return room(
        wall(9.0 * scale, 180.0),
        wall(10.0 * scale, 270.0, massive=True),
        window(3.5 * scale, 180.0),
        window(1.0 * scale, 270.0),
        ceiling(20.0 * scale),
        floor(20.0 * scale),
        area_m2=20.0 * scale,
    )


FACES = (Face.of(0.0, 0.0), Face.of(180.0, 0.0), *(Face.of(90.0, a) for a in (0.0, 90.0, 180.0, 270.0)))


def made_up_drivers(hours=240, seed=1, sun=True, mirror=False):
    """Invented weather with a daily swing, noise, and sun that moves from east by south to west."""
    draw = np.random.default_rng(seed)
    clock = np.arange(hours) % 24 + 0.5
    dry_bulb_c = 8.0 + 6.0 * np.sin((clock - 9.0) / 24.0 * 2.0 * np.pi) + draw.normal(0.0, 1.5, hours)
    strength = np.maximum(np.sin((clock - 6.0) / 12.0 * np.pi), 0.0) * draw.uniform(0.3, 1.0, hours)
    altitude_deg = 50.0 * np.sin((clock - 6.0) / 12.0 * np.pi)
    azimuth_deg = 15.0 * clock
    if mirror:
        azimuth_deg = 360.0 - azimuth_deg
    suns = {}
    for face in FACES:
        tilt, high, turn = np.radians([face.tilt_deg, 0.0, 0.0])[0], np.radians(altitude_deg), None
        turn = np.radians(azimuth_deg - face.azimuth_deg)
        cosine = np.sin(high) * np.cos(tilt) + np.cos(high) * np.sin(tilt) * np.cos(turn)
        cosine = np.where(altitude_deg > 0.0, np.maximum(cosine, 0.0), 0.0)
        sky = 0.5 * (1.0 + np.cos(tilt))
        suns[face] = FaceSun(700.0 * strength * cosine, 120.0 * strength * sky, 60.0 * strength * (1.0 - sky), cosine)
    return Drivers(dry_bulb_c, dry_bulb_c - 12.0, suns if sun else {}, altitude_deg, azimuth_deg)


def steady_drivers(outdoor_c, hours=24):
    flat_c = np.full(hours, outdoor_c)
    return Drivers(flat_c, flat_c, {}, np.zeros(hours), np.zeros(hours))


@dataclass(frozen=True)
class Direct:
    """Result of the dense run: air, nodes and supplied heat of each hour."""

    air_c: np.ndarray
    node_c: np.ndarray
    heat_w: np.ndarray


def direct_run(prepared, drivers, gains=None, *, heat_c=None, cool_c=None, leak_w_k=0.0, warm_up_h=0):
    """Every node and the air in one dense implicit step an hour; between set points the air floats."""
    full, step_s = prepared.full, drivers.step_s
    count = full.capacity_j_k.size
    matrix = np.zeros((count + 1, count + 1))
    matrix[:count, :count] = full.conductance_w_k + np.diag(full.capacity_j_k / step_s)
    matrix[:count, count] = matrix[count, :count] = -full.air_coupling_w_k
    matrix[count, count] = full.air_coupling_w_k.sum() + full.air_j_k / step_s + leak_w_k
    inverse = np.linalg.inv(matrix)
    source = np.zeros((count + 1, drivers.hours))
    for one in sources(full, drivers, gains, 20.0):
        source[:count] += np.outer(one.weight_frac, one.heat_w)
        source[count] += one.air_frac * one.heat_w
    source[count] += leak_w_k * (drivers.dry_bulb_c - 20.0)
    store = np.append(full.capacity_j_k, full.air_j_k) / step_s
    per_watt = inverse[:, count]
    now = np.zeros(count + 1)
    air, heat, nodes = [], [], []
    for hour in [*range(drivers.hours - warm_up_h, drivers.hours), *range(drivers.hours)]:
        now = inverse @ (store * now + source[:, hour])
        free_c = now[count] + 20.0
        target_c = free_c if heat_c is None else min(max(free_c, heat_c), cool_c)
        power_w = (target_c - free_c) / per_watt[count]
        now = now + per_watt * power_w
        air.append(now[count] + 20.0)
        heat.append(power_w)
        nodes.append(now[:count] + 20.0)
    return Direct(np.array(air)[warm_up_h:], np.array(nodes)[warm_up_h:], np.array(heat)[warm_up_h:])


def branch_run(fabric, branch_g_w_k, branch_tau_s, drivers, *, heat_c=None, cool_c=None, leak_w_k=0.0, warm_up_h=0):
    """The hourly step of the reduced room with any number of branches; returns air [degC] and supplied heat [W]."""
    step_s = drivers.step_s
    decay = 1.0 / (1.0 + step_s / branch_tau_s)
    held = branch_g_w_k * decay
    diagonal = fabric.air_j_k / step_s + leak_w_k + fabric.g0_w_k + held.sum()
    masses_c, air_c = np.full(branch_g_w_k.size, 20.0), 20.0
    air, heat = [], []
    for hour in [*range(drivers.hours - warm_up_h, drivers.hours), *range(drivers.hours)]:
        right = fabric.air_j_k / step_s * air_c + held @ masses_c + fabric.q20_w[hour] + 20.0 * fabric.g0_w_k
        free_c = (right + leak_w_k * drivers.dry_bulb_c[hour]) / diagonal
        air_c = free_c if heat_c is None else min(max(free_c, heat_c), cool_c)
        masses_c = decay * masses_c + (1.0 - decay) * air_c
        air.append(air_c)
        heat.append((air_c - free_c) * diagonal)
    return np.array(air)[warm_up_h:], np.array(heat)[warm_up_h:]


def with_surfaces(plan, *surfaces):
    return replace(plan, surfaces=surfaces)
