"""The answer in words: the sentence of the page, the verdict, how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from proposal.words.figures import Figures
from proposal.words.language import capital, words_of
from proposal.words.options import (
    CLOSE,
    LEFT_OUT,
    TIE_POINTS,
    close_group,
    is_close,
    lead_of,
    option_name,
    option_phrase,
    option_sentence,
    verdict_word,
    winner_of,
)
from proposal.words.reasons import Told


@dataclass(frozen=True, slots=True)
class Lead:
    """A sentence whose beginning is set in bold."""

    lead: str
    text: str

    @property
    def plain(self) -> str:
        """Both as one text."""
        return f"{self.lead} {self.text}".strip()


def told_of(view: CustomerView, language: str = "en") -> Told:
    """A view with the words of a language and the figures of its house."""
    words = words_of(language)
    return Told(view, words, Figures(System(view.house.units), words.say("lists", "of")))


def equals(view: CustomerView) -> tuple[OptionCard, ...]:
    """The winner alone; when it is too close to call, all between which nothing is said, by price; else nobody."""
    return close_group(view)


def settled(view: CustomerView) -> CustomerView:
    """The view with its verdict as the words say it, for pictures that ask for it."""
    winner = winner_of(view)
    if winner is None or view.answer.verdict != CLOSE or is_close(view):
        return view
    changes = {"verdict": verdict_word(view), "equals": (winner.id,), "lead_points": lead_of(view)}
    answer = view.answer.model_copy(update=changes)
    return view.model_copy(update={"answer": answer})


def _layouts(told: Told) -> str:
    return capital(told.words.say("nouns", "layout_many", n=told.words.count(len(equals(told.view)))))


def headline(told: Told) -> str:
    """The sentence at the top of every page: the recommended layout, or that several suit equally."""
    group = equals(told.view)
    if not group:
        return told.words.say("page_sentences", "none")
    if len(group) > 1:
        return told.words.say("page_sentences", "equal", layouts=_layouts(told))
    return option_sentence(told.view, group[0], told.words)


def verdict(told: Told) -> str:
    """As in `Our recommendation, likely.`"""
    if winner_of(told.view) is None:
        return told.words.say("verdicts", "none")
    return told.words.say("verdicts", verdict_word(told.view), layouts=_layouts(told))


def lead_points(told: Told) -> str:
    """As in `4 points`."""
    shown = told.figures.points(lead_of(told.view))
    key = {"0": "point_none", "1": "point_one"}.get(shown, "point_many")
    return told.words.say("sure", key, n=shown)


def _level_forms(view: CustomerView, winner: OptionCard) -> bool:
    """Whether other forms of the recommended layout are too close to it to call."""
    forms = [o for o in view.options if o.family == winner.family and o.id != winner.id and o.status != LEFT_OUT]
    return any(winner.total - form.total < TIE_POINTS for form in forms)


def _first_otherwise(told: Told) -> str:
    """The layout that is first in most of the tries that the winner loses; empty where none is."""
    others = told.view.answer.first_otherwise
    best = max(others, key=lambda option_id: others[option_id], default="")
    options = {option.id: option for option in told.view.options}
    if best not in options or 2.0 * others[best] <= sum(others.values()):
        return ""
    return told.words.say("sure", "rival", rival=option_phrase(told.view, options[best], told.words))


def how_sure(told: Told) -> Lead:
    """How firm the advice is: the tries it stayed first in, and its lead."""
    view, words = told.view, told.words
    answer, winner = view.answer, winner_of(view)
    if winner is None:
        return Lead(words.say("sure", "how"), words.say("verdicts", "none"))
    lead = f"{words.say('sure', 'how')} {words.say('sure', f'word_{verdict_word(view)}')}"
    parts = {"name": option_name(view, winner, words), "lead": lead_points(told)}
    close = is_close(view)
    if answer.tries and answer.tries_won is not None:
        parts["tries"] = told.figures.of_hundred(answer.tries_won / answer.tries)
        key = "close_tries" if close else "first_in"
        said = (words.say("sure", "varied"), words.say("sure", key, **parts), _first_otherwise(told))
        return Lead(lead, " ".join(text for text in said if text))
    key = "close_lead" if close else "forms" if _level_forms(view, winner) else "lead_only"
    return Lead(lead, words.say("sure", key, **parts))
