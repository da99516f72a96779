"""Components of our own for Dash; their other half is `assets/components.js`. No build step, real inputs inside.

`Drawing` puts a picture of `proposal.drawing` into the page as elements, so that it uses the page's fonts: the browser
parses it as XML and keeps a fixed list of drawing elements and attributes, whatever the text holds. `Stops` is a radio
group, `Toggle` a checkbox with the role of a switch, `Taps` hears taps on anything inside it that carries `data-tap`,
`Screen` tells which of the three arrangements fits.
"""

from __future__ import annotations

from typing import Any

from dash.development.base_component import Component

NAMESPACE = "hplayouts_page"


class OwnComponent(Component):
    """Base: a component whose properties are those named in `PROPERTIES`."""

    _namespace = NAMESPACE
    _type = "OwnComponent"
    _children_props = []  # noqa: RUF012 - declared so by Dash
    _base_nodes = ["children"]  # noqa: RUF012
    _valid_wildcard_attributes = []  # noqa: RUF012
    available_wildcard_properties = []  # noqa: RUF012
    PROPERTIES: tuple[str, ...] = ("id",)

    def __init__(self, **properties: Any) -> None:  # noqa: ANN401 - whatever JSON can hold
        self._prop_names = list(self.PROPERTIES)
        self.available_properties = list(self.PROPERTIES)
        super().__init__(**properties)  # type: ignore[no-untyped-call]


class Drawing(OwnComponent):
    """`svg`: the text of a picture; `hidden`: True where words beside it say the same."""

    _type = "Drawing"
    PROPERTIES = ("id", "svg", "hidden", "className")


class Stops(OwnComponent):
    """`value`: 1 to 5; `label` stands left, the word of the chosen stop (`words`) right."""

    _type = "Stops"
    PROPERTIES = ("id", "name", "label", "words", "value")


class Toggle(OwnComponent):
    """`value`: whether it is on; `label`, `detail`: the two lines left; `yes`, `no`: words inside."""

    _type = "Toggle"
    PROPERTIES = ("id", "label", "detail", "yes", "no", "value")


class Stepper(OwnComponent):
    """A number with two buttons that can also be typed; it speaks by taps.

    `tap`: what a tap begins with, the number behind it; `value`, `down`, `up`: the number and its neighbours, None
    where there is none; `least`, `most`, `unit`; `label`, `detail`: the two lines left.
    """

    _type = "Stepper"
    PROPERTIES = ("id", "label", "detail", "tap", "value", "down", "up", "least", "most", "unit")


class WallPhoto(OwnComponent):
    """A photo of a wall with a unit drawn to scale. The photo stays in the browser; nothing of it is sent.

    `units`: what can be drawn, each with `label`, `wide`, `high` in `unit`, `low` by the floor;
    `known`: the marked height at first;
    `least`, `most`: its limits; `words`: every text by its key.
    """

    _type = "WallPhoto"
    PROPERTIES = ("id", "units", "unit", "known", "least", "most", "words")


class Grid(OwnComponent):
    """A table as one component, because a page of thousands of cells as components takes the browser many seconds.

    `head`: column names; `rows`: cells, each a text or a mapping of `sign`, `strong`, `words` (in this order), or of
    `tap`, `words`, `pressed`, `label` for a button; `figures`: columns that stand right; `caption`.
    """

    _type = "Grid"
    PROPERTIES = ("id", "head", "rows", "figures", "caption")


class Taps(OwnComponent):
    """`tap`: the last tap inside as `{"what": ..., "number": ...}`."""

    _type = "Taps"
    PROPERTIES = ("id", "children", "className", "tap")


class Screen(OwnComponent):
    """`form`: portrait, landscape or narrow, by the width of the window; `put`: values that controls shall say."""

    _type = "Screen"
    PROPERTIES = ("id", "form", "put")
