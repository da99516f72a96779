"""The answer: the sentence, the verdict with its facts, and the line that says what changed it."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.views.customer import OptionCard
from dashboard.table.scene import Shown
from proposal.words import capital, equals, headline, is_close, lead_points, loss, option_phrase, verdict
from proposal.words.options import TIE_POINTS
from proposal.words.rooms import coldest_door_open


def warmth(shown: Shown, winner: OptionCard) -> str:
    """As in `Each bedroom has at least 69 °F at 6 in the morning, with its door shut.`; empty without bedrooms."""
    coldest_c = winner.facts.coldest_bedroom_c
    if coldest_c is None:
        return ""
    door = coldest_door_open(shown.view, winner)
    habit = "" if door is None else f", with its door {'open' if door else 'shut'}"
    value = shown.told.figures.temperature(coldest_c)
    several = sum(room.use == "bedroom" for room in shown.view.plan.rooms) > 1
    return f"{'Each bedroom' if several else 'The bedroom'} has at least {value} at 6 in the morning{habit}."


def tries(shown: Shown) -> str:
    """As in `It stays first in 71 of 100 tries.`; the lead where no tries were made."""
    answer = shown.view.answer
    if answer.tries and answer.tries_won is not None:
        return f"It stays first in {shown.told.figures.of_hundred(answer.tries_won / answer.tries)} tries."
    return f"It leads by {lead_points(shown.told)}."


def _recommended(shown: Shown, winner: OptionCard) -> tuple[str, str, str]:
    """Verdict, facts and price of it, how sure."""
    told = shown.told
    weak = f"{capital(loss(winner.weak_point, told))}." if winner.weak_point else ""
    first = verdict(told) if told.words.has("verdicts", shown.view.answer.verdict) else "Our recommendation."
    return first, " ".join(text for text in (warmth(shown, winner), weak) if text), tries(shown)


def _close(shown: Shown) -> tuple[str, str, str]:
    """That it is too close to call, between which layouts, and why nothing is said between them."""
    told, answer = shown.told, shown.view.answer
    group = [option_phrase(shown.view, option, told.words) for option in equals(shown.view)]
    long = len(group) > 2 or any("," in phrase for phrase in group)
    between = f"{capital('; '.join(group) if long else told.words.listed(group))}." if len(group) > 1 else ""
    if answer.tries and answer.tries_won is not None and answer.lead_points >= TIE_POINTS:
        share = told.figures.of_hundred(answer.tries_won / answer.tries)
        return "Too close to call.", between, f"None of them stays first in more than {share} tries."
    return "Too close to call.", between, "Fewer than 3 points of 100 lie between them."


def said_first(shown: Shown) -> tuple[str, str, str, str]:
    """The sentence, and the three parts of what follows it."""
    if shown.winner is None:
        faults = "Each layout that we worked out leaves a room too cold or cannot be built."
        return "No layout is enough here yet.", "Not enough.", faults, "Tap a card to see its reason."
    parts = _close(shown) if is_close(shown.view) else _recommended(shown, shown.winner)
    return (headline(shown.told), *parts)


def head(shown: Shown) -> list[Component]:
    """The heading of the page."""
    sentence, first, facts, sure = said_first(shown)
    plain = is_close(shown.view) or shown.winner is None
    return [
        html.H1(sentence, className="fresh" if shown.page.fresh else ""),
        html.P(
            [
                html.Strong(first, className="verdict close" if plain else "verdict"),
                f" {facts} ",
                html.Span(f"{sure} ", className="quiet"),
                html.Span(shown.page.change, className="change", role="status"),
            ],
            className="lead",
        ),
    ]
