"""Names of layouts, the sentence that says what one is, and its place among the others."""

from __future__ import annotations

from collections.abc import Sequence

from compare.views.customer import CustomerView, OptionCard
from proposal.words.language import Words, capital, name
from proposal.words.rooms import main_group, room_group

TIE_POINTS = 3.0
"""Options closer than this share a place."""
CLOSE = "too close to call"
LEFT_OUT = "left out"
HEAD_NOUNS = {"wall head": "wall_unit", "floor console": "floor_unit", "ceiling cassette": "ceiling_unit"}
UNIT_NOUNS = {**HEAD_NOUNS, "concealed unit": "hidden_unit"}
"""Key of the noun of each kind of indoor unit."""
_HEATED = "heads_and_heaters"


def unit_noun(option: OptionCard) -> str:
    """Key of the noun of its room units: wall, floor or ceiling unit, or room unit where they differ."""
    nouns = {HEAD_NOUNS[unit.kind] for unit in option.drawing.units if unit.kind in HEAD_NOUNS}
    if not nouns:
        return "wall_unit"
    return nouns.pop() if len(nouns) == 1 else "room_unit"


def option_key(option: OptionCard) -> str:
    """Key of the templates of an option: its family, and for room units with heaters what warms the rest."""
    if option.family != _HEATED:
        return option.family
    rest = "heads_and_old_heat" if option.old_heat and not option.heaters else _HEATED
    return f"{rest}_{'one' if option.heads == 1 else 'many'}"


def _parts(option: OptionCard, words: Words) -> dict[str, str]:
    noun = unit_noun(option)
    unit = words.say("unit_names", noun)
    units = words.counted(option.heads, noun)
    return {"unit": unit, "units": units, "hidden_units": words.counted(option.hidden, "hidden_unit")}


def _room_parts(view: CustomerView, option: OptionCard, words: Words, *, short: bool) -> dict[str, str]:
    group = main_group if short else room_group
    return {
        **_parts(option, words),
        "head_units": words.counted(option.heads, unit_noun(option)),
        "head_rooms": group(view, option.head_rooms, words),
        "hidden_else": words.counted(option.hidden, "hidden_else"),
        "hidden_rooms": group(view, option.ducted_rooms, words),
        "heater_rooms": group(view, option.heater_rooms, words),
        "count": words.count(option.heads),
    }


def _base(option: OptionCard, words: Words, table: str) -> str:
    return words.say(table, option_key(option), **_parts(option, words))


def _extra(
    view: CustomerView, option: OptionCard, alike: Sequence[OptionCard], words: Words
) -> tuple[str, dict[str, str]]:
    """Template and fields that tell an option from others of the same name."""
    outdoor = [other.facts.outdoor_units for other in alike]
    if outdoor.count(option.facts.outdoor_units) == 1:
        return "outdoor", {"outdoor_units": words.counted(option.facts.outdoor_units, "outdoor_unit")}
    if option.places and [other.places for other in alike].count(option.places) == 1:
        return "place", {"place": words.listed([name(place) for place in option.places])}
    groups = [room_group(view, other.head_rooms, words) for other in alike]
    own = room_group(view, option.head_rooms, words)
    if own and groups.count(own) == 1:
        return "rooms", {"head_rooms": own}
    return "number", {"n": str(1 + sum(other.id != _first(view, alike) for other in alike[: alike.index(option) + 1]))}


def _first(view: CustomerView, alike: Sequence[OptionCard]) -> str:
    """The option of a name that bears it alone: the winner, else the one on a card, else the best."""
    ids = [option.id for option in alike]
    if view.answer.winner in ids:
        return view.answer.winner
    return next((item for item in view.cards if item in ids), ids[0])


def _named(view: CustomerView, option: OptionCard, words: Words, table: str) -> str:
    base = _base(option, words, table)
    alike = [other for other in view.options if _base(other, words, table) == base]
    if len(alike) < 2 or option.id == _first(view, alike):
        return base
    key, fields = _extra(view, option, alike, words)
    return words.say("option_extras", key, name=base, **fields)


def option_name(view: CustomerView, option: OptionCard, words: Words, *, short: bool = False) -> str:
    """As in `Wall unit and room heaters`; no two options of a view have the same."""
    return capital(_named(view, option, words, "option_names_short" if short else "option_names"))


def option_phrase(view: CustomerView, option: OptionCard, words: Words) -> str:
    """As in `a wall unit with room heaters`, for the middle of a sentence."""
    return _named(view, option, words, "option_phrases")


def option_tag(view: CustomerView, option: OptionCard, words: Words) -> str:
    """As in `room heaters`, for the shortest sentences."""
    return _named(view, option, words, "option_tags")


def option_line(view: CustomerView, option: OptionCard, words: Words) -> str:
    """What the option is, in one line."""
    return capital(words.say("option_lines", option_key(option), **_room_parts(view, option, words, short=True)))


