"""Sentences about a unit tried on a wall: what stays cold or hot and why, with numbers; why it cannot hang there."""

from __future__ import annotations

from collections.abc import Sequence

from compare.units import System
from compare.views.tried import PieceLine, RoomStay, TriedView
from proposal.words import Figures, Told, capital, card_facts, name

FELT_FRAC = 0.15
"""Share of people bothered from which the moving air is told: the best class of draft in the comfort standard ends at
0.10 (ISO 7730, class A), the middle one at 0.20.
"""
ADVISED_BED_DBA = 30.0
MOST_NAMED = 3
SMALL_GAP_K = 1.6
"""Up to three degrees F: the room *stays at*, beyond it *falls to* (our judgement)."""
FT_M = 0.3048
PIECES = {"bed": "bed", "sofa": "sofa", "table": "table", "desk": "desk"}

NO_PLACE = {
    "window": "The window takes the space. A unit over it would hang behind the curtains, and the beam over a window "
    "is not to be drilled.",
    "door": "The door takes the space. A unit is not hung over a door or in its swing.",
    "opening": "There is no wall here: this is the way through to the next room.",
    "bed": "It would hang over the head of the bed. The air and the sound would fall on the pillow.",
    "short": "The wall is too short: the unit needs about 3 feet, and a little air to each side.",
    "furniture": "A bed or a seat stands in front of it.",
    "no_fit": "Another unit of this layout then has no good place.",
    "no_outdoor_place": "No place outdoors is left for its outdoor unit, or the pipes to it would be longer than "
    "{line}.",
    "panel": "The electric panel has no free space for it. A licensed electrician may find one.",
    "refrigerant": "The room is too small for the refrigerant in the unit, if it ever leaked: it has {area}.",
    "low": "The wall is too low. A wall unit needs a room of {height}.",
}
"""Why no unit can hang on a wall, by the first word against it."""
WHY_LOW_UNIT = {
    "window": "a window is in the way",
    "door": "a door is in the way",
    "opening": "there is no wall that high",
    "bed": "it would hang over the bed",
    "short": "there is no free wall for it",
    "low": "the wall is too low",
}
BECAUSE_AWAY = {
    "window": "the window",
    "door": "the door",
    "opening": "the way through",
    "bed": "the bed",
    "short": "the corner",
}


def length(value_m: float, figures: Figures) -> str:
    """As in `36 ft` or `11 m`."""
    return f"{value_m / FT_M:.0f}\u00a0ft" if figures.units is System.US else f"{value_m:.0f}\u00a0m"


def area(value_m2: float, figures: Figures) -> str:
    """As in `130 sq ft` or `12 m²`."""
    return f"{value_m2 / FT_M**2:.0f}\u00a0sq\u00a0ft" if figures.units is System.US else f"{value_m2:.0f}\u00a0m²"


def height(value_m: float, figures: Figures) -> str:
    """A room height, as in `7 ft 3 in.` or `2.2 m`."""
    if figures.units is not System.US:
        return f"{value_m:.1f}\u00a0m"
    inches = round(value_m / FT_M * 12.0)
    return f"{inches // 12}\u00a0ft" + (f" {inches % 12}\u00a0in." if inches % 12 else "")


def wall_name(facing: str, room: str) -> str:
    """As in `the north wall of Bedroom 2`."""
    return f"the {facing} wall of {name(room)}"


def heading(tried: TriedView) -> str:
    """Heading of the plan while a unit is tried."""
    unit = "A low unit" if tried.card is not None and tried.kind == "floor console" else "A unit"
    return f"{unit} on {wall_name(tried.target.facing, tried.target.room_name)}"


def no_place(tried: TriedView, told: Told) -> str:
    """Why a wall is no place for a unit."""
    figures = told.figures
    why = NO_PLACE.get(tried.against[0], NO_PLACE["furniture"])
    why = why.replace("{line}", length(tried.line_most_m, figures)).replace("{area}", area(tried.room_area_m2, figures))
    return f"Not on this wall. {why.replace('{height}', height(tried.wall_least_m, figures))}"


