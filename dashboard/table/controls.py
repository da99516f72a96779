"""What can change the advice: priorities as five stops each, and the what-ifs as switches."""

from __future__ import annotations

from dash.development.base_component import Component

from dashboard.components import Stops, Toggle
from dashboard.session import Offer, Question, WhatIf
from dashboard.table.text import NO, PRIORITY_LABELS, STOP_WORDS, YES

SIGHT_OFFER = Offer(WhatIf.FEW_IN_SIGHT, "Few units in sight", "count what you see")
"""Needs nothing from a source: it is a priority of its own."""


def stop_id(row: str) -> dict[str, str]:
    """Name of the stops of a row on the page."""
    return {"kind": "stops", "key": row}


def switch_id(what: WhatIf) -> dict[str, str]:
    """Name of a switch on the page."""
    return {"kind": "switch", "key": what.value}


def priority_rows(question: Question) -> list[Component]:
    """One row of stops for each priority."""
    return [
        Stops(id=stop_id(row), name=f"stop-{row}", label=PRIORITY_LABELS[row], words=list(STOP_WORDS), value=stop)
        for row, stop in question.stops
    ]


def all_offers(offers: tuple[Offer, ...]) -> tuple[Offer, ...]:
    """The switches of a source, then our own."""
    return (*offers, SIGHT_OFFER)


def switches(question: Question, offers: tuple[Offer, ...]) -> list[Component]:
    """One switch for each what-if that can be answered."""
    return [
        Toggle(
            id=switch_id(offer.what),
            label=offer.words,
            detail=offer.detail,
            yes=YES,
            no=NO,
            value=offer.what in question.on,
        )
        for offer in all_offers(offers)
    ]
