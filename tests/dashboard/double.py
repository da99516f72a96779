"""A source of answers over the invented sample views: enough of a comparison to see the page behave.

Totals follow the priorities by a weighted mean of the samples' own criterion scores. With the bedroom doors open the
single wall unit keeps the bedrooms warm enough and takes part. Nothing here is worked out from a house.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from compare.views.customer import Answer, CustomerView, Number, OptionCard, ReasonLine
from compare.views.pair import PairView
from dashboard.habits import Habits
from dashboard.session import Offer, Pending, Question, Ready, Status, WhatIf, start_question
from tests.proposal.sample_view import celsius, ranch_view

FACTORS = (0.3, 0.6, 1.0, 1.7, 3.0)
ROWS = ("warm_and_even", "quiet", "lower_price", "lower_bills", "steady_running")
BASE = (0.3, 0.2, 0.2, 0.2, 0.1)
SCORES = {
    "mix": (92.0, 90.0, 62.0, 84.0, 88.0),
    "heaters": (80.0, 93.0, 95.0, 52.0, 80.0),
    "hidden": (90.0, 60.0, 66.0, 78.0, 84.0),
    "each": (91.0, 86.0, 58.0, 88.0, 30.0),
    "one": (78.0, 93.0, 97.0, 90.0, 80.0),
}
HABITS = Habits(celsius(70.0), celsius(75.0), 0.17)
OFFERS = (
    Offer(WhatIf.DOORS_SHUT, "Bedroom doors shut", "from 10 at night"),
    Offer(WhatIf.COOL_BEDROOMS, "Cool the bedrooms", "on hot nights"),
)


def _line(code: str, better: str, worse: str, *numbers: tuple[str, float], rooms: tuple[str, ...] = ()) -> ReasonLine:
    found = tuple(Number(role=role, value=value, kind="sample") for role, value in numbers)
    return ReasonLine(code=code, criterion="sample", better=better, worse=worse, numbers=found, rooms=rooms, points=3.0)


PRICES = {"mix": 15800.0, "heaters": 6800.0, "hidden": 15000.0, "each": 16100.0, "one": 6000.0}
BILLS = {"mix": 710.0, "heaters": 1190.0, "hidden": 860.0, "each": 680.0, "one": 540.0}


def _price(better: str, worse: str) -> ReasonLine:
    return _line("price", better, worse, ("better", PRICES[better]), ("worse", PRICES[worse]))


def _bill(better: str, worse: str) -> ReasonLine:
    return _line("bill", better, worse, ("better", BILLS[better]), ("worse", BILLS[worse]))


def _against(option: OptionCard, winner: str) -> dict[str, object]:
    """Weak point and reasons of an option against a winner, from the samples' own figures."""
    own = option.id
    if own == winner:
        return {"weak_point": _price("heaters", own) if own != "heaters" else _bill("mix", own)}
    cheaper = (_price(own, winner),) if PRICES[own] < PRICES[winner] else ()
    thrifty = (_bill(own, winner),) if BILLS[own] < BILLS[winner] else ()
    worse = {
        "heaters": _line("no_cooling", winner, own, rooms=("Bedroom 3", "Bedroom 1")),
        "hidden": _line("bed_noise", winner, own, ("better", 24.0), ("worse", 33.0), rooms=("Bedroom 1",)),
        "each": _line("below_minimum", winner, own, ("better", 0.40), ("worse", 0.87)),
        "one": _line("morning", winner, own, ("better", celsius(69.0)), ("worse", celsius(62.0)), rooms=("Bedroom 3",)),
        "mix": _price(winner, own) if PRICES[winner] < PRICES[own] else _bill(winner, own),
    }[own]
    more = (_bill(winner, own),) if BILLS[winner] < BILLS[own] else ()
    return {"weak_point": worse, "better_than_winner": cheaper + thrifty, "worse_than_winner": (worse, *more)}


def _fits(question: Question) -> dict[str, float]:
    stops = question.priorities
    weights = [base * FACTORS[stops[row] - 1] for row, base in zip(ROWS, BASE, strict=True)]
    fits = {}
    for option, scores in SCORES.items():
        mean = sum(weight * score for weight, score in zip(weights, scores, strict=True)) / sum(weights)
        fits[option] = round(mean if question.cool_bedrooms or option != "heaters" else mean + 4.0, 3)
    return fits


