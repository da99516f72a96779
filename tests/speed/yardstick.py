"""The year of one room beside the package iso52016 0.0.3 (EN ISO 52016-1), in the same process.

That package solves the conduction of every wall node by node for one zone; ours is a lumped network of three nodes a
room, whose wall response is fitted before the year. The ratio compares what each needs for a room-year once set up.
"""

from __future__ import annotations

import warnings

import numpy as np

from compare.physics.year import LANES, simulate, step_matrices
from tests.speed.networks import HOURS, layouts_of, network_of, processor_s

ROOMS = 10


def zone_year_s() -> float:
    """Seconds that the package takes for a year of a zone with six surfaces."""
    from iso52016 import Building, Layer, Material, OpaqueElement, Orientation, Ventilation, Weather, Zone

    hours = np.arange(HOURS)
    air_c = 11.0 - 12.0 * np.cos(2 * np.pi * hours / HOURS) + 5.0 * np.sin(2 * np.pi * (hours - 9) / 24)
    board = Material(density_kg_m3=800, thermal_capacity_J_kgK=1090, conductivity_W_mK=0.16)
    wool = Material(density_kg_m3=20, thermal_capacity_J_kgK=1000, conductivity_W_mK=0.04)

    def year() -> None:
        weather = Weather(air_temperature=air_c, wind=np.full(HOURS, 3.0))
        faces = [(0, 90), (90, 90), (180, 90), (270, 90), (0, 0), (0, 180)]
        layers = [Layer(0.013, board), Layer(0.09, wool), Layer(0.013, board)]
        walls = [OpaqueElement(area=10.0, orientation=Orientation(*face), layers=layers) for face in faces]
        for wall in walls:
            wall.set_solar_irradiation(np.zeros(HOURS), np.zeros(HOURS))
        zone = Zone(
            opaque_elements=walls,
            usable_floor_area=20.0,
            internal_gains=[np.zeros(HOURS)],
            lower_temperature_limit=21.1,
            upper_temperature_limit=23.9,
            ventilation=[Ventilation(20.0, 0.0, air_c)],
        )
        Building(zones=zone, weather=weather).calculate()

    return processor_s(year, times=2)


def main() -> None:
    """Print both and their ratio."""
    network = network_of(ROOMS)
    matrices, layouts = step_matrices(network), layouts_of(network, LANES)
    simulate(network, layouts[:1], matrices)
    ours = processor_s(lambda: simulate(network, layouts, matrices)) / LANES / ROOMS
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = zone_year_s()
    print(f"kernel, lumped network: {1e6 * ours:.0f} us a room-year")
    print(f"iso52016, conduction by surface: {theirs:.2f} s a zone-year, {theirs / ours:,.0f} times as long")


if __name__ == "__main__":
    main()
