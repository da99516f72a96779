"""The air side of one option as text: schedule, static, sound, way back, places, lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compare.units import Kind, System, show
from compare.views.designer import DesignerView, DuctRow, DuctZone, SitingSheet, SoundSheet

BANDS = ("63", "125", "250", "500", "1k", "2k", "4k", "8k")
Row = Sequence[str]


def table(head: Row, rows: Sequence[Row], left: int = 1) -> Iterator[str]:
    """Rows under a head, the first `left` columns flush left, figures flush right."""
    cells = [tuple(head), *(tuple(row) for row in rows)]
    widths = [max(len(row[column]) for row in cells) for column in range(len(head))]
    for row in cells:
        parts = [
            text.ljust(width) if column < left else text.rjust(width)
            for column, (text, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join(parts).rstrip()


def air_text(view: DesignerView) -> str:
    """Everything of a view that is words and figures."""
    units = System(view.units)
    parts = [[f"{view.house}", f"Option {view.option_id}: {view.option_name}"]]
    parts += [list(_zone(zone, units)) for zone in view.zones]
    parts += [list(_siting(sheet, units)) for sheet in view.sitings]
    parts += [list(_controls(view)), list(_lines(view, units)), list(_outdoor(view, units)), list(_checks(view))]
    if view.fan_rooms:
        parts.append(["Transfer fans", *(f"  {line}" for line in view.fan_rooms)])
    return "\n\n".join("\n".join(part) for part in parts if part)


def _zone(zone: DuctZone, units: System) -> Iterator[str]:
    yield f"{zone.tag}  {zone.unit}, {zone.space}, {zone.policy} sizing"
    yield "  can be built" if zone.feasible else "  cannot be built: " + "; ".join(zone.reasons)
    yield f"  plenum {_size(zone.plenum_width_m, zone.plenum_height_m, units)}"
    yield ""
    yield "  Duct schedule"
    yield from _schedule(zone.branches, units)
    yield ""
    yield from _static(zone, units)
    yield ""
    yield from _solved(zone, units)
    for sheet in zone.sound:
        yield ""
        yield from _sound(sheet)
    yield ""
    yield from _back(zone, units)
    yield ""
    yield from _otherwise(zone, units)
    yield from (f"  note: {note}" for note in zone.notes)


def _size(width_m: float, height_m: float, units: System) -> str:
    if units is System.US:
        return f"{width_m / 0.0254:.0f} x {height_m / 0.0254:.0f} in."
    return f"{width_m * 1000:.0f} x {height_m * 1000:.0f} mm"


def _round(diameter_m: float, units: System) -> str:
    return f"{diameter_m / 0.0254:.0f} in." if units is System.US else f"{diameter_m * 1000:.0f} mm"


def _pa(value_pa: float, units: System) -> str:
    return show(value_pa, Kind.PRESSURE, units, 3 if units is System.US else 1)


def _schedule(rows: Sequence[DuctRow], units: System) -> Iterator[str]:
    head = (
        "", "room", "runs", "size", "air", "speed", "length", "of it flex", "elbows", "drop", "damper", "open",
        "register", "throw", "dB(A)", "damper at register", "and full static",
    )  # fmt: skip
    body = [
        (
            row.tag,
            row.room_name,
            f"{row.runs}",
            _round(row.diameter_m, units),
            show(row.flow_m3_s, Kind.FLOW, units),
            show(row.speed_m_s, Kind.SPEED, units),
            show(row.length_m, Kind.LENGTH, units),
            show(row.flex_m, Kind.LENGTH, units),
            f"{row.elbows}",
            _pa(row.drop_pa, units),
            f"{_pa(row.damper_pa, units)} ({row.damper_deg:.0f} deg)",
            f"{row.damper_notches} of {row.notches}",
            f"{row.outlet} {_size(row.face_width_m, row.face_height_m, units)}",
            show(row.throw_m, Kind.LENGTH, units),
            "" if row.bed_dba is None else f"{row.bed_dba:.0f}",
            "" if row.register_damper_db is None else f"+{row.register_damper_db:.1f} dB",
            "" if row.full_static_db is None else f"+{row.full_static_db:.1f} dB",
        )
        for row in rows
    ]
    yield from table(head, body, 2)


def _static(zone: DuctZone, units: System) -> Iterator[str]:
    yield "  Static budget at the design flow"
    rows = [(part.part, _pa(part.pressure_pa, units)) for part in zone.static]
    rows += [(f"  {part.part}", _pa(part.pressure_pa, units)) for part in zone.branch_parts]
    rows += [
        ("total external static", _pa(zone.static_pa, units)),
        ("the unit can give", _pa(zone.available_pa, units)),
        ("static to set at the unit", _pa(zone.setting_pa, units)),
    ]
    yield from table(("part", "pressure"), rows)
    if zone.static_pa > zone.available_pa:
        short = 1 - zone.actual_m3_s / zone.design_m3_s
        yield f"  Not met: the fan is at its most and moves {short:.0%} less air than designed."


def _solved(zone: DuctZone, units: System) -> Iterator[str]:
    yield (
        f"  Air by the solved network (flows add up to {zone.flow_residual_frac:.0e} of the flow, "
        f"pressures to {zone.pressure_residual_pa:.0e} Pa)"
    )
    rows = [
        (
            row.room_name,
            show(row.design_m3_s, Kind.FLOW, units, 1),
            show(row.set_m3_s, Kind.FLOW, units, 1),
            show(row.open_m3_s, Kind.FLOW, units, 1),
        )
        for row in zone.solved
    ]
    yield from table(("room", "design", "dampers set", "all wide open"), rows)


def _sound(sheet: SoundSheet) -> Iterator[str]:
    yield f"  Sound at {sheet.ear}, {sheet.speed} speed: octave bands of each part, then dB(A) after it"
    rows = []
    for number, part in enumerate(sheet.parts):
        sign = "" if number == 0 else "+"
        rows.append(
            (
                part.part,
                *(f"{value:{sign}.1f}" for value in part.change_db),
                f"{part.after_dba:.1f}",
                f"{part.at_register_dba:.1f}",
            )
        )
    rows.append(
        ("at the ear", *(f"{v:.1f}" for v in sheet.level_db), f"{sheet.level_dba:.1f}", f"{sheet.at_register_dba:.1f}")
    )
    yield from table(("part", *BANDS, "dB(A)", "damper at register, full static"), rows)
    yield f"  NC {sheet.criterion_nc:.0f}; advice at most {sheet.limit_dba:.0f} dB(A)"


def _back(zone: DuctZone, units: System) -> Iterator[str]:
    back = zone.way_back
    yield (
        f"  Way back: grille {_size(back.face_width_m, back.face_height_m, units)}, {back.filter_depth_in} in. filter, "
        f"in {back.room_name}, {show(back.face_m_s, Kind.SPEED, units)}, filter {_pa(back.filter_pa, units)}; "
        f"box {_size(back.box_side_m, back.box_side_m, units)}, {show(back.length_m, Kind.LENGTH, units)}, "
        f"{'radius' if back.radius_turns else 'square'} turns at both ends"
    )
    yield f"  Filter: {back.reach}; {show(back.from_supply_m, Kind.LENGTH, units)} from the nearest supply register"
    rows = []
    for row in zone.transfers:
        cure = {
            "undercut": f"undercut {show(row.undercut_m, Kind.SMALL_LENGTH, units)}",
            "transfer grille": f"transfer grille or jump duct, {row.grille_m2 * 1e4 / 6.4516:.0f} in² free"
            if units is System.US
            else f"transfer grille or jump duct, {row.grille_m2 * 1e4:.0f} cm² free",
            "open": "open to the next room",
            "none": "door gap is enough",
        }[row.remedy]
        rows.append(
            (row.room_name, show(row.flow_m3_s, Kind.FLOW, units), f"{row.as_is_pa:.1f} Pa", f"{row.limit_pa:.0f} Pa",
             f"{row.pressure_pa:.1f} Pa", cure)
        )  # fmt: skip
    yield from table(("door shut", "air", "as it is", "at most", "after", "remedy"), rows)


def _otherwise(zone: DuctZone, units: System) -> Iterator[str]:
    yield "  The same rooms from each space"
    rows = [
        (
            ("> " if row.chosen else "  ") + row.space,
            "yes" if row.feasible else "no",
            f"${row.price_usd:,.0f}",
            f"{row.heat_delivered_frac:.0%}",
            f"{row.cool_delivered_frac:.0%}",
            f"{_pa(row.static_pa, units)} of {_pa(row.available_pa, units)}",
            "" if row.pillow_dba is None else f"{row.pillow_dba:.0f}",
            "pump" if row.pump else "falls",
            row.reasons[0] if row.reasons else row.service,
        )
        for row in zone.spaces
    ]
    head = ("space", "feasible", "price", "heat arrives", "cooling arrives", "static", "dB(A) in bed", "drain", "")
    yield from (line for line in table(head, rows, 1))
    yield ""
    yield "  The same ducts tight, normal and generous"
    rows = [
        (
            ("> " if row.chosen else "  ") + row.policy,
            "yes" if row.feasible else "no",
            f"${row.price_usd:,.0f}",
            f"{_pa(row.static_pa, units)} of {_pa(row.available_pa, units)}",
            f"{_round(row.smallest_m, units)} to {_round(row.largest_m, units)}",
            show(row.filter_face_m_s, Kind.SPEED, units),
            "" if row.pillow_dba is None else f"{row.pillow_dba:.1f}",
            f"{row.heat_delivered_frac:.1%}",
            f"{row.cool_delivered_frac:.1%}",
        )
        for row in zone.sizings
    ]
    titles = "sizing", "feasible", "price", "static", "branches", "filter", "dB(A) in bed", "heat arrives", "cooling"
    yield from table(titles, rows, 1)
    for row in zone.sizings:
        yield from (f"    {row.policy}: {warning}" for warning in row.warnings)


def _siting(sheet: SitingSheet, units: System) -> Iterator[str]:
    found = "surveyed" if sheet.surveyed else "generated"
    yield f"{sheet.tag}  {sheet.unit}, {sheet.room_name}: {sheet.label} ({found})"
    rows = [
        (
            head.ear,
            show(head.distance_m, Kind.LENGTH, units),
            show(head.cool_m_s, Kind.SPEED, units),
            f"{head.cool_frac:.0%}",
            f"{head.heat_frac:.0%}",
            _pair(head.cool_dissatisfied_frac, head.heat_dissatisfied_frac),
            f"{head.quiet_dba:.0f}",
            f"{head.high_dba:.0f}",
        )
        for head in sheet.heads
    ]
    if rows:
        head = ("at", "distance", "air", "draught cooling", "heating", "comfort", "quiet dB(A)", "high dB(A)")
        yield from table(head, rows)
    yield from (f"  note: {note}" for note in sheet.notes)
    yield "  Types compared (points against, the least wins)"
    types = [
        (
            kind.kind,
            f"{kind.points:.1f}",
            f"+${kind.extra_usd:,.0f}",
            f"{kind.worst_draught_frac:.0%}",
            kind.label,
            kind.why,
        )
        for kind in sheet.kinds
    ]
    yield from table(("type", "points", "price", "draught", "place", ""), types)
    yield from (f"  not {other}" for other in sheet.others[:6])


def _pair(cool_frac: float | None, heat_frac: float | None) -> str:
    """Dissatisfied in summer and in winter."""
    return "" if cool_frac is None or heat_frac is None else f"{cool_frac:.0%} / {heat_frac:.0%}"


def _controls(view: DesignerView) -> Iterator[str]:
    yield "Controls"
    yield from (f"  {one.tag} for {one.serves}: {one.room_name}, {one.note}" for one in view.controls)


def _lines(view: DesignerView, units: System) -> Iterator[str]:
    yield "Lines and drains"
    rows = [
        (
            f"{line.tag} to {line.outdoor}",
            show(line.length_m, Kind.LENGTH, units),
            show(line.lift_m, Kind.LENGTH, units),
            show(line.cover_m, Kind.LENGTH, units),
            "pump" if line.pump else f"fall of {show(line.drain_fall_m, Kind.SMALL_LENGTH, units)}",
        )
        for line in view.lines
    ]
    yield from table(("line", "length", "lift", "under cover", "drain"), rows)
    yield from (f"  note: {note}" for line in view.lines for note in line.notes)


def _outdoor(view: DesignerView, units: System) -> Iterator[str]:
    yield "Outdoor units"
    rows = [
        (
            one.tag,
            one.spot,
            ", ".join(one.serves),
            show(one.property_line_m, Kind.LENGTH, units),
            f"{one.line_dba:.0f} dB(A)",
            "" if one.window_dba is None else f"{one.window_dba:.0f} dB(A)",
        )
        for one in view.outdoor
    ]
    yield from table(("", "place", "serves", "line at", "at the line", "bedroom window"), rows, 3)
    notes = dict.fromkeys(note for one in view.outdoor for note in one.notes)
    yield from (f"  note: {note}" for note in notes)


def _checks(view: DesignerView) -> Iterator[str]:
    yield "Checks"
    rows = [(("" if row.met else "Not met: ") + row.check, row.design, row.allowed, row.source) for row in view.checks]
    yield from table(("check", "this design", "allowed", "source"), rows, 4)
