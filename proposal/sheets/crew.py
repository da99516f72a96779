"""Crew sheet: what is built where, with dimensions, lines, ducts, dampers, circuits and charge."""

from __future__ import annotations

from compare.views.designer import DuctZone, LineMark
from compare.views.sheets import IndoorRow
from proposal.document.blocks import (
    BLANK,
    Block,
    Bullets,
    Document,
    Heading,
    Paragraph,
    PhotoPlaces,
    Ticks,
)
from proposal.drawing.words import say
from proposal.sheets.ducts import duct_blocks
from proposal.sheets.pictures import plan_figures, walls_pictures
from proposal.sheets.trade import Trade, opening, people, schedule, sheet_of, table_of
from proposal.words import capital, name, plain


def crew_sheet(trade: Trade) -> Document:
    """The sheet for those who build."""
    blocks = [
        *opening(trade, headline(trade)),
        Paragraph(capital(f"{trade.told(trade.view.design.option_name)}."), style="small"),
        people(trade),
        *_units(trade),
        *_heaters(trade),
        *_placing(trade),
        *_plan(trade),
        *_outdoor(trade),
        *_walls(trade),
        *_lines(trade),
        *(block for zone in trade.view.design.zones for block in duct_blocks(trade, zone)),
        *_electrical(trade),
        *_refrigerant(trade),
        *_controls(trade),
        *_heed(trade),
        *_safety(trade),
        *_photos(trade),
    ]
    return sheet_of(trade, "crew", blocks)


def headline(trade: Trade) -> str:
    """As in `Two units indoors, one unit outdoors.`"""
    indoor, outdoor = len(trade.view.indoor), len(trade.view.circuits)

    def counted(key: str, number: int) -> str:
        text = trade.say(f"{key}_{'one' if number == 1 else 'many'}", n=trade.words.count(number))
        return text[:1].upper() + text[1:] if key == "indoor" else text

    return trade.say("crew_headline", indoor=counted("indoor", indoor), outdoor=counted("outdoor", outdoor))


def _plan(trade: Trade) -> list[Block]:
    text = Paragraph(trade.say("plan_text"), style="small", sticky=True)
    return [Heading(2, trade.say("plan")), text, *plan_figures(trade)]


def rooms_of(trade: Trade, row: IndoorRow) -> str:
    """Rooms of a unit, and those that borrow its air."""
    rooms = ", ".join(name(room) for room in row.rooms)
    others = ", ".join(name(room) for room in row.borrows)
    return trade.say("borrows", rooms=rooms, others=others) if others else rooms


def _units(trade: Trade) -> list[Block]:
    body = []
    for row in trade.view.indoor:
        heat = trade.say("need_gives", need=trade.power(row.heat_load_w), gives=trade.power(row.heat_most_w))
        cool = trade.say("need_gives", need=trade.power(row.cool_load_w), gives=trade.power(row.cool_most_w))
        size = trade.size(row.width_m, row.height_m, row.depth_m)
        air = f"{trade.flow(row.quiet_m3_s)} – {trade.flow(row.high_m3_s)}"
        body.append((row.tag, trade.told(row.size), rooms_of(trade, row), heat, cool, size, air))
    head, weights = trade.head("units_head"), (0.65, 1.0, 1.5, 1.1, 1.1, 1.05, 1.15)
    return [Heading(2, trade.say("units")), schedule(trade.say("units"), head, body, weights)]


def _heaters(trade: Trade) -> list[Block]:
    """Electric room heaters with their tags on the plan."""
    body = [
        (row.tag, name(row.room), trade.power(row.load_w), trade.watts(row.power_w)) for row in trade.view.room_heaters
    ]
    heading = trade.say("heaters")
    table = schedule(heading, trade.head("heaters_head"), body, (0.6, 2.0, 1.4, 2.6))
    return [Heading(2, heading), table] if body else []


