"""What the parts of a draft's plan are drawn on: the frame, the rooms of the shown storey, colours and scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from compare.units import System
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.shape import Point, Shape, Stretch
from dashboard.survey.marks import Standing
from proposal.drawing.svg import line, points_path, tag
from proposal.drawing.theme import LIGHT, Theme

ROUND_PX = (34.0, 42.0, 34.0, 40.0)
NARROW_ROUND_PX = (30.0, 34.0, 32.0, 10.0)
"""Free border: top, right, bottom, left."""
NARROW_PX = 500.0
SPARE_U = {System.US: 4.0, System.SI: 1.2}
LEAST_U = {System.US: (30.0, 20.0), System.SI: (9.0, 6.0)}
TARGET_PX = 44.0
HANDLE_PX = 15.0
LETTER = 0.56
"""Width of a letter as a share of the size of type."""
Span = tuple[float, float, float, float]
"""Least x and y, greatest x and y."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What is shown of a draft."""

    level: str
    chosen: str = ""
    width_px: float = 744.0
    most_high_px: float = 620.0
    theme: Theme = LIGHT
    heat: Mapping[str, str] = field(default_factory=dict)
    """Loads to write into rooms, by name: heating and cooling in two texts parted by a line break."""
    faulty: frozenset[str] = frozenset()
    """Rooms with something to mend."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Where plan units lie on the picture."""

    left_u: float
    top_u: float
    px_u: float
    wide_px: float
    high_px: float
    round_px: tuple[float, float, float, float] = ROUND_PX

    def at(self, point: Point) -> Point:
        """A point of the plan on the picture."""
        top, _, _, left = self.round_px
        return left + (point[0] - self.left_u) * self.px_u, top + (self.top_u - point[1]) * self.px_u


def frame_of(shapes: Sequence[Shape], shown: Shown, system: System) -> Frame:
    """A frame round all rooms, with free ground about them."""
    narrow = shown.width_px < NARROW_PX
    border = NARROW_ROUND_PX if narrow else ROUND_PX
    spare, (least_wide, least_high) = SPARE_U[system] * (0.6 if narrow else 1.0), LEAST_U[system]
    bounds = [shape.bounds for shape in shapes] or [(spare, spare, least_wide - spare, least_high - spare)]
    x0, y0 = min(b[0] for b in bounds) - spare, min(b[1] for b in bounds) - spare
    x1, y1 = max(b[2] for b in bounds) + spare, max(b[3] for b in bounds) + spare
    wide, high = max(x1 - x0, least_wide), max(y1 - y0, least_high)
    free = shown.width_px - border[1] - border[3]
    px_u = max(0.5, min(free / wide, (shown.most_high_px - border[0] - border[2]) / high))
    wide = max(wide, free / px_u)
    left = 0.5 * (x0 + x1) - 0.5 * wide
    return Frame(left, y0 + high, px_u, shown.width_px, high * px_u + border[0] + border[2], border)


@dataclass(frozen=True, slots=True)
class Canvas:
    """A draft, what is shown of it, and where it lies on the picture."""

    raw: Raw
    shown: Shown
    frame: Frame
    system: System
    here: list[Shape]
    edges: list[Stretch]
    """Every piece of wall of the storey, from both sides."""
    standing: list[Standing]

    @property
    def theme(self) -> Theme:
        """Colours."""
        return self.shown.theme

    def px(self, length_u: float, least: float = 0.0) -> float:
        """A length on the picture."""
        return max(least, length_u * self.frame.px_u)

    def feet(self, feet: float) -> float:
        """Feet in the file's unit."""
        return feet if self.system is System.US else feet * 0.3048

    def outline(self, shape: Shape) -> str:
        """Path of a room's outline."""
        return points_path([self.frame.at(corner) for corner in shape.corners], closed=True)

    def unit(self) -> str:
        """Word of the unit of lengths."""
        return "ft" if self.system is System.US else "m"

    def hit(self, ref: str, a: Point, b: Point, parts: list[str], told: str) -> str:
        """Something in a wall that can be tapped, with a wide unseen line to hit it by."""
        chosen = ref == self.shown.chosen
        reach = line(a, b, stroke="#000", stroke_opacity=0, stroke_width=26, stroke_linecap="round", class_="reach")
        return tag(
            "g",
            [*parts, reach],
            data_ref=ref,
            data_drag="thing" if chosen else None,
            tabindex="0",
            role="button",
            aria_label=told,
            aria_pressed=str(chosen).lower(),
            class_="hit",
        )


def size_text(value: float) -> str:
    """A length with at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
