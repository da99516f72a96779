"""Comparisons of one house under what is tried with it.

Doors and insulation give another house, compared in full, which takes seconds; a few such comparisons are kept. Set
points run only the options that are shown, with their units; priorities, cooling and rates only count anew.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from threading import Lock, RLock

from compare.house.model import HouseFile
from compare.offer import Progress
from compare.pipeline import Comparison
from compare.scoring.weights import weights_from_priorities
from compare.trials.places import Move
from compare.trials.seats import with_moves
from compare.whatif import at_rate, at_set_points, bedrooms_not_cooled
from dashboard.habits import Habits
from dashboard.house import PHYSICAL, House
from dashboard.session import Question, WhatIf

MOST_COMPARISONS = 3
MOST_HELD = 8
MOST_MOVED = 12
Compare = Callable[[HouseFile, Path, Progress], Comparison]
On = frozenset[WhatIf]


class Stopped(Exception):  # noqa: N818 - not an error: somebody asked for it
    """The work was called off."""


@dataclass(eq=False)
class Trials:
    """Everything tried with a house so far; any number of callers, one heavy piece of work at a time."""

    house: House
    compare: Compare
    whole: dict[On, Comparison] = field(default_factory=dict)
    _held: OrderedDict[tuple[On, Habits], Comparison] = field(default_factory=OrderedDict)
    _uncooled: dict[int, tuple[Comparison, Comparison]] = field(default_factory=dict)
    _moved: OrderedDict[tuple[int, tuple[Move, ...]], tuple[Comparison, Comparison]] = field(
        default_factory=OrderedDict
    )
    _work: Lock = field(default_factory=Lock)
    _state: RLock = field(default_factory=RLock)

    def at_hand(self, question: Question) -> bool:
        """Whether no year need be run for a question, or few: those of options that newly come to be shown."""
        habits = question.habits
        with self._state:
            base = self.whole.get(question.on & PHYSICAL)
            if base is not None and habits is not None and not habits.held_as(self.house.habits):
                base = self._held.get(self._key(question, habits))
            return base is not None and (not question.moves or (id(base), question.moves) in self._moved)

    def _key(self, question: Question, habits: Habits) -> tuple[On, Habits]:
        rate = self.house.habits.electricity_usd_kwh
        return question.on & PHYSICAL, replace(habits, electricity_usd_kwh=rate)

    def keep(self, on: On, found: Comparison) -> None:
        """Keep a comparison; the house as it is and the latest stay."""
        with self._state:
            self.whole[on] = found
            start = self.house.question.on & PHYSICAL
            too_many = max(0, len(self.whole) - MOST_COMPARISONS)
            for old in [key for key in self.whole if key not in (start, on)][:too_many]:
                del self.whole[old]
                for key in [key for key in self._held if key[0] == old]:
                    del self._held[key]

    def found(self, question: Question, tell: Progress) -> Comparison:
        """The comparison that answers a question; works out what is missing."""
        whole = self.compared(question.on & PHYSICAL, tell)
        habits, own = question.habits, self.house.habits
        if habits is None:
            return self._judged(self._with_moves(whole, question.moves), question)
        base = whole if habits.held_as(own) else self._at(whole, question, habits, tell)
        judged = self._judged(self._with_moves(base, question.moves), question)
        rate = habits.electricity_usd_kwh
        return judged if rate == own.electricity_usd_kwh else at_rate(judged, rate)

    def drop(self) -> None:
        """Give up everything that was worked out."""
        with self._state:
            self.whole, self._uncooled = {}, {}
            self._held, self._moved = OrderedDict(), OrderedDict()

    def compared(self, on: On, tell: Progress) -> Comparison:
        """The house under some physical what-ifs, compared in full."""
        with self._state:
            if on in self.whole:
                return self.whole[on]
        with self._work:
            with self._state:
                if on in self.whole:
                    return self.whole[on]
            found = self.compare(self.house.changed(on), self.house.folder, tell)
            self.keep(on, found)
        return found

    def _at(self, whole: Comparison, question: Question, habits: Habits, tell: Progress) -> Comparison:
        """The options that a question shows, at its set points; those that were run before are not run again."""
        weights = weights_from_priorities(question.priorities)
        judged = self._judged(whole, question)
        ids = [item.option.option_id for item in judged.shown(judged.rank(weights))]
        key = self._key(question, habits)
        with self._work:
            with self._state:
                before = self._held.get(key)
            missing = ids if before is None else [one for one in ids if one not in before.by_id]
            if before is not None and not missing:
                return before
            more = at_set_points(
                whole, habits.heating_c, habits.cooling_c, missing, lambda done: tell("years", done, len(missing))
            )
            held = more if before is None else replace(before, results=(*before.results, *more.results))
            with self._state:
                self._held[key] = held
                self._held.move_to_end(key)
                while len(self._held) > MOST_HELD:
                    self._held.popitem(last=False)
        return held

    def _with_moves(self, found: Comparison, moves: tuple[Move, ...]) -> Comparison:
        """The comparison with some beds and seats elsewhere; the latest are kept."""
        if not moves:
            return found
        key = (id(found), moves)
        with self._state:
            kept = self._moved.get(key)
            if kept is not None and kept[0] is found:
                self._moved.move_to_end(key)
                return kept[1]
        moved = with_moves(found, moves)
        with self._state:
            self._moved[key] = (found, moved)
            while len(self._moved) > MOST_MOVED:
                self._moved.popitem(last=False)
        return moved

    def _judged(self, found: Comparison, question: Question) -> Comparison:
        """The comparison as a family judges it that does or does not want cool bedrooms; each judged once."""
        if question.cool_bedrooms:
            return found
        with self._state:
            kept = self._uncooled.get(id(found))
            if kept is not None and kept[0] is found:
                return kept[1]
            judged = bedrooms_not_cooled(found)
            live = [*self.whole.values(), *self._held.values(), *(pair[1] for pair in self._moved.values())]
            self._uncooled = {
                key: pair for key, pair in self._uncooled.items() if any(pair[0] is other for other in live)
            }
            self._uncooled[id(found)] = (found, judged)
            return judged
