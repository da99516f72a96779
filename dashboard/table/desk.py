"""One table: a source of answers, the sessions of its browsers, and how a page answers what it hears."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from dash import dcc, html
from dash.development.base_component import Component

from compare.pipeline import Comparison
from compare.units import System
from compare.views.customer import CustomerView
from dashboard.habits import Habits, nearest
from dashboard.pointing import CanPoint, PointedHouse
from dashboard.role import within
from dashboard.session import How, Page, Pending, Question, Ready, TableSource, WhatIf
from dashboard.store import Sessions
from dashboard.table.ask import ask
from dashboard.table.cards import also, cards
from dashboard.table.change import advice, bill_line, cause, change_line, turn_sentence
from dashboard.table.choice import card_options
from dashboard.table.controls import all_offers
from dashboard.table.head import head
from dashboard.table.hear import Heard, Move, act, moved, new_tap, question_of, with_controls
from dashboard.table.numbers import habits_row
from dashboard.table.panel import panel
from dashboard.table.plan import plan_sheet, scene_chooser
from dashboard.table.point import is_pointing, pointed
from dashboard.table.pointed_plan import asked_or_pointed, moved_rows, plan_with_tools, tool_chips, tools_in_sheet
from dashboard.table.scene import Shown
from dashboard.table.seat_words import move_cause
from dashboard.table.states import progress_bar, progress_words
from dashboard.table.tap import button
from dashboard.table.text import DAY_LOOK, DEMO, ESTIMATE, EVENING_LOOK, FAILED, PROPOSAL, REDO, STOP, TRYING, UNDO
from dashboard.table.undo import change_words, redone, remembered, undone
from proposal.words import name

Proposer = Callable[[CustomerView, Comparison | None], bytes]
"""Makes the proposal of a view as a PDF."""
PROPOSAL_PATH = "/proposal"
PATIENCE_S, POLL_S = 0.9, 0.2
"""How long a page waits for an answer before it tells how far the work is, and each time that it asks again."""


@dataclass(frozen=True, slots=True)
class Table:
    """What the calls of a page share."""

    source: TableSource
    sessions: Sessions[Page] = field(default_factory=Sessions)
    proposer: Proposer | None = None

    @property
    def house(self) -> PointedHouse | None:
        """Who answers pointing at the plan; None where the source cannot."""
        return self.source.pointed if isinstance(self.source, CanPoint) else None

    def units(self, status: object) -> System:
        """Units in which the house file speaks; US before there is an answer."""
        return System(self.source.view(status.question).house.units) if isinstance(status, Ready) else System.US

    def answer(self, session: object, heard: Heard) -> Shown:
        """What the page shows after what was heard; raises `ValueError` for what no page of ours sends."""
        status = self.source.status()
        if not isinstance(status, Ready):
            raise ValueError("no answer yet")
        page = self.sessions.get(session, lambda: Page(status.question))
        asked = question_of(heard, status.question, status.offers)
        move = Move(moved(page, asked), page.how)
        if move.question != page.waiting:
            move = Move(move.question)
        page = with_controls(page, heard, asked)
        tap = new_tap(page, heard)
        if tap is not None:
            page, move = self._tapped(replace(page, heard=tap[1]), move, tap[0], status.question.habits)
        page, view = self._settled(str(session), page, move)
        if page.turning is None:
            what, final = self.turning(Shown(view, page))
            page = replace(page, turning=what if final else None)
        self.sessions.put(session, page)
        return Shown(view, page)

    def _tapped(self, page: Page, move: Move, what: str, own: Habits | None) -> tuple[Page, Move]:
        """A tap, with numbers that are the house's own taken as such."""
        if self.house is not None and is_pointing(what):
            asked = replace(page, question=replace(page.question, moves=move.question.moves))
            pointing, moves = pointed(asked, what, self.house)
            return replace(page, pointing=pointing), replace(move, question=replace(move.question, moves=moves))
        if what == "numbers:own":
            return page, Move(replace(move.question, habits=own))
        page, move = act(page, move, what, self.source.view(page.question))
        habits = move.question.habits
        if habits is not None and own is not None:
            move = replace(move, question=replace(move.question, habits=nearest(habits, own)))
        return page, move

    def _settled(self, session: str, page: Page, move: Move) -> tuple[Page, CustomerView]:
        """The page with the answer to its question, or, while that takes long, with the answer before it."""
        if page.waiting is not None and page.waiting != move.question:
            self.source.leave(page.waiting, session)
        still = replace(page, waiting=None, pending=None, how=How.ANEW, fresh=False)
        if move.question == page.question:
            return still, self.source.view(page.question)
        try:
            got = self.source.ask(move.question, session, POLL_S if page.waiting else PATIENCE_S)
        except RuntimeError:
            return replace(still, change=FAILED), self.source.view(page.question)
        if isinstance(got, Pending):
            waits = replace(page, waiting=move.question, pending=got, how=move.how, fresh=False)
            return waits, self.source.view(page.question)
        return self._changed(still, move, got), got

    def _changed(self, page: Page, move: Move, view: CustomerView) -> Page:
        """The page with another question, what that did to the advice, and the step to take it back."""
        before, question = page.question, move.question
        old = self.source.kept(before)
        because = cause(before, question, page.units)
        if not because and self.house is not None:
            because = move_cause(before, question, self.house.targets(question))
        if move.how is How.ANEW:
            page = remembered(page, change_words(before, question, page.units))
        else:
            page = undone(page) if move.how is How.UNDO else redone(page)
        flipped = next((what for what in WhatIf if (what in before.on) != (what in question.on)), None)
        page = replace(page, question=question, turning=flipped or page.turning, fresh=True)
        rates = because and replace(question, habits=before.habits) == before and _same_comfort(before, question)
        line = bill_line(Shown(view, page), because) if rates else change_line(old, view, because) if old else ""
        return replace(page, change=line)

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
        status = self.source.status()
        offers = [offer.what for offer in all_offers(status.offers)] if isinstance(status, Ready) else []
        for what in (shown.page.turning or self.turning(shown)[0], *offers):
            other = None if what is None else self.turned(shown, what)
            if what is not None and other is not None:
                return _turned(what, shown, other)
        return ""

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
        return self.proposer(self.source.view(page.question), self.source.found(page.question))


