"""All drawings of the air side of an option, by file name."""

from __future__ import annotations

from collections.abc import Mapping

from compare.views.designer import DesignerView
from proposal.drawing.airpath import air_path
from proposal.drawing.desk import desk_plan
from proposal.drawing.elevation import elevations_picture


def air_drawings(view: DesignerView) -> Mapping[str, str]:
    """Plan, one chart along the air path per concealed unit, and the outside walls where lines or units are seen."""
    found = {"plan": desk_plan(view).svg}
    for zone in view.zones:
        found[f"air-path-{zone.tag}"] = air_path(view, zone).svg
    if view.elevations:
        found["outside-walls"] = elevations_picture(view).svg
    return found