def _opened(option: OptionCard) -> OptionCard:
    """The single wall unit with bedroom doors open at night."""
    facts = option.facts.model_copy(update={"coldest_bedroom_c": celsius(64.0)})
    rooms = tuple(room.model_copy(update={"morning_c": max(room.morning_c, celsius(64.0))}) for room in option.rooms)
    return option.model_copy(update={"facts": facts, "rooms": rooms, "status": "offered", "faults": ()})


def _is_open(option: OptionCard, question: Question) -> bool:
    return option.id == "one" and not question.doors_shut


def _told(option: OptionCard) -> OptionCard:
    """Faults under the code that the scores use, so that they are told in the units of the page."""
    return option.model_copy(
        update={"faults": tuple(fault.model_copy(update={"code": "cold_bedroom"}) for fault in option.faults)}
    )


def sample_answer(question: Question) -> CustomerView:
    """The sample ranch under a question."""
    base = ranch_view()
    options = tuple(_told(_opened(option) if _is_open(option, question) else option) for option in base.options)
    base = base.model_copy(update={"options": options})
    fits = _fits(question)
    offered = sorted((o for o in options if o.status == "offered"), key=lambda o: (-fits[o.id], o.facts.price_usd))
    winner, second = offered[0].id, offered[1].id
    ranked = [
        option.model_copy(
            update={"total": fits[option.id] if option.status == "offered" else 0.0, **_against(option, winner)}
        )
        for option in (*offered, *(o for o in options if o.status != "offered"))
    ]
    lead = fits[winner] - fits[second]
    equals = tuple(o.id for o in sorted(offered, key=lambda o: o.facts.price_usd) if fits[winner] - fits[o.id] < 3.0)
    answer = Answer(
        winner=winner,
        runner_up=second,
        lead_points=lead,
        verdict="likely" if lead >= 3.0 else "too close to call",
        equals=equals,
        tries_won=71,
        tries=100,
    )
    winners = {"Balanced": winner, "Keep the price down": "heaters", "Quiet and even": "mix", "Low bills": "mix"}
    return base.model_copy(
        update={
            "options": tuple(ranked),
            "answer": answer,
            "priorities": question.priorities,
            "profile_winners": winners,
        }
    )


@dataclass
class SampleSource:
    """The test double of a source."""

    now: Status = field(
        default_factory=lambda: Ready(
            start_question(
                {"warm_and_even": 5, "quiet": 4}, frozenset({WhatIf.DOORS_SHUT, WhatIf.COOL_BEDROOMS}), HABITS
            ),
            OFFERS,
        )
    )
    asked: list[Question] = field(default_factory=list)
    slow: Pending | None = None
    """How far an answer is that does not come; None for answers at once."""
    left: list[Question] = field(default_factory=list)

    def status(self) -> Status:
        """How far the source is."""
        return self.now

    def view(self, question: Question) -> CustomerView:
        """The sample under a question."""
        self.asked.append(question)
        return sample_answer(question)

    def ask(self, question: Question, who: str, patience_s: float) -> CustomerView | Pending:
        """The sample under a question, unless the test holds it up."""
        return self.slow if self.slow is not None else self.view(question)

    def found(self, _question: Question) -> None:
        """The samples are views alone."""

    def pair(self, question: Question, first: str, second: str) -> PairView:
        """Price and bill, from the samples' own figures."""
        lines = {
            one: tuple(
                line(one, other) for table, line in ((PRICES, _price), (BILLS, _bill)) if table[one] < table[other]
            )
            for one, other in ((first, second), (second, first))
        }
        return PairView(first=first, second=second, first_better=lines[first], second_better=lines[second])

    def leave(self, question: Question, who: str) -> None:
        """Somebody waits no more."""
        self.left.append(question)

    def open(self) -> None:
        """Nothing to do."""

    def kept(self, question: Question) -> CustomerView | None:
        """Always at hand."""
        return sample_answer(question)

    def known(self, question: Question) -> CustomerView | None:
        """Always at hand."""
        return sample_answer(question)