def where(tried: TriedView, told: Told) -> str:
    """Why it is a low unit, and how far from the pointed place it hangs; empty where neither is so."""
    said = []
    if tried.wall_against:
        why = WHY_LOW_UNIT.get(tried.wall_against, "something stands in the way")
        said.append(f"No wall unit fits here: {why}. So we tried a low unit near the floor.")
    if tried.pointed_against and tried.moved_m >= 0.5 * FT_M:
        cause = BECAUSE_AWAY.get(tried.pointed_against, "what stands there")
        said.append(f"It hangs {length(tried.moved_m, told.figures)} from your tap because of {cause}.")
    return " ".join(said)


def _named(stays: Sequence[RoomStay], told: Told, verb: str) -> str:
    """As in `Bedroom 3 falls to 43 °F, Bedroom 1 to 44 °F and Bedroom 2 to 49 °F`."""
    first = stays[:MOST_NAMED]
    parts = [f"{name(first[0].name)} {verb} {told.figures.temperature(first[0].value_c)}"]
    parts += [f"{name(stay.name)} {'at' if verb.endswith('at') else 'to'} {told.figures.temperature(stay.value_c)}"
              for stay in first[1:]]  # fmt: skip
    return told.words.listed(parts)


def stays_sentence(tried: TriedView, told: Told, *, hot: bool) -> str:
    """Which rooms stay cold or hot; that none does."""
    stays = tried.hot if hot else tried.cold
    alone = "One unit here" if not tried.beside else "With a unit here too, this layout"
    if not stays:
        when = "on hot days" if hot else "at 6 on the coldest mornings"
        return f"{alone} keeps every room as you want it {when}."
    gap_k = abs(stays[0].value_c - stays[0].target_c)
    verb = (
        ("stays at" if gap_k < SMALL_GAP_K else "reaches")
        if hot
        else ("stays at" if gap_k < SMALL_GAP_K else "falls to")
    )
    listed = _named(stays, told, "gets to" if verb == "reaches" else verb)
    more = len(stays) - MOST_NAMED
    rest = (
        "" if more <= 0 else f" {capital(told.words.count(more))} more {'room stays' if more == 1 else 'rooms stay'} "
    )
    rest = rest and f"{rest}{'hot' if hot else 'cold'} too."
    when = "On hot days" if hot else "At 6 on the coldest mornings"
    return f"{when} {listed}.{rest}"


def _way(stay: RoomStay, told: Told) -> str:
    """As in `two doorways, the stairs and 36 ft`."""
    doors = stay.doorways - stay.stairs
    parts = [f"{told.words.count(doors)} {'doorway' if doors == 1 else 'doorways'}"] if doors else []
    parts += ["the stairs"] if stay.stairs else []
    return told.words.listed([*parts, length(stay.way_m, told.figures)])


def why_sentence(tried: TriedView, told: Told, *, hot: bool) -> str:
    """Why they do: by the worst room that the unit does not serve itself; empty where none stays away."""
    stays = tried.hot if hot else tried.cold
    away = [stay for stay in stays if stay.cause != "short"]
    if not away:
        return _short(stays[0], hot=hot) if stays else ""
    worst = away[0]
    same = [stay for stay in away if stay.cause == worst.cause]
    return _reason(worst, same, told, hot=hot)


def _short(stay: RoomStay, *, hot: bool) -> str:
    air = "heat" if hot else "cold"
    return f"The unit there gives all it has; the {air} of the rooms behind draws on it." if stay.doorways == 0 else ""