def _place(trade: Trade, row: IndoorRow) -> Paragraph:
    offsets, size, place = trade.offsets(row.offsets), capital(trade.told(row.size)), trade.told(name(row.place))
    if row.clear_m is None:
        height = trade.length(row.hangs_m or 0.0)
        text = trade.say("placing_room", size=size, place=place, offsets=offsets, height=height)
    else:
        clear = " × ".join(trade.length(value) for value in row.clear_m)
        service = trade.told(row.service) if row.service not in ("", "any") else trade.say("any_side")
        text = trade.say("placing_hidden", size=size, place=place, offsets=offsets, clear=clear, service=service)
    return Paragraph(text, lead=f"{row.tag}.", style="small")


def _placing(trade: Trade) -> list[Block]:
    notes = [
        Paragraph(capital(trade.told(note)), lead=f"{sheet.tag}.", style="small")
        for sheet in trade.view.design.sitings
        for note in sheet.notes
    ]
    items = [*(_place(trade, row) for row in trade.view.indoor), *notes]
    return [Heading(2, trade.say("placing")), Bullets(tuple(items)), *_rules(trade, "siting")]


def _rules(trade: Trade, part: str) -> list[Block]:
    items = tuple(Paragraph(row["text"], style="small") for row in table_of(trade, "crew", part=part))
    return [Ticks(items)] if items else []


def _outdoor(trade: Trade) -> list[Block]:
    sheets = {sheet.tag: sheet for sheet in trade.view.design.outdoor}
    body = []
    for row in trade.view.circuits:
        sheet = sheets.get(row.tag)
        sound = "–"
        if sheet is not None:
            parts = {"line": trade.level(sheet.line_dba), "limit": trade.level(sheet.limit_dba)}
            key = "sound_line" if sheet.window_dba is None else "sound_both"
            sound = trade.say(key, window=trade.level(sheet.window_dba), **parts)
        size = trade.size(row.width_m, row.height_m, row.depth_m)
        spot = trade.told(name(row.spot))
        body.append(
            (row.tag, trade.told(row.size), ", ".join(row.serves), spot, trade.offsets(row.offsets), size, sound)
        )
    head, weights = trade.head("outdoor_head"), (0.65, 1.0, 0.6, 0.9, 2.1, 0.95, 1.6)
    return [
        Heading(2, trade.say("outdoor")),
        schedule(trade.say("outdoor"), head, body, weights),
        *_rules(trade, "outdoor"),
    ]


def _drain(trade: Trade, line: LineMark) -> str:
    return trade.say("drain_pump") if line.pump else trade.say("drain_falls", fall=trade.small(line.drain_fall_m))


def _lines(trade: Trade) -> list[Block]:
    limits = {tag: row for row in trade.view.circuits for tag in row.serves}
    body = []
    for line in trade.view.design.lines:
        limit = limits[line.tag]
        most, lift = trade.length(limit.branch_most_m), trade.length(limit.lift_most_m)
        body.append(
            (
                trade.say("line_pair", tag=line.tag, outdoor=line.outdoor),
                trade.say("at_most", value=trade.length(line.length_m), limit=most),
                trade.say("at_most", value=trade.length(line.lift_m), limit=lift),
                trade.say("cover", length=trade.length(line.cover_m), width=trade.small(line.cover_width_m)),
                _drain(trade, line),
            )
        )
    if not body:
        return []
    head, weights = trade.head("lines_head"), (0.9, 1.4, 1.2, 1.3, 1.2)
    return [Heading(2, trade.say("lines")), schedule(trade.say("lines"), head, body, weights), *_rules(trade, "lines")]


def _walls(trade: Trade) -> list[Block]:
    """Covers and outdoor units on each outside wall, measured from its left corner and over the ground."""
    body = []
    for wall in trade.view.design.elevations:
        side = say(trade.drawn, f"wall_{wall.side}")
        for item in wall.items:
            along = trade.say("span", low=trade.length(max(item.from_m, 0.0)), high=trade.length(item.to_m))
            up = trade.say("span", low=trade.length(item.low_m), high=trade.length(item.high_m))
            key = "wall_unit" if item.kind == "outdoor unit" else "wall_cover"
            body.append((side, trade.say(key, tags=item.label), along, up))
    if not body:
        return []
    heading, head = trade.say("on_walls"), trade.head("on_walls_head")
    return [Heading(2, trade.say("walls")), *walls_pictures(trade), schedule(heading, head, body, (1.0, 1.2, 2.0, 1.8))]


