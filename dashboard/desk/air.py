"""The air side of a layout: plan, air path, duct schedule, budgets by part, damper place, spaces and generosity."""

from __future__ import annotations

from collections.abc import Iterator

from dash import html
from dash.development.base_component import Component

from compare.units import Kind, System
from compare.views.designer import DesignerView, DuctZone, SoundSheet
from dashboard.components import Drawing
from dashboard.desk.parts import chart_table, dollars, folded, of, on_page, percent, section, table
from proposal.drawing.airpath import air_path
from proposal.drawing.desk import desk_plan
from proposal.drawing.desk_words import face, inches, pressure, pressure_figure, pressure_unit
from proposal.drawing.elevation import elevations_picture

PLAN_PX = 716.0
PATH_PX = 1000.0
BANDS = ("63", "125", "250", "500", "1k", "2k", "4k", "8k")


def plan_part(view: DesignerView) -> Component:
    """The designer's plan."""
    kind = "Invented example house; sizes are no rule. " if view.demo else ""
    return section(
        "plan",
        "Plan, ducts and flows",
        f"{kind}Sizes, air, dampers, lines and drains. Solid door leaves: at night.",
        html.Div(Drawing(svg=on_page(desk_plan(view, PLAN_PX).svg)), className="sheet", tabIndex=0),
    )


def path_parts(view: DesignerView) -> list[Component]:
    """A chart along the air path of each concealed unit."""
    found = []
    for zone in view.zones:
        chart = air_path(view, zone, PATH_PX)
        found.append(
            section(
                f"path-{zone.tag}",
                f"Along the air path of {zone.tag}",
                "Each step takes pressure; from the fan on, each step takes sound.",
                Drawing(svg=on_page(chart.svg)),
                chart_table(chart.table),
            )
        )
    return found


def schedule_part(view: DesignerView, units: System) -> Component | None:
    """Every run of every concealed unit."""
    rows = [row for zone in view.zones for row in _runs(zone, units)]
    if not rows:
        return None
    head = (
        "", "Run", "Size", "Length", "Elbows", "Air", "Speed", f"Drop, {pressure_unit(units)}", "Damper", "Grille",
        "In bed, dB(A)", "Damper at the register", "and all static left",
    )  # fmt: skip
    note = "Example sizes, worked out for this house only. Damper: notches open, set at the take-off."
    return section("ducts", "Duct schedule", note, table(head, rows, (3, 4, 5, 6, 7, 10, 11, 12)))


def _runs(zone: DuctZone, units: System) -> Iterator[tuple[str, ...]]:
    back = zone.way_back
    yield (
        f"{zone.tag} R", f"Return, {back.room_name}", face(back.box_side_m, back.box_side_m, units),
        of(back.length_m, Kind.LENGTH, units), "", of(zone.design_m3_s, Kind.FLOW, units),
        of(back.face_m_s, Kind.SPEED, units), pressure_figure(back.filter_pa, units), "–",
        f"{face(back.face_width_m, back.face_height_m, units)}, {back.filter_depth_in} in. filter", "", "", "",
    )  # fmt: skip
    yield (
        f"{zone.tag} T", f"Plenum, {zone.space}", face(zone.plenum_width_m, zone.plenum_height_m, units), "", "",
        of(zone.design_m3_s, Kind.FLOW, units), "", "", "–", "–", "", "", "",
    )  # fmt: skip
    for row in zone.branches:
        runs = f"{row.runs} × " if row.runs > 1 else ""
        open_words = "open" if row.damper_notches >= row.notches else f"{row.damper_notches} of {row.notches}"
        yield (
            row.tag,
            row.room_name,
            f"{runs}{inches(row.diameter_m, units)} round",
            of(row.length_m, Kind.LENGTH, units),
            f"{row.elbows}",
            of(row.flow_m3_s, Kind.FLOW, units),
            of(row.speed_m_s, Kind.SPEED, units),
            pressure_figure(row.drop_pa, units),
            open_words,
            f"{face(row.face_width_m, row.face_height_m, units)} {row.outlet}",
            "" if row.bed_dba is None else f"{row.bed_dba:.0f}",
            "" if row.register_damper_db is None else f"{row.register_damper_db:+.1f} dB",
            "" if row.full_static_db is None else f"{row.full_static_db:+.1f} dB",
        )


def budget_parts(view: DesignerView, units: System) -> list[Component]:
    """Static and sound by part, solved air, ways back, spaces and generosity of each concealed unit."""
    return [
        section(
            f"budgets-{zone.tag}",
            f"Budgets of {zone.tag}",
            f"{zone.unit}, {zone.space}, {zone.policy} ducts. "
            + ("Can be built." if zone.feasible else f"Cannot be built: {'; '.join(zone.reasons)}."),
            html.Div([_static(zone, units), _solved(zone, units), _transfers(zone, units)], className="three"),
            *(
                folded(f"Sound by octave band at {sheet.ear}, {sheet.speed} speed", _octaves(sheet))
                for sheet in zone.sound
            ),
            html.H3("The same rooms from each space"),
            _spaces(zone, units),
            html.H3("The same ducts tight, normal and generous"),
            _sizings(zone, units),
            *(html.P(note, className="note") for note in zone.notes),
        )
        for zone in view.zones
    ]


