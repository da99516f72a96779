"""The answer in words: the sentence of the page, the verdict, how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from proposal.words.figures import Figures
from proposal.words.language import capital, words_of
from proposal.words.options import is_close, option_name, option_sentence
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
    return Told(view, words_of(language), Figures(System(view.house.units)))


def equals(view: CustomerView) -> tuple[OptionCard, ...]:
    """The winner alone; when it is too close to call, all between which nothing is said, by price."""
    if not is_close(view):
        return (view.option(view.answer.winner),)
    ids = set(view.answer.equals) | {view.answer.winner}
    if len(ids) == 1 and view.answer.runner_up:
        ids.add(view.answer.runner_up)
    return tuple(sorted((view.option(item) for item in ids), key=lambda option: option.facts.price_usd))


def _layouts(told: Told) -> str:
    return capital(told.words.say("nouns", "layout_many", n=told.words.count(len(equals(told.view)))))


def headline(told: Told) -> str:
    """The sentence at the top of every page: the recommended layout, or that several suit equally."""
    group = equals(told.view)
    if len(group) > 1:
        return told.words.say("page_sentences", "equal", layouts=_layouts(told))
    return option_sentence(told.view, group[0], told.words)


def verdict(told: Told) -> str:
    """As in `Our recommendation, likely.`"""
    if is_close(told.view):
        return told.words.say("verdicts", "close", layouts=_layouts(told))
    return told.words.say("verdicts", told.view.answer.verdict)


def lead_points(told: Told) -> str:
    """As in `4 points`."""
    shown = told.figures.points(told.view.answer.lead_points)
    return told.words.say("sure", "point_one" if shown == "1" else "point_many", n=shown)


def how_sure(told: Told) -> Lead:
    """How firm the advice is: the tries it stayed first in, and its lead."""
    view, words = told.view, told.words
    answer = view.answer
    word = {"clear": "word_clear", "likely": "word_likely"}.get(answer.verdict, "word_close")
    lead = f"{words.say('sure', 'how')} {words.say('sure', word)}"
    parts = {"name": option_name(view, view.option(answer.winner), words), "lead": lead_points(told)}
    close = is_close(view)
    if answer.tries and answer.tries_won is not None:
        parts["tries"] = told.figures.of_hundred(answer.tries_won / answer.tries)
        key = "close_tries" if close else "first_in"
        return Lead(lead, f"{words.say('sure', 'varied')} {words.say('sure', key, **parts)}")
    return Lead(lead, words.say("sure", "close_lead" if close else "lead_only", **parts))
