"""Second page: all ways side by side, whether the units fit, what would change the advice."""

from __future__ import annotations

from compare.units import System
from compare.views.customer import OptionCard
from proposal.document.blocks import Answer, Block, Bullets, Columns, Figure, Heading, Paragraph, Way, Ways
from proposal.document.pictures import Need, house_figure, need_figure, need_of
from proposal.words import (
    Lead,
    Told,
    capital,
    card_facts,
    equals,
    flip_sentences,
    is_close,
    name,
    option_name,
    option_phrase,
    questions,
    tried_sentence,
    turns,
    weak_point,
)
from proposal.words.common import common_questions
from proposal.words.options import LEFT_OUT, unit_noun


def lead_paragraph(lead: Lead) -> Paragraph:
    """A sentence with its bold beginning."""
    return Paragraph(lead.text, lead=lead.lead)


def _mark(told: Told, option: OptionCard, subject: OptionCard) -> str:
    words, view = told.words, told.view
    if is_close(view) and option.id in {other.id for other in equals(view)}:
        return words.say("document", "ways_mark_equal")
    if option.id == view.answer.winner:
        return words.say("document", "ways_mark")
    return words.say("document", "ways_mark_chosen") if option.id == subject.id else ""


def without_stop(text: str) -> str:
    """A sentence for a table, without its full stop; that of an abbreviation stays."""
    return text if text.endswith(".m.") else text.rstrip(".")


def _way(told: Told, option: OptionCard, subject: OptionCard) -> Way:
    words = told.words
    out = option.status == LEFT_OUT
    fit = words.say("document", "ways_left_out") if out else told.figures.points(option.total)
    mark = _mark(told, option, subject)
    note = without_stop(weak_point(option, told)) or words.say("document", "ways_note_none")
    note = note if note.endswith(".") else f"{note}."
    low, high = (told.figures.usd(value) for value in (option.facts.price_low_usd, option.facts.price_high_usd))
    return Way(
        figure=house_figure(told, option),
        name=option_name(told.view, option, words, short=bool(mark)),
        mark=mark,
        note=words.say("document", "ways_range", note=note, low=low, high=high),
        cells=(*(fact.value for fact in card_facts(option, told)), fit),
        ours=option.id == told.view.answer.winner and not is_close(told.view),
    )


def ways_blocks(told: Told, subject: OptionCard) -> list[Block]:
    """Every way on the cards, one row each, with its weak point and its small house."""
    view, words = told.view, told.words
    ids = list(view.cards) if subject.id in view.cards else [*view.cards, subject.id]
    order = {option.id: place for place, option in enumerate(view.options)}
    shown = [view.option(item) for item in sorted(ids, key=lambda item: order[item])]
    heading = words.say("nouns", "way_one" if len(shown) == 1 else "way_many", n=words.count(len(shown)))
    head = tuple(words.say("document", f"ways_{key}") for key in ("bedroom", "pillow", "price", "bill", "fit"))
    rows = tuple(_way(told, option, subject) for option in shown)
    blocks: list[Block] = [Heading(2, heading), Ways(heading, head, words.say("document", "ways_name"), rows)]
    if len(view.options) > len(shown):
        blocks.append(
            Paragraph(
                words.say("document", "ways_more", n=capital(words.count(len(view.options) - len(shown)))),
                style="small",
            )
        )
    return blocks


def _because(told: Told, need: Need) -> str:
    words, figures = told.words, told.figures
    if need.other is not None and need.other_option is not None:
        return words.say(
            "document",
            "because_small",
            room=name(need.other.rooms[0]),
            need=figures.power(need.other.design_load_w),
            unit=words.say("unit_names", unit_noun(need.other_option)),
            share=figures.of_hundred(need.other.on_off_share),
            mode=words.say("document", f"mode_{need.other.mode}"),
        )
    worst = max(need.bands, key=lambda band: band.on_off_share)
    if worst.on_off_share >= 0.5:
        return ""
    share = figures.of_hundred(1.0 - worst.on_off_share)
    return words.say("document", "because_calm", share=share, mode=words.say("document", f"mode_{worst.mode}"))


def _compared_unit(told: Told, need: Need) -> str:
    if need.other is None or need.other_option is None:
        return ""
    unit = told.words.say("unit_names", unit_noun(need.other_option))
    return told.words.say("document", "need_compare_room", unit=unit, room=name(need.other.rooms[0]))


def need_blocks(told: Told, subject: OptionCard, *, named: bool = False) -> list[Block]:
    """Whether each unit fits what its rooms need, with the layout's name where several suit; nothing without units."""
    need = need_of(told.view, subject)
    if not need.bands:
        return []
    words = told.words
    text = words.say("document", "need_text")
    if told.figures.units is System.US:
        text = f"{text} {words.say('document', 'need_unit_us')}"
    if named:
        phrase = option_phrase(told.view, subject, words)
        text = f"{words.say('document', 'need_for', phrase=phrase)} {text}"
    rows = len(need.bands) + (need.other is not None)
    figure: Figure = need_figure(told, subject, need, _compared_unit(told, need))
    heading = words.say("document", "need_heading_one" if rows == 1 else "need_heading_many")
    because = _because(told, need)
    blocks: list[Block] = [Heading(2, heading), Paragraph(text, sticky=True), figure]
    return [*blocks, Answer((because,), advice=not is_close(told.view))] if because else blocks


def turns_blocks(told: Told) -> list[Block]:
    """What would change our advice, and what was tried and does not; between equals that stands on the first page."""
    if is_close(told.view):
        return []
    leads, flips, tried = turns(told), flip_sentences(told), tried_sentence(told)
    if not leads and not flips and not tried:
        return []
    words = told.words
    blocks: list[Block] = [Heading(2, words.say("document", "turns_heading"))]
    if leads:
        blocks.append(Columns(tuple(lead_paragraph(lead) for lead in leads)))
    if flips:
        items = tuple(Paragraph(text) for text in flips)
        head = words.say("flips", "lead") if leads else ""
        blocks.append(Bullets(items, heading=head, columns=2 if len(items) > 2 else 1))
    return [*blocks, Paragraph(tried, style="small")] if tried else blocks


def questions_blocks(told: Told, asked_for: OptionCard | None) -> list[Block]:
    """Why not another way: one answer for each other card; between equals the answers that hold against all of them."""
    if asked_for is None:
        asked = common_questions(told)
    else:
        asked = questions(told) if asked_for.id == told.view.answer.winner else ()
    if not asked:
        return []
    heading = told.words.say("document", "questions_heading")
    return [Heading(2, heading), Columns(tuple(lead_paragraph(lead) for lead in asked))]
