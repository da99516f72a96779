"""Marks of the office's chart: a shape for each kind of layout, filled for what is quoted, hollow for what could be."""

from __future__ import annotations

from dataclasses import dataclass

from proposal.drawing import svg
from proposal.drawing.svg import number
from proposal.drawing.theme import Theme

R_PX = 8.5
HOLLOW_PX = 1.9
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mark:
    """One layout in the chart: where it stands, its kind, and how it is told."""

    comfort: float
    margin_pct: float
    kind: str
    label: str = ""
    hollow: bool = False
    recommended: bool = False
    """First for the family of its house: plum."""


def _disc(x: float, y: float) -> str:
    r = number(R_PX)
    return f"M{number(x - R_PX)} {number(y)}a{r} {r} 0 1 1 {number(2 * R_PX)} 0a{r} {r} 0 1 1 {number(-2 * R_PX)} 0Z"


def _square(x: float, y: float) -> str:
    half = 0.9 * R_PX
    return svg.points_path([(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)],
                           closed=True)  # fmt: skip


def _diamond(x: float, y: float) -> str:
    half = 1.2 * R_PX
    return svg.points_path([(x, y - half), (x + half, y), (x, y + half), (x - half, y)], closed=True)


def _triangle(x: float, y: float) -> str:
    half = 1.1 * R_PX
    return svg.points_path([(x, y - half), (x + half, y + 0.8 * half), (x - half, y + 0.8 * half)], closed=True)


def _half_and_half(x: float, y: float) -> str:
    half = 0.9 * R_PX
    r = number(half)
    return (
        f"M{number(x)} {number(y - half)}H{number(x + half)}V{number(y + half)}H{number(x)}"
        f"A{r} {r} 0 0 1 {number(x)} {number(y - half)}Z"
    )


def _capsule(x: float, y: float) -> str:
    r, long_ = 0.62 * R_PX, 0.75 * R_PX
    return (
        f"M{number(x - long_)} {number(y - r)}H{number(x + long_)}A{number(r)} {number(r)} 0 0 1 {number(x + long_)} "
        f"{number(y + r)}H{number(x - long_)}A{number(r)} {number(r)} 0 0 1 {number(x - long_)} {number(y - r)}Z"
    )


SHAPES = {
    "mix": _half_and_half,
    "single_head": _disc,
    "few_heads": _capsule,
    "heads_and_heaters": _triangle,
    "head_each": _square,
    "ducted_all": _diamond,
}
KEYS = (
    ("mix", "mix"),
    ("single_head", "one wall unit"),
    ("few_heads", "two wall units"),
    ("heads_and_heaters", "wall unit and heaters"),
    ("head_each", "one per room"),
    ("ducted_all", "one hidden unit"),
)


def draw_mark(mark: Mark, at: Point, theme: Theme) -> str:
    """The mark at a point of the picture."""
    colour = theme.plum if mark.recommended else theme.ink
    shape = SHAPES.get(mark.kind, _disc)(*at)
    if mark.hollow:
        return svg.path(shape, fill=theme.paper, stroke=colour, stroke_width=HOLLOW_PX, stroke_linejoin="round")
    return svg.path(shape, fill=colour, stroke=theme.paper, stroke_width=1.2, stroke_linejoin="round")


def key_svg(kind: str, theme: Theme, *, hollow: bool = False, recommended: bool = False) -> str:
    """A mark alone, for the line of keys; the words beside it say what it is."""
    size = 2.0 * 1.25 * R_PX
    mark = Mark(0.0, 0.0, kind, hollow=hollow, recommended=recommended)
    return svg.tag(
        "svg", [draw_mark(mark, (size / 2, size / 2), theme)], xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(size)} {number(size)}", width=size, height=size, aria_hidden="true",
    )  # fmt: skip
