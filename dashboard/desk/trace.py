"""Hour by hour: one room in one week, its air, the air outside, and what its unit gives."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from dash import html
from dash.development.base_component import Component

from compare.options.option import Option
from compare.units import Kind, System, from_si
from compare.zones.sketch import Rest
from dashboard.desk.charts import Figure, axis, layout, plain
from dashboard.desk.parts import folded, of, table
from dashboard.desk.study import Study
from proposal.drawing.theme import LIGHT

WEEK_H = 168
DAY_H = 24
WEEKS = 52
PLOT_PX, LINE_PX = 0.6 * 384.0, 16.0
"""Height of the upper chart, and of a label with its air."""
COLDEST, HOTTEST = "coldest", "hottest"
FIRST_DAY = dt.date(2001, 1, 1)
"""Any year of 365 days: the weather year has no weekdays."""

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Week:
    """One room's week; `given_w` is heat to the room's zone, cooling below zero, None without a unit of its own."""

    room: str
    start_h: int
    room_c: FloatArray
    outdoor_c: FloatArray
    given_w: FloatArray | None
    served: str

    def day(self, number: int) -> str:
        """Date of a day of the week."""
        return day_words(self.start_h // DAY_H + number)


def day_words(day: int) -> str:
    """A day of the year, as in `Jan 15`."""
    found = FIRST_DAY + dt.timedelta(days=day % 365)
    return f"{found:%b} {found.day}"


def week_choices(study: Study) -> list[tuple[str, str]]:
    """Value and words of every week."""
    found = [(COLDEST, "Coldest week"), (HOTTEST, "Hottest week")]
    return found + [(f"{number}", f"Week of {day_words(7 * number)}") for number in range(_weeks(study))]


def _weeks(study: Study) -> int:
    return min(WEEKS, study.found.case.weather.hours // WEEK_H)


def start_of(study: Study, week: object) -> int:
    """First hour of a week as a browser names it; raises `ValueError` for one that the page does not have."""
    if week in {COLDEST, HOTTEST}:
        means = study.found.case.weather.dry_bulb_c[: _weeks(study) * WEEK_H].reshape(-1, WEEK_H).mean(axis=1)
        return WEEK_H * int(means.argmin() if week == COLDEST else means.argmax())
    if not isinstance(week, str) or not week.isascii() or not week.isdigit() or int(week) >= _weeks(study):
        raise ValueError("no such week")
    return WEEK_H * int(week)


def room_of(study: Study, room: object) -> int:
    """A room as a browser names it; raises `ValueError` for one that the house does not have."""
    count = len(study.found.case.plan.rooms)
    if not isinstance(room, str) or not room.isascii() or not room.isdigit() or int(room) >= count:
        raise ValueError("no such room")
    return int(room)


def supply_of(option: Option, room: int) -> tuple[int | None, str]:
    """Column of the supply that stands in or blows into a room, and what it is."""
    for place, zone in enumerate(option.zones):
        if room in zone.rooms:
            return place, "its unit" if len(zone.rooms) == 1 else "the unit of its zone"
    column = len(option.zones)
    for other, rest in option.layout.rest:
        if rest is Rest.NEIGHBOUR:
            continue
        if other == room:
            return column, rest.value
        column += 1
    return None, "no unit of its own"


def week_of(study: Study, option_id: str, room: int, start_h: int) -> Week:
    """A room's week in a layout's year."""
    run, hours = study.found.hours(option_id), slice(start_h, start_h + WEEK_H)
    column, words = supply_of(run.option, room)
    given = None if column is None else run.trace.supply_w[hours, column].astype(np.float64)
    return Week(
        study.found.case.plan.rooms[room].name,
        start_h,
        run.trace.room_c[hours, room].astype(np.float64),
        study.found.case.weather.dry_bulb_c[hours],
        given,
        words,
    )


def _shown(values_c: FloatArray, units: System) -> list[float]:
    return [round(from_si(float(value), Kind.TEMPERATURE, units), 1) for value in values_c]


def _power(value_w: float, units: System) -> float:
    return (
        round(from_si(value_w, Kind.CAPACITY, units) / 1000.0, 2) if units is System.US else round(value_w / 1000.0, 2)
    )


def week_figure(study: Study, week: Week, units: System) -> Figure:
    """Temperatures above, output below; direct labels, fixed marks at midnight."""
    hours = list(range(WEEK_H))
    comfort = study.found.case.house.comfort
    degree = "°F" if units is System.US else "°C"
    room, outdoor = _shown(week.room_c, units), _shown(week.outdoor_c, units)
    data: list[dict[str, object]] = [
        {"type": "scatter", "mode": "lines", "x": hours, "y": outdoor, "name": "outside", "hoverinfo": "skip",
         "line": {"color": LIGHT.rule, "width": 1.4, "dash": "dot"}},
        {"type": "scatter", "mode": "lines", "x": hours, "y": room, "name": "room", "hoverinfo": "skip",
         "line": {"color": LIGHT.ink, "width": 2.2}},
    ]  # fmt: skip
    told = [(room[-1], plain(week.room)), (outdoor[-1], "outside")]
    lines = []
    for set_c, words in ((comfort.heating_c, "heat to"), (comfort.cooling_c, "cool to")):
        y = round(from_si(set_c, Kind.TEMPERATURE, units), 1)
        lines.append(
            {
                "type": "line",
                "x0": 0,
                "x1": WEEK_H,
                "y0": y,
                "y1": y,
                "line": {"color": LIGHT.ink2, "width": 1, "dash": "dash"},
            }
        )
        told.append((y, f"{words} {y:g} {degree}"))
    low, high = min(*room, *outdoor, *(y for y, _ in told)), max(*room, *outdoor, *(y for y, _ in told))
    spare = 0.04 * max(high - low, 1.0)
    span = (low - spare, high + spare)
    marks = {
        "tickvals": list(range(0, WEEK_H, DAY_H)),
        "ticktext": [week.day(day) for day in range(7)],
        "range": [0, WEEK_H + 18],
    }
    shape = layout(
        440,
        xaxis=axis("", **marks, anchor="y2"),
        yaxis=axis(degree, domain=[0.4, 1.0], range=list(span)),
        shapes=lines,
        annotations=_labels(told, PLOT_PX / (span[1] - span[0])),
    )
    shape["margin"] = {**shape["margin"], "r": 20}
    power_unit = "kBtu/h" if units is System.US else "kW"
    shape["yaxis2"] = axis(power_unit, domain=[0.0, 0.3], rangemode="tozero")
    given_w = np.zeros(WEEK_H) if week.given_w is None else week.given_w
    data += [_output(hours, given_w * (given_w > 0.0), units, warm=True)]
    data += [_output(hours, given_w * (given_w < 0.0), units, warm=False)]
    shape["barmode"], shape["bargap"] = "relative", 0.0
    return {"data": data, "layout": shape}


def _output(hours: list[int], given_w: FloatArray, units: System, *, warm: bool) -> dict[str, object]:
    """Bars of heat or of cooling; cooling is hatched, so that colour is not alone."""
    pattern = {"shape": ""} if warm else {"shape": "/", "size": 4, "solidity": 0.35}
    marker = {"color": LIGHT.rust if warm else LIGHT.blue, "pattern": pattern, "line": {"width": 0}}
    values = [_power(float(value), units) for value in given_w]
    return {"type": "bar", "x": hours, "y": values, "yaxis": "y2", "hoverinfo": "skip", "marker": marker}


def _labels(told: list[tuple[float, str]], px: float) -> list[dict[str, object]]:
    """Labels at the right end, moved apart so that none covers another; `px` is the height of one degree."""
    found, lowest = [], -math.inf
    for y, words in sorted(told):
        at = max(y * px, lowest + LINE_PX)
        found.append({**_label(WEEK_H - 1, y, words), "yshift": round(at - y * px)})
        lowest = at
    return found


def _label(x: int, y: float, words: str) -> dict[str, object]:
    return {
        "x": x,
        "y": y,
        "text": words,
        "showarrow": False,
        "xanchor": "left",
        "xshift": 4,
        "font": {"size": 13, "color": LIGHT.ink},
    }


def week_words(week: Week, units: System) -> str:
    """The finding in one sentence."""
    low, high = (
        of(float(week.room_c.min()), Kind.TEMPERATURE, units),
        of(float(week.room_c.max()), Kind.TEMPERATURE, units),
    )
    out_low, out_high = (
        of(float(value), Kind.TEMPERATURE, units) for value in (week.outdoor_c.min(), week.outdoor_c.max())
    )
    inside = f"{week.room} lies between {low} and {high} while it is {out_low} to {out_high} outside"
    ends = f"{week.day(0)} to {week.day(6)}: {inside}."
    if week.given_w is None:
        return f"{ends} It has no unit of its own."
    on = int((np.abs(week.given_w) > 1.0).sum())
    return f"{ends} Below: {week.served}, running in {on} of {WEEK_H} hours; cooling hatched."


def week_table(week: Week, units: System) -> Component:
    """The same by day."""
    rows = []
    for day in range(7):
        hours = slice(DAY_H * day, DAY_H * (day + 1))
        room, outdoor = week.room_c[hours], week.outdoor_c[hours]
        given = None if week.given_w is None else week.given_w[hours]
        rows.append(
            (
                week.day(day),
                *(
                    of(float(v), Kind.TEMPERATURE, units)
                    for v in (room.min(), room.max(), outdoor.min(), outdoor.max())
                ),
                "" if given is None else f"{given.clip(0.0).sum() / 1000.0:.1f}",
                "" if given is None else f"{-given.clip(max=0.0).sum() / 1000.0:.1f}",
            )
        )
    head = ("Day", "Room, least", "Room, most", "Outside, least", "Outside, most", "Heat, kWh", "Cooling, kWh")
    return folded("The same as a table", html.Div(table(head, rows, range(1, 7))))
