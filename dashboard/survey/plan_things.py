"""What stands in and beside the rooms of a draft's plan: windows, doors, furniture, places for units."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dashboard.survey import marks
from dashboard.survey.canvas import TARGET_PX, Canvas
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.joints import SIDE_WORDS
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import Point, items, point_u
from dashboard.survey.marks import InWall, Joint, Standing
from proposal.drawing.svg import Value, line, path, points_path, tag


def in_walls(canvas: Canvas) -> Iterator[str]:
    """Windows as pale bars in the wall, outside doors as gaps with a leaf."""
    for one in marks.in_walls(canvas.raw, canvas.edges):
        a, b = canvas.frame.at(one.start), canvas.frame.at(one.end)
        wide = canvas.px(canvas.feet(0.42), 2.6)
        chosen = one.ref == canvas.shown.chosen
        ink = canvas.theme.ink
        parts = [line(a, b, stroke=canvas.theme.card, stroke_width=wide + (3 if chosen else 0))]
        if one.door:
            parts.append(line(a, b, stroke=ink, stroke_width=max(1.6, 0.45 * wide)))
        else:
            parts += [line(p, q, stroke=ink, stroke_width=1) for p, q in _beside(a, b, 0.5 * wide)]
            parts.append(line(a, b, stroke=canvas.theme.blue, stroke_width=1.2))
        if chosen:
            parts.append(line(a, b, stroke=ink, stroke_width=wide + 9, stroke_opacity=0.22, stroke_linecap="round"))
        yield canvas.hit(one.ref, a, b, parts, _told_hole(canvas, one))


def _told_hole(canvas: Canvas, one: InWall) -> str:
    table, position = one.ref.split(".")
    item = dict(items(canvas.raw, table))[int(position)]
    side = SIDE_WORDS.get(str(item.get("wall")), "")
    return f"{'Outside door' if one.door else 'Window'} in {same(item.get('room'))}, {side} wall"


def joints(canvas: Canvas) -> Iterator[str]:
    """Inside doors: the leaf solid where it stands at night, dotted where it stands by day; openings dotted."""
    for one in marks.joints(canvas.raw, canvas.edges):
        (x, y), half = canvas.frame.at(one.at), 0.5 * canvas.px(one.width_u)
        ux, uy = one.along[0], -one.along[1]
        a, b = (x - ux * half, y - uy * half), (x + ux * half, y + uy * half)
        wide = canvas.px(canvas.feet(0.26), 1.6)
        parts = [line(a, b, stroke=canvas.theme.card, stroke_width=wide + 1.5)]
        if one.opening:
            parts.append(
                line(a, b, stroke=canvas.theme.ink, stroke_width=1.6, stroke_dasharray="1.5 4", stroke_linecap="round")
            )
        else:
            parts += _leaf(canvas, a, (ux, uy), 2.0 * half, one)
        if one.ref == canvas.shown.chosen:
            parts.append(
                line(a, b, stroke=canvas.theme.ink, stroke_width=wide + 10, stroke_opacity=0.22, stroke_linecap="round")
            )
        yield canvas.hit(one.ref, a, b, parts, _told_joint(canvas, one))


def _leaf(canvas: Canvas, hinge: Point, along: Point, size: float, one: Joint) -> Iterator[str]:
    (x, y), (ux, uy) = hinge, along
    open_end = (x + uy * size, y - ux * size)
    shut_end = (x + ux * size, y + uy * size)
    night, day = (open_end if share >= 0.5 else shut_end for share in (one.night, one.day))
    ink, dots = canvas.theme.ink, "1.2 3.4"
    arc = f"M{shut_end[0]:.1f} {shut_end[1]:.1f}A{size:.1f} {size:.1f} 0 0 0 {open_end[0]:.1f} {open_end[1]:.1f}"
    yield path(
        arc, fill="none", stroke=canvas.theme.ink3, stroke_width=1, stroke_dasharray=dots, stroke_linecap="round"
    )
    if day != night:
        yield line(hinge, day, stroke=ink, stroke_width=1.3, stroke_dasharray=dots, stroke_linecap="round")
    yield line(hinge, night, stroke=ink, stroke_width=2.4)


def _told_joint(canvas: Canvas, one: Joint) -> str:
    table, position = one.ref.split(".")
    pair = " and ".join(same(end) for end in dict(items(canvas.raw, table))[int(position)]["between"])
    if one.opening:
        return f"Opening between {pair}"
    return f"Door between {pair}, {'open' if one.night >= 0.5 else 'shut'} at night"


def furniture(canvas: Canvas) -> Iterator[str]:
    """Beds with a pillow, seats as outlines."""
    for one in canvas.standing:
        corners = [canvas.frame.at(corner) for corner in one.corners]
        chosen = one.ref == canvas.shown.chosen
        stroke = canvas.theme.ink if chosen else canvas.theme.furniture
        body = path(
            points_path(corners, closed=True),
            fill=canvas.theme.card,
            stroke=stroke,
            stroke_width=2.4 if chosen else 1.4,
        )
        inner = path(_inner(one, corners), fill="none", stroke=stroke, stroke_width=1.1)
        told = f"{one.kind.capitalize()} {one.ref.split('.')[1]}"
        yield tag(
            "g",
            [body, inner],
            data_ref=one.ref,
            data_drag="thing" if chosen else None,
            tabindex="0",
            role="button",
            aria_label=told,
            aria_pressed=str(chosen).lower(),
            class_="hit",
        )


def spaces(canvas: Canvas) -> Iterator[str]:
    """Spaces for hidden units, dashed; a tap on the edge chooses one."""
    for at, item in items(canvas.raw, "unit_space"):
        corner, size = point_u(item.get("at"), canvas.system), point_u(item.get("size"), canvas.system)
        if item.get("level") != canvas.shown.level or corner is None or size is None:
            continue
        x, y = canvas.frame.at((corner[0], corner[1] + size[1]))
        chosen = f"unit_space.{at}" == canvas.shown.chosen
        box: dict[str, Value] = {
            "x": x,
            "y": y,
            "width": canvas.px(size[0]),
            "height": canvas.px(size[1]),
            "fill": "none",
        }
        reach = tag("rect", **box, stroke="#000", stroke_opacity=0, stroke_width=18, class_="reach")
        stroke, wide = (canvas.theme.ink, 2.4) if chosen else (canvas.theme.rule, 1.1)
        edge = tag("rect", **box, stroke=stroke, stroke_width=wide, stroke_dasharray="8 4.5")
        yield _place(canvas, f"unit_space.{at}", same(item.get("name")), [reach, edge])


def places(canvas: Canvas) -> Iterator[str]:
    """Places on walls as bars, places outside as small boxes."""
    for table in ("head_place", "outdoor_spot"):
        for at, item in items(canvas.raw, table):
            spot = point_u(item.get("at"), canvas.system)
            if spot is not None and _on_level(canvas, table, item):
                yield _place(
                    canvas,
                    f"{table}.{at}",
                    same(item.get("name")) or same(item.get("room")),
                    _box(canvas, table, item, spot, at),
                )


def _on_level(canvas: Canvas, table: str, item: Raw) -> bool:
    if table == "outdoor_spot":
        return True
    return any(shape.name == same(item.get("room")) for shape in canvas.here)


def _box(canvas: Canvas, table: str, item: Raw, spot: Point, at: int) -> list[str]:
    (x, y), chosen = canvas.frame.at(spot), f"{table}.{at}" == canvas.shown.chosen
    wide, deep = canvas.px(canvas.feet(2.67), 14.0), canvas.px(canvas.feet(0.9), 6.0)
    upright = str(item.get("throws") or item.get("side")) in {"E", "W"}
    if upright:
        wide, deep = deep, wide
    box = {"x": x - wide / 2, "y": y - deep / 2, "width": wide, "height": deep, "rx": 2.5}
    fill = canvas.theme.ink if table == "head_place" else canvas.theme.card
    reach = tag("circle", cx=x, cy=y, r=TARGET_PX / 2, fill="#000", fill_opacity=0, class_="reach")
    return [reach, tag("rect", **box, fill=fill, stroke=canvas.theme.ink, stroke_width=3 if chosen else 1.4)]


def _place(canvas: Canvas, ref: str, name: str, parts: list[str]) -> str:
    chosen = ref == canvas.shown.chosen
    told = {
        "unit_space": "Space for a hidden unit",
        "head_place": "Place for a room unit in",
        "outdoor_spot": "Place outside",
    }
    return tag(
        "g",
        parts,
        data_ref=ref,
        data_drag="thing" if chosen else None,
        tabindex="0",
        role="button",
        aria_label=f"{told[ref.split('.', maxsplit=1)[0]]} {name}",
        aria_pressed=str(chosen).lower(),
        class_="hit",
    )


def _beside(a: Point, b: Point, away: float) -> Iterator[tuple[Point, Point]]:
    size = math.dist(a, b) or 1.0
    nx, ny = -(b[1] - a[1]) / size * away, (b[0] - a[0]) / size * away
    for sign in (1.0, -1.0):
        yield (a[0] + nx * sign, a[1] + ny * sign), (b[0] + nx * sign, b[1] + ny * sign)


def _inner(one: Standing, corners: Sequence[Point]) -> str:
    """A line across that tells the head end of a bed and the back of a seat."""
    left, right, far_right, far_left = corners
    share = 0.24 if one.kind in {"bed", "sofa"} else 0.5
    a = (left[0] + (far_left[0] - left[0]) * share, left[1] + (far_left[1] - left[1]) * share)
    b = (right[0] + (far_right[0] - right[0]) * share, right[1] + (far_right[1] - right[1]) * share)
    return points_path([a, b], closed=False) if one.kind in {"bed", "sofa"} else ""
