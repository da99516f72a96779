"""Pictures of the sheets: the plan for the crew, outside walls, the air path of each concealed unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Protocol

from compare.views.designer import DesignerView
from proposal.document.blocks import Block, Figure, Heading
from proposal.document.pictures import PAGE_PX, picture_of
from proposal.drawing.airpath import air_path
from proposal.drawing.desk import desk_plan
from proposal.drawing.elevation import elevations_picture
from proposal.drawing.words import ENGLISH
from proposal.sheets.trade import Trade
from proposal.words import name

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


def plan_figure(trade: Trade) -> Figure:
    """The plan with tags, lines, ducts and dampers."""
    design = trade.view.design
    tags = ", ".join(name(row.tag) for row in trade.view.indoor)
    drawn = desk_plan(design, DRAWN_PX, trade.drawn, trade.told(design.option_name))
    return _fitted(drawn, "plan", trade.say("plan_alt", tags=tags, notes=""))


def walls_pictures(
    design: DesignerView, alt: str, words: Mapping[str, str] = ENGLISH, most: int | None = None
) -> tuple[Figure, ...]:
    """Outside walls that carry something, two in a picture; of many, those that carry most."""
    walls = design.elevations
    if most is not None and len(walls) > most:
        keep = sorted(walls, key=lambda wall: -len(wall.items))[:most]
        walls = tuple(wall for wall in walls if wall in keep)
    found = []
    for start in range(0, len(walls), 2):
        part = design.model_copy(update={"elevations": walls[start : start + 2]})
        found.append(_fitted(elevations_picture(part, DRAWN_PX, words), f"outside-walls-{start // 2 + 1}", alt))
    return tuple(found)


def air_blocks(trade: Trade) -> list[Block]:
    """Pressure and sound along the air path of each concealed unit."""
    found: list[Block] = []
    for zone in trade.view.design.zones:
        heading = trade.say("air", tag=zone.tag)
        drawn = air_path(trade.view.design, zone, AIR_PATH_PX, trade.drawn).svg
        found += [Heading(2, heading), picture_of(f"air-path-{name(zone.tag)}", drawn, heading)]
    return found
