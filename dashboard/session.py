"""What one tablet at the table asks and sees, and what a source of answers must be able to do.

A `Question` is all that can change the advice: five (or more) priorities and the what-ifs. A `Page` adds what only
changes the picture: which option is on the plan, which question is open, units, evening look, width. Sources answer
questions with a `CustomerView`; nothing else of a comparison ever reaches a page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Protocol

from compare.pipeline import Comparison
from compare.scoring.weights import STOPS, priorities
from compare.trials.places import Move
from compare.units import System
from compare.views.customer import CustomerView
from compare.views.pair import PairView
from dashboard.habits import Habits
from dashboard.tool import Pointing
from proposal.drawing.look import Scene

SIGHT = "few_units_in_sight"
SIGHT_STOP = 4
"""Stop of the priority *few units in sight* while its switch says yes: a lot."""


class WhatIf(StrEnum):
    """A habit or a change of the house that can be tried at the table."""

    DOORS_SHUT = "doors_shut"
    COOL_BEDROOMS = "cool_bedrooms"
    FEW_IN_SIGHT = "few_in_sight"
    INSULATE_FIRST = "insulate_first"


@dataclass(frozen=True, slots=True)
class Question:
    """Priorities by row (stops 1-5) and the what-ifs that are on; hashable, so that answers can be kept."""

    stops: tuple[tuple[str, int], ...]
    on: frozenset[WhatIf] = frozenset()
    habits: Habits | None = None
    """Set points and price of electricity; None where a source does not offer them."""
    moves: tuple[Move, ...] = ()
    """Beds and seats that stand elsewhere for now, each once, by their numbers."""

    @property
    def priorities(self) -> dict[str, int]:
        """Stops by row; the switch *few units in sight* counts as its row."""
        wanted = dict(self.stops)
        if WhatIf.FEW_IN_SIGHT in self.on:
            wanted[SIGHT] = SIGHT_STOP
        return wanted

    @property
    def doors_shut(self) -> bool:
        """Whether the bedroom doors are shut at night."""
        return WhatIf.DOORS_SHUT in self.on

    @property
    def cool_bedrooms(self) -> bool:
        """Whether the family wants the bedrooms cooled."""
        return WhatIf.COOL_BEDROOMS in self.on

    def with_stop(self, row: str, stop: int) -> Question:
        """The same question with one row at another stop."""
        return replace(self, stops=tuple((key, stop if key == row else old) for key, old in self.stops))

    def flipped(self, what: WhatIf) -> Question:
        """The same question with one what-if turned over."""
        return replace(self, on=self.on ^ {what})


def start_question(
    priorities_by_row: Mapping[str, int], on: frozenset[WhatIf], habits: Habits | None = None
) -> Question:
    """A question in the page's order of rows; rows that a house leaves out stand at their start.

    Raises
    ------
    ValueError
        For a row that does not exist or a stop outside 1 to 5.
    """
    rows = {row.key: row.start for row in priorities() if row.key != SIGHT}
    extra = {SIGHT: priorities_by_row[SIGHT]} if SIGHT in priorities_by_row else {}
    if unknown := sorted(priorities_by_row.keys() - rows.keys() - extra.keys()):
        raise ValueError(f"no priority named {', '.join(unknown)}")
    if extra and extra[SIGHT] > 1:
        on |= {WhatIf.FEW_IN_SIGHT}
    found = {key: checked_stop(priorities_by_row.get(key, start)) for key, start in rows.items()}
    return Question(tuple(found.items()), on, habits)


def checked_stop(value: object) -> int:
    """A stop as it came from a browser.

    Raises
    ------
    ValueError
        Unless it is a whole number from 1 to 5.
    """
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= STOPS:
        raise ValueError("a stop is a whole number from 1 to 5")
    return value


@dataclass(frozen=True, slots=True)
class Offer:
    """A switch that a source can answer, with what it means or costs in its second line."""

    what: WhatIf
    words: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Ready:
    """The comparison is done: the question as the house file asks it, and the switches that can be answered."""

    question: Question
    offers: tuple[Offer, ...]
    outdated: bool = False
    """True when the house file changed since."""


@dataclass(frozen=True, slots=True)
class Working:
    """The first comparison is under way."""

    done: int
    total: int
    seconds_left: float | None = None
    house: str = ""
    what: str = ""


@dataclass(frozen=True, slots=True)
class Pending:
    """An answer that is being worked out: how far it is."""

    done: int
    total: int
    seconds_left: float | None = None


@dataclass(frozen=True, slots=True)
class Fault:
    """One value of the house file to mend; lines of the file round it, the faulty one marked by its number."""

    line: int
    place: str
    message: str
    suggestion: str = ""
    excerpt: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Failed:
    """The house file cannot be used."""

    file: str
    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class Empty:
    """No house is open."""


Status = Ready | Working | Failed | Empty


class TableSource(Protocol):
    """Where the page gets its answers from."""

    def status(self) -> Status:
        """How far the source is."""

    def view(self, question: Question) -> CustomerView:
        """The answer to a question; raises `ValueError` for one that it does not offer."""

    def ask(self, question: Question, who: str, patience_s: float) -> CustomerView | Pending:
        """The answer if it comes in time, else how far it is; raises as `view` does, `RuntimeError` where it failed."""

    def pair(self, question: Question, first: str, second: str) -> PairView:
        """Where each of two options is better; raises `ValueError` as `view` does, and for an unknown option."""

    def found(self, question: Question) -> Comparison | None:
        """The comparison that answers a question, for the paper; None where there are views alone."""

    def leave(self, question: Question, who: str) -> None:
        """Somebody no longer waits for an answer."""

    def known(self, question: Question) -> CustomerView | None:
        """The answer if the house need not be compared anew for it."""

    def kept(self, question: Question) -> CustomerView | None:
        """The answer if it was given before."""

    def open(self) -> None:
        """Read the house file and compare its layouts, again where that was done before."""


class Panel(StrEnum):
    """What lies open between the plan and the cards."""

    NONE = ""
    NUMBERS = "numbers"
    COMPARE = "compare"
    WALL = "wall"


class How(StrEnum):
    """How a page comes to another question: anew, or by taking a change back or doing it again."""

    ANEW = "anew"
    UNDO = "undo"
    REDO = "redo"


@dataclass(frozen=True, slots=True)
class Step:
    """A change that can be taken back: its words, and what the page asked and showed before it."""

    words: str
    question: Question
    shown: str | None
    beside: tuple[str, ...]


class Form(StrEnum):
    """The three arrangements of the page."""

    PORTRAIT = "portrait"
    LANDSCAPE = "landscape"
    NARROW = "narrow"


@dataclass(frozen=True, slots=True)
class Page:
    """What one browser shows. `shown` and `asked` are option ids and question keys, checked against the view."""

    question: Question
    form: Form = Form.PORTRAIT
    units: System = System.US
    look: str | None = None
    """`dark` or `light` as chosen; None follows the device."""
    scene: Scene = Scene.MORNING
    shown: str | None = None
    """Option on the plan; None for the recommended one."""
    asked: str | None = None
    change: str = ""
    """What the last change of a priority or switch did to the advice."""
    turning: WhatIf | None = None
    """The switch of which the page tells what it does to the answer."""
    fresh: bool = False
    """Whether that change was the last thing heard, so that the sentence fades over."""
    heard: int = -1
    """Number of the last tap that was acted on."""
    pointing: Pointing = field(default_factory=Pointing)
    """The tool in hand on the plan."""
    panel: Panel = Panel.NONE
    beside: tuple[str, ...] = ()
    """Options put side by side, at most two."""
    controls: Question | None = None
    """What the controls of the browser said last; they may lag behind the question."""
    past: tuple[Step, ...] = ()
    future: tuple[Step, ...] = ()
    waiting: Question | None = None
    """The question that is being worked out; the page shows the answer to `question` until then."""
    how: How = How.ANEW
    pending: Pending | None = None
    again: bool = False
    """Whether the last tap asked to work the house out again."""
