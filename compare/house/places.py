"""Places that the surveyor found: for a concealed unit, for a room unit, for an outdoor unit."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from compare.house.plan import SpaceKind
from compare.house.rooms import Side, Table
from compare.house.values import Count, Name, Notes, Place, Quantities, Quantity, Word, default

_SIZE = Quantity("unit_space.size")
_CLEAR = Quantity("unit_space.clear")
INSIDE_KINDS = frozenset({SpaceKind.HALL_DROP, SpaceKind.CLOSET})


class UnitSpacePlace(Table):
    """A space where a concealed ducted unit could go."""

    name: Name
    kind: Annotated[SpaceKind, Word(SpaceKind)]
    level: Name
    """Level whose rooms its ducts reach."""
    at_m: Place = Field(alias="at")
    size_m: Annotated[tuple[float, float], Quantities((_SIZE, _SIZE), "[24, 3.5]")] = Field(alias="size")
    clear_m: Annotated[
        tuple[float, float, float], Quantities((_CLEAR, _CLEAR, _CLEAR), '["288 in", "40 in", "9 in"]')
    ] = Field(alias="clear")
    """Clear length, width and height."""
    inside: bool | None = None
    """Within the insulated house; left out: ceiling drops and closets are, the rest is not."""
    serves: list[Name] = Field(default_factory=list, max_length=60)
    service: Notes = ""
    """Side from which it is serviced."""
    drain_fall_m: Annotated[float | None, Quantity("unit_space.drain_fall")] = Field(default=None, alias="drain_fall")
    notes: Notes = ""

    @property
    def inside_envelope(self) -> bool:
        """Whether the space lies within the insulated house."""
        return self.kind in INSIDE_KINDS if self.inside is None else self.inside


class HeadPlace(Table):
    """A place where a room unit could hang."""

    room: Name
    at_m: Place = Field(alias="at")
    throws: Annotated[Side, Word(Side)]
    outside_wall: bool | None = None
    """Left out: from the plan."""
    notes: Notes = ""


class OutdoorPlace(Table):
    """A place for an outdoor unit."""

    name: Name
    at_m: Place = Field(alias="at")
    side: Annotated[Side, Word(Side)]
    property_line_m: Annotated[float, Quantity("outdoor_spot.property_line")] = Field(
        default_factory=default("outdoor_spot.property_line"), alias="property_line"
    )
    bedroom_window_m: Annotated[float | None, Quantity("outdoor_spot.bedroom_window")] = Field(
        default=None, alias="bedroom_window"
    )
    units: Annotated[int, Count(1, 6)] = 1
    """Outdoor units that can stand here side by side."""
    notes: Notes = ""
