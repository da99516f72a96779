"""The answer: the sentence, the verdict with its facts, and the line that says what changed it."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from dashboard.session import Form
from dashboard.table.scene import Shown
from proposal.words import capital, headline, is_close, lead_points, loss, option_phrase, verdict
from proposal.words.rooms import coldest_door_open


def warmth(shown: Shown) -> str:
    """As in `Every bedroom is at least 69 °F at 6 in the morning, with its door shut.`; empty without bedrooms."""
    winner = shown.view.option(shown.view.answer.winner)
    coldest_c = winner.facts.coldest_bedroom_c
    if coldest_c is None:
        return ""
    door = coldest_door_open(shown.view, winner)
    habit = "" if door is None else f", with its door {'open' if door else 'shut'}"
    value = shown.told.figures.temperature(coldest_c)
    several = sum(room.use == "bedroom" for room in shown.view.plan.rooms) > 1
    return f"{'Each bedroom' if several else 'The bedroom'} has at least {value} at 6 in the morning{habit}."


def price_of_it(shown: Shown) -> str:
    """Where the recommended layout loses, in one sentence; when it is too close to call, what the lead is."""
    told = shown.told
    if is_close(shown.view):
        winner = option_phrase(shown.view, shown.view.option(shown.view.answer.winner), told.words)
        return f"{capital(winner)} is ahead by only {lead_points(told)}."
    weak = shown.view.option(shown.view.answer.winner).weak_point
    return f"{capital(loss(weak, told))}." if weak else ""


def tries(shown: Shown) -> str:
    """As in `It stays first in 71 of 100 tries.`; the lead where no tries were made."""
    answer = shown.view.answer
    if answer.tries and answer.tries_won is not None:
        return f"It stays first in {shown.told.figures.of_hundred(answer.tries_won / answer.tries)} tries."
    return "" if is_close(shown.view) else f"It leads by {lead_points(shown.told)}."


def head(shown: Shown) -> list[Component]:
    """The heading of the page."""
    close = is_close(shown.view)
    told = shown.told
    said = [text for text in (warmth(shown), price_of_it(shown)) if text]
    if shown.page.form is Form.LANDSCAPE and not close:
        said = said[-2:]
    first = "Too close to call." if close else verdict(told)
    return [
        html.H1(headline(told)),
        html.P(
            [
                html.Strong(first, className="verdict close" if close else "verdict"),
                f" {' '.join(said)} ",
                html.Span(tries(shown), className="quiet"),
            ],
            className="lead",
        ),
        html.P(shown.page.change, className="change", role="status"),
    ]
