"""Pictures of a paper: the plan, the small houses, need against output, each with its description and values."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from compare.units import System
from compare.views.customer import CustomerView, OptionCard, UnitBand
from proposal.document.blocks import Align, Figure, Table
from proposal.drawing.chart import Chart, capacity_unit
from proposal.drawing.look import Look, Scene
from proposal.drawing.look import Table as PictureTable
from proposal.drawing.need import NeedRow, need_chart
from proposal.drawing.plan import plan_svg, plan_table
from proposal.drawing.theme import PRINT
from proposal.drawing.words import ENGLISH
from proposal.words import Told, capital, name, option_name, room_group, room_names, weak_point
from proposal.words.options import UNIT_NOUNS

PAGE_PX = 640.0
HOUSE_PX = 76.0
EQUAL_PX = 300.0
MOST_EQUALS = 3
"""So many equal layouts fit beside one another."""
NEED_PX = 660.0
"""A little wider than the text, to save height; the smallest words come out at 10 points."""
PLAN_PX = {System.US: 440.0, System.SI: 500.0}
"""A plan on the first page is at most so high, on letter and on the longer A4; a higher one has its own page."""
WORDY_FRAC = {"es": 0.92}
"""A language that needs more lines for the words of the first page leaves less of it to the plan."""
WHOLE_PAGE_PX = 760.0
LEAST_PX = 360.0
MOST_ROWS = 2
NEED_HEADS = ("unit", "most", "least_given", "most_given", "onoff")
"""Heads of the values of need against output, in words for a homeowner."""
FAR_SHARE = 0.10
"""Hours on and off are only compared when they differ by more than this (their error)."""
_BOX = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')


def _size_px(picture: str) -> tuple[float, float]:
    match = _BOX.search(picture)
    if match is None:
        raise ValueError("a picture without a viewBox")
    return float(match[1]), float(match[2])


def _table(table: PictureTable, told: Told) -> Table:
    right: Align = "right"
    caption = told.words.say("document", "values")
    rows = tuple(tuple(name(cell) for cell in row) for row in table.rows)
    return Table(caption, table.head, rows, ("left", *(right for _ in table.head[1:])))


def picture_of(stem: str, picture: str, alt: str, table: Table | None = None) -> Figure:
    """A picture as a block, with the size that it says of itself."""
    width_px, height_px = _size_px(picture)
    return Figure(stem, picture, alt, width_px, height_px, table)


def chart_figure(stem: str, chart: Chart, alt: str, told: Told, table: PictureTable | None = None) -> Figure:
    """A chart as a block, with its values; with another table in place of its own."""
    return picture_of(stem, chart.svg, alt, _table(table or chart.table, told))


def _units(view: CustomerView) -> System:
    return System(view.house.units)


def look_of(told: Told, width_px: float, *, compact: bool = False, caption: bool = True) -> Look:
    """Print theme in the units and the language of the paper."""
    words = told.words.tables.get("pictures") or ENGLISH
    return Look(theme=PRINT, units=_units(told.view), width_px=width_px, compact=compact, caption=caption, words=words)


def plan_figure(told: Told, option: OptionCard, most_px: float | None = None) -> Figure | None:
    """The plan at 6 on a winter morning, at most so high; None where it would be too small for its words."""
    most_px = most_px or PLAN_PX[_units(told.view)] * WORDY_FRAC.get(told.words.code.partition("-")[0], 1.0)
    width_px = PAGE_PX
    while width_px >= LEAST_PX:
        look = look_of(told, width_px, caption=False)
        figure = _plan(told, option, look)
        if figure.height_px <= most_px:
            return figure
        width_px = 20.0 * math.floor(width_px * max(0.85, min(0.96, most_px / figure.height_px)) / 20.0)
    return None


def _plan(told: Told, option: OptionCard, look: Look) -> Figure:
    words = told.words
    alt = " ".join((words.say("document", "plan_heading") + ".", plan_sentence(told), _plan_finding(told, option)))
    table = _table(plan_table(told.view, option.id, Scene.MORNING, look), told)
    return picture_of("plan", plan_svg(told.view, option.id, Scene.MORNING, look), alt, table)


def plan_sentence(told: Told) -> str:
    """Hour, outdoor temperature and doors of the plan."""
    outside = told.figures.temperature(told.view.house.heating_99_c)
    return told.words.say("document", "plan_line", outside=outside)


def _plan_finding(told: Told, option: OptionCard) -> str:
    """Every room with its temperature."""
    names = {room.index: name(room.name) for room in told.view.plan.rooms}
    rooms = (f"{names[room.room]} {told.figures.temperature(room.morning_c)}" for room in option.rooms)
    return f"{told.words.listed(list(rooms))}."


def house_figure(told: Told, option: OptionCard, width_px: float = HOUSE_PX) -> Figure:
    """The small house of an option."""
    look = look_of(told, width_px, compact=True)
    note = weak_point(option, told)
    key = "house_alt" if note else "house_alt_plain"
    alt = told.words.say("document", key, name=option_name(told.view, option, told.words), note=note)
    return picture_of(f"house-{option.id}", plan_svg(told.view, option.id, Scene.MORNING, look), alt)


def rooms_table(told: Told, options: tuple[OptionCard, ...]) -> Table:
    """Rooms with a target at 6 in the morning, in each of some layouts, beside that target."""
    view, words, figures = told.view, told.words, told.figures
    outcomes = [{room.room: room for room in option.rooms} for option in options]
    body = []
    for shape in view.plan.rooms:
        target_c = outcomes[0][shape.index].morning_target_c
        if target_c is not None:
            found = (figures.temperature(outcome[shape.index].morning_c) for outcome in outcomes)
            body.append((name(shape.name), figures.temperature(target_c), *found))
    head = (words.say("document", "rooms_room"), words.say("document", "rooms_target"))
    right: Align = "right"
    align: tuple[Align, ...] = ("left", right, *(right for _ in options))
    names = (option_name(view, option, words) for option in options)
    return Table(words.say("document", "plan_large_heading"), (*head, *names), tuple(body), align)


@dataclass(frozen=True, slots=True)
class Need:
    """Rows of the chart need against output."""

    bands: tuple[UnitBand, ...]
    other: UnitBand | None
    other_option: OptionCard | None


def _mode(option: OptionCard) -> str:
    """Heating, unless the units run more than twice as long for cooling."""
    hours = {
        mode: sum(sum(band.hours) for band in option.bands if band.mode == mode) for mode in ("heating", "cooling")
    }
    return "cooling" if hours["cooling"] > 2.0 * hours["heating"] else "heating"


def need_of(view: CustomerView, option: OptionCard) -> Need:
    """The units of an option that go on and off most, and a small room's own unit to compare with, two in all."""
    mode = _mode(option)
    own = [band for band in option.bands if band.mode == mode]
    worst = max((band.on_off_share for band in own), default=1.0)
    found: tuple[UnitBand | None, OptionCard | None] = (None, None)
    for card in view.cards:
        other = view.option(card)
        if other.family != "head_each" or other.id == option.id:
            continue
        single = [band for band in other.bands if band.mode == mode and len(band.rooms) == 1]
        small = max(single, key=lambda band: band.on_off_share, default=None)
        if small is not None and small.on_off_share > worst + FAR_SHARE:
            found = (small, other)
    room = MOST_ROWS - (found[0] is not None)
    kept = sorted(own, key=lambda band: -band.on_off_share)[:room]
    return Need(tuple(band for band in own if band in kept), *found)


