"""First page: the answer, four figures, the plan, where it loses, how sure."""

from __future__ import annotations

from dataclasses import replace

from compare.views.customer import OptionCard
from proposal.document.blocks import Answer, Block, Columns, FactItem, FactRow, Heading, Pair, Paragraph
from proposal.document.living import asked_line
from proposal.document.pictures import (
    EQUAL_PX,
    MOST_EQUALS,
    PAGE_PX,
    WHOLE_PAGE_PX,
    house_figure,
    plan_figure,
    plan_sentence,
    rooms_table,
)
from proposal.words import (
    Told,
    card_facts,
    choose,
    equals,
    headline,
    how_sure,
    is_close,
    name,
    option_lead,
    option_name,
    option_phrase,
    option_sentence,
    turns,
    where_it_loses,
    why_reasons,
)
from proposal.words.arguments import MOST_LOSSES

MOST_PLANS = 2
EQUAL_PLAN_PX = (400.0, 560.0, WHOLE_PAGE_PX)
"""Heights tried for the plan of one of several equal layouts, low first: two of them are shown."""


def _for_whom(told: Told) -> list[Block]:
    house, words = told.view.house, told.words
    kind = "for_estimate" if house.estimate else "for_proposal"
    text = words.say("document", "for_whom", house=name(house.name), place=name(house.place))
    if house.demo:
        text = f"{text} {words.say('document', 'demo')}"
    return [Paragraph(text, lead=words.say("document", kind), style="label")]


def fact_items(told: Told, option: OptionCard) -> tuple[FactItem, ...]:
    """The four figures of an option."""
    return tuple(FactItem(fact.value, fact.note) for fact in card_facts(option, told))


def _sure(told: Told) -> Paragraph:
    sure = how_sure(told)
    return Paragraph(sure.text, lead=sure.lead, style="small")


def _plan(told: Told, option: OptionCard, heading: str) -> list[Block]:
    """The plan, or where it needs a page of its own the small one."""
    text = plan_sentence(told)
    figure = plan_figure(told, option)
    if figure is None:
        figure = house_figure(told, option, PAGE_PX)
        text = f"{_small_key(told)} {told.words.say('document', 'plan_large')}"
    elif option.hidden:
        text = f"{text} {told.words.say('document', 'plan_marks')}"
    return [Heading(2, heading, joined=True), Paragraph(text, style="small", sticky=True), figure]


def has_large_plan(told: Told, option: OptionCard) -> bool:
    """Whether the plan is too high for the first page, which then has room for what would change the advice."""
    return plan_figure(told, option) is None


def large_plan(told: Told, option: OptionCard) -> list[Block]:
    """A page of its own for a plan that is too high for the first one; nothing where it is not."""
    if not has_large_plan(told, option):
        return []
    return _whole_page(told, option, told.words.say("document", "plan_large_heading"))


def equal_plans(told: Told) -> list[Block]:
    """Too close to call: the plan of each of the first equal layouts with its units, ducts and temperatures."""
    blocks: list[Block] = []
    for option in equals(told.view)[:MOST_PLANS]:
        tried = (plan_figure(told, option, most_px) for most_px in EQUAL_PLAN_PX)
        figure = next((figure for figure in tried if figure is not None), None)
        if figure is None:
            continue
        phrase = option_phrase(told.view, option, told.words)
        heading = Heading(2, told.words.say("charts", "plan_named", phrase=phrase))
        text = Paragraph(plan_sentence(told), style="small", sticky=True)
        blocks += [heading, text, replace(figure, name=f"plan-{option.id}")]
    return blocks


def _whole_page(told: Told, option: OptionCard, heading: str) -> list[Block]:
    figure = plan_figure(told, option, WHOLE_PAGE_PX) or house_figure(told, option, PAGE_PX)
    return [Heading(2, heading), Paragraph(plan_sentence(told), style="small", sticky=True), figure]


def _advice_instead(told: Told) -> str:
    """On a paper about a layout that was asked for: what we advise."""
    words = told.words
    group = words.listed([option_phrase(told.view, option, words) for option in equals(told.view)])
    if not group:
        return words.say("document", "chosen_none")
    key = "chosen_close" if is_close(told.view) else "chosen"
    return words.say("document", key, phrase=group, headline=headline(told).rstrip("."))


def _single(told: Told, option: OptionCard) -> list[Block]:
    view, words = told.view, told.words
    advised = option.id == view.answer.winner and not is_close(view)
    lead = option_lead(view, option, words)
    more = why_reasons(told, most=1) if advised else (_advice_instead(told),)
    named = (words.say("document", "named_mix"),) if option.family == "mix" else ()
    lead = " ".join((lead, *named, *more))
    blocks: list[Block] = [
        Heading(1, headline(told) if advised else option_sentence(view, option, words)),
        Paragraph(lead, style="lead"),
        FactRow(fact_items(told, option)),
        *_plan(told, option, words.say("document", "plan_heading")),
    ]
    losses = where_it_loses(told, option)
    rest = (words.say("reason_lists", "margin"),) if advised and len(losses) < MOST_LOSSES else ()
    blocks += [Answer((*losses, *rest), advice=advised)] if losses else []
    return [*blocks, _sure(told)]


def _small_key(told: Told) -> str:
    """Hour, tints and symbols of a small plan."""
    return " ".join((plan_sentence(told), *(told.words.say("document", f"plan_{key}") for key in ("key", "symbols"))))


def _several(told: Told) -> list[Block]:
    """Too close to call: the equal layouts side by side, by price."""
    view, words = told.view, told.words
    group = equals(view)
    losses, wishes = (
        tuple(Paragraph(lead.text, lead=lead.lead) for lead in found) for found in (choose(told), turns(told))
    )
    decide: list[Block] = [*([Columns(losses)] if losses else []), *wishes]
    if decide:
        decide = [Heading(2, words.say("document", "turns_heading_close")), *decide]
    told_leads = tuple(
        Paragraph(option_lead(view, option, words), lead=f"{option_name(view, option, words)}.") for option in group
    )
    items = tuple(
        (option_name(view, option, words), house_figure(told, option, EQUAL_PX), fact_items(told, option))
        for option in group[:MOST_EQUALS]
    )
    return [
        Heading(1, headline(told)),
        Paragraph(words.say("document", "equal_lead"), style="lead"),
        Columns(told_leads),
        Pair(items),
        Paragraph(_small_key(told), style="small"),
        _sure(told),
        *decide,
    ]


def equal_rooms(told: Told) -> list[Block]:
    """Too close to call: every room with a target in each of the equal layouts."""
    return [Heading(2, told.words.say("document", "plan_large_heading")), rooms_table(told, equals(told.view))]


def front_page(told: Told, option: OptionCard | None) -> list[Block]:
    """The first page; of an option that was asked for, or of the advice."""
    shown = _several(told) if option is None else _single(told, option)
    return [*_for_whom(told), asked_line(told), *shown]