def _static(zone: DuctZone, units: System) -> Component:
    rows: list[tuple[str, str]] = [(part.part, pressure_figure(part.pressure_pa, units)) for part in zone.static]
    rows += [(f"longest branch: {part.part}", pressure_figure(part.pressure_pa, units)) for part in zone.branch_parts]
    rows += [
        ("Total external static", pressure_figure(zone.static_pa, units)),
        ("The unit can give", pressure_figure(zone.available_pa, units)),
        ("To set at the unit", pressure_figure(zone.setting_pa, units)),
    ]
    found: Component = table(("Static by part", pressure_unit(units)), rows, (1,))
    return found


def _solved(zone: DuctZone, units: System) -> Component:
    rows = [
        (row.room_name, *(of(value, Kind.FLOW, units) for value in (row.design_m3_s, row.set_m3_s, row.open_m3_s)))
        for row in zone.solved
    ]
    found: Component = table(("Air, solved", "Design", "Dampers set", "All open"), rows, (1, 2, 3))
    return found


def _transfers(zone: DuctZone, units: System) -> Component:
    rows = [
        (
            row.room_name,
            of(row.flow_m3_s, Kind.FLOW, units),
            f"{row.as_is_pa:.1f} Pa",
            f"{row.pressure_pa:.1f} Pa",
            row.remedy,
        )
        for row in zone.transfers
    ]
    found: Component = table(("Door shut", "Air", "As it is", "After", "Remedy"), rows, (1, 2, 3))
    return found


def _octaves(sheet: SoundSheet) -> Component:
    rows = [
        (
            part.part,
            *(f"{value:{'' if number == 0 else '+'}.1f}" for value in part.change_db),
            f"{part.after_dba:.1f}",
            f"{part.at_register_dba:.1f}",
        )
        for number, part in enumerate(sheet.parts)
    ]
    rows.append(
        ("at the ear", *(f"{v:.1f}" for v in sheet.level_db), f"{sheet.level_dba:.1f}", f"{sheet.at_register_dba:.1f}")
    )
    head = ("Part, Hz", *BANDS, "dB(A) after it", "Damper at the register")
    found: Component = table(
        head, rows, range(1, 11), f"NC {sheet.criterion_nc:.0f}; at most {sheet.limit_dba:.0f} dB(A) advised"
    )
    return found


def _pillow(level: float | None) -> str:
    return "" if level is None else f"{level:.0f}"


def _spaces(zone: DuctZone, units: System) -> Component:
    rows = [
        (
            f"{row.space} (chosen)" if row.chosen else row.space,
            "yes" if row.feasible else "no",
            dollars(row.price_usd),
            percent(row.heat_delivered_frac),
            percent(row.cool_delivered_frac),
            f"{pressure_figure(row.static_pa, units)} of {pressure(row.available_pa, units)}",
            _pillow(row.pillow_dba),
            "pump" if row.pump else "falls",
            "; ".join(row.reasons) or row.service,
        )
        for row in zone.spaces
    ]
    head = (
        "Space",
        "Fits",
        "Installed",
        "Heat arrives",
        "Cooling arrives",
        "Static",
        "In bed, dB(A)",
        "Drain",
        "Why, or how it is reached",
    )
    found: Component = table(head, rows, (2, 3, 4, 5, 6))
    return found


def _sizings(zone: DuctZone, units: System) -> Component:
    rows = [
        (
            f"{row.policy} (chosen)" if row.chosen else row.policy,
            "yes" if row.feasible else "no",
            dollars(row.price_usd),
            f"{pressure_figure(row.static_pa, units)} of {pressure(row.available_pa, units)}",
            f"{inches(row.smallest_m, units)} to {inches(row.largest_m, units)}",
            of(row.filter_face_m_s, Kind.SPEED, units),
            _pillow(row.pillow_dba),
            percent(row.heat_delivered_frac),
            percent(row.cool_delivered_frac),
            "; ".join(row.warnings),
        )
        for row in zone.sizings
    ]
    head = (
        "Ducts",
        "Fits",
        "Installed",
        "Static",
        "Branches",
        "Filter face",
        "In bed, dB(A)",
        "Heat arrives",
        "Cooling arrives",
        "Warnings",
    )
    found: Component = table(head, rows, (2, 3, 4, 5, 6, 7, 8))
    return found


def walls_part(view: DesignerView) -> Component | None:
    """Outside walls where lines or units are seen."""
    if not view.elevations:
        return None
    return section("walls", "Outside walls", "Lines under cover and outdoor units, as seen from the garden.",
                   Drawing(svg=on_page(elevations_picture(view).svg)))  # fmt: skip
