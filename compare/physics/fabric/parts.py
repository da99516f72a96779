"""From a room's surfaces to the parts of the full model: layers or panes, films, emissivities, shading."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from compare.house.plan import Boundary, Plan, RoomPlan, Surface, SurfaceKind
from compare.physics.fabric.drivers import Face
from compare.physics.fabric.glass import Glazing, glazing_from_ratings
from compare.physics.fabric.layers import Construction, construction, stretched_to_u
from compare.physics.fabric.shading import Shading
from compare.physics.fabric.tables import Films, films, films_in_wind

FLAT_DEG = 45.0
"""Surfaces tilted less than this are ceilings to the sun and sky; more than 180 less this, undersides."""


@dataclass(frozen=True, slots=True)
class Edge:
    """Slab on ground: heat through its edge [W/K] and from its underside to deep ground [W/K]."""

    edge_w_k: float
    core_w_k: float


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of what encloses a room, or of the inside mass that stands in it (boundary ADIABATIC)."""

    kind: SurfaceKind
    boundary: Boundary
    area_m2: float
    tilt_deg: float
    azimuth_deg: float
    make: Construction | Glazing
    inside_convection_w_m2k: float
    outside_convection_w_m2k: float
    """Outdoors: convection only. To a buffer space: the whole film. Unused on ground and when adiabatic."""
    inside_emissivity_frac: float
    outside_emissivity_frac: float
    inside_absorptance_frac: float
    outside_absorptance_frac: float
    shading: Shading | None = None
    admitted_frac: float = 1.0
    """Factor on sun that passes an interior shade."""
    edge: Edge | None = None

    @property
    def label(self) -> str:
        """Where its heat is booked when a load is explained."""
        if self.boundary is Boundary.ADIABATIC:
            return "inside mass"
        return "window glass" if isinstance(self.make, Glazing) else self.kind.value


@dataclass(frozen=True, slots=True)
class InsideMass:
    """A partition or an inside floor as one room sees it: half of it, adiabatic behind."""

    area_m2: float
    kind: SurfaceKind
    make: Construction


@dataclass(frozen=True, slots=True)
class FabricOptions:
    """Choices of the full room model; the defaults are those used for houses."""

    films: Films
    air_density_kg_m3: float = 1.2
    furnishings_j_m2k: float = 9199.0
    """Heat capacity that follows room air at once, per floor area (0.45 Btu/F.ft2; our judgement)."""
    sun_to_air_frac: float = 0.1
    """Share of transmitted sun that light furnishings give to the air at once (ISO 52016-1, from memory)."""
    core_m2k_w: float = 5.0
    """Path from the underside of a slab to the ground below (our judgement)."""
    layers: Mapping[tuple[SurfaceKind, Boundary], Construction] = field(default_factory=dict)
    """Layers stated by the designer for opaque surfaces of a kind and boundary; they are used as they are, and the
    U-value of those surfaces then only serves where the plan is read without layers."""


def house_options() -> FabricOptions:
    """The options for houses, films from the table."""
    return FabricOptions(films())


def design_options(winter: bool) -> FabricOptions:
    """The options for a design day: outside films of 6.7 m/s in winter and 3.4 m/s in summer."""
    return FabricOptions(films_in_wind(winter))


def parts_of_room(room: RoomPlan, inside: Iterable[InsideMass], options: FabricOptions) -> tuple[Part, ...]:
    """Parts of a room with equal pieces joined, so that one wall split in two is the same wall."""
    parts = [part_of_surface(surface, options) for surface in room.surfaces if surface.area_m2 > 0.0]
    parts += [_part_of_mass(mass, options) for mass in inside if mass.area_m2 > 0.0]
    return joined(parts)