def _reason(worst: RoomStay, same: Sequence[RoomStay], told: Told, *, hot: bool) -> str:
    air, doors = "cool" if hot else "warm", len(same) > 1 or worst.shut_doors > 1
    room, opened = name(worst.name), told.figures.temperature(worst.open_c)
    shut = f"The {'doors between are' if doors else 'door between is'} shut"
    shut += " then" if hot else " at night"
    by = "still be at" if hot else "reach only"
    if worst.cause == "door":
        would = "be at" if hot else "reach"
        return f"{shut}. With the doors open and a unit for all, {room} would {would} {opened}."
    if worst.cause == "door_and_way":
        return (
            f"{shut}. Even with every door open and a unit sized for all, {room} would {by} {opened}: "
            f"the {air} air has to pass {_way(worst, told)}."
        )
    if worst.cause == "walls":
        return f"No door leads from the unit to {room}: only the walls let some heat through."
    if worst.cause == "stairs":
        return f"{room} is on another floor: the {air} air has to pass {_way(worst, told)}, and little of it arrives."
    if worst.doorways == 1:
        away = length(worst.way_m, told.figures)
        return f"The way to {room} is open, but too little air passes by itself: one doorway and {away}."
    return f"No door is in the way, but the {air} air has to pass {_way(worst, told)}, and little of it gets to {room}."


def heat_sentence(tried: TriedView, told: Told) -> str:
    """What the coldest room needs and what gets there through walls and doors."""
    away = [stay for stay in tried.cold if stay.cause != "short"]
    if not away or away[0].arrives_w <= 0.0 or away[0].arrives_w >= away[0].needs_w:
        return ""
    worst, figures = away[0], told.figures
    through = "the walls and the shut door" if worst.cause.startswith("door") else "walls and doorways"
    needs, gets = figures.power(worst.needs_w), figures.power(worst.arrives_w)
    return f"{name(worst.name)} needs {needs} on such a morning; {gets} comes through {through}."


def piece_name(line: PieceLine) -> str:
    """As in `the pillow in Bedroom 1` or `the sofa`."""
    if line.bed:
        return f"the pillow in {name(line.room_name)}"
    return f"the {PIECES.get(line.kind, 'seat')}"


def felt_sentence(tried: TriedView, told: Told) -> str:
    """Sound at the loudest pillow, else at the loudest seat, and where the air would bother people."""
    if not tried.pieces:
        return ""
    beds = [line for line in tried.pieces if line.bed]
    loud = max(beds or tried.pieces, key=lambda line: line.level_dba)
    said = f"Sound at {piece_name(loud)}: {told.figures.level(loud.level_dba)}"
    said += " (health advice is 30 at most)." if loud.bed and loud.level_dba > ADVISED_BED_DBA + 0.5 else "."
    draft = max(tried.pieces, key=lambda line: line.felt_frac)
    if draft.felt_frac >= FELT_FRAC:
        said += (
            f" It blows on {piece_name(draft)}: {told.figures.of_hundred(draft.felt_frac)} people would mind the draft."
        )
    return said


def facts_line(tried: TriedView, told: Told) -> str:
    """Price and energy of the tried layout; beside another, how much dearer it is."""
    card = tried.card
    if card is None:
        return ""
    facts = {fact.key: fact.value for fact in card_facts(card, told)}
    said = f"Installed, about {told.figures.usd(card.facts.price_usd)}"
    base = next((option for option in told.view.options if option.id == tried.beside), None)
    if base is not None:
        more = card.facts.price_usd - base.facts.price_usd
        gap = told.figures.usd_gap(card.facts.price_usd, base.facts.price_usd)
        said += f", {gap} {'more' if more >= 0.0 else 'less'} than without it"
    bill = facts.get("bill", "")
    return f"{said}. Energy a year: {bill}." if bill else f"{said}."


def answer(tried: TriedView, told: Told, *, hot: bool) -> str:
    """The sentences that answer the question of the page: why not a unit here?"""
    if tried.card is None:
        return no_place(tried, told)
    said = (where(tried, told), stays_sentence(tried, told, hot=hot), why_sentence(tried, told, hot=hot))
    return " ".join(part for part in said if part)


def beneath(tried: TriedView, told: Told, *, hot: bool) -> str:
    """The small lines under the answer: heat, sound and draft, price."""
    if tried.card is None:
        return ""
    said = ("" if hot else heat_sentence(tried, told), felt_sentence(tried, told), facts_line(tried, told))
    return " ".join(part for part in said if part)
