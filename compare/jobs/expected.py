"""What the commissioning readings of an option should be, from the same model that made the promise."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from compare.equipment.heater import heater_w
from compare.equipment.refrigerant import line_charge_kg
from compare.options.option import Option
from compare.options.tags import outdoor_tag, zone_tags
from compare.pipeline import Comparison
from compare.prices.table import Row, TableError, packaged, parse_rows, read_table
from compare.units import Kind
from compare.views.designer_outside import outdoor_sheets
from compare.zones.sketch import Rest

COLUMNS = ("check", "kind", "words", "spread_frac", "spread", "sides", "source")
SIDES = ("both", "most", "least")
VACUUM_MICRON = 500.0
SLACK_FRAC = 1e-8
HEATER_V = 240.0


@dataclass(frozen=True, slots=True)
class AcceptRule:
    """How far a reading may lie from the design: the larger of a share and an amount, on one side or both."""

    check: str
    kind: Kind
    words: str
    spread_frac: float
    spread: float
    sides: str
    source: str


@dataclass(frozen=True, slots=True)
class Expected:
    """One reading to be taken: its design value and the range in which it is accepted, SI; None leaves a side open."""

    check: str
    subject: str
    design: float
    least: float | None
    most: float | None

    def as_data(self) -> dict[str, object]:
        """The fields by name."""
        return {name: getattr(self, name) for name in self.__slots__}

    @property
    def rule(self) -> AcceptRule:
        """The rule behind the range."""
        return accept_rules()[self.check]

    def accepts(self, value: float) -> bool:
        """Whether a reading lies in the range; a frozen range has lost its last digits, which fail no reading."""
        slack = SLACK_FRAC * max(abs(value), abs(self.design))
        low = self.least is not None and value < self.least - slack
        high = self.most is not None and value > self.most + slack
        return not (low or high)


def _parse(row: Row) -> AcceptRule:
    kinds = {kind.value: kind for kind in Kind}
    if row.text("kind") not in kinds or row.text("sides") not in SIDES:
        raise TableError([f"{row.where}: kind or sides are not known"])
    spread_frac, spread = float(row.number("spread_frac")), float(row.number("spread"))
    kind, words = kinds[row.text("kind")], row.text("words")
    return AcceptRule(row.text("check"), kind, words, spread_frac, spread, row.text("sides"), row.text("source"))


@cache
def accept_rules() -> dict[str, AcceptRule]:
    """Every rule by its check."""
    table = read_table(packaged("compare.data.jobs", "accept.csv"), "accept.csv", COLUMNS)
    return {rule.check: rule for rule in parse_rows(table, _parse)}


def expected(check: str, subject: str, design: float, most: float | None = None) -> Expected:
    """A reading with its range; `most` narrows or sets the upper side where something else limits it."""
    rule = accept_rules()[check]
    spread = max(rule.spread_frac * abs(design), rule.spread)
    least = design - spread if rule.sides in {"both", "least"} else None
    upper = design + spread if rule.sides in {"both", "most"} else None
    if most is not None and upper is not None:
        upper = min(upper, most)
    return Expected(check, subject, design, least, upper)


def expected_checks(found: Comparison, option_id: str) -> tuple[Expected, ...]:
    """Every reading of an option, unit by unit, then room by room."""
    result = found.by_id[option_id]
    option = result.option
    rooms = [room.name for room in found.case.plan.rooms]
    heard = [
        expected(check, room.room.name, level_dba)
        for room in result.score.measures.rooms
        for check, level_dba in (("sound_bed", room.bed_dba), ("sound_seat", room.seat_dba))
        if not math.isnan(level_dba)
    ]
    heaters = [
        expected("heater_amps", rooms[room], heater_w(float(found.case.heat_load_w[room])) / HEATER_V)
        for room, rest in option.layout.rest
        if rest is Rest.HEATER
    ]
    return (*_ducted(option, rooms), *_lines(option), *heard, *_outdoors(option), *heaters)


def _ducted(option: Option, rooms: list[str]) -> Iterator[Expected]:
    for tag, zone in zip(zone_tags(option.zones), option.zones, strict=True):
        ducts = zone.ducts
        if ducts is None:
            continue
        share = ducts.actual_flow_m3_s / ducts.design_flow_m3_s
        yield expected("airflow_total", tag, ducts.actual_flow_m3_s)
        static = ducts.static
        yield expected("static", tag, static.total_pa, most=static.available_pa)
        yield expected("static_return", tag, static.grille_pa + static.filter_pa + static.return_box_pa)
        yield expected("static_supply", tag, static.plenum_pa + static.index_branch_pa)
        for branch in ducts.branches:
            yield expected("airflow_room", f"{tag} {rooms[branch.room]}", branch.flow_m3_s * share)
        for path in ducts.transfers:
            if path.remedy != "open":
                one = expected("room_pressure", f"{tag} {rooms[path.room]}", path.pressure_pa)
                yield replace(one, most=path.limit_pa)


def _lines(option: Option) -> Iterator[Expected]:
    tags = zone_tags(option.zones)
    for place, group in enumerate(option.outdoor.groups):
        outdoor = outdoor_tag(place)
        yield expected("vacuum_micron", outdoor, VACUUM_MICRON)
        if option.routes:
            lengths = [option.routes[zone].length_m for zone in group.zones]
            size = group.outdoor.size_kbtuh
            yield expected("added_charge", outdoor, math.fsum(line_charge_kg(size, length) for length in lengths))
            for zone, length_m in zip(group.zones, lengths, strict=True):
                one = expected("line_length", tags[zone], length_m)
                yield replace(one, most=group.outdoor.line_branch_m)
    yield from (expected("drain", tag, 1.0) for tag in tags)


def _outdoors(option: Option) -> Iterator[Expected]:
    """Sound outdoors at most heating: at the property line no more than the limit, at a bedroom window the design's."""
    for sheet in outdoor_sheets(option, zone_tags(option.zones)):
        yield replace(expected("sound_line", sheet.tag, sheet.line_dba), most=sheet.limit_dba)
        if sheet.window_dba is not None:
            yield expected("sound_window", sheet.tag, sheet.window_dba)