def band_name(told: Told, option: OptionCard, band: UnitBand) -> str:
    """What hangs on one outdoor unit, as in `Wall unit` or `One wall unit and one hidden unit`."""
    words = told.words
    kinds = [
        UNIT_NOUNS[unit.kind] for unit in option.drawing.units if unit.tag in band.tags and unit.kind in UNIT_NOUNS
    ]
    if len(kinds) == 1:
        return capital(words.say("unit_names", kinds[0]))
    counted = [words.counted(kinds.count(kind), kind) for kind in dict.fromkeys(kinds)]
    return capital(words.listed(counted)) or name(band.label)


def band_rooms(told: Told, band: UnitBand) -> str:
    """Rooms that hang on one outdoor unit: one or two by name, more by use."""
    if len(band.rooms) <= 2:
        return room_names(band.rooms, told.words)
    return room_group(told.view, band.rooms, told.words)


def need_figure(told: Told, option: OptionCard, need: Need, compared: str) -> Figure:
    """Need against output of an option's units, with the unit for comparison last."""
    words = told.words
    look = look_of(told, NEED_PX)
    ours = option.id == told.view.answer.winner and told.view.answer.verdict != "too close to call"
    rows = [
        NeedRow(
            band,
            ours=ours,
            heading=band_name(told, option, band),
            rooms_text=band_rooms(told, band),
        )
        for band in need.bands
    ]
    if need.other is not None:
        heading = words.say("document", "need_compare")
        rows.append(NeedRow(need.other, ours=False, heading=heading, rooms_text=compared))
    chart = need_chart(rows, look)
    said = [_band_sentence(told, band, band_name(told, option, band)) for band in need.bands]
    if need.other is not None:
        said.append(_band_sentence(told, need.other, words.say("document", "need_compare").rstrip(":")))
    alt = " ".join((chart.table.caption, *said))
    unit = capacity_unit(look)
    heads = (words.say("charts", f"need_{key}", unit=unit) for key in NEED_HEADS)
    return chart_figure("need", chart, alt, told, replace(chart.table, head=tuple(heads)))


def _band_sentence(told: Told, band: UnitBand, unit: str) -> str:
    """One row of the chart for a reader who does not see it."""
    figures, words = told.figures, told.words
    return words.say(
        "document",
        "need_alt",
        unit=unit,
        rooms=band_rooms(told, band),
        need=figures.power(band.design_load_w),
        low=figures.power(band.smallest_w),
        high=figures.power(band.largest_w),
        share=figures.of_hundred(band.on_off_share),
        mode=words.say("document", f"mode_{band.mode}"),
    )
