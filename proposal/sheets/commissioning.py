"""Commissioning sheet: every test with its design value, its accepted range and a blank for the reading."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from compare.jobs.expected import Expected
from compare.units import Kind, System
from proposal.document.blocks import BLANK, Block, Document, Heading, Lines, Paragraph, Ticks
from proposal.sheets.trade import Trade, opening, people, schedule, sheet_of, table_of
from proposal.words import capital, name, plain
from proposal.words.figures import NBSP

STAGES = ("1", "2", "3", "4")
STAGE_OF = {"vacuum_micron": "1", "sound_bed": "3"}
"""Stage of a reading; all others are taken in the second."""
Row = tuple[str, str, str, str, str]


def commissioning_sheet(trade: Trade, readings: Sequence[Expected]) -> Document:
    """The sheet for those who check."""
    blocks: list[Block] = [
        *opening(trade, trade.say("commissioning_headline")),
        Paragraph(trade.say("commissioning_text")),
        people(trade),
    ]
    for stage in STAGES:
        rows = [*_readings(trade, readings, stage), *_tests(trade, stage)]
        heading = trade.say(f"stage_{stage}")
        head, weights = trade.head("test_head"), (1.1, 2.6, 1.1, 1.9, 1.0)
        blocks += [Heading(2, heading), schedule(heading, head, rows, weights)] if rows else []
    return sheet_of(trade, "commissioning", [*blocks, *_teaching(trade), *_papers(trade)])


def _teaching(trade: Trade) -> list[Block]:
    items = tuple(Paragraph(row["text"], style="small") for row in table_of(trade, "teach"))
    return [
        Heading(2, trade.say("teach")),
        Paragraph(trade.say("teach_text"), style="small", sticky=True),
        Ticks(items, columns=2),
    ]


def _papers(trade: Trade) -> list[Block]:
    items = tuple(Paragraph(text, style="small") for text in trade.say("papers_rows").split("|"))
    first, *rest = trade.say("sign").split("|")
    return [
        Heading(2, trade.say("papers")),
        Ticks(items, columns=2),
        Heading(2, first),
        Lines(tuple(rest), columns=len(rest)),
    ]


def _shower(trade: Trade, kind: Kind) -> Callable[[float], str]:
    return {
        Kind.FLOW: trade.flow,
        Kind.PRESSURE: trade.pressure,
        Kind.LENGTH: trade.length,
        Kind.MASS: trade.mass,
    }.get(kind, lambda value: f"{value:,.0f}")


def _pascals(value_pa: float) -> str:
    """Pressures of rooms are read in pascals."""
    return f"{value_pa:.1f}{NBSP}Pa"


def accepted(trade: Trade, reading: Expected) -> str:
    """The range in which a reading is accepted, in words."""
    show = _shower(trade, reading.rule.kind)
    if reading.check == "room_pressure":
        show = _pascals
    if reading.check == "drain":
        return trade.say("yes")
    low = None if reading.least is None else show(max(reading.least, 0.0))
    high = None if reading.most is None else show(reading.most)
    if low is not None and high is not None:
        return trade.say("between", low=low, high=high)
    return trade.say("least", low=low) if low is not None else trade.say("most", high=high or "")


def _readings(trade: Trade, readings: Sequence[Expected], stage: str) -> Iterator[Row]:
    for reading in readings:
        if STAGE_OF.get(reading.check, "2") != stage:
            continue
        words = capital(reading.rule.words.partition(": 1 for yes")[0])
        drain = reading.check == "drain"
        show = _pascals if reading.check == "room_pressure" else _shower(trade, reading.rule.kind)
        designed = "–" if drain else show(reading.design)
        yield name(reading.subject), words, designed, accepted(trade, reading), BLANK


def _tests(trade: Trade, stage: str) -> Iterator[Row]:
    view = trade.view
    column = "accept" if trade.units is System.US else "accept_si"
    limits = [sheet.limit_dba for sheet in view.design.outdoor]
    line = trade.level(min(limits)) if limits else "–"
    pumped = {mark.tag for mark in view.design.lines if mark.pump}
    places = {
        "indoor": [row.tag for row in view.indoor],
        "outdoor": [row.tag for row in view.circuits],
        "drains": [row.tag for row in view.indoor if row.space or row.tag in pumped],
        "house": [trade.say("whole_house")],
    }
    for row in table_of(trade, "tests", stage=stage):
        for place in places[row["places"]]:
            yield place, plain(row["test"]), "–", row[column].replace("{line}", line), BLANK