def option_sentence(view: CustomerView, option: OptionCard, words: Words) -> str:
    """The option as one sentence that a person could say: `One wall unit for the open space, ...`."""
    key = option_key(option)
    chosen = option.id != view.answer.winner and words.has("page_sentences_chosen", key)
    table = "page_sentences_chosen" if chosen else "page_sentences"
    return capital(words.say(table, key, **_room_parts(view, option, words, short=True)))


def option_lead(view: CustomerView, option: OptionCard, words: Words) -> str:
    """What the option is and does, in one or two sentences."""
    parts = _room_parts(view, option, words, short=False)
    parts |= {field: capital(parts[field]) for field in ("head_units", "hidden_units")}
    places = words.listed([name(place) for place in option.places])
    parts["at"] = words.say("option_leads", "at", places=places) if places else ""
    said = []
    for part in words.say("lead_parts", option_key(option)).split():
        many = (option.hidden if part.startswith("hidden") else option.heads) > 1
        said.append(words.say("option_leads", f"{part}_{'many' if many else 'one'}", **parts))
    text = " ".join(said).replace("  ", " ")
    return text.replace(" a el ", " al ")


def question(view: CustomerView, option: OptionCard, words: Words) -> str:
    """As in `Why not room heaters?`; the full name where two options of the view would ask the same."""

    def asked(other: OptionCard) -> str:
        return words.say("questions", option_key(other), **_parts(other, words))

    text = asked(option)
    if sum(asked(other) == text for other in view.options) > 1:
        return words.say("questions", "other", phrase=option_phrase(view, option, words))
    return text


def winner_of(view: CustomerView) -> OptionCard | None:
    """The recommended option; None where no layout is good enough."""
    return view.option(view.answer.winner) if view.answer.winner else None


def close_group(view: CustomerView) -> tuple[OptionCard, ...]:
    """Layouts between which nothing is said, by price: one of each kind that is too close to the winner to call.

    Options that differ from the winner only in detail, such as another place of the hidden unit, do not count. Where
    the tries alone make it too close, the best layout of another kind belongs to the group.
    """
    winner = winner_of(view)
    if winner is None:
        return ()
    if view.answer.verdict != CLOSE:
        return (winner,)
    cards = [view.option(item) for item in view.cards]
    others = [card for card in cards if card.family != winner.family and card.status != LEFT_OUT]
    near = [card for card in others if card.id in view.answer.equals]
    if not near and view.answer.tries and others:
        near = [max(others, key=lambda card: card.total)]
    return tuple(sorted((winner, *near), key=lambda option: option.facts.price_usd))


def is_close(view: CustomerView) -> bool:
    """Whether it is too close to call between layouts of different kinds."""
    return len(close_group(view)) > 1


def verdict_word(view: CustomerView) -> str:
    """`clear`, `likely` or `close`; where only forms of one layout are too close to call, that layout is likely."""
    if is_close(view):
        return "close"
    return "clear" if view.answer.verdict == "clear" else "likely"


def lead_of(view: CustomerView) -> float:
    """Points by which the winner leads the best layout that is not a form of its own, or the runner-up when close."""
    winner = winner_of(view)
    if winner is None or view.answer.verdict != CLOSE or is_close(view):
        return view.answer.lead_points
    others = [o.total for o in view.options if o.family != winner.family and o.status != LEFT_OUT]
    return winner.total - max(others) if others else view.answer.lead_points


def _offered(view: CustomerView) -> list[OptionCard]:
    """Offered options, best fit first."""
    return [option for option in view.options if option.status != LEFT_OUT]


def shared_places(view: CustomerView) -> dict[str, tuple[int, bool]]:
    """Place of the best offered option of each kind, and whether it shares it: neighbours less than 3 points apart do.

    A place is shared with the best option of the group, so that a long row of small steps does not share one place.
    An option that differs from a better one in detail, such as another place of the hidden unit, takes no place.
    """
    ranked: list[OptionCard] = []
    for option in sorted(_offered(view), key=lambda option: -option.total):
        if all(option.family != better.family for better in ranked):
            ranked.append(option)
    places: dict[str, tuple[int, bool]] = {}
    start = 0
    while start < len(ranked):
        alone = start == 0 and not is_close(view)
        top = ranked[start].total
        group = [ranked[start]] if alone else [o for o in ranked[start:] if top - o.total < TIE_POINTS]
        for option in group:
            places[option.id] = (start + 1, len(group) > 1)
        start += len(group)
    return places


def place(view: CustomerView, option: OptionCard, words: Words) -> str:
    """As in `We recommend`, `Second`, `Equal third` or `Not enough here`."""
    if option.status == LEFT_OUT:
        return words.say("places", "not_enough")
    if is_close(view) and option in close_group(view):
        return words.say("places", "equal_first")
    if option.id == view.answer.winner:
        likely = verdict_word(view) == "likely"
        return words.say("places", "recommended_likely" if likely else "recommended")
    number, shared = shared_places(view).get(option.id, (0, False))
    key = f"equal_{number}" if shared else f"ordinal_{number}"
    return words.say("places", key) if words.has("places", key) else words.say("places", "later")
