"""Walk-through for the customer: outdoors, lines, rooms, unit, control; what, why, one number, a photograph."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from compare.views.customer import CustomerView, OptionCard, RoomOutcome
from compare.views.designer import DuctRow, TransferRow
from compare.views.sheets import IndoorRow
from proposal.document.blocks import Block, Document, Heading, Lines, Paragraph, PhotoPlaces
from proposal.document.pictures import plan_figure, plan_sentence
from proposal.sheets.trade import Trade, one_stop, sheet_of
from proposal.words import Figures, Told, Words, capital, name, room_names
from proposal.words.options import UNIT_NOUNS

PLAN_PX = 430.0
TALL_PX = 740.0
"""Height of the plan on the first page; of a tall one."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop of the walk."""

    place: str
    what: str
    why: str
    number: str
    photo: str


@dataclass(frozen=True, slots=True)
class Walk:
    """The sheet's view beside the customer's own figures."""

    trade: Trade
    view: CustomerView
    card: OptionCard

    @property
    def words(self) -> Words:
        """Words of the language."""
        return self.trade.words

    @property
    def figures(self) -> Figures:
        """Figures as the customer reads them."""
        return Figures(self.trade.units)

    def say(self, key: str, **parts: str) -> str:
        """A template of the walk."""
        return one_stop(self.words.say("walk", key, **parts))

    def called(self, tag: str) -> str:
        """An indoor unit in the customer's words, as in `the wall unit in Open living`."""
        row = next(row for row in self.trade.view.indoor if row.tag == tag)
        if row.space:
            return self.say("called_hidden", space=self.trade.told(name(row.place)))
        unit = self.words.say("unit_names", UNIT_NOUNS.get(row.kind, "room_unit"))
        return self.say("called_unit", unit=unit, room=name(row.rooms[0]))

    def outside(self, tag: str) -> str:
        """An outdoor unit in the customer's words, as in `the outdoor unit, west side`."""
        row = next(row for row in self.trade.view.circuits if row.tag == tag)
        return self.say("called_outdoor", spot=self.spot(row.side, row.spot))

    def spot(self, side: str, spot: str) -> str:
        """Place of an outdoor unit: its own name, else its side."""
        return self.trade.told(name(spot)) or (self.say(f"side_{side}") if side in "NESW" and side else "")


def customer_walk(walk: Walk) -> Document:
    """The customer's sheet."""
    groups = (
        ("outdoors", _outdoor(walk)),
        ("lines", _lines(walk)),
        ("rooms", _rooms(walk)),
        ("unit", _units(walk)),
        ("control", _controls(walk)),
    )
    blocks: list[Block] = [
        Paragraph(f"{name(walk.view.house.name)}, {name(walk.view.house.place)}.", style="label"),
        Heading(1, walk.say("headline")),
        Paragraph(walk.say("lead"), style="lead"),
        *_plan(walk),
    ]
    for key, stops in groups:
        blocks += stop_blocks(walk, walk.say(key), list(stops))
    blocks += [Heading(2, walk.say("ask")), Lines((" ", " "), columns=1)]
    return sheet_of(walk.trade, "walk", blocks)


def _plan(walk: Walk) -> list[Block]:
    """The house as the customer knows it from the proposal."""
    told = Told(walk.view, walk.words, walk.figures)
    figure = plan_figure(told, walk.card, PLAN_PX) or plan_figure(told, walk.card, TALL_PX)
    return [Paragraph(plan_sentence(told), style="small", sticky=True), figure] if figure is not None else []


def stop_blocks(walk: Walk, heading: str, stops: list[Stop]) -> list[Block]:
    """Stops of one part of the walk, with frames for their photographs."""
    if not stops:
        return []
    blocks: list[Block] = [Heading(2, heading)]
    for stop in stops:
        blocks.append(Heading(3, stop.place))
        parts = (("what", stop.what), ("why", stop.why), ("number", stop.number))
        told = [(key, text) for key, text in parts if text]
        last = told[-1][0]
        blocks += [Paragraph(text, lead=walk.say(key), style="small", sticky=key != last) for key, text in told]
    photos = tuple(stop.photo for stop in stops if stop.photo)
    return [*blocks, PhotoPlaces(photos, lead=walk.say("photo"))] if photos else blocks


def _outdoor(walk: Walk) -> Iterator[Stop]:
    sheets = {sheet.tag: sheet for sheet in walk.trade.view.design.outdoor}
    rooms = {row.tag: row.rooms for row in walk.trade.view.indoor}
    for row in walk.trade.view.circuits:
        sheet = sheets.get(row.tag)
        served = tuple(room for tag in row.serves for room in rooms[tag])
        number = ""
        if sheet is not None:
            level, limit = walk.figures.level(sheet.line_dba), walk.figures.level(sheet.limit_dba)
            number = walk.say("outdoor_number", level=level, limit=limit)
        what = walk.say("outdoor_what", rooms=room_names(served, walk.words, most=6))
        place = capital(walk.outside(row.tag))
        yield Stop(place, what, walk.say("outdoor_why_window"), number, walk.say("outdoor_photo", tag=place))


