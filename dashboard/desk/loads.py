"""Design loads three ways: the program's, by load factors, and what the bills say; by room and by group of rooms."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dash import html
from dash.development.base_component import Component

from compare.loads.groups import RoomGroup
from compare.loads.report import FACTORS, OURS, OWN, LoadsReport
from compare.loads.result import PARTS
from compare.units import Kind, System
from dashboard.desk.parts import figure, folded, of, percent, power_unit, section, table

WORDS = {OURS: "Program", FACTORS: "Load factors", OWN: "Designer"}


def loads_part(report: LoadsReport, units: System, zones: Sequence[RoomGroup] = ()) -> Component:
    """Rooms, the zones of the open layout, groups, parts, bills and warnings."""
    heat, cool = of(report.heating_c, Kind.TEMPERATURE, units), of(report.cooling_c, Kind.TEMPERATURE, units)
    note = f"In {power_unit(units)}. Heating at {heat}, cooling at {cool} outside ({report.design_source})."
    return section(
        "loads",
        "Loads three ways",
        note,
        _rooms(report, units),
        *([html.H3("By zone of this layout"), _zones(report, zones, units)] if zones else []),
        html.P(_bills(report), className="note"),
        *(html.P(text, className="note") for text in report.warnings),
        folded("Rooms together: halves of the house, storeys, the whole", _groups(report, units)),
        folded("Every load by part", _parts(report, units, cooling=False), _parts(report, units, cooling=True)),
        html.P(" ".join(f"{WORDS[o.name]}: {o.loads.method}." for o in report.opinions), className="note"),
    )


def _bills(report: LoadsReport) -> str:
    third = report.third
    return third.sentence if third else "By the bills: no bills in the house file, so there is no third opinion."


def _rooms(report: LoadsReport, units: System) -> Component:
    names = [WORDS[opinion.name] for opinion in report.opinions]
    head = (
        "Room",
        *(f"Heating, {n.lower()}" for n in names),
        *(f"Cooling, {n.lower()}" for n in names),
        "Latent",
        "Peak",
    )
    rows = []
    for index, room in enumerate(report.loads.rooms):
        found = [opinion.loads.rooms[index] for opinion in report.opinions]
        hour = "" if room.peak_hour_h is None else f"{room.peak_hour_h}\u00a0h"
        heat, cool = [figure(one.heat_w, units) for one in found], [figure(one.cool_sensible_w, units) for one in found]
        rows.append((room.name, *heat, *cool, figure(room.cool_latent_w, units), hour))
    house = [opinion.loads.house for opinion in report.opinions]
    total = report.loads.house
    latent_w = total.cool_total_w - total.cool_sensible_w
    rows.append(
        (
            "House, together",
            *(figure(one.heat_w, units) for one in house),
            *(figure(one.cool_sensible_w, units) for one in house),
            figure(max(0.0, latent_w), units),
            "" if total.peak_hour_h is None else f"{total.peak_hour_h}\u00a0h",
        )
    )
    found_table: Component = table(head, rows, range(1, len(head)), "Cooling: sensible, at each room's own peak")
    return found_table


def _zones(report: LoadsReport, zones: Sequence[RoomGroup], units: System) -> Component:
    names = [WORDS[opinion.name] for opinion in report.opinions]
    rows = []
    for zone in zones:
        found = [opinion.loads.group(zone.rooms) for opinion in report.opinions]
        ours = report.loads.group(zone.rooms)
        rooms = ", ".join(report.plan.rooms[room].name for room in zone.rooms)
        hour = "" if ours.peak_hour_h is None else f"{ours.peak_hour_h}\u00a0h"
        rows.append(
            (
                zone.name, rooms, *(figure(one.heat_w, units) for one in found),
                *(figure(one.cool_sensible_w, units) for one in found), figure(ours.cool_total_w, units), hour,
            )
        )  # fmt: skip
    head = (
        "Zone", "Rooms", *(f"Heating, {n.lower()}" for n in names), *(f"Cooling, {n.lower()}" for n in names),
        "Cooling, total", "Peak",
    )  # fmt: skip
    caption = "Heating: sum of the rooms. Cooling: sensible and total, at the hour when the zone needs most together"
    found_table: Component = table(head, rows, range(2, len(head)), caption)
    return found_table


def _groups(report: LoadsReport, units: System) -> Component:
    rows = []
    for row in report.rows():
        together = "" if math.isnan(row.coincidence_frac) else percent(row.coincidence_frac)
        load = row.load
        rows.append(
            (
                row.group.name, WORDS[row.opinion], figure(load.heat_w, units), figure(load.cool_sensible_w, units),
                figure(load.cool_total_w, units), together,
            )
        )  # fmt: skip
    head = ("Rooms", "By", "Heating", "Cooling, sensible", "Cooling, total", "Of the rooms' own peaks")
    found_table: Component = table(head, rows, range(2, 6))
    return found_table


def _parts(report: LoadsReport, units: System, *, cooling: bool) -> Component:
    found = [room.cool_parts_w if cooling else room.heat_parts_w for room in report.loads.rooms]
    names = [name for name in PARTS if any(name in parts for parts in found)]
    rows = [
        (room.name, *(figure(parts.get(name, 0.0), units) for name in names))
        for room, parts in zip(report.loads.rooms, found, strict=True)
    ]
    caption = "Sensible cooling by part, at each room's own peak" if cooling else "Heating by part"
    found_table: Component = table(("Room", *names), rows, range(1, len(names) + 1), caption)
    return found_table
