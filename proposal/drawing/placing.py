"""Finding free places for labels: blocks of lines, obstacles, places tried in a fixed order, leader lines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from proposal.drawing.geometry import Box, Point, box_in_polygon, segment_meets_box, segments_cross
from proposal.drawing.lettering import ASCENT_FRAC, DESCENT_FRAC, Ink, Type, draw, width_px

LINE_GAP_PX = 3.0
FIGURE_ASCENT_FRAC = 0.74
FIGURE_DESCENT_FRAC = 0.06
PAD_PX = 2.5
SIX_PLACES: tuple[Point, ...] = ((0.5, 0.5), (0.5, 0.22), (0.5, 0.78), (0.22, 0.5), (0.78, 0.5), (0.25, 0.25))
"""Shares of the free way across and down a room, in the order in which they are tried."""
_GRID = 15
COVER_COST = 0.7
AWAY_COST = 45.0
OUTSIDE_COST = 150.0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label."""

    text: str
    style: Type
    fill: str
    figure: bool = False
    """A number without tails, which stands closer to what is under it."""

    @property
    def ascent(self) -> float:
        """Height above the base line."""
        return self.style.size_px * (FIGURE_ASCENT_FRAC if self.figure else ASCENT_FRAC)

    @property
    def descent(self) -> float:
        """Depth below the base line."""
        return self.style.size_px * (FIGURE_DESCENT_FRAC if self.figure else DESCENT_FRAC)


@dataclass(frozen=True, slots=True)
class Block:
    """Lines set under each other, centred or flush."""

    lines: tuple[Line, ...]
    anchor: str = "middle"
    cost: float = 0.0
    """How much less it says, or says it smaller, than the fullest block for the same thing."""

    @property
    def width(self) -> float:
        """Width of the widest line."""
        return max(width_px(line.text, line.style) for line in self.lines)

    @property
    def height(self) -> float:
        """Height from the tops of the first line to the tails of the last."""
        return sum(line.ascent + line.descent for line in self.lines) + LINE_GAP_PX * (len(self.lines) - 1)

    def draw(self, box: Box, halo: str | None) -> str:
        """The lines in a box of the block's size."""
        x = {"start": box.x0, "middle": box.centre[0], "end": box.x1}[self.anchor]
        y, parts = box.y0, []
        for line in self.lines:
            parts.append(draw(line.text, (x, y + line.ascent), line.style, Ink(line.fill, halo, self.anchor)))
            y += line.ascent + line.descent + LINE_GAP_PX
        return "".join(parts)


@dataclass(slots=True)
class Ground:
    """What is taken so far on a storey."""

    bounds: Box
    hard: list[Box] = field(default_factory=list)
    soft: list[Box] = field(default_factory=list)
    house: Box | None = None
    """The house itself: a name of something inside it stands outside only if nothing else is free."""
    leaders: list[tuple[Point, Point]] = field(default_factory=list)
    """Lines that further leader lines may not cross."""
    taken: list[Box] = field(default_factory=list)
    """Labels set down so far: among `hard`, and no leader line crosses them."""

    def blocked(self, box: Box) -> bool:
        """Whether a box leaves the picture or covers something that must stay clear."""
        if not self.bounds.holds(box):
            return True
        x0, y0, x1, y1 = box.x0, box.y0, box.x1, box.y1
        for one in self.hard:  # noqa: SIM110 - written out: asked a hundred thousand times for one picture
            if x0 < one.x1 and one.x0 < x1 and y0 < one.y1 and one.y0 < y1:
                return True
        return False

    def covered_px2(self, box: Box) -> float:
        """Area of quiet lines (furniture, moving air) that a box would cover."""
        x0, y0, x1, y1 = box.x0, box.y0, box.x1, box.y1
        return sum(
            box.shared_area(one) for one in self.soft if x0 < one.x1 and one.x0 < x1 and y0 < one.y1 and one.y0 < y1
        )

    def near(self, region: Box) -> Ground:
        """The same ground with only what lies in a region, for many quick looks there."""
        return Ground(
            self.bounds,
            [box for box in self.hard if box.meets(region)],
            [box for box in self.soft if box.meets(region)],
        )

    def take(self, box: Box) -> None:
        """Keep the box of a label clear from now on."""
        self.hard.append(box)
        self.taken.append(box)


@dataclass(frozen=True, slots=True)
class Found:
    """A place for a block."""

    block: Block
    box: Box
    cost: float = 0.0


def _boxes(size: Point, region: Box, shares: Iterator[Point] | tuple[Point, ...]) -> Iterator[tuple[Box, float]]:
    """Boxes in a region at shares of the free way, with their distance from its middle."""
    free_x, free_y = region.width - size[0], region.height - size[1]
    if free_x < 0.0 or free_y < 0.0:
        return
    for share_x, share_y in shares:
        x, y = region.x0 + free_x * share_x, region.y0 + free_y * share_y
        off = math.hypot((share_x - 0.5) * free_x, (share_y - 0.5) * free_y)
        yield Box(x, y, x + size[0], y + size[1]), off


