"""Sentences made from reasons-as-data, shared by the table page and the proposal. Templates are data, by language."""

from __future__ import annotations

from proposal.words.answer import Lead, equals, headline, how_sure, lead_points, settled, told_of, verdict
from proposal.words.arguments import (
    choose,
    left_out_because,
    questions,
    rivals,
    turns,
    where_it_loses,
    why_not,
    why_reasons,
)
from proposal.words.facts import Fact, card_facts, everyday_sound, sound_sentence
from proposal.words.figures import Figures
from proposal.words.flips import flip_sentences, tried_sentence
from proposal.words.language import Words, capital, name, plain, words_of
from proposal.words.options import (
    is_close,
    option_lead,
    option_line,
    option_name,
    option_phrase,
    option_sentence,
    place,
    question,
)
from proposal.words.reasons import Told, card_sentence, fault_clause, gain, loss, weak_point, weak_point_long, why
from proposal.words.rooms import main_group, room_group, room_names

__all__ = [
    "Fact",
    "Figures",
    "Lead",
    "Told",
    "Words",
    "capital",
    "card_facts",
    "card_sentence",
    "choose",
    "equals",
    "everyday_sound",
    "fault_clause",
    "flip_sentences",
    "gain",
    "headline",
    "how_sure",
    "is_close",
    "lead_points",
    "left_out_because",
    "loss",
    "main_group",
    "name",
    "option_lead",
    "option_line",
    "option_name",
    "option_phrase",
    "option_sentence",
    "place",
    "plain",
    "question",
    "questions",
    "rivals",
    "room_group",
    "room_names",
    "settled",
    "sound_sentence",
    "told_of",
    "tried_sentence",
    "turns",
    "verdict",
    "weak_point",
    "weak_point_long",
    "where_it_loses",
    "why",
    "why_not",
    "why_reasons",
    "words_of",
]