def _turned(what: WhatIf, shown: Shown, other: CustomerView) -> str:
    flipped = Shown(other, shown.page)
    on_now = what in shown.page.question.on
    return turn_sentence(what, shown, flipped) if on_now else turn_sentence(what, flipped, shown)


def _same_comfort(one: Question, other: Question) -> bool:
    return one.habits is not None and other.habits is not None and one.habits.held_as(other.habits)


def put_back(shown: Shown) -> dict[str, object] | None:
    """What the controls must say where they lag behind the question, as after *Undo*; None where they agree."""
    page = shown.page
    wanted, said = page.waiting or page.question, page.controls
    if said is None or (wanted.stops, wanted.on) == (said.stops, said.on):
        return None
    before = dict(said.stops)
    stops = {row: stop for row, stop in wanted.stops if before[row] != stop}
    switches = {what.value: what in wanted.on for what in sorted(wanted.on ^ said.on)}
    return {"number": page.heard, "stops": stops, "switches": switches}


def back_buttons(shown: Shown) -> list[Component]:
    """*Undo* and *Redo*, each with the name of what it takes back or does again."""
    parts: list[Component] = []
    for stack, tap, words in ((shown.page.past, "undo:now", UNDO), (shown.page.future, "redo:now", REDO)):
        if stack:
            inside = [html.B(words), html.Span(stack[-1].words)]
            parts.append(button(inside, tap, "button back", label=f"{words}: {stack[-1].words}"))
    return parts


def work_note(shown: Shown) -> list[Component]:
    """How far a long answer is, with a bar and *Stop*; the page stays as it was until then."""
    page = shown.page
    if page.waiting is None or page.pending is None:
        return []
    words = change_words(page.question, page.waiting, page.units)
    head = html.P([html.B(f"{TRYING}: {words}. "), progress_words(page.pending)], role="status")
    return [html.Div([head, progress_bar(page.pending)], className="work-told"), button(STOP, "stop:now", "button")]


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
    turn, house = table.turn(shown), table.house
    moves = shown.page.question.moves
    moved = moved_rows(house.targets(shown.page.question)) if house is not None and moves else []
    tools = [] if house is None or tools_in_sheet(shown) else [tool_chips(shown)]
    return {
        "stale": stale_note(table, shown),
        "house-name": house_name(shown),
        "buttons": buttons(session if table.proposer else ""),
        "head": head(shown),
        "back": back_buttons(shown),
        "work": work_note(shown),
        "habits": habits_row(shown),
        "panel": panel(shown, table.source),
        "plan": plan_sheet(shown) if house is None else plan_with_tools(shown, house),
        "turn": [*moved, *([html.P(turn, className="stroke turn")] if turn else [])],
        "scenes": [scene_chooser(shown), *tools],
        "cards": cards(shown),
        "ask": ask(shown) if house is None else asked_or_pointed(shown, house, ask(shown)),
        "also": also(shown),
    }


def main_classes(shown: Shown) -> str:
    """Classes that arrange the page."""
    levels = "levels" if shown.several_levels else "one-level"
    return f"page {shown.page.form.value} {levels} cards-{len(card_options(shown.view))}"
