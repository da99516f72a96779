"""One table: a source of answers, the sessions of its browsers, and how a page answers what it hears."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from dash import dcc, html
from dash.development.base_component import Component

from compare.units import System
from compare.views.customer import CustomerView
from dashboard.role import within
from dashboard.session import Page, Ready, TableSource, WhatIf
from dashboard.store import Sessions
from dashboard.table.ask import ask
from dashboard.table.cards import also, cards
from dashboard.table.change import advice, cause, change_line, turn_sentence
from dashboard.table.choice import card_options
from dashboard.table.controls import all_offers
from dashboard.table.head import head
from dashboard.table.hear import Heard, page_of, question_of
from dashboard.table.plan import plan_sheet, scene_chooser
from dashboard.table.scene import Shown
from dashboard.table.tap import button
from dashboard.table.text import DAY_LOOK, DEMO, ESTIMATE, EVENING_LOOK, PROPOSAL
from proposal.words import name

Proposer = Callable[[CustomerView], bytes]
"""Makes the proposal of a view as a PDF."""
PROPOSAL_PATH = "/proposal"


@dataclass(frozen=True, slots=True)
class Table:
    """What the calls of a page share."""

    source: TableSource
    sessions: Sessions[Page] = field(default_factory=Sessions)
    proposer: Proposer | None = None

    def units(self, status: object) -> System:
        """Units in which the house file speaks; US before there is an answer."""
        return System(self.source.view(status.question).house.units) if isinstance(status, Ready) else System.US

    def answer(self, session: object, heard: Heard) -> Shown:
        """What the page shows after what was heard; raises `ValueError` for what no page of ours sends."""
        status = self.source.status()
        if not isinstance(status, Ready):
            raise ValueError("no answer yet")
        page = self.sessions.get(session, lambda: Page(status.question))
        question = question_of(heard, status.question, status.offers)
        view = self.source.view(question)
        fresh = question != page.question
        if fresh:
            before = self.source.kept(page.question)
            line = change_line(before, view, cause(page.question, question)) if before else ""
            flipped = next((what for what in WhatIf if (what in page.question.on) != (what in question.on)), None)
            page = replace(page, question=question, change=line, turning=flipped or page.turning)
        tapped = replace(page_of(page, heard, view), fresh=fresh)
        if tapped.turning is None:
            what, final = self.turning(Shown(view, tapped))
            tapped = replace(tapped, turning=what if final else None)
        self.sessions.put(session, tapped)
        return Shown(view, tapped)

    def again(self, shown: Shown) -> bool:
        """Whether the house is to be worked out again, and if so, begin."""
        if not shown.page.again:
            return False
        self.source.open()
        return True

    def turned(self, shown: Shown, what: WhatIf) -> CustomerView | None:
        """The answer with one switch turned over, unless the house would have to be compared anew."""
        return self.source.known(shown.page.question.flipped(what))

    def turning(self, shown: Shown) -> tuple[WhatIf | None, bool]:
        """Of the switches answered so far one that turns the advice, else the first; and whether that is final."""
        status = self.source.status()
        offers = all_offers(status.offers) if isinstance(status, Ready) else ()
        kept = {offer.what: self.source.kept(shown.page.question.flipped(offer.what)) for offer in offers}
        known = {what: view for what, view in kept.items() if view is not None}
        turns = next((what for what, view in known.items() if advice(view) != advice(shown.view)), None)
        return turns or next(iter(known), None), turns is not None or len(known) == len(offers)

    def turn(self, shown: Shown) -> str:
        """What a switch does to the answer: the one that was turned last, or the one that does most."""
        what = shown.page.turning or self.turning(shown)[0]
        other = None if what is None else self.turned(shown, what)
        return "" if what is None or other is None else _turned(what, shown, other)

    def paper(self, session: str) -> bytes:
        """The proposal of what a session shows, as a PDF.

        Raises
        ------
        ValueError
            For a session that is not kept, and where no proposal can be made.
        """
        page = self.sessions.find(session)
        if page is None or self.proposer is None:
            raise ValueError("no such proposal")
        return self.proposer(self.source.view(page.question))


def _turned(what: WhatIf, shown: Shown, other: CustomerView) -> str:
    flipped = Shown(other, shown.page)
    on_now = what in shown.page.question.on
    return turn_sentence(what, shown, flipped) if on_now else turn_sentence(what, flipped, shown)


def house_name(shown: Shown) -> list[Component]:
    """Name of the house, and the mark of invented or generic figures."""
    house = shown.view.house
    mark = DEMO if house.demo else ESTIMATE if house.estimate else ""
    marks = [html.Span(mark, className="mark")] if mark else []
    return [html.Span(name(house.name), className="whose"), *marks]


def buttons(proposal: str) -> list[Component]:
    """Evening look, and the proposal of this session where it can be made here."""
    looks = [
        button(EVENING_LOOK, "look:dark", "button by-day"),
        button(DAY_LOOK, "look:light", "button by-night"),
    ]
    if not proposal:
        return looks
    address = within(f"{PROPOSAL_PATH}/{proposal}.pdf")
    make = html.A(PROPOSAL, className="button main", href=address, download="proposal.pdf")
    return [*looks, make]


def stale_note(table: Table, shown: Shown) -> list[Component]:
    """That the house file changed since, with the button that works it out again; the page then starts afresh."""
    if table.again(shown):
        return [dcc.Location(id="afresh", href=within("/"), refresh=True)]
    status = table.source.status()
    if not (isinstance(status, Ready) and status.outdated):
        return []
    words = "Worked out before the last change of the house file. What you see still holds for the old one."
    return [html.P(words), button("Work it out again", "again:now", "button")]


def regions(table: Table, shown: Shown, session: str) -> dict[str, object]:
    """The content of every region of the page, by the name of the region."""
    turn = table.turn(shown)
    return {
        "stale": stale_note(table, shown),
        "house-name": house_name(shown),
        "buttons": buttons(session if table.proposer else ""),
        "head": head(shown),
        "plan": plan_sheet(shown),
        "turn": html.P(turn, className="stroke turn") if turn else [],
        "scenes": scene_chooser(shown),
        "cards": cards(shown),
        "ask": ask(shown),
        "also": also(shown),
    }


def main_classes(shown: Shown) -> str:
    """Classes that arrange the page."""
    levels = "levels" if shown.several_levels else "one-level"
    return f"page {shown.page.form.value} {levels} cards-{len(card_options(shown.view))}"
