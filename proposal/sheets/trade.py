"""What all sheets share: figures as the trade writes them, rows of the data tables, the paper around the blocks."""

from __future__ import annotations

import csv
import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from compare.units import Kind, System, show, show_feet_inches
from compare.views.sheets import FromWall, SheetsView
from proposal.document.blocks import Align, Block, Document, Heading, Lines, Paragraph, Schedule
from proposal.drawing.words import local, words_for
from proposal.words import Words, name, plain, words_of
from proposal.words.figures import NBSP, joined
from proposal.words.phrases import phrases_of

LEAD_PAINT_YEAR = 1978
_TWO_STOPS = re.compile(r"(?<=[a-z])\.\.(?!\.)")
LEFT: Align = "left"
RIGHT: Align = "right"


@dataclass(frozen=True, slots=True)
class Trade:
    """A sheet in the making: its view, words and units."""

    view: SheetsView
    words: Words
    units: System

    def say(self, key: str, **parts: str) -> str:
        """A template of the sheets."""
        return one_stop(self.words.say("sheets", key, **parts))

    @property
    def drawn(self) -> Mapping[str, str]:
        """Words of the drawings."""
        return words_for(self.words.code)

    def told(self, text: str) -> str:
        """A text of the designer's view in the language of the sheet; as it is where that lacks words for it."""
        shown = plain(text)
        return self.local(phrases_of(self.words.code).find(shown) or shown)

    def local(self, text: str) -> str:
        """Units of length, pressure and air as the language writes them."""
        return local(text, self.drawn)

    def head(self, key: str) -> tuple[str, ...]:
        """Names of columns."""
        return tuple(self.say(key).split("|"))

    def temperature(self, value_c: float) -> str:
        """As in `22 °F`."""
        return joined(show(value_c, Kind.TEMPERATURE, self.units, 0 if self.units is System.US else 1))

    def length(self, value_m: float) -> str:
        """As in `12 ft 6 in.` or `3.81 m`."""
        if self.units is System.US:
            return self.local(joined(show_feet_inches(value_m)))
        return joined(f"{value_m:.2f} m")

    def small(self, value_m: float) -> str:
        """As in `9 in.` or `229 mm`."""
        number, _, unit = show(value_m, Kind.SMALL_LENGTH, self.units).rpartition(" ")
        return self.local(f"{number.removesuffix('.0')}{NBSP}{unit}")

    def size(self, *values_m: float) -> str:
        """As in `31 × 11.5 × 8.5 in.`"""
        shown = [show(value, Kind.SMALL_LENGTH, self.units).rpartition(" ") for value in values_m]
        sizes = " × ".join(number.removesuffix(".0") for number, _, _ in shown)
        return self.local(f"{sizes}{NBSP}{shown[-1][2]}")

    def area(self, value_m2: float) -> str:
        """As in `23 in²` or `148 cm²`."""
        inches = joined(f"{value_m2 / 0.0254**2:.0f} in²")
        return self.local(inches) if self.units is System.US else joined(f"{value_m2 * 1e4:.0f} cm²")

    def power(self, value_w: float) -> str:
        """As in `9,250 Btu/h`."""
        return joined(show(value_w, Kind.CAPACITY, self.units, 0))

    def watts(self, value_w: float) -> str:
        """As in `1,500 W`, the power of electric heaters in either system."""
        return f"{value_w:,.0f}{NBSP}W"

    def flow(self, value_m3_s: float) -> str:
        """As in `95 ft³/min`."""
        return self.local(joined(show(value_m3_s, Kind.FLOW, self.units)))

    def speed(self, value_m_s: float) -> str:
        """As in `350 ft/min`."""
        return self.local(joined(show(value_m_s, Kind.SPEED, self.units)))

    def pressure(self, value_pa: float) -> str:
        """As in `0.061 in. w.c.`"""
        return self.local(joined(show(value_pa, Kind.PRESSURE, self.units, 3 if self.units is System.US else 1)))

    def mass(self, value_kg: float) -> str:
        """As in `1 lb 5.2 oz` or `0.60 kg`."""
        if self.units is System.SI:
            return joined(f"{value_kg:.2f} kg")
        ounces = round(value_kg / 0.45359237 * 16.0, 1)
        pounds, rest = divmod(ounces, 16.0)
        return joined(f"{pounds:.0f} lb {rest:.1f} oz" if pounds else f"{rest:.1f} oz")

    def level(self, value_dba: float | None) -> str:
        """As in `47 dB(A)`; a dash where it is not known."""
        return "–" if value_dba is None else f"{value_dba:.0f}{NBSP}dB(A)"

    def share(self, value: float | None) -> str:
        """As in `105 %`; a dash without a load."""
        return "–" if value is None else f"{100.0 * value:.0f}{NBSP}%"

    def offsets(self, found: Sequence[FromWall]) -> str:
        """As in `6 ft 6 in. from the north end of the west wall`."""
        said = [self.say("offset", what=self.told(one.what), distance=self.length(one.distance_m)) for one in found]
        return ", ".join(said)


