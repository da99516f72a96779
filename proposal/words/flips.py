"""What would change the advice, from the changes that were found: wishes, prices, insulation, leaks, doors, power."""

from __future__ import annotations

import math
from collections.abc import Callable

from compare.views.customer import FlipLine, OptionCard
from proposal.words.options import option_phrase, option_tag, winner_of
from proposal.words.reasons import Told

MOST_FLIPS = 4
LEAST_CHANGE = 0.02
"""A smaller change of the house is shown as this much: the figure could not be told from none."""

Parts = dict[str, str]


def _numbers(flip: FlipLine) -> tuple[float, float] | None:
    found = {number.role: number.value for number in flip.numbers}
    return (found["before"], found["after"]) if {"before", "after"} <= found.keys() else None


def _price(flip: FlipLine, told: Told) -> tuple[str, Parts] | None:
    values = _numbers(flip)
    option = next((item for item in told.view.options if item.family == flip.subject), None)
    if values is None or option is None:
        return None
    parts = {
        "phrase": option_phrase(told.view, option, told.words),
        "before": told.figures.usd(values[0]),
        "after": told.figures.usd(values[1]),
    }
    parts["gap"] = told.figures.usd_gap(*values)
    form = "price_less" if values[1] < values[0] else "price_more"
    form = f"{form}_itself" if flip.subject == flip.family and form == "price_less" else form
    return (form, parts) if parts["before"] != parts["after"] else None


def _weight(flip: FlipLine, told: Told) -> tuple[str, Parts] | None:
    """The share of the whole that a wish must count for, rounded away from what it counts for now."""
    values = _numbers(flip)
    if values is None or not told.words.has("flip_wishes", flip.subject):
        return None
    more = values[1] > values[0]
    after = (math.ceil if more else math.floor)(round(100.0 * values[1], 6)) / 100.0
    parts = {
        "wish": told.words.say("flip_wishes", flip.subject),
        "before": f"{100.0 * values[0]:.0f}",
        "after": told.figures.of_hundred(after),
    }
    return "weight_more" if more else "weight_less", parts


def _credit(flip: FlipLine, told: Told) -> tuple[str, Parts] | None:
    """Points of a room that a plain heater warms."""
    values = _numbers(flip)
    if values is None:
        return None
    return "credit", {"before": f"{values[0]:.0f}", "after": told.figures.of_hundred(values[1] / 100.0)}


def _house(flip: FlipLine, told: Told) -> tuple[str, Parts] | None:
    """Heat loss or leakage by so much less or more."""
    values = _numbers(flip)
    if values is None:
        return None
    change = max(abs(values[1] - values[0]), LEAST_CHANGE)
    form = "less" if values[1] < values[0] else "more"
    return f"{flip.kind}_{form}", {"change": told.figures.percent(change)}


def _doors(flip: FlipLine, _told: Told) -> tuple[str, Parts] | None:
    """Share of bedroom doors that stand open at night, none or all."""
    values = _numbers(flip)
    return None if values is None else ("doors_open" if values[1] > values[0] else "doors_shut", {})


def _rate(flip: FlipLine, _told: Told) -> tuple[str, Parts] | None:
    values = _numbers(flip)
    if values is None:
        return None
    before, after = (f"{100.0 * value:.1f}" for value in values)
    return "rate", {"before": before, "after": after}


_KINDS: dict[str, Callable[[FlipLine, Told], tuple[str, Parts] | None]] = {
    "doors": _doors,
    "weight": _weight,
    "price": _price,
    "envelope": lambda _flip, _told: ("envelope", {}),
    "insulation": _house,
    "leakage": _house,
    "rate": _rate,
    "credit": _credit,
}
"""Kinds that a family can picture, the most telling first; curves are for the desk."""


def _winner_card(flip: FlipLine, told: Told) -> OptionCard | None:
    """The layout that would be first, by its own card or that of its kind; None for the kind that we advise."""
    ours = winner_of(told.view)
    found = {option.id: option for option in told.view.options}
    kind = [option for option in told.view.options if option.family == flip.family]
    option = found.get(flip.winner) or next(iter(kind), None)
    return None if option is None or (ours is not None and option.family == ours.family) else option


def flip_sentences(told: Told) -> tuple[str, ...]:
    """A sentence for each change that puts another kind of layout first; empty before any was looked for."""
    said = []
    for kind, tell in _KINDS.items():
        for flip in told.view.flips:
            option = _winner_card(flip, told)
            shown = tell(flip, told) if flip.kind == kind and option is not None else None
            if shown is not None and option is not None:
                key, parts = shown
                named = option_tag if kind == "weight" else option_phrase
                said.append(told.words.say("flips", key, winner=named(told.view, option, told.words), **parts))
    return tuple(dict.fromkeys(said))[:MOST_FLIPS]


def tried_sentence(told: Told) -> str:
    """What was tried and changes nothing; empty where nothing was tried, or all of it changes something."""
    found = {flip.kind for flip in told.view.flips}
    words = told.words
    items = [words.say("flips_tried", kind) for kind in told.view.flips_tried if kind not in found]
    if not items:
        return ""
    key = "also" if flip_sentences(told) else "all"
    return words.say("flips_tried", key, items=" ".join(items))
