"""A loads report as plain text: tables of fixed width, sentences short enough for a narrow window."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence

from compare.loads.report import OURS, LoadsReport
from compare.loads.result import PARTS
from compare.units import Kind, System, from_si, label, show

_NAME, _CELL, _WIDTH = 28, 10, 100
_HEADS = {"program": "program", "load factors": "factors", "designer": "designer"}


def report_text(report: LoadsReport, units: System) -> str:
    """The whole report in the units of a system; ends without a line break."""
    blocks = (
        _head(report, units),
        _rooms(report, units),
        _groups(report, units),
        _parts(report, units, "heat"),
        _parts(report, units, "cool"),
        _bills(report, units),
        _list("Look at", report.warnings),
        _list("Assumed, because the file does not say", _assumed(report)),
    )
    return "\n\n".join("\n".join(block) for block in blocks if block)


def _head(report: LoadsReport, units: System) -> list[str]:
    outdoor = [show(value, Kind.TEMPERATURE, units, 0) for value in (report.heating_c, report.cooling_c)]
    indoor = [show(value, Kind.TEMPERATURE, units, 0) for value in report.indoor_c]
    methods = [f"{_HEADS[opinion.name]}: {opinion.loads.method}" for opinion in report.opinions]
    return [
        report.house,
        f"Heating: {outdoor[0]} outdoors, {indoor[0]} in rooms. Cooling: {outdoor[1]} outdoors, {indoor[1]} in rooms.",
        *_wrapped(f"Design conditions: {report.design_source}. Weather: {report.weather}"),
        *_wrapped(f"Opinions: {'; '.join(methods)}. In use: {_HEADS[report.in_use]}."),
        f"Figures in {label(Kind.CAPACITY, units)}; hours are standard time.",
    ]


def _rooms(report: LoadsReport, units: System) -> list[str]:
    opinions = report.opinions
    heads = [f"{season} {_HEADS[o.name]}" for season in ("heat", "cool") for o in opinions]
    lines = ["Rooms (cooling: sensible, each room at its own peak)", _line("room", [*heads, "latent", "hour"])]
    ours = report.opinion(OURS).loads
    for index, room in enumerate(report.plan.rooms):
        heat = [o.loads.rooms[index].heat_w for o in opinions]
        cool = [o.loads.rooms[index].cool_sensible_w for o in opinions]
        mine = ours.rooms[index]
        cells = [_number(value, units) for value in (*heat, *cool, mine.cool_latent_w)]
        lines.append(_line(room.name, [*cells, _hour(mine.peak_hour_h)]))
    return lines


def _groups(report: LoadsReport, units: System) -> list[str]:
    heads = ["heating", "cool sens.", "cool total", "hour", "of peaks"]
    lines = ["Rooms together (coincident peak; `of peaks`: share of the sum of the rooms' own peaks)"]
    lines.append(_line("group", ["opinion", *heads]))
    for row in report.rows():
        load = row.load
        share = "" if math.isnan(row.coincidence_frac) else f"{row.coincidence_frac:.0%}"
        values = [_number(value, units) for value in (load.heat_w, load.cool_sensible_w, load.cool_total_w)]
        name = f"{row.group.name} ({row.group.kind})" if row.opinion == OURS else ""
        lines.append(_line(name, [_HEADS[row.opinion], *values, _hour(load.peak_hour_h), share]))
    return lines


def _parts(report: LoadsReport, units: System, season: str) -> list[str]:
    ours = report.opinion(OURS).loads
    parts = [room.heat_parts_w if season == "heat" else room.cool_parts_w for room in ours.rooms]
    names = [name for name in PARTS if any(name in found for found in parts)]
    title = "Heating by part" if season == "heat" else "Sensible cooling by part, each room at its own peak"
    lines = [f"{title} (program)", _line("room", names)]
    for room, found in zip(ours.rooms, parts, strict=True):
        lines.append(_line(room.name, [_number(found.get(name, 0.0), units) for name in names]))
    return lines


def _bills(report: LoadsReport, units: System) -> list[str]:
    third = report.third
    if third is None:
        return ["Bills: none in the house file; twelve of them would give a third opinion."]
    calculated = show(third.calculated_w_k, Kind.CONDUCTANCE, units)
    if third.fit is None:
        return ["Bills", *_wrapped(third.sentence), f"Calculated heat loss: {calculated}."]
    loss, low, high = (
        show(value, Kind.CONDUCTANCE, units) for value in (third.loss_w_k, third.low_w_k, third.high_w_k)
    )
    verdict = "They agree." if third.agrees else "They disagree: see the first line under `Look at`."
    return [
        "Bills",
        *_wrapped(
            f"{third.sentence} Heating starts below {show(third.fit.balance_c, Kind.TEMPERATURE, units)} outdoors. "
            f"Heater efficiency taken as {third.efficiency_frac:.0%}."
        ),
        *_wrapped(f"Heat loss by bills {loss} (95 % of the time between {low} and {high}), calculated {calculated}."),
        verdict,
    ]


def _assumed(report: LoadsReport) -> tuple[str, ...]:
    return tuple(f"{item.path}: {item.value_text}; {item.reason}" for item in report.assumptions)


def _list(title: str, sentences: Sequence[str]) -> list[str]:
    if not sentences:
        return []
    lines = [title]
    for sentence in sentences:
        lines += _wrapped(sentence, "- ", "  ")
    return lines


def _wrapped(text: str, first: str = "", later: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=later)


def _line(name: str, cells: Sequence[str]) -> str:
    return f"{name[:_NAME]:<{_NAME}}" + "".join(f"{cell:>{max(_CELL, len(cell) + 1)}}" for cell in cells)


def _number(value_w: float, units: System) -> str:
    """A load without its unit; zero never with a minus."""
    places = 2 if label(Kind.CAPACITY, units) == "kW" else 0
    return f"{round(from_si(value_w, Kind.CAPACITY, units), places) + 0.0:,.{places}f}"


def _hour(hour_h: int | None) -> str:
    return "" if hour_h is None else f"{hour_h:02d}-{(hour_h + 1) % 24:02d}"