def joined(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Join parts that differ in area only."""
    areas_m2: dict[Part, float] = {}
    edges: dict[Part, list[Edge]] = {}
    for part in parts:
        key = replace(part, area_m2=1.0, edge=None)
        areas_m2[key] = areas_m2.get(key, 0.0) + part.area_m2
        if part.edge is not None:
            edges.setdefault(key, []).append(part.edge)
    return tuple(replace(key, area_m2=area_m2, edge=_sum(edges.get(key))) for key, area_m2 in areas_m2.items())


def _sum(edges: list[Edge] | None) -> Edge | None:
    if not edges:
        return None
    return Edge(sum(e.edge_w_k for e in edges), sum(e.core_w_k for e in edges))


def part_of_surface(surface: Surface, options: FabricOptions) -> Part:
    """One surface of the plan as a part of the full room.

    The U-value of a slab on ground and of a surface to a heated neighbour is not used: the slab goes by its edge loss
    and the path to the ground below, the neighbour is as warm as the room.
    """
    if not surface.area_m2 > 0.0:
        raise ValueError(f"{surface.kind.value}: area_m2 = {surface.area_m2} must be above 0")
    glass = surface.kind is SurfaceKind.WINDOW
    table = options.films
    return Part(
        kind=surface.kind,
        boundary=surface.boundary,
        area_m2=surface.area_m2,
        tilt_deg=surface.tilt_deg,
        azimuth_deg=Face.of(surface.tilt_deg, surface.azimuth_deg).azimuth_deg,
        make=_glazing(surface) if glass else _layers(surface, options),
        inside_convection_w_m2k=_inside_film_w_m2k(surface.kind, table),
        outside_convection_w_m2k=_outside_film_w_m2k(surface, table),
        inside_emissivity_frac=table.glass_emissivity_frac if glass else table.emissivity_frac,
        outside_emissivity_frac=table.glass_emissivity_frac if glass else table.emissivity_frac,
        inside_absorptance_frac=table.inside_absorptance_frac,
        outside_absorptance_frac=surface.solar_absorptance_frac,
        shading=_shading(surface),
        admitted_frac=surface.shade_frac if glass else 1.0,
        edge=_edge(surface, options),
    )


def _glazing(surface: Surface) -> Glazing:
    shgc_frac = surface.shgc_frac if surface.boundary is Boundary.OUTDOORS else 0.0
    return glazing_from_ratings(surface.u_w_m2k, shgc_frac)


def _shading(surface: Surface) -> Shading | None:
    if surface.kind is not SurfaceKind.WINDOW or surface.overhang_depth_m <= 0.0 or surface.height_m <= 0.0:
        return None
    return Shading(surface.overhang_depth_m, surface.overhang_above_m, surface.height_m)


def _edge(surface: Surface, options: FabricOptions) -> Edge | None:
    if surface.boundary is not Boundary.GROUND or surface.kind is not SurfaceKind.FLOOR:
        return None
    return Edge(surface.exposed_edge_m * surface.edge_w_mk, surface.area_m2 / options.core_m2k_w)


def _layers(surface: Surface, options: FabricOptions) -> Construction:
    stated = options.layers.get((surface.kind, surface.boundary))
    if stated is not None:
        return stated
    name = _construction_name(surface)
    if surface.boundary is Boundary.ADIABATIC or name == "slab on ground":
        return construction(name)
    return stretched_to_u(construction(name), surface.u_w_m2k, _rated_films_m2k_w(surface, options.films))


def _construction_name(surface: Surface) -> str:
    if surface.kind is SurfaceKind.DOOR:
        return "outside door"
    if surface.kind is SurfaceKind.WALL:
        return _wall_name(surface)
    if surface.kind is SurfaceKind.CEILING:
        if surface.boundary is Boundary.ADIABATIC:
            return "inside floor from below"
        return "roof" if surface.boundary is Boundary.OUTDOORS else "attic ceiling"
    if surface.boundary is Boundary.GROUND:
        return "slab on ground"
    if surface.boundary is Boundary.ADIABATIC:
        return "inside floor from above"
    return "concrete floor" if surface.massive else "frame floor"


def _wall_name(surface: Surface) -> str:
    if surface.boundary is Boundary.ADIABATIC:
        return "half partition"
    if surface.boundary is Boundary.GROUND:
        return "basement wall"
    return "masonry wall" if surface.massive else "frame wall"


def _rated_films_m2k_w(surface: Surface, table: Films) -> float:
    inside_m2k_w = {
        SurfaceKind.CEILING: table.rated_inside_up_m2k_w,
        SurfaceKind.FLOOR: table.rated_inside_down_m2k_w,
    }.get(surface.kind, table.rated_inside_wall_m2k_w)
    if surface.boundary is Boundary.OUTDOORS:
        return inside_m2k_w + table.rated_outside_m2k_w
    if surface.boundary is Boundary.GROUND:
        return inside_m2k_w
    return inside_m2k_w + 1.0 / _space_film_w_m2k(surface.kind, table)


def _inside_film_w_m2k(kind: SurfaceKind, table: Films) -> float:
    return {
        SurfaceKind.CEILING: table.inside_ceiling_w_m2k,
        SurfaceKind.FLOOR: table.inside_floor_w_m2k,
        SurfaceKind.WINDOW: table.inside_glass_w_m2k,
    }.get(kind, table.inside_wall_w_m2k)


def _space_film_w_m2k(kind: SurfaceKind, table: Films) -> float:
    return {SurfaceKind.CEILING: table.space_up_w_m2k, SurfaceKind.FLOOR: table.space_down_w_m2k}.get(
        kind, table.space_wall_w_m2k
    )


def _outside_film_w_m2k(surface: Surface, table: Films) -> float:
    if surface.boundary is not Boundary.OUTDOORS:
        return _space_film_w_m2k(surface.kind, table)
    if surface.kind is SurfaceKind.WINDOW:
        return table.outside_glass_w_m2k
    if surface.tilt_deg <= FLAT_DEG:
        return table.outside_roof_w_m2k
    if surface.tilt_deg >= 180.0 - FLAT_DEG:
        return table.outside_underside_w_m2k
    return table.outside_wall_w_m2k


def _part_of_mass(mass: InsideMass, options: FabricOptions) -> Part:
    table = options.films
    return Part(
        kind=mass.kind,
        boundary=Boundary.ADIABATIC,
        area_m2=mass.area_m2,
        tilt_deg=90.0,
        azimuth_deg=0.0,
        make=mass.make,
        inside_convection_w_m2k=_inside_film_w_m2k(mass.kind, table),
        outside_convection_w_m2k=0.0,
        inside_emissivity_frac=table.emissivity_frac,
        outside_emissivity_frac=table.emissivity_frac,
        inside_absorptance_frac=table.inside_absorptance_frac,
        outside_absorptance_frac=0.0,
    )


def inside_masses(plan: Plan, room: int) -> tuple[InsideMass, ...]:
    """Half of every partition and inside floor that a room shares with another, as adiabatic mass."""
    masses: list[InsideMass] = []
    for wall in plan.partitions:
        if room not in (wall.a, wall.b):
            continue
        if not wall.floor:
            masses.append(InsideMass(wall.area_m2, SurfaceKind.WALL, construction("half partition")))
        elif room == wall.upper:
            masses.append(InsideMass(wall.area_m2, SurfaceKind.FLOOR, construction("inside floor from above")))
        else:
            masses.append(InsideMass(wall.area_m2, SurfaceKind.CEILING, construction("inside floor from below")))
    return tuple(masses)