def _lines(walk: Walk) -> Iterator[Stop]:
    for line in walk.trade.view.design.lines:
        why = "line_why_cover" if line.cover_m > 0.0 else "line_why_inside"
        length, cover = walk.trade.length(line.length_m), walk.trade.length(line.cover_m)
        yield Stop(
            place=capital(walk.say("line_place", tag=walk.called(line.tag))),
            what=walk.say("line_what", tag=walk.called(line.tag), outdoor=walk.outside(line.outdoor)),
            why=walk.say(why),
            number=walk.say("line_number", length=length, cover=cover),
            photo=walk.say("line_photo", tag=walk.called(line.tag)),
        )


def branches(walk: Walk) -> dict[str, DuctRow]:
    """Branch of each ducted room."""
    return {row.room_name: row for zone in walk.trade.view.design.zones for row in zone.branches}


def transfers(walk: Walk) -> dict[str, TransferRow]:
    """Way back of each ducted room."""
    return {row.room_name: row for zone in walk.trade.view.design.zones for row in zone.transfers}


def heads(walk: Walk) -> dict[str, IndoorRow]:
    """Room unit of each room that has one."""
    return {row.rooms[0]: row for row in walk.trade.view.indoor if not row.space}


def _what(walk: Walk, room: str) -> str:
    head, branch = heads(walk).get(room), branches(walk).get(room)
    if head is not None:
        unit = walk.words.say("unit_names", UNIT_NOUNS.get(head.kind, "room_unit"))
        wall = head.place.partition(",")[0]
        key = "room_what_head" if wall.endswith("wall") else "room_what_marked"
        return walk.say(key, unit=unit, place=walk.trade.told(wall))
    if branch is not None:
        outlet = walk.say(f"outlet_{branch.outlet}")
        key = "room_what_vent" if branch.runs == 1 else "room_what_vents"
        return walk.say(key, n=walk.words.count(branch.runs).capitalize(), outlet=outlet)
    if room in walk.card.heater_rooms:
        return walk.say("room_what_heater")
    return walk.say("room_what_old" if walk.card.old_heat else "room_what_none")


def _door(walk: Walk, room: str) -> str:
    way = transfers(walk).get(room)
    if way is None or way.remedy in ("open", "none"):
        return ""
    if way.remedy == "undercut":
        return walk.say("room_door_undercut", gap=walk.trade.small(way.undercut_m))
    return walk.say("room_door_grille")


def _number(walk: Walk, outcome: RoomOutcome) -> str:
    temperature = walk.figures.temperature(outcome.morning_c)
    if outcome.bed_dba is None:
        return walk.say("room_number", temperature=temperature)
    return walk.say("room_number_both", temperature=temperature, level=walk.figures.level(outcome.bed_dba))


def _rooms(walk: Walk) -> Iterator[Stop]:
    needs = {row.room: row.heat_w for row in walk.trade.view.loads.rooms}
    outcomes = {outcome.room: outcome for outcome in walk.card.rooms}
    built = {*heads(walk), *branches(walk), *walk.card.heater_rooms}
    for shape in walk.view.plan.rooms:
        why = walk.say("room_why_cold", need=walk.figures.power(needs[shape.name]))
        yield Stop(
            place=name(shape.name),
            what=_what(walk, shape.name),
            why=f"{why} {_door(walk, shape.name)}".strip(),
            number=_number(walk, outcomes[shape.index]),
            photo=walk.say("room_photo", room=name(shape.name)) if shape.name in built else "",
        )


def _units(walk: Walk) -> Iterator[Stop]:
    rows = {row.tag: row for row in walk.trade.view.indoor}
    for zone in walk.trade.view.design.zones:
        back = zone.way_back
        rooms = room_names(rows[zone.tag].rooms, walk.words, most=8)
        face = walk.trade.size(back.face_width_m, back.face_height_m)
        yield Stop(
            place=capital(walk.called(zone.tag)),
            what=walk.say("unit_what", tag=walk.called(zone.tag), space=walk.trade.told(name(zone.space)), rooms=rooms),
            why=f"{walk.say('unit_why')} {walk.say('unit_filter', room=name(back.room_name))}",
            number=walk.say("unit_number", face=face),
            photo=walk.say("unit_photo", tag=walk.called(zone.tag)),
        )


def _controls(walk: Walk) -> Iterator[Stop]:
    value = walk.figures.temperature(walk.view.house.heating_set_c)
    for mark in walk.trade.view.design.controls:
        yield Stop(
            place=capital(walk.say("control_place", serves=walk.called(mark.serves))),
            what=walk.say("control_what", room=name(mark.room_name)),
            why=walk.say("control_why"),
            number=walk.say("control_number", value=value),
            photo=walk.say("control_photo", serves=walk.called(mark.serves)),
        )
