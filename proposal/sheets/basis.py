"""Basis of a design: loads by every method, sizes, static, sound, what stands against it, assumptions, sources."""

from __future__ import annotations

from compare.views.designer import DuctZone
from compare.views.sheets import LoadRow
from proposal.document.blocks import Block, Bullets, Document, Heading, Paragraph, Schedule
from proposal.sheets.ducts import static_blocks
from proposal.sheets.pictures import air_blocks
from proposal.sheets.trade import LEFT, RIGHT, Trade, opening, rows, schedule, sheet_of
from proposal.words import capital, name


def basis_sheet(trade: Trade) -> Document:
    """The sheet for colleagues, inspectors and programmes."""
    blocks = [
        *opening(trade, trade.say("basis_headline")),
        Paragraph(f"{trade.told(trade.view.weather)} {capital(trade.told(trade.view.design_source))}.", style="small"),
        *_loads(trade),
        *_sizes(trade),
        *(block for zone in trade.view.design.zones for block in static_blocks(trade, zone)),
        *air_blocks(trade),
        *_sound(trade),
        *_checks(trade),
        *_spaces(trade),
        *_findings(trade),
        *_assumed(trade),
        *_sources(trade),
    ]
    return sheet_of(trade, "basis", blocks)


def _load_cells(trade: Trade, row: LoadRow, title: str) -> tuple[str, ...]:
    powers = (row.heat_w, row.second_heat_w, row.cool_sensible_w, row.second_cool_w, row.cool_latent_w)
    hour = "–" if row.peak_hour_h is None else trade.say("hour", n=f"{row.peak_hour_h}")
    return (title, *(trade.power(value) for value in powers), hour)


def _by_bills(trade: Trade) -> list[Paragraph]:
    """The third method, where the house file has bills that can be used."""
    found = trade.view.loads.by_bills
    if found is None:
        return []
    shown = {"heat": found.heat_w, "low": found.low_w, "high": found.high_w, "calculated": found.calculated_w}
    verdict = trade.say("bills_agree" if found.agrees else "bills_differ")
    powers = {key: trade.power(value) for key, value in shown.items()}
    return [Paragraph(trade.say("by_bills", verdict=verdict, **powers), style="small")]


def _loads(trade: Trade) -> list[Block]:
    loads = trade.view.loads
    bills = trade.told(loads.bills) if loads.bills else trade.say("no_bills")
    methods = {"method": trade.told(loads.method), "second": trade.told(loads.second_method)}
    text = trade.say("loads_text", bills=bills, **methods)
    body = [_load_cells(trade, row, name(row.room)) for row in loads.rooms]
    body.append(_load_cells(trade, loads.house, trade.say("together")))
    head = trade.head("loads_head")
    table = Schedule(
        trade.say("loads"),
        head,
        tuple(body),
        (LEFT, *(RIGHT for _ in head[1:])),
        (1.6, 1.1, 1.1, 1.1, 1.1, 1.0, 0.7),
    )
    warnings = tuple(Paragraph(trade.told(text), style="small") for text in loads.warnings)
    return [
        Heading(2, trade.say("loads")),
        Paragraph(text, style="small", sticky=True),
        table,
        *_by_bills(trade),
        *([Bullets(warnings)] if warnings else []),
    ]


def _sizes(trade: Trade) -> list[Block]:
    body = [
        (
            row.tag,
            trade.told(row.size),
            f"{trade.power(row.heat_least_w)} – {trade.power(row.heat_most_w)}",
            trade.share(row.cover_heat_frac),
            trade.share(row.cover_cool_frac),
            "; ".join(map(trade.told, row.others)),
        )
        for row in trade.view.indoor
    ]
    heading, head = trade.say("selection"), trade.head("selection_head")
    note = Paragraph(f"{capital(trade.told(trade.view.catalogue_note))}.", style="small")
    return [Heading(2, heading), schedule(heading, head, body, (0.65, 1.1, 1.3, 0.8, 0.8, 3.3)), note]


def ear(trade: Trade, told: str) -> str:
    """As in `Bedroom 2: bed 1`; the room keeps its own name."""
    room, colon, what = told.rpartition(": ")
    kind, _, number = what.partition(" ")
    return f"{name(room)}{colon}{trade.drawn.get(f'ear_{kind}', kind)} {number}".strip()


def _sound(trade: Trade) -> list[Block]:
    items = tuple(
        Paragraph(
            trade.say(
                "noise_text",
                tag=zone.tag,
                speed=trade.told(sheet.speed),
                ear=ear(trade, sheet.ear),
                level=trade.level(sheet.level_dba),
                criterion=f"{sheet.criterion_nc:.0f}",
                other=trade.level(sheet.at_register_dba),
                limit=trade.level(sheet.limit_dba),
            ),
            style="small",
        )
        for zone in trade.view.design.zones
        for sheet in zone.sound
    )
    return [Heading(2, trade.say("noise")), Bullets(items)] if items else []


def _checks(trade: Trade) -> list[Block]:
    heading = trade.say("checks")
    body = [
        (
            trade.told(check.check) if check.met else trade.say("not_met", check=trade.told(check.check)),
            trade.told(check.design),
            trade.told(check.allowed),
            trade.told(check.source),
        )
        for check in trade.view.design.checks
    ]
    table = schedule(heading, trade.head("checks_head"), body, (1.7, 1.6, 1.4, 1.8))
    return [Heading(2, heading), table] if body else []


def _space_rows(trade: Trade, zone: DuctZone) -> list[tuple[str, ...]]:
    return [
        (
            zone.tag,
            trade.told(name(row.space)),
            trade.say("yes") if row.feasible else f"{trade.say('no')}: {'; '.join(map(trade.told, row.reasons))}",
            trade.share(row.heat_delivered_frac),
            trade.say("at_most", value=trade.pressure(row.static_pa), limit=trade.pressure(row.available_pa)),
            trade.level(row.pillow_dba),
        )
        for row in zone.spaces
    ]


def _spaces(trade: Trade) -> list[Block]:
    body = [row for zone in trade.view.design.zones for row in _space_rows(trade, zone)]
    heading = trade.say("spaces")
    table = schedule(heading, trade.head("spaces_head"), body, (0.65, 1.2, 2.2, 0.8, 1.4, 0.85))
    return [Heading(2, heading), table] if len(body) > 1 else []


def _findings(trade: Trade) -> list[Block]:
    design = trade.view.design
    found = [*trade.view.findings, *(reason for zone in design.zones for reason in zone.reasons)]
    items = tuple(Paragraph(capital(trade.told(text)), style="small") for text in found)
    heading = Heading(2, trade.say("feasibility"))
    return [heading, Bullets(items) if items else Paragraph(trade.say("none_found"), style="small")]


def _assumed(trade: Trade) -> list[Block]:
    body = [
        (trade.told(line.subject), trade.told(line.value), trade.told(line.reason)) for line in trade.view.assumptions
    ]
    heading = trade.say("assumed")
    table = schedule(heading, trade.head("assumed_head"), body, (1.2, 1.6, 2.4))
    return [Heading(2, heading), table] if body else []


def _sources(trade: Trade) -> list[Block]:
    language = trade.words.code.partition("-")[0]
    items = tuple(Paragraph(row["text"], style="small") for row in rows("basis_sources", language))
    return [Heading(2, trade.say("sources")), Bullets(items)]
