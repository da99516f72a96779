"""Questions in the family's words, and their answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from dash import html
from dash.development.base_component import Component

from compare.views.customer import CustomerView
from dashboard.table.scene import Shown
from dashboard.table.tap import button
from proposal.words import (
    Lead,
    choose,
    how_sure,
    is_close,
    option_lead,
    question,
    rivals,
    sound_sentence,
    turns,
    weak_point,
    where_it_loses,
    why_not,
    why_reasons,
)

WHY = "why:"
Answerer = Callable[[Shown], str]


@dataclass(frozen=True, slots=True)
class Chip:
    """A question that can be tapped; `key` names it."""

    key: str
    words: str


def _sound(shown: Shown) -> str:
    return sound_sentence(shown.winner, shown.told) if shown.winner else ""


def _sure(shown: Shown) -> str:
    if shown.winner is None:
        return ""
    told = how_sure(shown.told)
    return f"{told.lead} {told.text}"


def _turns(shown: Shown) -> str:
    if shown.winner is None:
        return ""
    said = choose(shown.told) if is_close(shown.view) else turns(shown.told)
    return " ".join(lead.plain for lead in said[:2])


GENERAL: dict[str, tuple[str, Answerer]] = {
    "sound": ("Will I hear it?", _sound),
    "turns": ("What would change it?", _turns),
    "sure": ("How sure is this?", _sure),
}
"""Questions that every house has: words, and what answers."""


def chips(shown: Shown) -> tuple[Chip, ...]:
    """The strongest rival first, then the general ones that have an answer."""
    found = []
    others = rivals(shown.view) if shown.winner else ()
    if others:
        found.append(Chip(f"{WHY}{others[0].id}", question(shown.view, others[0], shown.told.words)))
    found += [Chip(key, words) for key, (words, answer) in GENERAL.items() if answer(shown)]
    return tuple(found)


def checked_question(key: str, view: CustomerView) -> str:
    """A question as it came from a browser; raises `ValueError` for one that the page does not ask."""
    ids = {option.id for option in view.options}
    if key in GENERAL or (key.startswith(WHY) and key.removeprefix(WHY) in ids):
        return key
    raise ValueError("no such question")


def _why(option_id: str, shown: Shown) -> Lead:
    told = shown.told
    option = shown.view.option(option_id)
    if shown.winner is None:
        return Lead(question(shown.view, option, told.words), weak_point(option, told))
    if not shown.recommended(option):
        return why_not(option, told)
    said = [*why_reasons(told, 2), *where_it_loses(told, most=1)] or [option_lead(shown.view, option, told.words)]
    return Lead(f"Why {shown.name(option)[:1].lower()}{shown.name(option)[1:]}?", " ".join(said))


def _answer_to(key: str, shown: Shown) -> Lead:
    if key in GENERAL:
        words, answerer = GENERAL[key]
        return Lead(words, answerer(shown))
    return _why(key.removeprefix(WHY), shown)


def answer(shown: Shown) -> Lead:
    """Question and answer that are open: the chosen one, else that about the strongest rival."""
    ids = {option.id for option in shown.view.options}
    key = shown.page.asked or ""
    if key in GENERAL or (key.startswith(WHY) and key.removeprefix(WHY) in ids):
        return _answer_to(key, shown)
    first = next(iter(chips(shown)), None)
    return Lead("", "") if first is None else _answer_to(first.key, shown)


def open_key(shown: Shown) -> str:
    """Key of the open question."""
    first = next(iter(chips(shown)), None)
    return shown.page.asked or (first.key if first else "")


def condition(shown: Shown) -> str:
    """The small line under an answer: what it was worked out for."""
    house, figures = shown.view.house, shown.told.figures
    cold, hot = figures.temperature(house.heating_99_c), figures.temperature(house.cooling_1_c)
    demo = " Demo figure." if house.demo else ""
    return f"Worked out for your rooms at {cold} and {hot} outside.{demo}"


def answer_block(shown: Shown) -> Component:
    """The open answer with its stroke."""
    said = answer(shown)
    on_chip = open_key(shown) in {chip.key for chip in chips(shown)}
    asked = html.Span(f"{said.lead} ", className="unseen" if on_chip else "asked")
    return html.Div(
        [html.P([asked, said.text], className="says"), html.P(condition(shown), className="condition")],
        className="stroke",
    )


def ask(shown: Shown) -> list[Component]:
    """Questions as buttons, and the open answer."""
    key = open_key(shown)
    asked = [button(chip.words, f"ask:{chip.key}", "chip", pressed=chip.key == key) for chip in chips(shown)]
    return [html.Div(asked, className="chips"), html.Div(answer_block(shown), className="answer", role="status")]
