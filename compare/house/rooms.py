"""Rooms of the house file and what is drawn on them: levels, rooms, windows, doors, openings, stairs, beds, seats."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

from compare.house.plan import Use
from compare.house.values import Count, Hours, Name, Place, Quantities, Quantity, Word, default, refusal

MOST_CORNERS = 40
OPEN_OR_SHUT = {"open": 1.0, "shut": 0.0}


class Table(BaseModel):
    """A table of the house file: every key known, every number finite, nothing changed after reading.

    What checks it is built when it is first asked for: most tables are only read as parts of the whole file.
    """

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False, defer_build=True)


class Below(StrEnum):
    """What lies under a floor that has no room under it."""

    SLAB = "slab on ground"
    CRAWLSPACE = "vented crawlspace"
    BASEMENT = "unheated basement"
    OUTDOORS = "outdoors"
    GARAGE = "garage"
    NEIGHBOUR = "heated neighbour"


class Above(StrEnum):
    """What lies over a ceiling that has no room over it."""

    ATTIC = "vented attic"
    ROOF = "roof"
    NEIGHBOUR = "heated neighbour"


class Beyond(StrEnum):
    """What lies behind an outside wall that does not face the open air."""

    GARAGE = "garage"
    BASEMENT = "unheated basement"
    NEIGHBOUR = "heated neighbour"


class Side(StrEnum):
    """Side of the plan that a wall faces; N is the top of the plan."""

    N = "N"
    NE = "NE"
    E = "E"
    SE = "SE"
    S = "S"
    SW = "SW"
    W = "W"
    NW = "NW"

    @property
    def plan_deg(self) -> float:
        """Bearing on the plan, clockwise from its top."""
        return 45.0 * list(Side).index(self)


class Level(Table):
    """A storey; the file lists levels from the lowest up."""

    name: Name
    height_m: Annotated[float, Quantity("level.height")] = Field(
        default_factory=default("level.height"), alias="height"
    )
    below: Annotated[Below | None, Word(Below)] = None
    above: Annotated[Above, Word(Above)] = Above.ATTIC


class Room(Table):
    """A room drawn on its level as a rectangle (`at` and `size`) or an outline."""

    name: Name
    level: Name
    use: Annotated[Use, Word(Use)]
    at_m: Place | None = Field(default=None, alias="at")
    """Lower left corner of the rectangle."""
    size_m: Annotated[
        tuple[float, float] | None, Quantities((Quantity("room.size"), Quantity("room.size")), "[12, 11.5]")
    ] = Field(default=None, alias="size")
    outline_m: list[Place] | None = Field(default=None, alias="outline", min_length=3, max_length=MOST_CORNERS)
    regular: bool = True
    height_m: Annotated[float | None, Quantity("room.height")] = Field(default=None, alias="height")
    above: Annotated[Above | None, Word(Above)] = None
    below: Annotated[Below | None, Word(Below)] = None
    target_c: Annotated[float | None, Quantity("room.target")] = Field(default=None, alias="target")
    use_hours: Annotated[frozenset[int] | None, Hours()] = None

    @model_validator(mode="after")
    def _one_shape(self) -> Room:
        drawn = (self.at_m is not None, self.size_m is not None, self.outline_m is not None)
        if drawn not in {(True, True, False), (False, False, True)}:
            raise refusal(
                "draw the room either by at = [x, y] and size = [width, depth], or by outline = [[x, y], ...]"
            )
        return self

    def corners_m(self) -> list[tuple[float, float]]:
        """Corners of the room on its level's plan, in the order of the file."""
        if self.outline_m is not None:
            return list(self.outline_m)
        (x, y), (wide, deep) = self.at_m or (0.0, 0.0), self.size_m or (0.0, 0.0)
        return [(x, y), (x + wide, y), (x + wide, y + deep), (x, y + deep)]


class Wall(Table):
    """What lies behind one side of a room where it is not the open air."""

    room: Name
    side: Annotated[Side, Word(Side)]
    beyond: Annotated[Beyond, Word(Beyond)]


def _one_area(area: float | None, width: float | None, height: float | None) -> None:
    if (area is None) == (width is None) or (width is None) != (height is None):
        raise refusal("give either area, or width and height")