def _heater_circuits(trade: Trade) -> str:
    """Circuits of all room heaters; empty without any."""
    circuits = trade.view.panel.heater_circuits
    if not circuits:
        return ""
    watts = trade.watts(sum(row.power_w for row in trade.view.room_heaters))
    return trade.say("heater_circuits", n=f"{circuits}", watts=watts) + " "


def _electrical(trade: Trade) -> list[Block]:
    body = [
        (row.tag, row.volts, trade.say("amps", value=f"{row.circuit_a:.0f}"), BLANK, BLANK)
        for row in trade.view.circuits
    ]
    panel = trade.view.panel
    key = "panel_unknown" if panel.spaces_free is None else "panel_known"
    spaces = trade.say(key, need=f"{panel.spaces_needed}", free=f"{panel.spaces_free}")
    return [
        Heading(2, trade.say("electrical")),
        schedule(trade.say("electrical"), trade.head("electrical_head"), body, (0.5, 0.8, 1.2, 1.2, 1.2)),
        Paragraph(f"{spaces} {_heater_circuits(trade)}{trade.told(panel.note)}", style="small"),
        *_rules(trade, "electrical"),
    ]


def _refrigerant(trade: Trade) -> list[Block]:
    body = [
        (
            row.tag,
            trade.mass(row.factory_kg),
            trade.mass(row.added_kg),
            trade.mass(row.factory_kg + row.added_kg),
            trade.mass(row.limit_kg),
            trade.told(row.charge_verdict),
        )
        for row in trade.view.circuits
    ]
    head, weights = trade.head("refrigerant_head"), (0.5, 1.0, 1.1, 1.0, 1.0, 0.8)
    return [
        Heading(2, trade.say("refrigerant")),
        schedule(trade.say("refrigerant"), head, body, weights),
        *_rules(trade, "refrigerant"),
    ]


def _controls(trade: Trade) -> list[Block]:
    items = tuple(
        Paragraph(
            trade.say(
                "control_line",
                tag=mark.tag,
                serves=mark.serves,
                room=name(mark.room_name),
                note=capital(trade.told(mark.note)),
            ),
            style="small",
        )
        for mark in trade.view.design.controls
    )
    return [Heading(2, trade.say("control")), Bullets(items)] if items else []


def _zone_notes(trade: Trade, zone: DuctZone) -> list[str]:
    return [f"{zone.tag}: {trade.told(note)}" for note in (*zone.reasons, *zone.notes)]


def _heed(trade: Trade) -> list[Block]:
    design = trade.view.design
    missed = [trade.say("not_met", check=trade.told(check.check)) for check in design.checks if not check.met]
    zones = [note for zone in design.zones for note in _zone_notes(trade, zone)]
    lines = [f"{line.tag}: {trade.told(note)}" for line in design.lines for note in line.notes]
    notes = [*map(trade.told, trade.view.findings), *zones, *lines, *missed]
    items = tuple(Paragraph(plain(note), style="small") for note in dict.fromkeys(notes))
    return [Heading(2, trade.say("heed")), Bullets(items)] if items else []


def _safety(trade: Trade) -> list[Block]:
    return [Heading(2, trade.say("care")), *_rules(trade, "safety")]


def _photos(trade: Trade) -> list[Block]:
    labels = [trade.say("photo_indoor", tag=row.tag) for row in trade.view.indoor]
    labels += [trade.say("photo_hole", tag=row.tag) for row in trade.view.indoor]
    labels += [trade.say("photo_dampers", tag=zone.tag) for zone in trade.view.design.zones]
    for row in trade.view.circuits:
        labels += [trade.say("photo_outdoor", tag=row.tag), trade.say("photo_gauge", tag=row.tag)]
    labels.append(trade.say("photo_panel"))
    return [Heading(2, trade.say("photos")), PhotoPlaces(tuple(labels), lead=trade.say("photo"))]
