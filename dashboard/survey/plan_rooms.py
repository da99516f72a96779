"""The rooms of a draft's plan: grid, floors, walls, labels, handles of the chosen room, dimensions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from compare.units import System
from dashboard.survey.canvas import HANDLE_PX, LETTER, NARROW_PX, TARGET_PX, Canvas, Span, size_text
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.shape import Point, Shape
from proposal.drawing.svg import Value, group, line, path, tag, words
from proposal.drawing.theme import Theme


def grid(canvas: Canvas) -> Iterator[str]:
    """Lines of the grid, each fifth stronger; coarser where they would run together."""
    frame, step = canvas.frame, 1.0 if canvas.system is System.US else 0.5
    while step * frame.px_u < 7.0:
        step *= 2.0
    border = frame.round_px
    left, right = frame.left_u, frame.left_u + (frame.wide_px - border[1] - border[3]) / frame.px_u
    low = frame.top_u - (frame.high_px - border[0] - border[2]) / frame.px_u
    thin, thick = "", ""
    for k in range(math.ceil(left / step), math.floor(right / step) + 1):
        (x, y0), (_, y1) = frame.at((k * step, frame.top_u)), frame.at((k * step, low))
        thin, thick = (
            (thin, thick + f"M{x:.1f} {y0:.1f}V{y1:.1f}")
            if k % 5 == 0
            else (thin + f"M{x:.1f} {y0:.1f}V{y1:.1f}", thick)
        )
    for k in range(math.ceil(low / step), math.floor(frame.top_u / step) + 1):
        (x0, y), (x1, _) = frame.at((left, k * step)), frame.at((right, k * step))
        thin, thick = (
            (thin, thick + f"M{x0:.1f} {y:.1f}H{x1:.1f}")
            if k % 5 == 0
            else (thin + f"M{x0:.1f} {y:.1f}H{x1:.1f}", thick)
        )
    yield path(thin, stroke=canvas.theme.line, stroke_width=0.6, stroke_opacity=0.55, fill="none")
    yield path(thick, stroke=canvas.theme.line, stroke_width=1, fill="none")


def other_levels(canvas: Canvas, everything: Iterable[Shape]) -> Iterator[str]:
    """Rooms of other storeys, dashed."""
    for shape in everything:
        if shape.level != canvas.shown.level:
            yield path(
                canvas.outline(shape), fill="none", stroke=canvas.theme.rule, stroke_width=1, stroke_dasharray="5 4"
            )


def rooms(canvas: Canvas) -> Iterator[str]:
    """Floors; a tap chooses the room."""
    for shape in sorted(canvas.here, key=lambda one: -one.area_u2):
        ref = f"room.{shape.position}"
        chosen = ref == canvas.shown.chosen
        x0, y0, x1, y1 = shape.bounds
        told = f"{shape.name}, {size_text(x1 - x0)} by {size_text(y1 - y0)} {canvas.unit()}"
        yield path(
            canvas.outline(shape),
            fill=canvas.theme.sunk if chosen else canvas.theme.card,
            fill_opacity=1 if chosen else 0.9,
            data_ref=ref,
            data_drag="room" if chosen else None,
            tabindex="0",
            role="button",
            aria_label=told,
            aria_pressed=str(chosen).lower(),
            class_="hit room",
        )


def walls(canvas: Canvas) -> Iterator[str]:
    """Outside walls thick, inside walls thin, square ends."""
    for wall in canvas.edges:
        wide = canvas.px(canvas.feet(0.26), 1.6) if wall.other else canvas.px(canvas.feet(0.42), 2.6)
        a, b = (canvas.frame.at(end) for end in wall.ends)
        yield line(a, b, stroke=canvas.theme.wall, stroke_width=wide, stroke_linecap="square", class_="mute")


def labels(canvas: Canvas) -> Iterator[str]:
    """Name, size and loads of each room, as far as they fit."""
    taken = [_around(one.corners) for one in canvas.standing]
    for shape in canvas.here:
        x0, y0, x1, y1 = shape.bounds
        wide, high = canvas.px(x1 - x0) - 8.0, canvas.px(y1 - y0) - 6.0
        lines = [
            (shape.name, canvas.theme.ink, 600),
            (f"{size_text(x1 - x0)} × {size_text(y1 - y0)}", canvas.theme.ink2, 400),
        ]
        for colour, text in zip(
            (canvas.theme.rust_text, canvas.theme.blue_text),
            canvas.shown.heat.get(shape.name, "").split("\n"),
            strict=False,
        ):
            lines.append((text, colour, 500))
        narrow, size = canvas.shown.width_px < NARROW_PX, 13.0
        lines = lines[:1] if narrow else [one for one in lines if one[0]][: max(1, int(high // (size * 1.25)))]
        step, longest = size * 1.25, max((len(one[0]) for one in lines), default=0)
        box = (min(longest * size * LETTER, wide) / canvas.frame.px_u, step * len(lines) / canvas.frame.px_u)
        cx, cy = canvas.frame.at(_label_spot(shape, box, taken))
        y = cy - 0.5 * step * (len(lines) - 1) + 0.35 * size
        for text, colour, weight in lines:
            fitted = _fitted(text, wide, size)
            if fitted:
                yield words(
                    "text",
                    fitted,
                    x=cx,
                    y=y,
                    fill=colour,
                    font_size=size,
                    font_weight=weight,
                    text_anchor="middle",
                    stroke=canvas.theme.card,
                    stroke_width=3,
                    paint_order="stroke",
                    class_="mute",
                )
            y += step
        if shape.name in canvas.shown.faulty:
            yield _warning(canvas, (canvas.frame.at((x0, y1))[0] + 15.0, canvas.frame.at((x0, y1))[1] + 17.0))


def _warning(canvas: Canvas, at: Point) -> str:
    x, y = at
    data = f"M{x:.1f} {y - 8:.1f}L{x + 9:.1f} {y + 7:.1f}H{x - 9:.1f}Z"
    mark = words(
        "text", "!", x=x, y=y + 5.5, fill=canvas.theme.ink, font_size=11, font_weight=700, text_anchor="middle"
    )
    return group([path(data, fill=canvas.theme.card, stroke=canvas.theme.ink, stroke_width=1.6), mark], class_="mute")


def handles(canvas: Canvas) -> Iterator[str]:
    """Four handles on the sides of the chosen room."""
    for shape in canvas.here:
        if f"room.{shape.position}" != canvas.shown.chosen:
            continue
        yield path(canvas.outline(shape), fill="none", stroke=canvas.theme.ink, stroke_width=2.5, class_="mute")
        x0, y0, x1, y1 = shape.bounds
        middle_x, middle_y = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
        for side, spot in (
            ("N", (middle_x, y1)),
            ("E", (x1, middle_y)),
            ("S", (middle_x, y0)),
            ("W", (x0, middle_y)),
        ):
            x, y = canvas.frame.at(spot)
            half = HANDLE_PX / 2
            yield tag(
                "g",
                [
                    tag("circle", cx=x, cy=y, r=TARGET_PX / 2, fill="#000", fill_opacity=0, class_="reach"),
                    tag(
                        "rect",
                        x=x - half,
                        y=y - half,
                        width=HANDLE_PX,
                        height=HANDLE_PX,
                        rx=4,
                        fill=canvas.theme.card,
                        stroke=canvas.theme.ink,
                        stroke_width=2.4,
                    ),
                ],
                data_side=side,
                data_ref=f"room.{shape.position}",
                data_drag="side",
                class_="hit handle",
            )


def dimensions(canvas: Canvas) -> Iterator[str]:
    """North arrow, overall width and depth."""
    theme = canvas.theme
    yield _north(canvas.raw, theme)
    if not canvas.here:
        return
    x0, y0 = min(s.bounds[0] for s in canvas.here), min(s.bounds[1] for s in canvas.here)
    x1, y1 = max(s.bounds[2] for s in canvas.here), max(s.bounds[3] for s in canvas.here)
    (left, low), (right, high) = canvas.frame.at((x0, y0)), canvas.frame.at((x1, y1))
    foot, edge = canvas.frame.high_px - 15.0, canvas.frame.wide_px - 20.0
    style: dict[str, Value] = {"stroke": theme.rule, "stroke_width": 1, "fill": "none"}
    yield path(f"M{left:.1f} {foot - 5:.1f}v10M{left:.1f} {foot:.1f}H{right:.1f}m0 -5v10", **style)
    yield path(f"M{edge - 5:.1f} {high:.1f}h10M{edge:.1f} {high:.1f}V{low:.1f}m-5 0h10", **style)
    for text, x, y in (
        (f"{size_text(x1 - x0)} {canvas.unit()}", 0.5 * (left + right), foot + 4.5),
        (size_text(y1 - y0), edge, 0.5 * (low + high) + 4.0),
    ):
        yield words(
            "text", text, x=x, y=y, fill=theme.ink2, font_size=12.5, text_anchor="middle",
            stroke=theme.card, stroke_width=6, paint_order="stroke",
        )  # fmt: skip


def _north(raw: Raw, theme: Theme) -> str:
    house = raw.get("house")
    turn = house.get("plan_north", 0) if isinstance(house, dict) else 0
    degrees = float(turn) if isinstance(turn, int | float) and not isinstance(turn, bool) and abs(turn) <= 360 else 0.0
    arrow = path("M0 -11L5.5 8L0 4.5L-5.5 8Z", fill=theme.ink)
    letter = words("text", "N", x=15, y=4.5, fill=theme.ink, font_weight=600, font_size=13)
    return group(
        [group([arrow], transform=f"rotate({-degrees:g})"), letter], transform="translate(18 18)", class_="mute"
    )


def _fitted(text: str, wide: float, size: float) -> str:
    """A text that fits a width, shortened where it must be; empty where not even three letters fit."""
    most = int(wide / (size * LETTER))
    if len(text) <= most:
        return text
    return f"{text[: most - 1].rstrip()}…" if most >= 4 else ""


def _around(corners: Sequence[Point]) -> Span:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _shared(one: Span, other: Span) -> float:
    wide, high = min(one[2], other[2]) - max(one[0], other[0]), min(one[3], other[3]) - max(one[1], other[1])
    return wide * high if wide > 0.0 and high > 0.0 else 0.0


def _corners(spot: Point, half: Point) -> list[Point]:
    return [(spot[0] + across * half[0], spot[1] + along * half[1]) for across in (-1.0, 1.0) for along in (-1.0, 1.0)]


def _label_spot(shape: Shape, box: Point, taken: Sequence[Span]) -> Point:
    """Where a label stands in a room: over as little furniture as may be, near the middle."""
    x0, y0, x1, y1 = shape.bounds
    middle = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
    half = (0.5 * box[0] + 0.012 * (x1 - x0), 0.5 * box[1] + 0.012 * (y1 - y0))
    xs = [x0 + (x1 - x0) * k / 24 for k in range(1, 24) if x0 + half[0] <= x0 + (x1 - x0) * k / 24 <= x1 - half[0]] or [
        middle[0]
    ]
    ys = [y0 + (y1 - y0) * k / 24 for k in range(1, 24) if y0 + half[1] <= y0 + (y1 - y0) * k / 24 <= y1 - half[1]] or [
        middle[1]
    ]
    inside = [(x, y) for x in xs for y in ys if shape.holds((x, y))]
    whole = [spot for spot in inside if all(shape.holds(corner) for corner in _corners(spot, half))]
    spots = whole or inside or [middle]

    def cost(spot: Point) -> float:
        own = (spot[0] - half[0], spot[1] - half[1], spot[0] + half[0], spot[1] + half[1])
        return 4.0 * sum(_shared(own, other) for other in taken) + math.dist(spot, middle)

    return min(spots, key=cost)
