"""How air gets back from a room whose door is shut: undercut, transfer grille or jump duct, and its pressure."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.air.tables import constant, require_positive
from compare.house.plan import LinkKind, Plan


def orifice_flow_m3_s(area_m2: float, pressure_pa: float) -> float:
    """Flow through a sharp-edged opening, Cd A sqrt(2 dp/rho)."""
    return constant("orifice_cd") * area_m2 * math.sqrt(2 * pressure_pa / constant("air_density_kg_m3"))


def orifice_pressure_pa(flow_m3_s: float, area_m2: float) -> float:
    """Pressure that drives a flow through a sharp-edged opening."""
    require_positive(area_m2, "area_m2", "m2")
    return 0.5 * constant("air_density_kg_m3") * (flow_m3_s / (constant("orifice_cd") * area_m2)) ** 2


def orifice_area_m2(flow_m3_s: float, pressure_pa: float) -> float:
    """Opening that passes a flow at a pressure."""
    return flow_m3_s / (constant("orifice_cd") * math.sqrt(2 * pressure_pa / constant("air_density_kg_m3")))


def pressure_limit_pa(flow_m3_s: float) -> float:
    """Limit of a shut room against the hall: 3 Pa, 5 Pa from 150 cfm on (ENERGY STAR)."""
    big = flow_m3_s >= constant("room_pressure_big_flow_m3_s")
    return constant("room_pressure_limit_big_pa" if big else "room_pressure_limit_pa")


def starved_flow_m3_s(flow_m3_s: float, area_m2: float, drive_pa: float) -> float:
    """Flow left when a shut room of leakage `area_m2` opposes a supply that falls to nothing at `drive_pa`.

    The branch gives `flow_m3_s` freely and loses flow with the square root of the pressure left.
    """
    require_positive(drive_pa, "drive_pa", "Pa")
    full_pa = orifice_pressure_pa(flow_m3_s, area_m2)
    return flow_m3_s / math.sqrt(1 + full_pa / drive_pa)


def carried_w(flow_m3_s: float, difference_k: float) -> float:
    """Heat that a transfer fan carries between two rooms, with the air of one a few kelvin warmer than the other."""
    return flow_m3_s * constant("air_density_kg_m3") * constant("air_heat_j_kgk") * difference_k


@dataclass(frozen=True, slots=True)
class TransferPath:
    """Return path of one room. `remedy` is none, undercut, transfer grille, or open (no door in the way)."""

    room: int
    flow_m3_s: float
    pressure_as_is_pa: float
    limit_pa: float
    remedy: str
    undercut_m: float
    grille_m2: float
    pressure_pa: float


def _doors(plan: Plan, room: int) -> tuple[list[tuple[float, float]], bool]:
    """Widths and undercuts of the room's inside doors, and whether it is open to a neighbour without a door."""
    doors, is_open = [], False
    for link in plan.links:
        if room not in (link.a, link.b):
            continue
        if link.kind is LinkKind.DOOR:
            doors.append((link.width_m, link.undercut_m))
        else:
            is_open = True
    return doors, is_open


def transfer_path(plan: Plan, room: int, flow_m3_s: float) -> TransferPath:
    """Check a room's return path with its doors shut and name the least remedy that keeps the limit.

    Undercuts are cut to 1 in. at most; what is missing then goes through a transfer grille or jump duct.
    """
    doors, is_open = _doors(plan, room)
    limit = pressure_limit_pa(flow_m3_s)
    if is_open:
        return TransferPath(room, flow_m3_s, 0.0, limit, "open", 0.0, 0.0, 0.0)
    edge = constant("door_edge_leak_m2") * max(len(doors), 1)
    now_m2 = sum(width * cut for width, cut in doors) + edge
    as_is = orifice_pressure_pa(flow_m3_s, now_m2)
    cut_now = max((cut for _, cut in doors), default=0.0)
    if as_is <= limit:
        return TransferPath(room, flow_m3_s, as_is, limit, "none", cut_now, 0.0, as_is)
    need_m2 = orifice_area_m2(flow_m3_s, limit)
    width = sum(width for width, _ in doors)
    most = constant("undercut_most_m")
    cut = (need_m2 - edge) / width if width else math.inf
    if cut <= most:
        return TransferPath(room, flow_m3_s, as_is, limit, "undercut", cut, 0.0, limit)
    grille = need_m2 - now_m2
    return TransferPath(room, flow_m3_s, as_is, limit, "transfer grille", cut_now, grille, limit)
