"""Pictures of the sheets: the plan for the crew, outside walls, the air path of each concealed unit."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from proposal.document.blocks import Block, Figure, Heading
from proposal.document.pictures import PAGE_PX, picture_of
from proposal.drawing.airpath import air_path
from proposal.drawing.desk import desk_plan
from proposal.drawing.elevation import elevations_picture
from proposal.sheets.trade import Trade
from proposal.words import capital, name

DRAWN_PX = 700.0
"""Width at which plans are drawn; printed across the page their smallest words are legible."""
MOST_PX = 700.0
"""Height on paper; a taller plan is shown smaller."""
AIR_PATH_PX = 880.0
"""Narrower, the names of the parts would touch."""


class _Drawn(Protocol):
    @property
    def svg(self) -> str: ...


def _fitted(drawn: _Drawn, stem: str, alt: str) -> Figure:
    """A picture across the page, smaller where it would be too tall."""
    figure = picture_of(stem, drawn.svg, alt)
    scale = min(1.0, PAGE_PX / figure.width_px, MOST_PX / figure.height_px)
    return replace(figure, width_px=scale * figure.width_px, height_px=scale * figure.height_px)


def plan_figures(trade: Trade) -> list[Figure]:
    """A plan of each storey with tags, lines, ducts and dampers; one by one, so that their words stay legible."""
    design, tags = trade.view.design, ", ".join(name(row.tag) for row in trade.view.indoor)
    found = []
    for level in design.plan.levels:
        part = design.model_copy(update={"plan": design.plan.model_copy(update={"levels": (level,)})})
        floor = capital(trade.drawn.get(f"level_{level.name}", name(level.name))) if len(design.plan.levels) > 1 else ""
        alt = trade.say("plan_alt", tags=tags, notes=floor).strip()
        found.append(_fitted(desk_plan(part, DRAWN_PX, trade.drawn, floor), f"plan-{level.level}", alt))
    return found


def walls_pictures(trade: Trade) -> tuple[Figure, ...]:
    """Outside walls that carry something, two in a picture."""
    design, alt = trade.view.design, trade.say("walls")
    found = []
    for start in range(0, len(design.elevations), 2):
        part = design.model_copy(update={"elevations": design.elevations[start : start + 2]})
        drawn = elevations_picture(part, DRAWN_PX, trade.drawn)
        found.append(_fitted(drawn, f"outside-walls-{start // 2 + 1}", alt))
    return tuple(found)


def air_blocks(trade: Trade) -> list[Block]:
    """Pressure and sound along the air path of each concealed unit."""
    found: list[Block] = []
    for zone in trade.view.design.zones:
        heading = trade.say("air", tag=zone.tag)
        drawn = air_path(trade.view.design, zone, AIR_PATH_PX, trade.drawn).svg
        found += [Heading(2, heading), picture_of(f"air-path-{name(zone.tag)}", drawn, heading)]
    return found
