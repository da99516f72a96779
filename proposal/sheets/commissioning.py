"""Commissioning sheet: every test with its design value, its accepted range and a blank for the reading."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compare.jobs.expected import Expected
from compare.units import System
from proposal.document.blocks import BLANK, Block, Document, Heading, Lines, Paragraph, Ticks
from proposal.sheets.readings import YES_NO, accepted, designed
from proposal.sheets.trade import Trade, opening, people, schedule, sheet_of, table_of
from proposal.words import capital, name, plain

STAGES = ("1", "2", "3", "4")
FIRST = "1"
"""Here pressure and vacuum are made before they are read; later the readings come first."""
STAGE_OF = {"vacuum_micron": "1"} | dict.fromkeys(
    ("sound_bed", "sound_seat", "sound_line", "sound_window", "heater_amps"), "3"
)
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
        parts = (_tests(trade, stage), _readings(trade, readings, stage))
        rows = [row for part in (parts if stage == FIRST else parts[::-1]) for row in part]
        heading = trade.say(f"stage_{stage}")
        head, weights = trade.head("test_head"), (1.1, 2.5, 1.4, 1.9, 0.8)
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


def _readings(trade: Trade, readings: Sequence[Expected], stage: str) -> Iterator[Row]:
    for reading in readings:
        if STAGE_OF.get(reading.check, "2") == stage:
            words = capital(trade.told(reading.rule.words.partition(YES_NO)[0]))
            yield name(reading.subject), words, designed(trade, reading), accepted(trade, reading), BLANK


def _tests(trade: Trade, stage: str) -> Iterator[Row]:
    view = trade.view
    column = "accept" if trade.units is System.US else "accept_si"
    pumped = {mark.tag for mark in view.design.lines if mark.pump}
    places = {
        "indoor": [row.tag for row in view.indoor],
        "outdoor": [row.tag for row in view.circuits],
        "drains": [row.tag for row in view.indoor if row.space or row.tag in pumped],
        "ducts": [zone.tag for zone in view.design.zones],
        "house": [trade.say("whole_house")],
    }
    for row in table_of(trade, "tests", stage=stage):
        for place in places[row["places"]]:
            yield place, plain(row["test"]), "–", row[column], BLANK