def _fine() -> Iterator[Point]:
    steps = [index / (_GRID - 1) for index in range(_GRID)]
    return ((x, y) for y in steps for x in steps)


def place_in_room(ladder: list[Block], outline: tuple[Point, ...], region: Box, ground: Ground) -> Found | None:
    """The best place for the first block of `ladder` that fits; later ones are smaller and cost more.

    Six fixed places are tried with nothing covered; then a fine grid, where quiet lines may be covered at a cost.
    """
    ground = ground.near(region.grown(PAD_PX + 1.0))
    first = ladder[0]
    for box, _ in _boxes((first.width, first.height), region, SIX_PLACES):
        clear = box.grown(PAD_PX)
        if not ground.blocked(clear) and not ground.covered_px2(clear) and box_in_polygon(clear, outline):
            return Found(first, box)
    best: Found | None = None
    for block in sorted(ladder, key=lambda one: one.cost):
        floor = block.cost
        if best is not None and best.cost <= floor:
            break
        for box, off in _boxes((block.width, block.height), region, _fine()):
            clear = box.grown(PAD_PX)
            if (best is not None and floor + off >= best.cost) or ground.blocked(clear):
                continue
            cost = floor + ground.covered_px2(box.grown(1.0)) * COVER_COST + off
            if (best is None or cost < best.cost) and box_in_polygon(clear, outline):
                best = Found(block, box, cost)
    return best


def beside(block: Block, target: Box, gap_px: float, ground: Ground, fence: tuple[Point, ...] | None) -> Found | None:
    """The first of six places round a target, wholly free and (if given) within a polygon."""
    wide, high = block.width, block.height
    cx, cy = target.centre
    right, left = target.x1 + gap_px, target.x0 - gap_px - wide
    above, below = target.y0 - gap_px - high, target.y1 + gap_px
    for x, y in (
        (right, cy - high / 2.0),
        (left, cy - high / 2.0),
        (cx - wide / 2.0, below),
        (cx - wide / 2.0, above),
        (target.x0 + 3.0, below),
        (target.x1 - wide - 3.0, above),
    ):
        box = Box(x, y, x + wide, y + high)
        if ground.blocked(box.grown(2.0)) or ground.covered_px2(box) > 0.0:
            continue
        if fence is None or box_in_polygon(box, fence):
            return Found(block, box)
    return None


def _away_cost(box: Box, ground: Ground, home: tuple[Point, ...] | None) -> float:
    """Extra cost of a label out of its thing's own room, and more if out of the house."""
    if home is None or box_in_polygon(box, home):
        return 0.0
    return OUTSIDE_COST if ground.house is not None and not ground.house.meets(box) else AWAY_COST


@dataclass(frozen=True, slots=True)
class Leader:
    """A label away from its thing, and the line between them."""

    found: Found
    start: Point
    end: Point


def with_leader(
    block: Block, target: Box, ground: Ground, reach_px: float, home: tuple[Point, ...] | None
) -> Leader | None:
    """The nearest free place for a block round a target, joined by a line that crosses no label or unit.

    Walls may be crossed by the line, not by the block. `target` itself may be in `ground.hard`. A place in the polygon
    `home` is worth a longer line.
    """
    wide, high = block.width, block.height
    cx, cy = target.centre
    crossable = [box for box in ground.hard if min(box.width, box.height) > 9.0 and not box.meets(target)]
    crossable += ground.taken
    best: Leader | None = None
    for ring in range(1, int(reach_px / 9.0)):
        away = ring * 9.0
        for turn in range(24):
            angle = math.radians(turn * 15.0)
            x = cx + math.cos(angle) * (away + target.width / 2.0 + wide / 2.0)
            y = cy + math.sin(angle) * (away + target.height / 2.0 + high / 2.0)
            box = Box(x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0)
            if ground.blocked(box.grown(1.5)):
                continue
            start = box.grown(2.0).nearest((cx, cy))
            end = target.nearest(start)
            if best is not None and math.dist(start, end) >= best.found.cost:
                continue
            if any(segment_meets_box(start, end, other) for other in crossable):
                continue
            if any(segments_cross((start, end), other) for other in ground.leaders):
                continue
            cost = math.dist(start, end) + COVER_COST * ground.covered_px2(box)
            cost += _away_cost(box, ground, home)
            if best is None or cost < best.found.cost:
                best = Leader(Found(block, box, cost), start, end)
        if best is not None and away > best.found.cost:
            return best
    return best
