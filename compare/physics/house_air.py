"""From the house file to its leakage, ventilation and network options."""

from __future__ import annotations

from compare.house.model import HouseFile
from compare.house.plan import Boundary, Plan, SurfaceKind
from compare.house.services import Fuel
from compare.physics.assemble import NetworkOptions
from compare.physics.leakage import Envelope, tightness_from_blower_door
from compare.physics.ventilation import HouseAir, ventilation_of

_MOST_STOREYS = 3
_CHIMNEY = frozenset({Fuel.GAS, Fuel.OIL, Fuel.PROPANE, Fuel.WOOD})


def envelope_of(house: HouseFile, plan: Plan) -> Envelope:
    """What the leakage models ask: storeys and eaves by the levels with rooms, the foundation under most of the house.

    A flue counts where a combustion heater stays in use. The models end at three storeys.
    """
    heights_m: dict[int, float] = {}
    for room in plan.rooms:
        heights_m[room.level] = max(heights_m.get(room.level, 0.0), room.height_m)
    floors_m2 = dict.fromkeys(Boundary, 0.0)
    for room in plan.rooms:
        for surface in room.surfaces:
            if surface.kind is SurfaceKind.FLOOR:
                floors_m2[surface.boundary] += surface.area_m2
    heat = house.existing_heat
    return Envelope(
        storeys=min(len(heights_m), _MOST_STOREYS),
        shelter=house.site.shelter,
        crawlspace=floors_m2[Boundary.CRAWLSPACE] > floors_m2[Boundary.GROUND] + floors_m2[Boundary.BASEMENT],
        eaves_m=sum(heights_m.values()),
        flue=heat is not None and heat.keep and heat.fuel in _CHIMNEY,
    )


def air_of_house(house: HouseFile, plan: Plan) -> HouseAir:
    """Leakage by the blower-door figure (written, or typical of the leakage class) and the fans of the house."""
    volume_m3 = sum(room.volume_m3 for room in plan.rooms)
    air = house.air
    return HouseAir(
        tightness_from_blower_door(air.ach50_1_h, volume_m3, envelope_of(house, plan)),
        ventilation_of(air.ventilation_kind.value, air.ventilation_m3_s, air.heat_recovery_frac),
    )


def network_options_of(house: HouseFile, plan: Plan) -> NetworkOptions:
    """Options of the network with the air and the set points of the house."""
    comfort = house.comfort
    return NetworkOptions(air_of_house(house, plan), heating_c=comfort.heating_c, cooling_c=comfort.cooling_c)
