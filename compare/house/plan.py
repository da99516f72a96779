"""The house as the physics sees it: rooms with their surfaces, and what joins them.

Everything here is derived from a validated house file by `compare.house.geometry`. All floats are SI with a
unit suffix. Rooms stand in a canonical order (level, then south-west corner, then area), so that neither names
nor the order in the file reach a result. An index into `Plan.rooms` is called a *room index*.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum


class Use(StrEnum):
    """What a room is used for; decides use hours, targets and whether it counts as habitable."""

    LIVING = "living"
    DINING = "dining"
    KITCHEN = "kitchen"
    BEDROOM = "bedroom"
    WORK = "work"
    HOBBY = "hobby"
    BATH = "bath"
    HALL = "hall"
    ENTRY = "entry"
    LAUNDRY = "laundry"
    STORAGE = "storage"


HABITABLE = frozenset({Use.LIVING, Use.DINING, Use.KITCHEN, Use.BEDROOM, Use.WORK, Use.HOBBY})


class Boundary(StrEnum):
    """What lies on the far side of a surface."""

    OUTDOORS = "outdoors"
    ATTIC = "vented attic"
    CRAWLSPACE = "vented crawlspace"
    BASEMENT = "unheated basement"
    GARAGE = "garage"
    GROUND = "slab on ground"
    ADIABATIC = "heated neighbour"


class SurfaceKind(StrEnum):
    """Which part of a room's envelope a surface is."""

    WALL = "wall"
    WINDOW = "window"
    DOOR = "outside door"
    CEILING = "ceiling"
    FLOOR = "floor"


@dataclass(frozen=True, slots=True)
class Surface:
    """One flat piece of a room's envelope (net area: openings taken out of their wall).

    `azimuth_deg` is the true bearing of the outward normal (0 north, 90 east); for horizontals it is 0.
    `tilt_deg` is 0 for a roof facing up, 90 for a wall, 180 for a floor facing down.
    """

    kind: SurfaceKind
    boundary: Boundary
    area_m2: float
    azimuth_deg: float
    tilt_deg: float
    u_w_m2k: float
    solar_absorptance_frac: float = 0.6
    shgc_frac: float = 0.0
    shade_frac: float = 1.0
    """Factor on sun admitted by an interior shade, as used through the year (1 = none)."""
    overhang_depth_m: float = 0.0
    overhang_above_m: float = 0.0
    """Gap between the window head and the overhang."""
    height_m: float = 0.0
    """Height of a window or wall."""
    exposed_edge_m: float = 0.0
    """Slab on ground only: length of edge exposed to outdoors."""
    edge_w_mk: float = 0.0
    """Slab on ground only: edge loss per metre."""
    massive: bool = False
    """True for masonry walls and concrete floors (heavy layers inside)."""


@dataclass(frozen=True, slots=True)
class Bed:
    """A pillow on the plan."""

    x_m: float
    y_m: float
    sleepers: float
    regular: bool


@dataclass(frozen=True, slots=True)
class Seat:
    """A sofa, desk or table place on the plan."""

    x_m: float
    y_m: float
    kind: str


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """One room with its geometry, use and envelope surfaces."""

    name: str
    level: int
    use: Use
    outline_m: tuple[tuple[float, float], ...]
    """Corners on the level's plan, counter-clockwise, x east and y plan-north."""
    height_m: float
    area_m2: float
    volume_m3: float
    surfaces: tuple[Surface, ...]
    beds: tuple[Bed, ...] = ()
    seats: tuple[Seat, ...] = ()
    regular: bool = True
    """False for guest rooms and other rooms that are seldom used."""
    use_hours: frozenset[int] = frozenset()
    """Clock hours 0-23 in which the room's comfort and noise are judged (hour h means h to h+1)."""
    target_c: float = 20.0
    """Lowest temperature that is right in its use hours (night target for a bedroom)."""

    @property
    def habitable(self) -> bool:
        """Whether the room counts in load match (living, dining, kitchen, bedroom, work, hobby)."""
        return self.use in HABITABLE

    @property
    def sleepers(self) -> float:
        """People who sleep here; guests count as the file says."""
        return sum(bed.sleepers for bed in self.beds)