class Window(Table):
    """A window in an outside wall of a room."""

    room: Name
    wall: Annotated[Side, Word(Side)]
    written_area_m2: Annotated[float | None, Quantity("window.area")] = Field(default=None, alias="area")
    width_m: Annotated[float | None, Quantity("window.width")] = Field(default=None, alias="width")
    written_height_m: Annotated[float | None, Quantity("window.height")] = Field(default=None, alias="height")
    count: Annotated[int, Count(1, 20)] = 1
    u_w_m2k: Annotated[float | None, Quantity("window.u")] = Field(default=None, alias="u")
    shgc_frac: Annotated[float | None, Quantity("window.shgc")] = Field(default=None, alias="shgc")
    shade_frac: Annotated[float, Quantity("window.shade")] = Field(
        default_factory=default("window.shade"), alias="shade"
    )
    overhang_m: Annotated[float, Quantity("window.overhang")] = Field(
        default_factory=default("window.overhang"), alias="overhang"
    )
    overhang_above_m: Annotated[float, Quantity("window.overhang_above")] = Field(
        default_factory=default("window.overhang_above"), alias="overhang_above"
    )

    @model_validator(mode="after")
    def _one_size(self) -> Window:
        if self.written_area_m2 is None or self.width_m is not None:
            _one_area(self.written_area_m2, self.width_m, self.written_height_m)
        return self

    @property
    def area_m2(self) -> float:
        """Area of all `count` panes together, rough opening."""
        one = self.written_area_m2 if self.written_area_m2 is not None else (self.width_m or 0.0) * self.height_m
        return one * self.count

    @property
    def height_m(self) -> float:
        """Height of the window."""
        return self.written_height_m if self.written_height_m is not None else default("window.height")()


class Door(Table):
    """An inside door between two rooms, or an outside door in a wall of one room."""

    between: list[Name] | None = Field(default=None, min_length=2, max_length=2)
    room: Name | None = None
    wall: Annotated[Side | None, Word(Side)] = None
    written_area_m2: Annotated[float | None, Quantity("door.area")] = Field(default=None, alias="area")
    width_m: Annotated[float, Quantity("door.width")] = Field(default_factory=default("door.width"), alias="width")
    height_m: Annotated[float, Quantity("door.height")] = Field(default_factory=default("door.height"), alias="height")
    undercut_m: Annotated[float, Quantity("door.undercut")] = Field(
        default_factory=default("door.undercut"), alias="undercut"
    )
    day_open_frac: Annotated[float, Quantity("door.day", OPEN_OR_SHUT)] = Field(
        default_factory=default("door.day"), alias="day"
    )
    night_open_frac: Annotated[float, Quantity("door.night", OPEN_OR_SHUT)] = Field(
        default_factory=default("door.night"), alias="night"
    )
    at_m: Place | None = Field(default=None, alias="at")
    u_w_m2k: Annotated[float | None, Quantity("door.u")] = Field(default=None, alias="u")

    @model_validator(mode="after")
    def _inside_or_outside(self) -> Door:
        if self.between is not None:
            if self.room is not None or self.wall is not None or self.written_area_m2 is not None:
                raise refusal("an inside door has between = [room, room], width and height, no room, wall or area")
            if self.u_w_m2k is not None:
                raise refusal("u belongs to an outside door only")
            return self
        if self.room is None or self.wall is None:
            raise refusal('write between = ["room", "room"] for an inside door, or room and wall for an outside door')
        if self.model_fields_set & {"undercut_m", "day_open_frac", "night_open_frac", "at_m"}:
            raise refusal("undercut, day, night and at belong to an inside door only")
        if self.written_area_m2 is not None and self.model_fields_set & {"width_m", "height_m"}:
            raise refusal("give either area, or width and height")
        return self

    @property
    def area_m2(self) -> float:
        """Area of the door."""
        return self.written_area_m2 if self.written_area_m2 is not None else self.width_m * self.height_m


class Opening(Table):
    """An opening without a door between two rooms."""

    between: list[Name] = Field(min_length=2, max_length=2)
    width_m: Annotated[float, Quantity("opening.width")] = Field(alias="width")
    height_m: Annotated[float, Quantity("opening.height")] = Field(
        default_factory=default("opening.height"), alias="height"
    )
    at_m: Place | None = Field(default=None, alias="at")


class Stair(Table):
    """An open stair from a room to a room of the level above."""

    lower: Name
    upper: Name
    width_m: Annotated[float, Quantity("stair.width")] = Field(default_factory=default("stair.width"), alias="width")
    height_m: Annotated[float, Quantity("stair.height")] = Field(
        default_factory=default("stair.height"), alias="height"
    )
    at_m: Place | None = Field(default=None, alias="at")


class BedPlace(Table):
    """A pillow on the plan."""

    room: Name
    at_m: Place = Field(alias="at")
    sleepers: Annotated[float, Quantity("bed.sleepers")] = Field(default_factory=default("bed.sleepers"))
    regular: bool | None = None


class SeatKind(StrEnum):
    """What people sit at."""

    SOFA = "sofa"
    TABLE = "table"
    DESK = "desk"


class SeatPlace(Table):
    """A sofa, desk or table place on the plan."""

    room: Name
    at_m: Place = Field(alias="at")
    kind: Annotated[SeatKind, Word(SeatKind)] = SeatKind.SOFA
