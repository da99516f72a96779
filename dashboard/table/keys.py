"""The keys to the tints of the plan: swatch, word, and how far from its own target a room is."""

from __future__ import annotations

from dataclasses import dataclass

from dash import html
from dash.development.base_component import Component

from dashboard.components import Drawing
from dashboard.table.scene import Shown
from proposal.drawing import svg
from proposal.drawing.legend import reach
from proposal.drawing.look import Look, Scene
from proposal.drawing.rooms import hatch_definition
from proposal.drawing.steps import SUMMER_WORDS, WINTER_WORDS
from proposal.drawing.theme import Tint

SWATCH_PX = (32.0, 22.0)


@dataclass(frozen=True, slots=True)
class Key:
    """One tint and its two lines."""

    tint: Tint
    word: str
    reach: str = ""


def keys_of(scene: Scene, look: Look) -> tuple[Key, ...]:
    """The keys of a scene."""
    if scene is Scene.SOUND:
        loud = look.theme.loud(louder=True)
        return Key(look.theme.plain, look.say("key_quiet")), Key(loud, look.say("key_loud"))
    words = SUMMER_WORDS if scene.summer else WINTER_WORDS
    tints = look.theme.summer if scene.summer else look.theme.winter
    return tuple(
        Key(tint, look.say(word), reach(step, scene, look))
        for step, (word, tint) in enumerate(zip(words, tints, strict=True))
    )


def swatch(key: Key, look: Look) -> str:
    """A small rounded piece of the tint."""
    wide, high = SWATCH_PX
    box: dict[str, svg.Value | None] = {"x": 0.5, "y": 0.5, "width": wide - 1.0, "height": high - 1.0, "rx": 4.0}
    parts = [svg.tag("rect", fill=key.tint.fill, **box)]
    if key.tint.hatch.kind != "none":
        parts.insert(0, svg.tag("defs", [hatch_definition("hatch", key.tint, compact=False)]))
        parts.append(svg.tag("rect", fill="url(#hatch)", **box))
    parts.append(svg.tag("rect", fill="none", stroke=look.theme.rule, stroke_width=1.0, **box))
    return svg.document(SWATCH_PX, key.word, key.reach, parts)


def keys(shown: Shown) -> Component:
    """The row of keys under the plan."""
    look = shown.look(1.0)
    items = []
    for key in keys_of(shown.page.scene, look):
        lines = [html.B(key.word), *([html.Span(key.reach)] if key.reach else [])]
        items.append(html.Li([Drawing(svg=swatch(key, look), hidden=True), html.Span(lines, className="key-words")]))
    return html.Ul(items, className="keys")
