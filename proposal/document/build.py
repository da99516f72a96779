"""The whole paper from a view: pages in the order in which a homeowner asks."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from proposal.company import Company
from proposal.document.blocks import Block, Document
from proposal.document.charts import profile_blocks
from proposal.document.closing import assumed_blocks, caution_blocks, price_blocks
from proposal.document.compared import need_blocks, questions_blocks, turns_blocks, ways_blocks
from proposal.document.front import equal_plans, equal_rooms, front_page, has_large_plan, large_plan
from proposal.document.living import feel_blocks
from proposal.document.outside import Outside, outside_blocks
from proposal.document.terms import (
    care_blocks,
    company_blocks,
    glossary_blocks,
    notice_blocks,
    payment_blocks,
    signing_blocks,
)
from proposal.words import Told, equals, name, settled, told_of


@dataclass(frozen=True, slots=True)
class Extras:
    """What a paper may hold besides the customer's view."""

    company: Company | None = None
    walls: tuple[Outside, ...] = ()
    """Outside walls with what hangs on them, of each layout that the paper is about."""


NOTHING_MORE = Extras()


def record_of(view: CustomerView, option_id: str | None = None, company: Company | None = None) -> str:
    """Short record of what a paper was made from, as in `4f1c 09ab 72de`; the same view gives the same record."""
    given = f"|{company!r}" if company is not None else ""
    digest = hashlib.sha256(f"{view.model_dump_json()}|{option_id or ''}{given}".encode()).hexdigest()
    return " ".join(digest[start : start + 4] for start in (0, 4, 8))


def _asked(view: CustomerView, option_id: str | None) -> OptionCard | None:
    """The option that the paper is about: the one asked for, else the advice; None when several suit equally."""
    group = equals(view)
    if option_id is None:
        if not group:
            raise ValueError(
                "no layout of this house is good enough to advise; name one of them by its id to write it up"
            )
        return group[0] if len(group) == 1 else None
    try:
        return view.option(option_id)
    except KeyError:
        known = ", ".join(item.id for item in view.options)
        raise ValueError(f"option '{option_id}' is not in this comparison; choose one of: {known}") from None


def _pages(told: Told, asked: OptionCard | None, extras: Extras) -> list[Block]:
    subject = asked or equals(told.view)[0]
    company = extras.company or Company()
    early = asked is not None and has_large_plan(told, asked)
    blocks: list[Block] = [
        *front_page(told, asked),
        *(turns_blocks(told) if early else []),
        *ways_blocks(told, subject),
        *questions_blocks(told, asked),
        *([] if early else turns_blocks(told)),
        *profile_blocks(told),
        *([] if asked else equal_rooms(told)),
        *need_blocks(told, subject, named=asked is None),
        *(large_plan(told, asked) if asked else equal_plans(told)),
        *feel_blocks(told, subject, named=asked is None),
        *outside_blocks(told, extras.walls),
        *price_blocks(told, subject, named=asked is None),
        *payment_blocks(told, subject, company),
        *assumed_blocks(told),
        *care_blocks(told, subject),
        *caution_blocks(told, subject),
        *notice_blocks(told, subject),
    ]
    blocks += glossary_blocks(told, blocks)
    return [*blocks, *company_blocks(told, company), *signing_blocks(told, company)]


def build(
    view: CustomerView, option_id: str | None = None, language: str = "en", extras: Extras = NOTHING_MORE
) -> Document:
    """The paper for a view.

    Parameters
    ----------
    view
        What the customer may see.
    option_id
        A layout to write about in place of the recommended one.
    language
        `en` or `es`.
    extras
        The company's details, the outside walls.

    Raises
    ------
    ValueError
        For an option that the view does not have, or a language that is not known.
    """
    record = record_of(view, option_id, extras.company)
    view = settled(view)
    told = told_of(view, language)
    words, house = told.words, view.house
    kind = "estimate" if house.estimate else "proposal"
    footer = "footer_demo" if house.demo else "footer"
    title = words.say("document", f"title_{kind}", house=name(house.name))
    return Document(
        title=title,
        language=words.code,
        header_left=words.say("document", f"header_{kind}"),
        header_right=title,
        footer=words.say("document", footer, record=record),
        paper="us-letter" if System(house.units) is System.US else "a4",
        page_words=words.say("document", "page_words"),
        blocks=tuple(_pages(told, _asked(view, option_id), extras)),
        packed=True,
    )
