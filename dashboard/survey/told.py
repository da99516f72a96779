"""The sentences of the page: what the house comes to, what there is to mend, what is still missing."""

from __future__ import annotations

from dataclasses import dataclass

from compare.house.furniture import NEEDS_SEAT
from compare.units import Kind, System, show
from dashboard.survey.draft.edits import Raw
from dashboard.survey.draft.names import same
from dashboard.survey.draft.shape import items, shapes_of
from dashboard.survey.live import Live, Unknown
from dashboard.survey.work import Seen

NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


def kept(text: str) -> str:
    """Text that does not break."""
    return text.replace(" ", "\u00a0")


def power(value_w: float, units: System) -> str:
    """A load to the nearest 50 Btu/h or 10 W: a survey's walls are not known better."""
    if units is System.US:
        return kept(f"{50 * round(value_w / 0.29307107 / 50):,} Btu/h")
    return kept(f"{10 * round(value_w / 10):,} W")


def area(value_m2: float, units: System) -> str:
    """A floor area."""
    return kept(show(value_m2, Kind.AREA, units, 0))


def counted(count: int, one: str, many: str) -> str:
    """A count in words up to ten."""
    number = NUMBERS[count] if 0 < count < len(NUMBERS) else f"{count}"
    return f"{number} {one if count == 1 else many}"


def sentence(seen: Seen, units: System) -> str:
    """What could be said aloud of the draft."""
    rooms = len(shapes_of(seen.draft.raw))
    if not rooms and not seen.draft.raw.get("room"):
        return "Draw the first room."
    if count := len(seen.judged.mends):
        return f"{counted(count, 'thing', 'things')} to mend before the loads are known."
    if isinstance(seen.live, Unknown):
        return "The plan is sound. The weather of the place is not known yet."
    return valid_sentence(seen.live, rooms, units)


def valid_sentence(live: Live, rooms: int, units: System) -> str:
    """The sentence of a house that can be worked out."""
    cool = f", {power(live.cool_w, units)} to cool" if live.cool_w is not None else ""
    return f"{counted(rooms, 'room', 'rooms')}, {area(live.area_m2, units)}: {power(live.heat_w, units)} to heat{cool}."


def lead(seen: Seen, units: System) -> str:
    """The second line: at what weather, or what to do first."""
    if not shapes_of(seen.draft.raw):
        return "Measure inside, wall to wall. Drag on the plan from one corner to the other, or type the sizes below."
    if isinstance(seen.live, Live) and not seen.judged.mends:
        cold, hot = (
            kept(show(value, Kind.TEMPERATURE, units, 0)) for value in (seen.live.heating_c, seen.live.cooling_c)
        )
        return f"At {cold} on the coldest nights and {hot} on hot days outside. Each change is worked out at once."
    if isinstance(seen.live, Unknown) and not seen.judged.mends:
        return seen.live.words
    return "Each is listed with what to do. The draft is kept meanwhile."


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that a survey should still bring, and what a tap does about it: an event as data."""

    words: str
    say: dict[str, str] | None = None


def missing(raw: Raw) -> list[Missing]:
    """What is still missing, first what weighs most."""
    return [*_rooms_without(raw), *_places(raw), *_tables(raw)]


def _joined(raw: Raw) -> set[str]:
    found: set[str] = set()
    for table in ("door", "opening"):
        for _, item in items(raw, table):
            pair = item.get("between")
            found |= {same(end) for end in pair} if isinstance(pair, list) else {same(item.get("room"))}
    for _, item in items(raw, "stair"):
        found |= {same(item.get("lower")), same(item.get("upper"))}
    return found


def _rooms_without(raw: Raw) -> list[Missing]:
    joined = _joined(raw)
    slept = {same(item.get("room")) for _, item in items(raw, "bed")}
    sat = {same(item.get("room")) for _, item in items(raw, "seat")}
    lit = {same(item.get("room")) for _, item in items(raw, "window")}
    found = []
    for position, item in items(raw, "room"):
        name, use, say = same(item.get("name")), same(item.get("use")), {"what": "choose", "ref": f"room.{position}"}
        if name and name not in joined:
            found.append(Missing(f"{name} has no door or opening yet.", say))
        if use == "bedroom" and name not in slept:
            found.append(Missing(f"{name} has no bed: where is the pillow? One bed in its middle is taken.", say))
        if use == "bedroom" and name not in lit:
            found.append(Missing(f"{name} has no window yet.", say))
        if use in {one.value for one in NEEDS_SEAT} and name not in sat:
            found.append(Missing(f"Where do people sit in {name}? Its middle is taken.", say))
    return found


def _places(raw: Raw) -> list[Missing]:
    found = []
    if not any("between" not in item for _, item in items(raw, "door")) and raw.get("room"):
        found.append(Missing("No outside door yet.", {"what": "tool", "tool": "door"}))
    if not raw.get("unit_space"):
        words = "No space for a hidden unit is noted: look at the hall ceiling, closets and the attic."
        found.append(Missing(words, {"what": "tool", "tool": "space"}))
    if not raw.get("outdoor_spot"):
        found.append(Missing("No place outside is noted for the outdoor unit.", {"what": "tool", "tool": "outdoor"}))
    return found


_ASK = (
    (("house", "people"), "How many people live here? The beds are counted."),
    (("fabric",), "What are walls, roof and windows like? Usual for the year built is taken."),
    (("air",), "How tight is the house? Usual for its age is taken."),
    (("existing_heat",), "What heats the house today?"),
    (("panel",), "Electric panel: service and free spaces. 200 A and 4 are taken."),
    (("rates", "electricity"), "What does power cost? A usual price is taken."),
    (("priorities",), "What matters to the family? All in the middle is taken."),
    (("bill",), "Bills of the last year, as a check on the loads."),
)


def _tables(raw: Raw) -> list[Missing]:
    found = []
    for keys, words in _ASK:
        here: object = raw
        for key in keys:
            here = here.get(key) if isinstance(here, dict) else None
        if here in (None, {}, []):
            found.append(Missing(words))
    return found
