"""The full room as nodes: cells of every layer, massless surfaces and panes, and a radiant star."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import Boundary
from compare.physics.fabric.drivers import radiation_w_m2k
from compare.physics.fabric.glass import Glazing
from compare.physics.fabric.layers import Construction, chain_of
from compare.physics.fabric.parts import FabricOptions, Part
from compare.physics.fabric.sunlight import sun_shares

FloatArray = npt.NDArray[np.float64]

LEAST_M2K_W = 1e-4
LARGEST_AREA_SHARE = 0.75
"""A surface that is more than this share of the enclosure is treated as this share in the radiant star."""


@dataclass(frozen=True, slots=True)
class PartNodes:
    """Node numbers of one part."""

    outer: int
    """Node at its outer face; -1 where it is adiabatic."""
    inner: int
    """Node at its inner face."""
    outside_convection_w_k: float
    outside_radiation_w_k: float
    sky_m2: float
    """Area times emissivity times view of the sky."""
    slab: bool = False
    """A slab on ground: the two conductances are its edge to outdoors and its core to the ground."""


@dataclass(frozen=True, slots=True, eq=False)
class FullRoom:
    """A room in full. Balance of each node: `c dx/dt = -k x + a_coupling (air) + boundaries + sources`.

    Temperatures are differences to the held air temperature. `conductance_w_k` is symmetric; its diagonal holds every
    conductance of the node, those to air and boundaries included.
    """

    parts: tuple[Part, ...]
    nodes: tuple[PartNodes, ...]
    conductance_w_k: FloatArray
    """(N, N)"""
    capacity_j_k: FloatArray
    """(N,), zero for massless nodes."""
    air_coupling_w_k: FloatArray
    """(N,)"""
    star: int
    sun_node_frac: FloatArray
    """(N,) where one watt of transmitted sun is absorbed."""
    sun_air_frac: float
    """Share of transmitted sun that warms the air at once; what neither holds leaves through the glass."""
    air_j_k: float

    @property
    def inner_area_frac(self) -> FloatArray:
        """(N,) weights of the inner faces by area, sum 1: the read-out of mean radiant temperature."""
        weight_frac = np.zeros_like(self.capacity_j_k)
        for part, node in zip(self.parts, self.nodes, strict=True):
            weight_frac[node.inner] += part.area_m2
        total = weight_frac.sum()
        return weight_frac / total if total > 0.0 else weight_frac


class _Builder:
    """Collects nodes and conductances; used only while a room is put together."""

    def __init__(self) -> None:
        self.capacity_j_k: list[float] = []
        self.links: list[tuple[int, int, float]] = []
        self.ties: list[tuple[int, float]] = []
        self.air: list[tuple[int, float]] = []

    def node(self, capacity_j_k: float = 0.0) -> int:
        self.capacity_j_k.append(capacity_j_k)
        return len(self.capacity_j_k) - 1

    def link(self, a: int, b: int, conductance_w_k: float) -> None:
        self.links.append((a, b, conductance_w_k))

    def tie(self, node: int, conductance_w_k: float) -> None:
        self.ties.append((node, conductance_w_k))

    def to_air(self, node: int, conductance_w_k: float) -> None:
        self.air.append((node, conductance_w_k))

    def matrices(self) -> tuple[FloatArray, FloatArray, FloatArray]:
        count = len(self.capacity_j_k)
        k_w_k, air_w_k = np.zeros((count, count)), np.zeros(count)
        for a, b, g_w_k in self.links:
            k_w_k[a, a] += g_w_k
            k_w_k[b, b] += g_w_k
            k_w_k[a, b] -= g_w_k
            k_w_k[b, a] -= g_w_k
        for node, g_w_k in self.ties:
            k_w_k[node, node] += g_w_k
        for node, g_w_k in self.air:
            k_w_k[node, node] += g_w_k
            air_w_k[node] += g_w_k
        return k_w_k, np.array(self.capacity_j_k), air_w_k


def sky_view_frac(tilt_deg: float) -> float:
    """View of the sky weighted for its lower strength near the horizon: 1 roof, .354 wall, 0 underside."""
    return float(((1.0 + np.cos(np.radians(tilt_deg))) / 2.0) ** 1.5)


def star_factors(areas_m2: FloatArray) -> FloatArray:
    """View factor of each surface to the radiant star: `F = 1/(1 - A F / sum(A F))`, by repeated substitution.

    The mean-radiant-temperature network with area and emissivity (Carroll; from memory).
    """
    factors = np.ones_like(areas_m2)
    for _ in range(200):
        weighed = areas_m2 * factors
        new = 1.0 / (1.0 - np.minimum(weighed / weighed.sum(), LARGEST_AREA_SHARE))
        if np.abs(new - factors).max() < 1e-12:
            break
        factors = 0.5 * (factors + new)
    return factors


def full_room_of_parts(parts: tuple[Part, ...], air_j_k: float, options: FabricOptions) -> FullRoom:
    """Put a room together from its parts. Raises `ValueError` if there are none."""
    if not parts:
        raise ValueError("a room needs at least one surface; give it a wall, a floor or a partition")
    build = _Builder()
    nodes = tuple(_add_part(build, part, options) for part in parts)
    star = build.node()
    _add_star(build, star, parts, nodes, radiation_w_m2k(options.films.mean_inside_c))
    k_w_k, capacity_j_k, air_w_k = build.matrices()
    inner, panes = sun_shares(parts)
    node_frac = np.zeros_like(capacity_j_k)
    for place, node in enumerate(nodes):
        node_frac[node.inner] += inner[place]
        if panes[place] > 0.0:
            node_frac[node.outer] += panes[place]
    return FullRoom(
        parts=parts,
        nodes=nodes,
        conductance_w_k=k_w_k,
        capacity_j_k=capacity_j_k,
        air_coupling_w_k=air_w_k,
        star=star,
        sun_node_frac=node_frac * (1.0 - options.sun_to_air_frac),
        sun_air_frac=options.sun_to_air_frac,
        air_j_k=air_j_k,
    )


def _add_star(
    build: _Builder, star: int, parts: tuple[Part, ...], nodes: tuple[PartNodes, ...], black_w_m2k: float
) -> None:
    factors = star_factors(np.array([part.area_m2 for part in parts]))
    for part, node, factor in zip(parts, nodes, factors, strict=True):
        emissivity = part.inside_emissivity_frac
        build.link(node.inner, star, part.area_m2 * black_w_m2k / ((1.0 - emissivity) / emissivity + 1.0 / factor))


def _add_part(build: _Builder, part: Part, options: FabricOptions) -> PartNodes:
    make = part.make
    if isinstance(make, Glazing):
        outer, inner = build.node(), build.node()
        build.link(outer, inner, make.between_w_m2k * part.area_m2)
    else:
        outer, inner = _add_chain(build, part, make)
    build.to_air(inner, part.inside_convection_w_m2k * part.area_m2)
    if part.boundary is Boundary.ADIABATIC:
        return PartNodes(-1, inner, 0.0, 0.0, 0.0)
    if part.boundary is Boundary.GROUND:
        return _add_ground(build, part, outer, inner, options.films.rated_inside_down_m2k_w)
    convection_w_k = part.outside_convection_w_m2k * part.area_m2
    radiation_w_k = 0.0
    sky_m2 = 0.0
    if part.boundary is Boundary.OUTDOORS:
        emissive_m2 = part.outside_emissivity_frac * part.area_m2
        radiation_w_k = emissive_m2 * radiation_w_m2k(options.films.mean_outside_c)
        sky_m2 = emissive_m2 * sky_view_frac(part.tilt_deg)
    build.tie(outer, convection_w_k + radiation_w_k)
    return PartNodes(outer, inner, convection_w_k, radiation_w_k, sky_m2)


def _add_chain(build: _Builder, part: Part, make: Construction) -> tuple[int, int]:
    """Cells from outside to inside; returns outer and inner surface node (outer is -1 if adiabatic)."""
    chain = chain_of(make)
    adiabatic = part.boundary is Boundary.ADIABATIC
    outer = last = -1 if adiabatic else build.node()
    for resistance_m2k_w, capacity_j_m2k in zip(chain.resistance_m2k_w[:-1], chain.capacity_j_m2k, strict=True):
        cell = build.node(capacity_j_m2k * part.area_m2)
        if last >= 0:
            build.link(last, cell, part.area_m2 / max(resistance_m2k_w, LEAST_M2K_W))
        last = cell
    inner = build.node()
    if last >= 0:
        build.link(last, inner, part.area_m2 / max(chain.resistance_m2k_w[-1], LEAST_M2K_W))
    return outer, inner


def _add_ground(build: _Builder, part: Part, outer: int, inner: int, film_m2k_w: float) -> PartNodes:
    """A buried wall stands at the ground's temperature; a slab meets outdoor air by its edge and the ground below."""
    if part.edge is None:
        beyond_w_k = part.area_m2 / LEAST_M2K_W
        build.tie(outer, beyond_w_k)
        return PartNodes(outer, inner, beyond_w_k, 0.0, 0.0)
    edge_w_k = _edge_below_slab_w_k(part, part.edge.edge_w_k, film_m2k_w)
    build.tie(outer, edge_w_k + part.edge.core_w_k)
    return PartNodes(outer, inner, edge_w_k, part.edge.core_w_k, 0.0, slab=True)


def _edge_below_slab_w_k(part: Part, whole_w_k: float, film_m2k_w: float) -> float:
    """Conductance that, in series with slab and rated film, gives the stated edge loss from air to air."""
    if whole_w_k <= 0.0:
        return 0.0
    slab_m2k_w = 0.0 if isinstance(part.make, Glazing) else part.make.resistance_m2k_w
    above_k_w = (slab_m2k_w + film_m2k_w) / part.area_m2
    return 1.0 / max(1.0 / whole_w_k - above_k_w, 0.01 / whole_w_k)
