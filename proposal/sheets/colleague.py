"""Walk-through for colleagues: the customer's stops with the figures behind them."""

from __future__ import annotations

from collections.abc import Iterator

from proposal.document.blocks import Block, Document
from proposal.sheets.trade import one_stop, opening, sheet_of
from proposal.sheets.walk import Stop, Walk, branches, heads, stop_blocks, transfers
from proposal.words import capital, name


def colleague_walk(walk: Walk) -> Document:
    """The colleagues' sheet."""
    groups = (
        ("outdoors", _outdoor(walk)),
        ("lines", _lines(walk)),
        ("rooms", _rooms(walk)),
        ("unit", _units(walk)),
        ("control", _controls(walk)),
    )
    blocks: list[Block] = [*opening(walk.trade, _say(walk, "headline"))]
    for key, stops in groups:
        blocks += stop_blocks(walk, walk.say(key), list(stops))
    return sheet_of(walk.trade, "walk_colleague", blocks)


def _say(walk: Walk, key: str, **parts: str) -> str:
    return one_stop(walk.words.say("walk_colleague", key, **parts))


def _outdoor(walk: Walk) -> Iterator[Stop]:
    trade = walk.trade
    sheets = {sheet.tag: sheet for sheet in trade.view.design.outdoor}
    for row in trade.view.circuits:
        sheet = sheets[row.tag]
        offsets, spot = trade.offsets(row.offsets), walk.spot(row.side, row.spot)
        yield Stop(
            place=row.tag,
            what=_say(walk, "outdoor_what", tag=row.tag, size=trade.told(row.size), spot=spot, offsets=offsets),
            why=_say(
                walk,
                "outdoor_why",
                serves=", ".join(row.serves),
                charge=trade.mass(row.factory_kg + row.added_kg),
                limit_charge=trade.mass(row.limit_kg),
                amps=f"{row.circuit_a:.0f}",
            ),
            number=_say(walk, "outdoor_number", level=trade.level(sheet.line_dba), limit=trade.level(sheet.limit_dba)),
            photo=walk.say("outdoor_photo", tag=row.tag),
        )


def _lines(walk: Walk) -> Iterator[Stop]:
    trade = walk.trade
    most = {tag: row.branch_most_m for row in trade.view.circuits for tag in row.serves}
    for line in trade.view.design.lines:
        fall = trade.say("drain_falls", fall=trade.small(line.drain_fall_m))
        drain = trade.say("drain_pump") if line.pump else fall
        parts = {"length": trade.length(line.length_m), "lift": trade.length(line.lift_m)}
        yield Stop(
            place=f"{line.tag} – {line.outdoor}",
            what=_say(walk, "line_what", tag=line.tag, outdoor=line.outdoor, **parts),
            why=_say(walk, "line_why", cover=trade.length(line.cover_m), drain=drain),
            number=_say(walk, "line_number", most=trade.length(most[line.tag])),
            photo=walk.say("line_photo", tag=line.tag),
        )


def _served(walk: Walk, room: str) -> str:
    trade, head, branch = walk.trade, heads(walk).get(room), branches(walk).get(room)
    if head is not None:
        label = f"{trade.told(head.size)}, {trade.told(name(head.place))}"
        return _say(walk, "room_served_head", tag=head.tag, label=label)
    if branch is not None:
        return _say(
            walk,
            "room_served_vent",
            tag=branch.tag,
            runs=trade.say("runs", n=f"{branch.runs}", size=trade.small(branch.diameter_m)),
            flow=trade.flow(branch.flow_m3_s),
            open=f"{branch.damper_notches}",
            notches=f"{branch.notches}",
        )
    return _say(walk, "room_served_none")


def _door(walk: Walk, room: str) -> str:
    way = transfers(walk).get(room)
    if way is None or way.remedy == "open":
        return ""
    values = {"now": way.as_is_pa, "after": way.pressure_pa, "limit": way.limit_pa}
    shown = {key: f"{value:.1f} Pa" for key, value in values.items()}
    if way.remedy == "none":
        return _say(walk, "room_why_none", **shown)
    return _say(walk, "room_why", remedy=walk.trade.say(f"remedy_{way.remedy}"), **shown)


def _rooms(walk: Walk) -> Iterator[Stop]:
    needs = {row.room: row.heat_w for row in walk.trade.view.loads.rooms}
    outcomes = {outcome.room: outcome for outcome in walk.card.rooms}
    for shape in walk.view.plan.rooms:
        outcome = outcomes[shape.index]
        temperature = walk.figures.temperature(outcome.morning_c)
        key = "room_number" if outcome.bed_dba is None else "room_number_both"
        yield Stop(
            place=name(shape.name),
            what=_say(walk, "room_what", need=walk.trade.power(needs[shape.name]), served=_served(walk, shape.name)),
            why=_door(walk, shape.name),
            number=_say(walk, key, temperature=temperature, level=walk.trade.level(outcome.bed_dba)),
            photo=walk.say("room_photo", room=name(shape.name)),
        )


def _units(walk: Walk) -> Iterator[Stop]:
    trade = walk.trade
    for zone in trade.view.design.zones:
        back = zone.way_back
        yield Stop(
            place=zone.tag,
            what=_say(
                walk,
                "unit_what",
                tag=zone.tag,
                space=trade.told(name(zone.space)),
                policy=trade.told(zone.policy),
                static=trade.pressure(zone.static_pa),
                available=trade.pressure(zone.available_pa),
                setting=trade.pressure(zone.setting_pa),
            ),
            why=_say(walk, "unit_why", arrives=trade.share(zone.heat_delivered_frac)),
            number=_say(
                walk,
                "unit_number",
                face=trade.size(back.face_width_m, back.face_height_m),
                speed=trade.speed(back.face_m_s),
            ),
            photo=walk.say("unit_photo", tag=zone.tag),
        )


def _controls(walk: Walk) -> Iterator[Stop]:
    trade, value = walk.trade, walk.figures.temperature(walk.view.house.heating_set_c)
    for mark in trade.view.design.controls:
        yield Stop(
            place=mark.tag,
            what=_say(walk, "control_what", tag=mark.tag, serves=mark.serves, room=name(mark.room_name)),
            why=_say(walk, "control_why", note=capital(trade.told(mark.note))),
            number=walk.say("control_number", value=value),
            photo=walk.say("control_photo", serves=mark.serves),
        )
