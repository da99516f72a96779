"""Taking back and doing again: what a change is called, and the bounded stacks of a session."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from compare.units import System
from dashboard.habits import SCALES, Habit, shown
from dashboard.session import Page, Question, Step, WhatIf
from dashboard.table.text import PRIORITY_LABELS, STOP_WORDS

MOST_STEPS = 40
NBSP = "\u00a0"

@dataclass(frozen=True, slots=True)
class ChangeWords:
    """How the parts of a change are told: a switch turned on and off, a priority, a number."""

    switches: Mapping[WhatIf, tuple[str, str]]
    priority: str
    """With `{label}` or `{lower}`, and `{stop}`."""
    numbers: Mapping[Habit, str]
    """With `{value}`."""


UNDO_WORDS = ChangeWords(
    switches={
        WhatIf.DOORS_SHUT: ("doors shut at night", "doors open at night"),
        WhatIf.COOL_BEDROOMS: ("bedrooms cooled", "bedrooms not cooled"),
        WhatIf.FEW_IN_SIGHT: ("units in sight count", "units in sight do not count"),
        WhatIf.INSULATE_FIRST: ("attic insulated first", "attic left as it is"),
    },
    priority="{lower}, {stop}",
    numbers={
        Habit.HEATING: "heat to {value}",
        Habit.COOLING: "cool to {value}",
        Habit.RATE: "electricity at {value}",
    },
)


def number_words(question: Question, habit: Habit, units: System) -> str:
    """As in `68 °F` or `17¢`, of a question that has such numbers."""
    if question.habits is None:
        return ""
    unit = SCALES[habit, units].unit
    space = "" if unit == "¢" else NBSP
    return f"{shown(question.habits, habit, units):g}{space}{unit}"


def told_change(before: Question, after: Question, units: System, words: ChangeWords) -> str:
    """The first part of a change in some words; empty when no switch, priority or number changed."""
    for what in WhatIf:
        if (what in before.on) != (what in after.on):
            return words.switches[what][0 if what in after.on else 1]
    old = dict(before.stops)
    for row, stop in after.stops:
        if old.get(row) != stop:
            label = PRIORITY_LABELS[row]
            return words.priority.format(label=label, lower=label.lower(), stop=STOP_WORDS[stop - 1])
    for habit, told in words.numbers.items():
        value = number_words(after, habit, units)
        if value != number_words(before, habit, units):
            return told.format(value=value)
    return ""


def change_words(before: Question, after: Question, units: System) -> str:
    """What a change is called: the first of its parts; empty when nothing changed."""
    moved = "bed or seat moved" if before.moves != after.moves else ""
    return told_change(before, after, units, UNDO_WORDS) or moved


def remembered(page: Page, words: str) -> Page:
    """The page with what it now asks and shows on its stack; what had been taken back is forgotten."""
    step = Step(words, page.question, page.shown, page.beside)
    return replace(page, past=(*page.past, step)[-MOST_STEPS:], future=())


def undone(page: Page) -> Page:
    """The page before its last change."""
    *past, step = page.past
    ahead = Step(step.words, page.question, page.shown, page.beside)
    return _at(replace(page, past=tuple(past), future=(*page.future, ahead)), step)


def redone(page: Page) -> Page:
    """The page after the change that was last taken back."""
    *future, step = page.future
    back = Step(step.words, page.question, page.shown, page.beside)
    return _at(replace(page, past=(*page.past, back), future=tuple(future)), step)


def _at(page: Page, step: Step) -> Page:
    return replace(page, question=step.question, shown=step.shown, beside=step.beside)
