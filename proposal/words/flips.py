"""What would change the advice, from the changes that were found: prices, insulation, air leaks, doors, power."""

from __future__ import annotations

from collections.abc import Callable

from compare.views.customer import FlipLine, OptionCard
from proposal.words.options import option_phrase, winner_of
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
    return ("price", parts) if parts["before"] != parts["after"] else None


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
    "price": _price,
    "envelope": lambda _flip, _told: ("envelope", {}),
    "insulation": _house,
    "leakage": _house,
    "rate": _rate,
}
"""Kinds that a family can picture, the most telling first; weights and curves are for the desk."""


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
                winner = option_phrase(told.view, option, told.words)
                said.append(told.words.say("flips", key, winner=winner, **parts))
    return tuple(dict.fromkeys(said))[:MOST_FLIPS]
