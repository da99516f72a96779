"""Pictures of the sheets: the plan with tags, lines and ducts."""

from __future__ import annotations

from compare.views.customer import CustomerView
from proposal.document.blocks import Figure
from proposal.document.pictures import picture_of
from proposal.drawing.look import Look, Scene
from proposal.drawing.plan import plan_svg
from proposal.drawing.theme import PRINT
from proposal.sheets.trade import Trade
from proposal.words import name

WIDE_PX = 640.0
MOST_PX = 560.0
LEAST_PX = 360.0


def plan_pictures(trade: Trade, view: CustomerView) -> tuple[Figure, ...]:
    """The plan of the option, as wide as its height allows."""
    tags = ", ".join(name(row.tag) for row in trade.view.indoor)
    alt = trade.say("plan_alt", tags=tags)
    width_px = WIDE_PX
    while True:
        look = Look(theme=PRINT, units=trade.units, width_px=width_px, caption=False)
        figure = picture_of("plan", plan_svg(view, trade.view.option_id, Scene.MORNING, look), alt)
        if figure.height_px <= MOST_PX or width_px * 0.9 < LEAST_PX:
            return (figure,)
        width_px *= 0.9
