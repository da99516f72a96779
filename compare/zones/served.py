"""A served zone, designed: its load, the unit that covers it, ducts or place on the wall, and what stands against it.

For a ducted zone the loop "duct loss -> load at the unit -> size -> ducts" closes here. Zones do not know which layout
they stand in, except for the rooms without a supply that borrow their air.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import partial

import numpy as np
import numpy.typing as npt

from compare.air.contest import Contest, contest
from compare.air.ducts.design import design_ducts
from compare.air.ducts.fit import DuctUnit
from compare.air.ducts.result import DuctDesign, DuctRequest, RoomLoad
from compare.air.from_catalogue import room_unit, sound_source
from compare.air.siting import RoomUnit, Siting, place_room_unit
from compare.equipment.performance import Mode, performance
from compare.equipment.selection import Demand, Selection, cover, select
from compare.equipment.unit import Pair, UnitKind
from compare.zones.basis import DesignBasis
from compare.zones.sketch import ZoneKind, ZoneSketch

FloatArray = npt.NDArray[np.float64]

AIR_HEAT_J_M3K = 1.2 * 1006.0
"""Heat that a cubic metre of room air carries per kelvin."""

CLUSTER_REACH_M = 7.62
"""Longest branch of a cluster: 25 ft (our judgement)."""

ROOM_KINDS = (UnitKind.WALL, UnitKind.FLOOR, UnitKind.CEILING)

LARGEST_DUCTS = "generous"
"""Duct policy that is tried where the company's own leaves too much static."""


Sited = Callable[[int, RoomUnit], Siting]
"""Where a unit goes in a room."""


@dataclass(frozen=True, slots=True, eq=False)
class ServedZone:
    """One zone of a layout with its unit. Arrays run over all rooms of the house (R)."""

    sketch: ZoneSketch
    attached: tuple[int, ...]
    """Rooms without a supply that borrow its air; their load is in its own."""
    selection: Selection
    demand: Demand
    ducts: DuctDesign | None
    """Ducts of a concealed unit; None for a room unit."""
    siting: Siting | None
    """Place of a room unit; None for a concealed one."""
    share: FloatArray
    """(R,) share of the unit's heat by room."""
    mix_w_k: FloatArray
    """(R,) air carried to the common return and back, at high fan speed."""
    reasons: tuple[str, ...]
    """Why it cannot be built; empty when it can."""
    key: str = field(init=False)
    """Stable id, with the rooms that borrow from it."""

    def __post_init__(self) -> None:
        """The id, once."""
        borrowed = f"+{'.'.join(map(str, self.attached))}" if self.attached else ""
        object.__setattr__(self, "key", f"{self.sketch.key}{borrowed}")

    @property
    def pair(self) -> Pair:
        """The chosen unit with its own outdoor unit."""
        return self.selection.pair

    @property
    def rooms(self) -> tuple[int, ...]:
        """Rooms with a supply."""
        return self.sketch.rooms

    @property
    def feasible(self) -> bool:
        """Whether nothing stands against it."""
        return not self.reasons


def design_zone(
    basis: DesignBasis, sketch: ZoneSketch, attached: tuple[int, ...], site: Sited | None = None
) -> ServedZone:
    """Design one zone for its own rooms and those that borrow its air; `site` as of `contest_of`.

    The types of room unit compete: the one with the fewest points against its place, its sound and its extra price wins
    among those that have a good place and cover the load.
    """
    if sketch.kind is ZoneKind.DUCTED:
        return _ducted(basis, sketch, attached)
    return contest_of(basis, sketch, attached, site)[0][0]


def contest_of(
    basis: DesignBasis, sketch: ZoneSketch, attached: tuple[int, ...], site: Sited | None = None
) -> list[tuple[ServedZone, Contest]]:
    """Every type of room unit for a room, the best first; `site` places a unit in a room where places are kept."""
    found = []
    chosen = partial(site or sited(basis), sketch.rooms[0])
    for kind in ROOM_KINDS:
        zone = room_unit_zone(basis, sketch, attached, kind, chosen)
        assert zone.siting is not None
        points = contest(basis.plan, zone.siting, sound_source(basis.units, zone.pair.indoor), basis.contest)
        found.append((zone, points))
    covers = [not zone.selection.short for zone, _ in found]

    def order(entry: tuple[ServedZone, Contest]) -> tuple[bool, bool, float]:
        zone, points = entry
        return not zone.feasible, any(covers) and zone.selection.short, round(points.total, 6)

    return sorted(found, key=order)


def sited(basis: DesignBasis) -> Sited:
    """Places units by the house's own plan."""

    def place(room: int, unit: RoomUnit) -> Siting:
        return place_room_unit(basis.plan, room, unit, basis.plan_north_deg)

    return place


