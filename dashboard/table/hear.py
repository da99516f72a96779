"""From what a browser sends to the page it shall see. Every value is checked; none is trusted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isfinite

from compare.units import System
from compare.views.customer import CustomerView
from dashboard.habits import Habit, with_value
from dashboard.session import Form, How, Offer, Page, Panel, Question, WhatIf, checked_stop
from dashboard.table.ask import checked_question
from dashboard.table.controls import all_offers
from dashboard.table.scene import Shown
from dashboard.table.undo import redone, remembered, undone
from proposal.drawing.look import Scene

LONGEST_TAP = 200
MOST_BESIDE = 2


@dataclass(frozen=True, slots=True)
class Heard:
    """The state of every control of a page, as sent."""

    stops: Mapping[str, object]
    switches: Mapping[str, object]
    tap: object
    form: object
    units: object


def question_of(heard: Heard, start: Question, offers: tuple[Offer, ...]) -> Question:
    """The question that the controls ask.

    Raises
    ------
    ValueError
        For a row, a switch or a value that the page does not have.
    """
    rows = {row for row, _ in start.stops}
    if heard.stops.keys() != rows:
        raise ValueError("not the rows of this page")
    stops = tuple((row, checked_stop(heard.stops[row])) for row, _ in start.stops)
    offered = {offer.what.value for offer in all_offers(offers)}
    if heard.switches.keys() != offered:
        raise ValueError("not the switches of this page")
    on = set()
    for key, value in heard.switches.items():
        if not isinstance(value, bool):
            raise ValueError("a switch is on or off")
        if value:
            on.add(WhatIf(key))
    return replace(start, stops=stops, on=frozenset(on | (start.on - {WhatIf(key) for key in offered})))


def _tap_of(value: object) -> tuple[str, int] | None:
    if value is None:
        return None
    if not isinstance(value, dict) or value.keys() != {"what", "number"}:
        raise ValueError("not a tap")
    what, number = value["what"], value["number"]
    if not isinstance(what, str) or len(what) > LONGEST_TAP or isinstance(number, bool) or not isinstance(number, int):
        raise ValueError("not a tap")
    return what, number


def _tapped(page: Page, what: str, view: CustomerView) -> Page:
    """What only changes the picture."""
    kind, _, rest = what.partition(":")
    if kind == "ask":
        return replace(page, asked=checked_question(rest, view))
    if kind == "scene":
        return replace(page, scene=Scene(rest))
    if kind == "look" and rest in {"dark", "light"}:
        return replace(page, look=rest)
    if kind == "panel":
        return replace(page, panel=Panel(rest))
    if what == "again:now":
        return replace(page, again=True)
    raise ValueError("nothing to tap")


def _chosen(page: Page, what: str, shown: Shown) -> Page:
    """Another option on the plan, or side by side: a choice that can be taken back."""
    kind, _, rest = what.partition(":")
    view = shown.view
    if rest not in {option.id for option in view.options}:
        raise ValueError("no such option")
    name = shown.name(view.option(rest), short=True).lower()
    if kind == "show":
        chosen = None if rest == view.answer.winner else rest
        return page if chosen == page.shown else replace(remembered(page, f"{name} on the plan"), shown=chosen)
    if rest in page.beside:
        return replace(remembered(page, f"{name} not compared"), beside=tuple(i for i in page.beside if i != rest))
    beside = (*page.beside, rest)[-MOST_BESIDE:]
    return replace(remembered(page, f"{name} compared"), beside=beside, panel=Panel.COMPARE)


@dataclass(frozen=True, slots=True)
class Move:
    """The question that a page now asks, and how it comes to it."""

    question: Question
    how: How = How.ANEW


def moved(page: Page, asked: Question) -> Question:
    """The question after the controls: what they changed since they last spoke, over what the page asks."""
    base, last = page.waiting or page.question, page.controls
    if last is None:
        return replace(base, stops=asked.stops, on=asked.on)
    said = dict(last.stops)
    wanted = {row: stop for row, stop in asked.stops if said[row] != stop}
    stops = tuple((row, wanted.get(row, stop)) for row, stop in base.stops)
    turned = asked.on ^ last.on
    return replace(base, stops=stops, on=(base.on - turned) | (asked.on & turned))


def new_tap(page: Page, heard: Heard) -> tuple[str, int] | None:
    """The tap that was not acted on yet; raises `ValueError` for what is not a tap."""
    tap = _tap_of(heard.tap)
    return None if tap is None or tap[1] == page.heard else tap


def with_controls(page: Page, heard: Heard, asked: Question) -> Page:
    """The page in the arrangement and units of the browser; raises `ValueError` for those that do not exist."""
    form = page.form if heard.form is None else Form(str(heard.form))
    return replace(page, form=form, units=System(str(heard.units)), controls=asked, again=False)


def _number(rest: str, question: Question, units: System) -> Question:
    word, _, typed = rest.partition(":")
    if question.habits is None:
        raise ValueError("this house has no such number")
    value = float(typed)
    if not isfinite(value):
        raise ValueError("not a number")
    return replace(question, habits=with_value(question.habits, Habit(word), value, units))


def _back_or_again(page: Page, kind: str, move: Move) -> tuple[Page, Move]:
    """Undo and redo; a step that leaves the question alone is taken at once. A change under way is called off first."""
    if kind == "undo" and page.waiting is not None:
        return page, Move(page.question)
    stack, step_to, how = (page.past, undone, How.UNDO) if kind == "undo" else (page.future, redone, How.REDO)
    if not stack:
        return page, move
    if stack[-1].question == page.question:
        return step_to(page), Move(page.question)
    return page, Move(stack[-1].question, how)


def act(page: Page, move: Move, what: str, view: CustomerView) -> tuple[Page, Move]:
    """The page and the question after a tap, over the view that is shown.

    Raises
    ------
    ValueError
        For a tap that the page does not have.
    """
    kind, _, rest = what.partition(":")
    if kind in {"undo", "redo"} and rest == "now":
        return _back_or_again(page, kind, move)
    if what == "stop:now":
        return page, Move(page.question)
    if kind == "set":
        return page, replace(move, question=_number(rest, move.question, page.units))
    if kind in {"show", "beside"}:
        return _chosen(page, what, Shown(view, page)), move
    return _tapped(page, what, view), move
