"""The plan of a draft as a picture to work on.

A pure function of the draft and of what is chosen. Whatever can be tapped carries `data-ref`; the browser's half
(`assets/survey.js`) turns pointers and keys into one event each.
"""

from __future__ import annotations

from dashboard.survey import plan_rooms, plan_things
from dashboard.survey.canvas import Canvas, Frame, Shown, frame_of
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.shape import shapes_of, stretches_of, system_of
from dashboard.survey.marks import furniture
from proposal.drawing.svg import group, tag, words

__all__ = ["Frame", "Shown", "plan_svg"]


def plan_svg(raw: Raw, shown: Shown) -> tuple[str, Frame]:
    """The picture and its frame."""
    system, everything = system_of(raw), shapes_of(raw)
    here = [shape for shape in everything if shape.level == shown.level]
    frame = frame_of(everything, shown, system)
    edges = [wall for shape in here for wall in stretches_of(shape, everything, system)]
    canvas = Canvas(raw, shown, frame, system, here, edges, furniture(raw, here))
    inside = [
        *plan_rooms.grid(canvas),
        *plan_rooms.other_levels(canvas, everything),
        group(plan_rooms.rooms(canvas)),
        group(plan_things.spaces(canvas)),
        group(plan_things.furniture(canvas)),
        group(plan_rooms.walls(canvas)),
        group(plan_things.places(canvas)),
        group(plan_things.in_walls(canvas)),
        group(plan_things.joints(canvas)),
        group(plan_rooms.labels(canvas)),
        group(plan_rooms.handles(canvas)),
        *plan_rooms.dimensions(canvas),
    ]
    title = f"Plan of the storey {shown.level}"
    told = f"{len(here)} rooms. Everything on it can also be typed below."
    body = [words("title", title), words("desc", told), *inside]
    svg = tag(
        "svg",
        body,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {frame.wide_px:.1f} {frame.high_px:.1f}",
        width=frame.wide_px,
        height=frame.high_px,
        role="group",
        aria_label=title,
        font_family="Figtree, sans-serif",
        font_size=13,
    )
    return svg, frame
