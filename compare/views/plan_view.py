"""The house as a drawing needs it: rooms, walls, doors as they stand, windows, furniture. Metres on the plan."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

Point = tuple[float, float]


class ViewModel(BaseModel):
    """Base of every view: frozen, and no field that is not declared."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class RoomShape(ViewModel):
    """One room on its level; `index` is the canonical room index used everywhere in the view."""

    index: int
    name: str
    use: str
    level: int
    outline_m: tuple[Point, ...]
    area_m2: float
    sleepers: float


class WallLine(ViewModel):
    """A piece of wall between two points; outside walls are drawn thicker."""

    level: int
    start_m: Point
    end_m: Point
    outside: bool


class WindowLine(ViewModel):
    """A window or an outside door as a piece of an outside wall."""

    level: int
    start_m: Point
    end_m: Point
    door: bool


class DoorLine(ViewModel):
    """An inside door, opening or stair between two rooms."""

    level: int
    kind: str
    """`door`, `opening` or `stair`."""
    rooms: tuple[int, int]
    start_m: Point
    end_m: Point
    """Ends of the gap in the wall."""
    open_by_night: bool
    open_by_day: bool


class FurniturePiece(ViewModel):
    """A bed (at its pillow) or a seat; `corners_m` is the floor that it takes, the back edge first."""

    level: int
    room: int
    kind: str
    at_m: Point
    sleepers: float = 0.0
    corners_m: tuple[Point, ...] = ()


class LevelView(ViewModel):
    """One storey."""

    level: int
    name: str


class PlanView(ViewModel):
    """Everything of the house that is drawn the same for every option."""

    levels: tuple[LevelView, ...]
    rooms: tuple[RoomShape, ...]
    walls: tuple[WallLine, ...]
    windows: tuple[WindowLine, ...]
    doors: tuple[DoorLine, ...]
    furniture: tuple[FurniturePiece, ...]
    north_deg: float
    """True bearing of the plan's up direction."""


class UnitMark(ViewModel):
    """An indoor unit or a room heater on the plan, at the middle of its back edge; a concealed unit at its middle."""

    kind: str
    """`wall head`, `floor console`, `ceiling cassette`, `concealed unit` or `room heater`."""
    tag: str
    level: int
    room: int
    """Room index; -1 for a concealed unit outside the rooms (attic, crawlspace)."""
    at_m: Point
    blows_deg: float
    """True bearing of the air it blows (0 north, 90 east)."""
    width_m: float
    depth_m: float
    above_ceiling: bool = False
    height_m: float = 0.0
    """Height of its front; 0 for a concealed unit."""


class DuctRun(ViewModel):
    """One piece of duct, a polyline of true width; ends with an outlet in `room` where it serves one."""

    level: int
    points_m: tuple[Point, ...]
    width_m: float
    room: int = -1
    is_return: bool = False


class OutdoorMark(ViewModel):
    """An outdoor unit beside the house."""

    tag: str
    level: int
    at_m: Point
    side: str
    serves: tuple[str, ...]
    """Tags of the indoor units on it."""


class OptionDrawing(ViewModel):
    """What one option adds to the plan."""

    units: tuple[UnitMark, ...]
    ducts: tuple[DuctRun, ...]
    outdoor: tuple[OutdoorMark, ...]
