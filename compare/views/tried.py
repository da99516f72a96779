"""What the table page may show of a unit tried on a wall, and of a bed or seat that was moved. No cost, no margin."""

from __future__ import annotations

from compare.views.customer import OptionCard
from compare.views.plan_view import Point, ViewModel


class WallTarget(ViewModel):
    """One stretch of a room's wall that can be pointed at."""

    room: int
    wall: int
    room_name: str
    facing: str
    """As in `north` or `south-west`."""
    outside: bool
    beyond: str
    """Name of the room behind it; empty where there is none."""


class RoomStay(ViewModel):
    """A room that stays away from what it should have, and why."""

    room: int
    name: str
    value_c: float
    target_c: float
    cause: str
    """`door`, `door_and_way`, `way`, `stairs`, `walls` or `short`; see `compare.trials.warmth.cause_of`."""
    open_c: float
    """The same moment with every inside door open and a unit for all that then lean on it."""
    shut_doors: int
    """Doors on its way to the nearest room with a supply that are shut at that hour."""
    doorways: int
    """Doors, openings and stairs on the way to the nearest room with a supply; 0 without a way."""
    stairs: int
    way_m: float
    """Length of that way; 0 without one."""
    needs_w: float
    """Design heating load of the room."""
    arrives_w: float
    """Heat that it gets through inside walls and doors at that hour."""


class PieceLine(ViewModel):
    """A bed or a seat and what it gets of the units of an option."""

    piece: int
    """Number of the piece: room by room, beds before seats."""
    room_name: str
    kind: str
    bed: bool
    level_dba: float
    """95th percentile night (bed) or evening (seat)."""
    felt_frac: float
    """Share of people whom the moving air would bother there."""


class TriedView(ViewModel):
    """A unit on a wall. Without a card the wall is no place for one, for the reasons in `against`."""

    target: WallTarget
    level: int
    at_m: Point
    """Where it hangs, or was wanted."""
    kind: str
    """`wall head` or `floor console`."""
    beside: str
    """Id of the option that it is added to; empty for the house's only unit."""
    against: tuple[str, ...]
    wall_against: str
    """Why it is no wall unit; empty where it is one."""
    pointed_against: str
    moved_m: float
    room_area_m2: float
    line_most_m: float
    """Longest line of a small unit to its outdoor unit."""
    wall_least_m: float
    """Lowest room in which a wall unit hangs."""
    card: OptionCard | None = None
    cold: tuple[RoomStay, ...] = ()
    """Coldest first, on the coldest mornings at 6."""
    hot: tuple[RoomStay, ...] = ()
    """Hottest first, on the hottest days."""
    pieces: tuple[PieceLine, ...] = ()
    """Beds and seats that hear or feel the tried unit."""


class PlaceChoice(ViewModel):
    """A place that a piece can be put to without pointing."""

    facing: str
    """The way the wall behind it faces; empty for the middle of the room."""
    at_m: Point


class PieceTarget(ViewModel):
    """A bed or a seat that can be moved."""

    piece: int
    room_name: str
    level: int
    kind: str
    at_m: Point
    corners_m: tuple[Point, ...]
    moved: bool
    by_wall: str
    """The way the wall faces by which it stands; empty out in the room."""
    choices: tuple[PlaceChoice, ...]


class SeatStory(ViewModel):
    """What moving a piece does to one option: before, after, and whether its unit hangs elsewhere now."""

    option: str
    before: PieceLine | None
    after: PieceLine | None
    """None where no unit is heard or felt at the piece."""
    unit_before: str
    unit_after: str
    """The way the wall faces on which the room unit hangs that the piece hears; empty for ceilings and ducts."""
    unit_moved_m: float
    unit_turned_deg: float
    """How far the way has turned into which it blows."""


class Targets(ViewModel):
    """All that can be pointed at on the plan."""

    walls: tuple[WallTarget, ...]
    pieces: tuple[PieceTarget, ...]
