"""Where the price of one layout goes, as a bar, with the lowest price without approval and today's discount."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from compare.office.view import OfficeOption
from dashboard.office.discount import Effect
from dashboard.office.words import usd
from proposal.drawing import svg
from proposal.drawing.lettering import Ink, Type, draw, width_px
from proposal.drawing.theme import Theme

WIDE_PX, HIGH_PX, TOP_PX, BAR_PX = 560.0, 128.0, 30.0, 40.0
SMALL, BOLD = Type(13.0), Type(13.0, 600)
GROUPS = (
    ("Equipment", ("equipment",)),
    ("Materials", ("material", "fee", "subcontract")),
    ("Labor", ("labour technician", "labour electrician")),
)


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of the price."""

    name: str
    usd: Decimal
    left: bool = False


def parts_of(option: OfficeOption, after: Effect) -> tuple[Part, ...]:
    """Cost by group, call-back risk, and what is left after the discount."""
    costs = [
        Part(name, sum((g.mid_usd for g in option.cost if g.group in groups), Decimal(0))) for name, groups in GROUPS
    ]
    return (*costs, Part("Call-backs", option.margin.expected_callback_usd),
            Part("Left", max(Decimal(0), after.risk_adjusted_usd), left=True))  # fmt: skip


def bar(option: OfficeOption, after: Effect, theme: Theme) -> str:
    """The bar, from zero to the price before the discount."""
    per_usd = WIDE_PX / float(option.price_usd)
    inside = [*_pieces(parts_of(option, after), per_usd, theme, recommended=option.place == 1)]
    inside.append(_end(float(after.price_usd) * per_usd, theme))
    inside.append(_floor(float(after.floor_price_usd) * per_usd, f"lowest {usd(after.floor_price_usd)}", theme))
    told = "; ".join(f"{part.name} {usd(part.usd)}" for part in parts_of(option, after))
    return svg.document((WIDE_PX, HIGH_PX), f"Where {usd(after.price_usd)} goes", f"{told}.", inside)


def _pieces(parts: tuple[Part, ...], per_usd: float, theme: Theme, *, recommended: bool) -> Iterator[str]:
    x, free_px = 0.0, 0.0
    fills = (theme.ink2, theme.ink3, theme.rule, theme.line)
    for part, fill in zip(parts, (*fills, theme.plum if recommended else theme.ink), strict=True):
        wide = min(float(part.usd) * per_usd, WIDE_PX - x)
        yield svg.tag("rect", x=x, y=TOP_PX, width=max(0.0, wide - 1.5), height=BAR_PX, fill=fill)
        words = (part.name, usd(part.usd))
        need = max(width_px(words[0], SMALL), width_px(words[1], BOLD))
        start = min(max(x, free_px), WIDE_PX - need)
        if start >= free_px:
            yield draw(words[0], (start, TOP_PX + BAR_PX + 20.0), SMALL, Ink(theme.ink2))
            yield draw(words[1], (start, TOP_PX + BAR_PX + 38.0), BOLD, Ink(theme.ink))
            free_px = start + need + 12.0
        x += wide


def _end(at: float, theme: Theme) -> str:
    """What the discount takes: a dotted frame to the price before."""
    if at > WIDE_PX - 2.0:
        return ""
    return svg.tag("rect", x=at + 1.0, y=TOP_PX + 1.0, width=WIDE_PX - at - 2.0, height=BAR_PX - 2.0, fill="none",
                   stroke=theme.rule, stroke_width=1.4, stroke_dasharray="2 4")  # fmt: skip


def _floor(at: float, words: str, theme: Theme) -> str:
    half = width_px(words, SMALL) / 2.0
    middle = min(max(at, half), WIDE_PX - half)
    look: dict[str, svg.Value] = {"stroke": theme.ink, "stroke_width": 1.5, "stroke_dasharray": "5 3"}
    stroke = svg.line((at, 20.0), (at, TOP_PX + BAR_PX + 5.0), **look)
    return stroke + draw(words, (middle, 14.0), SMALL, Ink(theme.ink, anchor="middle"))
