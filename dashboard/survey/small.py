"""A house as a small picture: its walls, storey beside storey."""

from __future__ import annotations

from collections.abc import Iterator

from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.names import names
from dashboard.survey.draft.shape import Shape, shapes_of, stretches_of, system_of
from dashboard.tokens import PAGE
from proposal.drawing.svg import line, tag

WIDE_PX, HIGH_PX, EDGE_PX, GAP_U = 132.0, 84.0, 5.0, 5.0


def small_house(raw: Raw) -> str:
    """Walls of all storeys; a dashed frame for a house without rooms."""
    shapes = shapes_of(raw)
    inside = list(_walls(raw, shapes)) if shapes else [_empty()]
    box = f"0 0 {WIDE_PX:g} {HIGH_PX:g}"
    size = {"width": WIDE_PX, "height": HIGH_PX}
    return tag("svg", inside, xmlns="http://www.w3.org/2000/svg", viewBox=box, role="presentation", **size)


def _empty() -> str:
    return tag(
        "rect", x=26, y=16, width=WIDE_PX - 52, height=HIGH_PX - 32, fill="none", stroke=PAGE.rule, stroke_width=1.5,
        stroke_dasharray="6 4",
    )  # fmt: skip


def _walls(raw: Raw, shapes: list[Shape]) -> Iterator[str]:
    levels = [level for level in names(raw, "level") if any(shape.level == level for shape in shapes)]
    bounds = [shape.bounds for shape in shapes]
    x0, y0, x1, y1 = (
        min(b[0] for b in bounds),
        min(b[1] for b in bounds),
        max(b[2] for b in bounds),
        max(b[3] for b in bounds),
    )
    wide = (x1 - x0 + GAP_U) * len(levels) - GAP_U
    px_u = min((WIDE_PX - 2 * EDGE_PX) / wide, (HIGH_PX - 2 * EDGE_PX) / (y1 - y0))
    left, top = 0.5 * (WIDE_PX - wide * px_u), 0.5 * (HIGH_PX - (y1 - y0) * px_u)
    for number, level in enumerate(levels):
        shift = left + number * (x1 - x0 + GAP_U) * px_u
        for shape in shapes:
            if shape.level != level:
                continue
            for wall in stretches_of(shape, shapes, system_of(raw)):
                a, b = ((shift + (x - x0) * px_u, top + (y1 - y) * px_u) for x, y in wall.ends)
                yield line(a, b, stroke=PAGE.wall, stroke_width=1.2 if wall.other else 2.4, stroke_linecap="square")
