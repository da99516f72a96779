"""Layers of the house file as constructions of the full room model."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from compare.house.layers import Construction as StatedConstruction
from compare.house.layers import LayeredPart, materials, rated_films_m2k_w, u_field
from compare.house.model import HouseFile
from compare.house.plan import Boundary, SurfaceKind
from compare.physics.fabric.layers import LEAST_M2K_W, Construction, Layer
from compare.physics.fabric.parts import FabricOptions, house_options

_OPEN = (Boundary.OUTDOORS, Boundary.GARAGE)
_UNDER = (Boundary.OUTDOORS, Boundary.CRAWLSPACE, Boundary.BASEMENT, Boundary.GARAGE)
SURFACES = {
    LayeredPart.WALL: tuple((SurfaceKind.WALL, boundary) for boundary in (*_OPEN, Boundary.BASEMENT)),
    LayeredPart.CEILING: ((SurfaceKind.CEILING, Boundary.ATTIC), (SurfaceKind.WALL, Boundary.ATTIC)),
    LayeredPart.ROOF: ((SurfaceKind.CEILING, Boundary.OUTDOORS),),
    LayeredPart.FLOOR: tuple((SurfaceKind.FLOOR, boundary) for boundary in _UNDER),
}
"""Surfaces that each part of the house file stands for."""


def fabric_options_of(house: HouseFile) -> FabricOptions:
    """The options for houses with the layers that the house file states.

    Where a U-value of the house has been changed since it was read (a what-if, a draw of uncertain inputs), the layers
    keep their mass and conduct by one common factor more or less, so that both say the same.
    """
    layers = {key: _construction(made, _target_m2k_w(house, made.of)) for made, key in _pairs(house)}
    return replace(house_options(), layers=layers) if layers else house_options()


def _pairs(house: HouseFile) -> Iterator[tuple[StatedConstruction, tuple[SurfaceKind, Boundary]]]:
    for made in house.constructions:
        for key in SURFACES[made.of]:
            yield made, key


def _target_m2k_w(house: HouseFile, part: LayeredPart) -> float:
    """Resistance between the surfaces that the house's U-value leaves."""
    u_w_m2k = float(getattr(house.fabric, u_field(part)))
    return max(1.0 / u_w_m2k - rated_films_m2k_w()[part], LEAST_M2K_W)


def _construction(made: StatedConstruction, target_m2k_w: float) -> Construction:
    factor = made.resistance_m2k_w / target_m2k_w
    layers = []
    for row in made.layers:
        material = materials()[row.material]
        layers.append(
            Layer(
                material.name,
                row.thickness_m,
                material.conductivity_w_mk * factor,
                material.density_kg_m3,
                material.specific_heat_j_kgk,
            )
        )
    return Construction(f"{made.of.value} as stated", tuple(layers))
