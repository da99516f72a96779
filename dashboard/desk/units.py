"""Units of a layout: need against output, one outdoor unit or two, checks, places with draught and sound."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.commands.unit_lines import backup_lines, energy_lines
from compare.units import Kind, System
from compare.views.customer import UnitBand
from compare.views.designer import DesignerView, SitingSheet
from compare.years.backup import backup_of
from compare.years.supplies import factory_of
from compare.years.ways import Way, both_ways
from compare.zones.sketch import Family
from dashboard.components import Drawing
from dashboard.desk.parts import NOT_MET, chart_table, dollars, folded, of, percent, power, section, table
from dashboard.desk.study import Study
from dashboard.desk.told import bands_of
from dashboard.tokens import PAGE
from proposal.drawing.look import Look
from proposal.drawing.need import NeedRow, need_chart

NEED_PX = 282.0
WORSE_SHARE = 0.2
"""A row for comparison is drawn when its unit goes on and off in this much more of its hours (our judgement)."""
MODES = (("heating", "Heating", "warm"), ("cooling", "Cooling", "cool"))


def is_recommended(study: Study, option_id: str) -> bool:
    """Whether a layout may be drawn in plum: first, and not level with others."""
    winner, sure = study.ranking.winner, study.tested.certainty or study.ranking.certainty
    alone = sure is not None and sure.verdict.value != "too close to call"
    return winner is not None and winner.option.option_id == option_id and alone


def _lone_unit(study: Study, ours: tuple[UnitBand, ...]) -> tuple[str, dict[str, UnitBand]] | None:
    """A room that would go on and off much more with a unit of its own: its name, and its bands by mode."""
    each = [item for item in study.ranking.ranked if item.option.family == Family.HEAD_EACH.value]
    if not each or not ours:
        return None
    others = [band for band in bands_of(study, each[0].option.option_id) if len(band.rooms) == 1]
    worst = max((band for band in others if band.mode == "heating"), key=lambda band: band.on_off_share, default=None)
    most = max(band.on_off_share for band in ours)
    if worst is None or worst.on_off_share < most + WORSE_SHARE:
        return None
    return worst.rooms[0], {band.mode: band for band in others if band.rooms == worst.rooms}


def need_part(study: Study, option_id: str, units: System) -> Component:
    """Need against output, heating and cooling side by side."""
    bands = bands_of(study, option_id)
    lone, ours = _lone_unit(study, bands), is_recommended(study, option_id)
    look = Look(theme=PAGE, units=units, width_px=NEED_PX)
    columns: list[Component] = []
    for mode, words, css in MODES:
        rows = [NeedRow(band, ours) for band in bands if band.mode == mode]
        if rows and lone and mode in lone[1]:
            rows.append(NeedRow(lone[1][mode], ours=False, heading=f"If {lone[0]} had its own:"))
        if rows:
            chart = need_chart(rows, look)
            columns.append(html.Div([html.H3(words, className=css), Drawing(svg=chart.svg), chart_table(chart.table)]))
    note = (
        "Hill: hours of the year at each load, scaled to equal height. Bar: smallest to largest output. "
        "Hatched: below the smallest output."
    )
    inside = html.Div(columns, className="two") if columns else html.P("No unit of this layout runs.", className="note")
    return section("need", "Need against output, unit by unit", note, inside)


def checks_part(view: DesignerView) -> Component:
    """Every check with its source; one that fails says so in words and with a sign."""
    failed = sum(not row.met for row in view.checks)
    told = f"All {len(view.checks)} hold." if not failed else f"{failed} of {len(view.checks)} not met."
    rows = [
        (
            row.check if row.met else {"sign": "△ ", "strong": NOT_MET, "words": row.check},
            row.design,
            row.allowed,
            row.source,
        )
        for row in sorted(view.checks, key=lambda row: row.met)
    ]
    return section("checks", "Checks", told, table(("Check", "This design", "Allowed", "Source"), rows), css="checks")


def ways_part(study: Study, option_id: str, units: System) -> Component | None:
    """One outdoor unit or one each, wherever there is something to share."""
    option = study.result(option_id).option
    if len(option.zones) < 2:
        return None
    found = both_ways(study.found.results, option.layout.key)
    ways = [("One each", found.apart), *([("Shared", found.together)] if found.together else [])]
    head = ("Served by", "Least output, heating", "Starts a year", "Electricity", "If one fails", "Lines", "Installed")
    rows = [_way(words, way, option_id, units) for words, way in ways]
    notes = [html.P(text, className="note") for text in found.why_not]
    notes += [html.P(f"{words}: {text}", className="note") for words, way in ways for text in way.rejected_for]
    note = (
        "The smallest output belongs to the outdoor unit. Both were worked out for the year." if found.together else ""
    )
    return section("ways", "One outdoor unit or several?", note, table(head, rows, (1, 2, 3, 5, 6)), *notes)


def _way(words: str, way: Way, option_id: str, units: System) -> tuple[str, ...]:
    still = "; ".join(f"without {one.outdoor}: {', '.join(one.still_runs) or 'nothing runs'}" for one in way.failures)
    alone = [one.heat_min_w for one in way.calling if len(one.zones) == 1]
    return (
        f"{words}{' (this design)' if way.key == option_id else ''}",
        ", ".join(power(value, units) for value in alone),
        f"{way.starts:,.0f}",
        f"{way.electricity_kwh:,.0f}\u00a0kWh",
        still,
        of(way.line_m, Kind.LENGTH, units),
        dollars(way.price_mid_usd),
    )


def siting_parts(view: DesignerView, units: System) -> list[Component]:
    """Places of room units with draught and sound, types compared, controls, lines and outdoor units."""
    return [*(_siting(sheet, units) for sheet in view.sitings), _outside(view, units)]


def _siting(sheet: SitingSheet, units: System) -> Component:
    heads = [
        (
            head.ear, of(head.distance_m, Kind.LENGTH, units), of(head.cool_m_s, Kind.SPEED, units),
            percent(head.cool_frac),
            percent(head.heat_frac), f"{head.quiet_dba:.0f}", f"{head.high_dba:.0f}",
        )
        for head in sheet.heads
    ]  # fmt: skip
    kinds = [
        (kind.kind, "yes" if kind.feasible else "no", f"{kind.points:.1f}", f"+{dollars(kind.extra_usd)}",
         percent(kind.worst_draught_frac), kind.label, kind.why)
        for kind in sheet.kinds
    ]  # fmt: skip
    inside: list[Component] = []
    if heads:
        titles = (
            "Bed or seat",
            "Distance",
            "Air, cooling",
            "Draught, cooling",
            "Draught, heating",
            "Quiet, dB(A)",
            "High, dB(A)",
        )
        inside.append(table(titles, heads, range(1, 7)))
    inside += [html.P(note, className="note") for note in sheet.notes]
    inside.append(table(("Type", "Fits", "Points against", "Price", "Draught", "Place", "Why"), kinds, (2, 3, 4)))
    where = "from the survey" if sheet.surveyed else "worked out"
    throw = of(sheet.throw_m, Kind.LENGTH, units)
    return section(
        f"place-{sheet.tag}",
        f"{sheet.tag} in {sheet.room_name}",
        f"{sheet.unit}. {sheet.label} ({where}); air reaches {throw}.",
        *inside,
    )


def _outside(view: DesignerView, units: System) -> Component:
    lines = [
        (
            f"{line.tag} to {line.outdoor}", of(line.length_m, Kind.LENGTH, units), of(line.lift_m, Kind.LENGTH, units),
            of(line.cover_m, Kind.LENGTH, units),
            "pump" if line.pump else f"falls {of(line.drain_fall_m, Kind.SMALL_LENGTH, units)}", "; ".join(line.notes),
        )
        for line in view.lines
    ]  # fmt: skip
    outdoor = [
        (
            one.tag, one.spot, ", ".join(one.serves), of(one.property_line_m, Kind.LENGTH, units),
            f"{one.line_dba:.0f}",
            "" if one.window_dba is None else f"{one.window_dba:.0f}", "; ".join(one.notes),
        )
        for one in view.outdoor
    ]  # fmt: skip
    controls = [(one.tag, one.serves, one.room_name, one.note) for one in view.controls]
    return section(
        "outside",
        "Lines, drains, outdoor units, controls",
        "",
        table(("Line", "Length", "Lift", "Under cover", "Drain", "Notes"), lines, (1, 2, 3)),
        table(
            ("Unit", "Place", "Serves", "Property line", "dB(A) there", "Bedroom window", "Notes"), outdoor, (3, 4, 5)
        ),
        table(("Control", "For", "Room", "Place"), controls),
        *(html.P(f"Transfer fan, {text}.", className="note") for text in view.fan_rooms),
    )


def running_part(study: Study, option_id: str, units: System) -> Component:
    """Backup and energy of the year by unit and cause, as the command `units` prints them."""
    case, run = study.told_in(units).case, study.found.hours(option_id)
    backup = backup_of(case, factory_of(case), run.option)
    lines = [line.strip() for line in backup_lines(case, backup)]
    energy = "\n".join(line.removeprefix("    ") for line in energy_lines(case, run))
    return section(
        "year",
        "Backup and energy of the year",
        "",
        *(html.P(f"{line[:1].upper()}{line[1:]}.", className="note") for line in lines),
        folded("Electricity by unit and cause", html.Pre(energy)),
    )
