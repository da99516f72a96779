"""Ducts of one concealed unit for the crew: schedule with dampers, air path back, static budget."""

from __future__ import annotations

import re
from itertools import zip_longest

from compare.views.designer import DuctRow, DuctZone
from proposal.document.blocks import Block, Heading, Paragraph, Schedule, Ticks
from proposal.sheets.trade import LEFT, Trade, schedule, table_of
from proposal.words import capital, name
from proposal.words.figures import joined

_SPACES = re.compile(" {2,}")


def duct_blocks(trade: Trade, zone: DuctZone) -> list[Block]:
    """All that is built for one concealed unit beside the unit itself."""
    text = trade.say(
        "ducts_text",
        space=capital(trade.told(name(zone.space))),
        policy=trade.told(zone.policy),
        flow=trade.flow(zone.actual_m3_s),
        width=trade.small(zone.plenum_width_m),
        height=trade.small(zone.plenum_height_m),
    )
    heading = trade.say("ducts", tag=zone.tag)
    head, weights = trade.head("ducts_head"), (0.65, 1.05, 0.8, 1.2, 1.35, 1.25, 1.4, 1.1)
    rules = tuple(Paragraph(row["text"], style="small") for row in table_of(trade, "crew", part="ducts"))
    return [
        Heading(2, heading),
        Paragraph(text, style="small", sticky=True),
        schedule(heading, head, [_row(trade, row) for row in zone.branches], weights),
        Paragraph(_back(trade, zone), style="small"),
        *_transfers(trade, zone),
        *static_blocks(trade, zone),
        *([Ticks(rules)] if rules else []),
    ]


def _row(trade: Trade, row: DuctRow) -> tuple[str, ...]:
    size = trade.small(row.diameter_m)
    face = joined(trade.size(row.face_width_m, row.face_height_m))
    register = trade.say("register", kind=trade.told(row.outlet), face=face)
    damper = trade.say(
        "damper",
        open=f"{row.damper_notches}",
        notches=f"{row.notches}",
        pressure=trade.pressure(row.damper_pa),
    )
    return (
        row.tag,
        name(row.room_name),
        trade.say("runs", n=f"{row.runs}", size=size) if row.runs > 1 else size,
        trade.say("length_flex", length=trade.length(row.length_m), flex=trade.length(row.flex_m)),
        trade.flow(row.flow_m3_s),
        trade.pressure(row.drop_pa),
        damper,
        register,
    )


def _back(trade: Trade, zone: DuctZone) -> str:
    back = zone.way_back
    told = trade.say(
        "back",
        room=name(back.room_name),
        width=trade.small(back.face_width_m),
        height=trade.small(back.face_height_m),
        depth=f"{back.filter_depth_in}",
        speed=trade.speed(back.face_m_s),
        box=trade.small(back.box_side_m),
        length=trade.length(back.length_m),
        turns=trade.say("turns") if back.radius_turns else "",
        reach=trade.told(back.reach),
    )
    return _SPACES.sub(" ", told)


def _transfers(trade: Trade, zone: DuctZone) -> list[Schedule]:
    """Rooms that need a way back with their doors shut."""
    body = []
    for row in zone.transfers:
        if row.remedy == "open":
            continue
        cells = (row.as_is_pa, row.pressure_pa, row.limit_pa)
        body.append(
            (
                name(row.room_name),
                trade.flow(row.flow_m3_s),
                *(f"{value:.1f} Pa" for value in cells),
                _remedy(trade, row.remedy, row.undercut_m, row.grille_m2),
            )
        )
    head = trade.head("transfer_head")
    return [schedule(head[0], head, body, (1.2, 1.0, 0.9, 1.1, 0.9, 2.0))] if body else []


def _remedy(trade: Trade, remedy: str, undercut_m: float, grille_m2: float) -> str:
    words = trade.say(f"remedy_{remedy}")
    if undercut_m > 0.0 and remedy == "undercut":
        return f"{words} {trade.small(undercut_m)}"
    if grille_m2 > 0.0:
        return f"{words}, {trade.area(grille_m2)}"
    return words


def static_blocks(trade: Trade, zone: DuctZone) -> list[Block]:
    """Static budget, part by part."""
    whole = [(capital(trade.told(part.part)), part.pressure_pa) for part in zone.static]
    whole.append((trade.say("static_total"), zone.static_pa))
    whole.append((trade.say("static_available"), zone.available_pa))
    whole.append((trade.say("static_setting"), zone.setting_pa))
    branch = [(capital(trade.told(part.part)), part.pressure_pa) for part in zone.branch_parts]
    body = tuple(
        (one[0], trade.pressure(one[1]), *((two[0], trade.pressure(two[1])) if two else ("", "")))
        for one, two in zip_longest(whole, branch[: len(whole)])
        if one
    )
    heading = trade.say("static", tag=zone.tag)
    head, align = trade.head("static_head"), (LEFT, LEFT, LEFT, LEFT)
    return [Heading(2, heading), Schedule(heading, head, body, align, (1.6, 1.0, 1.6, 1.0))]
