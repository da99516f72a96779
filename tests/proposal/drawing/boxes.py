"""What a chart writes, and where."""

from __future__ import annotations

from xml.etree import ElementTree

from proposal.drawing.chart import Chart
from proposal.drawing.geometry import Box
from proposal.drawing.lettering import Type, width_px

SPACE = "{http://www.w3.org/2000/svg}"


def texts(chart: Chart) -> list[str]:
    return [element.text or "" for element in ElementTree.fromstring(chart.svg).iter(f"{SPACE}text")]


def boxes(chart: Chart) -> list[tuple[str, Box]]:
    """Where each text of a chart stands, capitals only."""
    found = []
    for element in ElementTree.fromstring(chart.svg).iter(f"{SPACE}text"):
        size, text = float(element.get("font-size", "nan")), element.text or ""
        wide = width_px(text, Type(size, int(element.get("font-weight", "400"))))
        x, y = float(element.get("x", "nan")), float(element.get("y", "nan"))
        x0 = x - {"middle": wide / 2.0, "end": wide}.get(element.get("text-anchor", "start"), 0.0)
        found.append((text, Box(x0, y - 0.7 * size, x0 + wide, y)))
    return found
