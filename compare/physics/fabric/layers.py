"""Walls, floors and ceilings as layers, and layers stretched to a stated U-value."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from compare.physics.fabric.tables import rows

LIGHT_CELLS = 4
HEAVY_CELLS = 8
HEAVY_J_M2K = 100_000.0
"""A layer that stores at least this much (8 cm of concrete does) gets the finer division."""
LEAST_M2K_W = 0.01
"""Least resistance between the films that a stated U-value may leave."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer. `thickness_m` [m], `conductivity_w_mk` [W/mK]; zero density makes it massless."""

    name: str
    thickness_m: float
    conductivity_w_mk: float
    density_kg_m3: float
    specific_heat_j_kgk: float
    stretch: bool = False
    """Whether this layer takes up the difference when a U-value is stated."""

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance of the layer [m2K/W]."""
        return self.thickness_m / self.conductivity_w_mk

    @property
    def heat_capacity_j_m2k(self) -> float:
        """Heat capacity of the layer [J/m2K]."""
        return self.thickness_m * self.density_kg_m3 * self.specific_heat_j_kgk

    @property
    def cells(self) -> int:
        """Finite volumes across the layer: none if massless, 4, or 8 in concrete."""
        if self.heat_capacity_j_m2k <= 0.0:
            return 0
        return HEAVY_CELLS if self.heat_capacity_j_m2k >= HEAVY_J_M2K else LIGHT_CELLS


@dataclass(frozen=True, slots=True)
class Construction:
    """Layers from outside to inside."""

    name: str
    layers: tuple[Layer, ...]

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance between the two surfaces, films left out [m2K/W]."""
        return sum(layer.resistance_m2k_w for layer in self.layers)

    @property
    def heat_capacity_j_m2k(self) -> float:
        """Heat capacity of all layers [J/m2K]."""
        return sum(layer.heat_capacity_j_m2k for layer in self.layers)

    def u_w_m2k(self, films_m2k_w: float) -> float:
        """U-value with the sum of both film resistances given [W/m2K]."""
        return 1.0 / (self.resistance_m2k_w + films_m2k_w)


@cache
def construction(name: str) -> Construction:
    """A construction of the table by its name; `KeyError` names what exists."""
    found = tuple(_layer(row) for row in rows("layers.csv") if row["construction"] == name)
    if not found:
        known = sorted({row["construction"] for row in rows("layers.csv")})
        raise KeyError(f"construction {name!r} is not in the table of layers; there are: {', '.join(known)}")
    return Construction(name, found)


def _layer(row: dict[str, str]) -> Layer:
    return Layer(
        name=row["layer"],
        thickness_m=float(row["thickness_m"]),
        conductivity_w_mk=float(row["conductivity_w_mk"]),
        density_kg_m3=float(row["density_kg_m3"]),
        specific_heat_j_kgk=float(row["specific_heat_j_kgk"]),
        stretch=row["stretch"] == "1",
    )


def stretched_to_u(base: Construction, u_w_m2k: float, films_m2k_w: float) -> Construction:
    """The construction with its insulating layer made as thick as a stated U-value asks.

    Parameters
    ----------
    base
        Layers, one of them marked `stretch`.
    u_w_m2k
        Stated U-value, films included [W/m2K].
    films_m2k_w
        Sum of both films that the stated value includes [m2K/W].

    Notes
    -----
    Where even no insulation is too much resistance, that layer is left out and the others conduct better by one
    common factor (their mass stays). Between the films at least 0.01 m2K/W remains.
    """
    if not u_w_m2k > 0.0:
        raise ValueError(f"u_w_m2k = {u_w_m2k}: a U-value must be above 0; give it in W/m2K")
    target_m2k_w = max(1.0 / u_w_m2k - films_m2k_w, LEAST_M2K_W)
    fixed_m2k_w = sum(layer.resistance_m2k_w for layer in base.layers if not layer.stretch)
    filled_m2k_w = target_m2k_w - fixed_m2k_w
    if filled_m2k_w <= 0.0 or fixed_m2k_w == base.resistance_m2k_w:
        kept = tuple(layer for layer in base.layers if not layer.stretch)
        factor_frac = fixed_m2k_w / target_m2k_w
        layers = tuple(replace(la, conductivity_w_mk=la.conductivity_w_mk * factor_frac) for la in kept)
        return Construction(base.name, layers)
    layers = tuple(
        replace(layer, thickness_m=filled_m2k_w * layer.conductivity_w_mk) if layer.stretch else layer
        for layer in base.layers
    )
    return Construction(base.name, layers)


@dataclass(frozen=True, slots=True)
class Chain:
    """Finite volumes across a construction, per m2, from the outer surface to the inner surface."""

    resistance_m2k_w: tuple[float, ...]
    """Between outer surface, cells and inner surface: one more than there are cells."""
    capacity_j_m2k: tuple[float, ...]
    """Of each cell."""


@cache
def chain_of(made: Construction) -> Chain:
    """Divide a construction into cells; resistances run from cell centre to cell centre."""
    resistances_m2k_w: list[float] = []
    capacities_j_m2k: list[float] = []
    pending_m2k_w = 0.0
    for layer in made.layers:
        cells = layer.cells
        if cells == 0:
            pending_m2k_w += layer.resistance_m2k_w
            continue
        step_m2k_w = layer.resistance_m2k_w / cells
        for _ in range(cells):
            resistances_m2k_w.append(pending_m2k_w + step_m2k_w / 2.0)
            capacities_j_m2k.append(layer.heat_capacity_j_m2k / cells)
            pending_m2k_w = step_m2k_w / 2.0
    resistances_m2k_w.append(pending_m2k_w)
    return Chain(tuple(resistances_m2k_w), tuple(capacities_j_m2k))
