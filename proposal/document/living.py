"""What the family told us, and what it will feel and hear in each room."""

from __future__ import annotations

from compare.views.customer import OptionCard, RoomOutcome
from compare.views.plan_view import RoomShape
from proposal.document.blocks import Align, Block, Heading, Paragraph, Schedule
from proposal.document.charts import doors_blocks, noise_blocks
from proposal.words import Told, capital, everyday_sound, name, option_phrase
from proposal.words.options import unit_noun

USUAL_STOP = 3
"""Stop of a wish that the family left as it was."""


def _bedrooms(told: Told) -> str:
    number = sum(room.use == "bedroom" for room in told.view.plan.rooms)
    key = {0: "none", 1: "one"}.get(number, "many")
    return told.words.say("more", f"asked_bedroom_{key}", n=told.words.count(number))


def _people(told: Told) -> str:
    number = round(told.view.house.people)
    key = "one" if number == 1 else "many"
    return told.words.say("more", f"asked_people_{key}", n=capital(told.words.count(number)))


def _doors(told: Told) -> list[str]:
    plan, words = told.view.plan, told.words
    beds = {room.index for room in plan.rooms if room.use == "bedroom"}
    doors = [door for door in plan.doors if door.kind == "door" and beds & set(door.rooms)]
    rooms = {room for door in doors for room in door.rooms if room in beds}
    shut = {room for door in doors if not door.open_by_night for room in door.rooms if room in beds}
    if not doors:
        return []
    if shut == rooms:
        return [words.say("more", "asked_doors_shut")]
    if not shut:
        return [words.say("more", "asked_doors_open")]
    key = "asked_door_one" if len(shut) == 1 else "asked_doors_some"
    return [words.say("more", key, n=capital(words.count(len(shut))))]


def _warmth(told: Told) -> str:
    view, figures = told.view, told.figures
    day = figures.temperature(view.house.heating_set_c)
    beds = {room.index for room in view.plan.rooms if room.use == "bedroom"}
    targets = [
        room.morning_target_c
        for room in (view.options[0].rooms if view.options else ())
        if room.room in beds and room.morning_target_c is not None
    ]
    if not targets:
        return told.words.say("more", "asked_set", day=day)
    return told.words.say("more", "asked_set_night", day=day, night=figures.temperature(min(targets)))


def _wishes(told: Told) -> list[str]:
    """The wishes above their usual stop, the strongest ones only; nothing where all count the same."""
    stops = {key: stop for key, stop in told.view.priorities.items() if told.words.has("more", f"wish_{key}")}
    top = max(stops.values(), default=0)
    if top <= USUAL_STOP:
        return []
    found = [told.words.say("more", f"wish_{key}") for key, stop in stops.items() if stop == top]
    return [told.words.say("more", "asked_most", wishes=told.words.listed(found))]


def asked_line(told: Told) -> Paragraph:
    """What we were told of the family and its habits, in short sentences."""
    home = told.words.say("more", "asked_home", people=_people(told), bedrooms=_bedrooms(told))
    text = " ".join((home, *_doors(told), f"{_warmth(told)}", *_wishes(told)))
    return Paragraph(text, lead=told.words.say("more", "asked_lead"), style="small")


def source_words(told: Told, option: OptionCard, room: str) -> str:
    """What gives a room its warmth."""
    words = told.words
    if room in option.head_rooms:
        return words.say("unit_names", unit_noun(option))
    for key, rooms in (("vent", option.ducted_rooms), ("heater", option.heater_rooms)):
        if room in rooms:
            return words.say("more", f"feel_{key}")
    return words.say("more", "feel_old" if option.old_heat else "feel_none")


def _heard(told: Told, outcome: RoomOutcome) -> str:
    if outcome.bed_dba is not None:
        return told.words.say("more", "feel_bed", level=told.figures.level(outcome.bed_dba))
    if outcome.seat_dba is not None:
        return told.words.say("more", "feel_seat", level=told.figures.level(outcome.seat_dba))
    return told.words.say("labels", "none")


def _row(told: Told, option: OptionCard, shape: RoomShape, outcome: RoomOutcome) -> tuple[str, ...]:
    hot = told.words.say("labels", "none")
    if outcome.hot_limit_c is not None:
        hot = told.figures.temperature(outcome.hot_c)
    cold = told.figures.temperature(outcome.morning_c)
    return name(shape.name), source_words(told, option, shape.name), cold, hot, _heard(told, outcome)


def _sound_note(told: Told, option: OptionCard) -> str:
    level_dba = option.facts.pillow_dba
    if level_dba is None:
        return ""
    said = {"level": capital(told.figures.level(level_dba)), "sound": everyday_sound(level_dba, told)}
    return f"{told.words.say('more', 'feel_sound', **said)} {told.words.say('more', 'feel_quiet')}"


def feel_blocks(told: Told, option: OptionCard, *, named: bool = False) -> list[Block]:
    """Every room with its warmth, its heat and its sound."""
    words = told.words
    outcomes = {outcome.room: outcome for outcome in option.rooms}
    rows = tuple(_row(told, option, shape, outcomes[shape.index]) for shape in told.view.plan.rooms)
    key = "feel_heading_named" if named else "feel_heading"
    heading = words.say("more", key, phrase=option_phrase(told.view, option, words))
    left: Align = "left"
    right: Align = "right"
    head = tuple(words.say("more", "feel_head").split("|"))
    table = Schedule(heading, head, rows, (left, left, right, right, right), (1.5, 1.3, 1.0, 0.9, 1.3))
    text = Paragraph(words.say("more", "feel_text"), style="small", sticky=True)
    return [Heading(2, heading), text, table, *doors_blocks(told), *noise_blocks(told, _sound_note(told, option))]
