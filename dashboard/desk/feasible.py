"""What was considered and not taken, each with its reason: layouts, sizes, spaces, types of unit, places."""

from __future__ import annotations

from collections.abc import Iterator

from dash import html
from dash.development.base_component import Component

from compare.options.tags import zone_tags
from compare.views.designer import DesignerView
from dashboard.desk.parts import folded, percent, section, table
from dashboard.desk.study import Study

Row = tuple[str, str, str]
MOST_OPEN = 12
"""Rows from which a list is folded away."""


def layout_rows(study: Study) -> Iterator[Row]:
    """Layouts that are left out, and kinds of layout that this house cannot have."""
    for item in study.ranking.rejected:
        reasons = " ".join(fault.text for fault in item.option.fatal)
        yield "Layout", study.full_names[item.option.option_id], reasons
    for one in study.customer.not_possible:
        yield "Kind of layout", one.family.replace("_", " "), f"{one.text} {one.cure}".strip()


def design_rows(study: Study, view: DesignerView) -> Iterator[Row]:
    """What was passed over while the open layout was designed."""
    option = study.result(view.option_id).option
    for zone, tag in zip(option.zones, zone_tags(option.zones), strict=True):
        for rejected in zone.selection.rejected:
            cover = (
                f"covers {percent(rejected.cover.heat_frac)} of heating, {percent(rejected.cover.cool_frac)} of cooling"
            )
            yield (
                f"Size for {tag}",
                rejected.pair.label,
                f"{rejected.reason}; {cover}",
            )
    for duct in view.zones:
        for space in duct.spaces:
            if not space.chosen:
                reasons = "; ".join(space.reasons) or f"can be built, {space.service}; the chosen one fits better"
                yield f"Space for {duct.tag}", space.space, reasons
    for sheet in view.sitings:
        for kind in sheet.kinds:
            if kind.kind != sheet.kind:
                yield (
                    f"Type for {sheet.tag}",
                    kind.kind,
                    kind.why if not kind.feasible else f"{kind.points:.1f} points against: {kind.why}",
                )
        for other in sheet.others:
            place, _, reason = other.partition(": ")
            yield f"Place for {sheet.tag}", place, reason


def feasible_part(study: Study, view: DesignerView) -> Component:
    """Everything passed over, kind by kind; a long list is folded away."""
    groups: dict[str, list[Row]] = {}
    for row in (*layout_rows(study), *design_rows(study, view)):
        groups.setdefault(row[0].partition(" for ")[0], []).append(row)
    count = sum(len(rows) for rows in groups.values())
    note = f"{count} passed over: layouts of the whole house, then sizes, spaces, types and places of this one."
    parts: list[Component] = []
    for kind, rows in groups.items():
        found = table(("What", "Candidate", "Why not"), rows)
        words = f"{kind}: {len(rows)} not taken"
        parts.append(folded(words, found) if len(rows) > MOST_OPEN else html.Div([html.H3(words), found]))
    return section("feasible", "Considered and not taken", note, *parts)