def one_stop(text: str) -> str:
    """The stop of an abbreviation at the end of a sentence is enough: `20 in.`"""
    return _TWO_STOPS.sub(".", text)


def trade_of(view: SheetsView, language: str = "en") -> Trade:
    """A view with the words of a language and the units of its house."""
    return Trade(view, words_of(language), System(view.units))


@cache
def rows(table: str, language: str = "en") -> tuple[dict[str, str], ...]:
    """Rows of a data table of the sheets, each with its source."""
    text = (files(f"proposal.data.{language}") / f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def facts_of(view: SheetsView) -> frozenset[str]:
    """Conditions of the data tables that hold for an option."""
    kinds = {row.kind for row in view.indoor}
    hidden = any(row.space for row in view.indoor)
    pump = any(line.pump for line in view.design.lines)
    found = {
        "always": True,
        "wall": "wall head" in kinds,
        "hidden": hidden,
        "attic": any(row.space == "attic" for row in view.indoor),
        "pump": pump,
        "pump_or_hidden": pump or hidden,
        "heaters": view.heaters,
        "old_heat": view.old_heat,
        "before 1978": view.built is not None and view.built < LEAD_PAINT_YEAR,
        "year unknown": view.built is None,
    }
    return frozenset(key for key, holds in found.items() if holds)


def table_of(trade: Trade, table: str, **equal: str) -> list[dict[str, str]]:
    """Rows of a table that apply to this option, with some cells as given."""
    holds = facts_of(trade.view)
    language = trade.words.code.partition("-")[0]
    return [
        row
        for row in rows(table, language)
        if row["applies"] in holds and all(row[key] == value for key, value in equal.items())
    ]


def schedule(caption: str, head: Sequence[str], body: Sequence[Sequence[str]], weights: Sequence[float]) -> Schedule:
    """A schedule with its text at the left."""
    cells = tuple(tuple(plain(cell) for cell in row) for row in body)
    return Schedule(caption, tuple(head), cells, tuple(LEFT for _ in head), tuple(weights))


def opening(trade: Trade, headline: str) -> list[Block]:
    """The first lines of every sheet: what it is for, whose house, what governs."""
    view = trade.view
    job = trade.say(
        "job",
        house=name(view.house),
        place=name(view.place),
        heat=trade.temperature(view.heating_99_c),
        cool=trade.temperature(view.cooling_1_c),
    )
    said = [trade.say("estimate")] if view.estimate else []
    return [
        Paragraph(job, lead=trade.say("for"), style="label"),
        Heading(1, headline),
        Paragraph(" ".join((*said, trade.say("governs"))), style="small"),
    ]


def people(trade: Trade) -> Lines:
    """Lines for who works here."""
    return Lines(tuple(trade.say("people_blank").split("|")), columns=4)


def sheet_of(trade: Trade, kind: str, blocks: Sequence[Block], title: str = "") -> Document:
    """The paper around the blocks of a sheet; the same view gives the same paper."""
    view, words = trade.view, trade.words
    digest = hashlib.sha256(view.model_dump_json().encode()).hexdigest()
    record = " ".join(digest[start : start + 4] for start in (0, 4, 8))
    header = trade.say(f"header_{kind}")
    return Document(
        title=title or f"{header}, {name(view.house)}",
        language=words.code,
        header_left=header,
        header_right=trade.say("right", house=name(view.house)),
        footer=trade.say("footer_demo" if view.demo else "footer", option=name(view.option_id), record=record),
        paper="us-letter" if trade.units is System.US else "a4",
        page_words=words.say("document", "page_words"),
        blocks=tuple(blocks),
    )