@dataclass(frozen=True, slots=True)
class Partition:
    """An inside wall or a floor between two rooms. For a floor, `upper` is the room above."""

    a: int
    b: int
    area_m2: float
    u_w_m2k: float
    floor: bool = False
    upper: int = -1


class LinkKind(StrEnum):
    """How air can pass between two rooms."""

    DOOR = "door"
    OPENING = "opening"
    STAIR = "stair"


@dataclass(frozen=True, slots=True)
class Link:
    """A door, an opening without a door, or an open stair between two rooms.

    `day_open_frac` and `night_open_frac` say how far it stands open, as a share of the time (1 = always open).
    For a stair `a` is the lower room.
    """

    kind: LinkKind
    a: int
    b: int
    width_m: float
    height_m: float
    undercut_m: float = 0.0127
    day_open_frac: float = 1.0
    night_open_frac: float = 1.0
    x_m: float = 0.0
    y_m: float = 0.0
    label: str = ""

    def open_frac(self, night: bool) -> float:
        """Share of the time the link stands open, by night or by day."""
        return self.night_open_frac if night else self.day_open_frac


class SpaceKind(StrEnum):
    """Where a concealed unit and its ducts can go."""

    HALL_DROP = "ceiling drop"
    CLOSET = "closet"
    ATTIC = "attic"
    CRAWLSPACE = "crawlspace"
    BASEMENT = "basement"


@dataclass(frozen=True, slots=True)
class UnitSpace:
    """A place for a concealed ducted unit."""

    name: str
    kind: SpaceKind
    level: int
    """Level whose rooms its ducts reach."""
    inside_envelope: bool
    x0_m: float
    y0_m: float
    x1_m: float
    y1_m: float
    clear_length_m: float
    clear_width_m: float
    clear_height_m: float
    serves: tuple[int, ...]
    """Room indices that its ducts can reach; empty means any room of its level."""
    drain_fall_m: float | None = None
    service_side: str = ""


@dataclass(frozen=True, slots=True)
class WallPlace:
    """A place on a wall (or ceiling) where a room unit could hang, named by the surveyor or generated."""

    room: int
    x_m: float
    y_m: float
    throws_deg: float
    """True bearing into which it blows."""
    outside_wall: bool
    label: str = ""


@dataclass(frozen=True, slots=True)
class OutdoorSpot:
    """A place for an outdoor unit."""

    name: str
    x_m: float
    y_m: float
    side: str
    property_line_m: float
    bedroom_window_m: float | None = None
    capacity: int = 1
    """Outdoor units that can stand here side by side."""


@dataclass(frozen=True, slots=True)
class WallOpening:
    """A window or an outside door in an outside wall, between two points of the plan."""

    room: int
    start_m: tuple[float, float]
    end_m: tuple[float, float]
    door: bool
    sill_m: float
    head_m: float
    """Heights of its lower and upper edge over the floor."""

    @property
    def width_m(self) -> float:
        """Width along the wall."""
        return math.dist(self.start_m, self.end_m)


@dataclass(frozen=True, slots=True)
class Furnishing:
    """A bed or seat as a piece of furniture: the floor that it takes, its height, and the way it faces on the plan."""

    room: int
    kind: str
    corners_m: tuple[tuple[float, float], ...]
    facing_deg: float
    """Plan bearing away from its back (0 = plan-north)."""
    height_m: float


@dataclass(frozen=True, slots=True)
class Plan:
    """Every room of the house in canonical order, and what joins them."""

    rooms: tuple[RoomPlan, ...]
    partitions: tuple[Partition, ...]
    links: tuple[Link, ...]
    open_spaces: tuple[tuple[int, ...], ...]
    """Every room once: rooms joined by openings of at least 1.2 m without a door share an entry."""
    unit_spaces: tuple[UnitSpace, ...] = ()
    wall_places: tuple[WallPlace, ...] = ()
    outdoor_spots: tuple[OutdoorSpot, ...] = ()
    level_names: tuple[str, ...] = field(default=())
    wall_openings: tuple[WallOpening, ...] = ()
    furnishings: tuple[Furnishing, ...] = ()

    def space_of(self, room: int) -> tuple[int, ...]:
        """The open space that holds a room."""
        return next(space for space in self.open_spaces if room in space)