def room_unit_zone(
    basis: DesignBasis,
    sketch: ZoneSketch,
    attached: tuple[int, ...],
    kind: UnitKind,
    site: Callable[[RoomUnit], Siting],
) -> ServedZone:
    """A room unit of one type for a room and those that borrow its air, sized first and then placed by `site`."""
    demand = _demand(basis, (*sketch.rooms, *attached))
    share = np.zeros(len(basis.plan.rooms))
    share[sketch.rooms[0]] = 1.0
    selection = select(kind, demand, basis.units)
    siting = site(room_unit(selection.pair))
    reasons = () if siting.feasible else siting.notes[:1]
    return ServedZone(sketch, attached, selection, demand, None, siting, share, np.zeros_like(share), reasons)


def _demand(basis: DesignBasis, rooms: tuple[int, ...], heat_frac: float = 1.0, cool_frac: float = 1.0) -> Demand:
    return Demand(
        heat_w=basis.heat_w(rooms),
        cool_w=basis.cool_w(rooms),
        heat_outdoor_c=basis.heat_outdoor_c,
        cool_outdoor_c=basis.cool_outdoor_c,
        delivered_heat_frac=heat_frac,
        delivered_cool_frac=cool_frac,
    )


def _ducted(basis: DesignBasis, sketch: ZoneSketch, attached: tuple[int, ...]) -> ServedZone:
    """Low static before mid static, and larger ducts before a stronger fan; the first that fits and covers the load."""
    tried = []
    for kind in (UnitKind.DUCTED_LOW, UnitKind.DUCTED_MID):
        for policy in dict.fromkeys((basis.duct_policy, LARGEST_DUCTS)):
            zone = _ducted_of(replace(basis, duct_policy=policy), sketch, attached, kind)
            if zone.feasible and not zone.selection.short:
                return zone
            tried.append(zone)
    return next((zone for zone in tried if zone.feasible), tried[0])


def _ducted_of(basis: DesignBasis, sketch: ZoneSketch, attached: tuple[int, ...], kind: UnitKind) -> ServedZone:
    """The smallest size that covers the load through its own ducts.

    A larger unit's larger ducts lose a smaller share, so that it can seem too large once they are drawn; sizes
    therefore only rise, and the loop ends after a few rounds.
    """
    rooms = (*sketch.rooms, *attached)
    selection = select(kind, _demand(basis, rooms), basis.units)
    while True:
        ducts = design_ducts(basis.plan, request_of(basis, sketch, selection.pair))
        demand = _demand(basis, rooms, ducts.heat_delivered_frac, ducts.cool_delivered_frac)
        again = select(kind, demand, basis.units)
        if again.pair.size_kbtuh <= selection.pair.size_kbtuh:
            break
        selection = again
    if again.pair.size_kbtuh < selection.pair.size_kbtuh:
        again = replace(selection, cover=cover(selection.pair.output, demand))
    share = np.zeros(len(basis.plan.rooms))
    mix_w_k = np.zeros_like(share)
    for branch in ducts.branches:
        share[branch.room] = branch.flow_m3_s / ducts.design_flow_m3_s
        mix_w_k[branch.room] = branch.flow_m3_s * AIR_HEAT_J_M3K
    return ServedZone(sketch, attached, again, demand, ducts, None, share, mix_w_k, ducts.reasons)


def request_of(basis: DesignBasis, sketch: ZoneSketch, pair: Pair) -> DuctRequest:
    """What the ducts of a zone are designed for with a unit."""
    return DuctRequest(
        space=basis.plan.unit_spaces[sketch.space],
        loads=_room_loads(basis, sketch.rooms),
        unit=_duct_unit(basis, pair),
        policy=basis.duct_policy,
        heat_outdoor_c=basis.heat_outdoor_c,
        cool_outdoor_c=basis.cool_outdoor_c,
        reach_m=None if _whole_level(basis, sketch) else CLUSTER_REACH_M,
    )


def _whole_level(basis: DesignBasis, sketch: ZoneSketch) -> bool:
    """The cluster rule (short branches) is for groups of closed rooms; a whole storey may be reached further."""
    plan = basis.plan
    level = plan.unit_spaces[sketch.space].level
    return all(i in sketch.rooms for i, room in enumerate(plan.rooms) if room.habitable and room.level == level)


def _room_loads(basis: DesignBasis, rooms: tuple[int, ...]) -> tuple[RoomLoad, ...]:
    return tuple(RoomLoad(room, max(basis.heat_w((room,)), 1.0), max(basis.cool_w((room,)), 0.0)) for room in rooms)


def _duct_unit(basis: DesignBasis, pair: Pair) -> DuctUnit:
    indoor = pair.indoor
    heat = performance(pair.output, np.array([basis.heat_outdoor_c]), Mode.HEAT).max_w[0]
    cool = performance(pair.output, np.array([basis.cool_outdoor_c]), Mode.COOL).max_w[0]
    return DuctUnit(
        flow_quiet_m3_s=indoor.airflow_m3_s.quiet,
        flow_high_m3_s=indoor.airflow_m3_s.high,
        static_pa=indoor.static_pa,
        cabinet_w_m=indoor.cabinet.width_m,
        cabinet_h_m=indoor.cabinet.height_m,
        cabinet_d_m=indoor.cabinet.depth_m,
        heat_w=max(float(heat), 1.0),
        cool_w=max(float(cool), 1.0),
    )
