"""From what a browser sends to the page it shall see. Every value is checked; none is trusted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from compare.units import System
from compare.views.customer import CustomerView
from dashboard.session import Form, Offer, Page, Question, WhatIf, checked_stop
from dashboard.table.ask import checked_question
from dashboard.table.controls import all_offers
from proposal.drawing.look import Scene

LONGEST_TAP = 200


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
    return Question(stops, frozenset(on | (start.on - {WhatIf(key) for key in offered})))


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
    kind, _, rest = what.partition(":")
    if kind == "show":
        if rest not in {option.id for option in view.options}:
            raise ValueError("no such option")
        return replace(page, shown=None if rest == view.answer.winner else rest)
    if kind == "ask":
        return replace(page, asked=checked_question(rest, view))
    if kind == "scene":
        return replace(page, scene=Scene(rest))
    if kind == "look" and rest in {"dark", "light"}:
        return replace(page, look=rest)
    if what == "again:now":
        return replace(page, again=True)
    raise ValueError("nothing to tap")


def page_of(page: Page, heard: Heard, view: CustomerView) -> Page:
    """The page after what was heard, over the view of its question.

    Raises
    ------
    ValueError
        For a value that no control of the page can have.
    """
    form = page.form if heard.form is None else Form(str(heard.form))
    page = replace(page, form=form, units=System(str(heard.units)), again=False)
    tap = _tap_of(heard.tap)
    if tap is None or tap[1] == page.heard:
        return page
    return replace(_tapped(page, tap[0], view), heard=tap[1])
