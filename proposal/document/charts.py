"""Charts that set layouts side by side: what counts, money, sound, doors. Each with its text and its values."""

from __future__ import annotations

from compare.views.customer import DoorsOutcome, OptionCard
from proposal.document.blocks import Answer, Block, Figure, Heading, Paragraph
from proposal.document.pictures import PAGE_PX, chart_figure, look_of
from proposal.drawing.doors_strip import DoorsWords, doors_chart
from proposal.drawing.money import MoneyWords, money_chart
from proposal.drawing.profile import ProfileWords, criteria_of, profile_chart
from proposal.drawing.ranges import noise_chart
from proposal.words import Told, is_close, name, option_name, option_phrase

CHART_PX = 600.0
MOST_PROFILES = 6
FELT_K = 1.5
"""A change of a bedroom that a sentence is made of: three degrees Fahrenheit, a step of the room tints."""


def _say(told: Told, key: str, **parts: str) -> str:
    return told.words.say("charts", key, **parts)


def card_names(told: Told) -> dict[str, str]:
    """Short name of each layout on a card."""
    return {item: option_name(told.view, told.view.option(item), told.words, short=True) for item in told.view.cards}


def profile_blocks(told: Told) -> list[Block]:
    """Points of every card on what counts; nothing where there is only one to show."""
    ids = told.view.cards[:MOST_PROFILES]
    options = [told.view.option(item) for item in ids]
    if len(options) < 2 or not criteria_of(told.view, options):
        return []
    counts = {key: _counted(told, key, frac) for key, frac in told.view.weights.items() if frac > 0.0}
    words = ProfileWords(
        title=_say(told, "profile_title"),
        together=_say(told, "profile_together"),
        left_out=_say(told, "profile_left_out"),
        counts={key: text for key, text in counts.items() if text},
    )
    chart = profile_chart(told.view, ids, card_names(told), words, look_of(told, PAGE_PX))
    rows = " ".join(_profile_row(told, row, chart.table.head[1:]) for row in chart.table.rows[:-1])
    alt = _say(told, "profile_alt", rows=rows)
    heading = Heading(2, _say(told, "profile_heading"))
    text = Paragraph(_say(told, "profile_text"), style="small", sticky=True)
    return [heading, text, chart_figure("profile", chart, alt, told)]


def _counted(told: Told, criterion: str, share_frac: float) -> str:
    """What a row counts: its share of 100, and the measures that enter it."""
    if not told.words.has("profile_counts", criterion):
        return ""
    return told.words.say("profile_counts", criterion, share=f"{100.0 * share_frac:.0f}")


def _profile_row(told: Told, row: tuple[str, ...], names: tuple[str, ...]) -> str:
    points = dict(zip(names, map(float, row[1:]), strict=True))
    best, worst = max(points, key=lambda key: points[key]), min(points, key=lambda key: points[key])
    return _say(told, "profile_alt_row", name=row[0], best=best, worst=worst)


def money_figure(told: Told) -> list[Block]:
    """Price and yearly energy of each card from low to high; nothing where there is only one."""
    names = card_names(told)
    if len(names) < 2:
        return []
    look = look_of(told, PAGE_PX)
    words = MoneyWords(
        title=_say(told, "money_title"),
        price=_say(told, "money_price"),
        bill=_say(told, "money_bill"),
        option=look.say("table_option"),
        low=look.say("table_low"),
        about=look.say("table_about"),
        high=look.say("table_high"),
        usd=told.figures.usd,
    )
    chart = money_chart(told.view, names, words, look)
    rows = " ".join(_say(told, "money_alt_row", name=row[0], price=row[2], bill=row[5]) for row in chart.table.rows)
    text = Paragraph(_say(told, "money_text"), style="small", sticky=True)
    return [text, chart_figure("money", chart, _say(told, "money_alt", rows=rows), told)]


def noise_blocks(told: Told, note: str) -> list[Block]:
    """Sound at the pillow of each card beside everyday sounds; nothing in a house without a bed."""
    if all(told.view.option(item).facts.pillow_dba is None for item in told.view.cards):
        return []
    chart = noise_chart(told.view, card_names(told), look_of(told, CHART_PX))
    figure = chart_figure("sound", chart, told.words.say("more", "noise_alt"), told)
    return [Heading(2, _say(told, "noise_heading")), Paragraph(note, style="small", sticky=True), figure]


def _finding(told: Told, outcomes: tuple[DoorsOutcome, ...]) -> str:
    """The bedroom that the doors change most; that they change none where it is little."""
    figures, names = told.figures, {shape.index: name(shape.name) for shape in told.view.plan.rooms}
    pairs = [(one, room) for one in outcomes for room in one.rooms]
    most, room = max(pairs, key=lambda pair: abs(pair[1].open_c - pair[1].shut_c))
    if abs(room.open_c - room.shut_c) < FELT_K:
        gaps = [(one.shut_c, one.open_c) for _, one in pairs]
        widest = max(gaps, key=lambda pair: abs(figures.degrees(pair[0]) - figures.degrees(pair[1])))
        return _say(told, "doors_even", gap=figures.temperature_gap(*widest))
    return _say(
        told,
        "doors_most",
        phrase=option_phrase(told.view, told.view.option(most.option), told.words),
        room=names[room.room],
        shut=figures.temperature(room.shut_c),
        open=figures.temperature(room.open_c),
    )


def doors_blocks(told: Told) -> list[Block]:
    """Bedrooms with their doors shut and open at night; nothing before that was looked for."""
    outcomes = tuple(one for one in told.view.doors if one.rooms)
    if not outcomes:
        return []
    words = DoorsWords(
        **{key: _say(told, f"doors_{key}") for key in ("title", "room", "layout", "shut", "open", "target", "figures")}
    )
    names = {o.option: option_name(told.view, told.view.option(o.option), told.words, short=True) for o in outcomes}
    chart = doors_chart(told.view, outcomes, names, words, look_of(told, PAGE_PX))
    finding = _finding(told, outcomes)
    figure: Figure = chart_figure("doors", chart, f"{_say(told, 'doors_text')} {finding}", told)
    text = Paragraph(_say(told, "doors_text"), style="small", sticky=True)
    answer = Answer((finding,), advice=not is_close(told.view))
    return [Heading(2, _say(told, "doors_heading")), text, figure, answer]


def doors_asked(told: Told, subjects: tuple[OptionCard, ...]) -> tuple[str, ...]:
    """Ids of the layouts whose doors are worth a picture: those of the paper, and one unit alone to compare with."""
    ids = [option.id for option in subjects[:2]]
    lone = [item for item in told.view.cards if told.view.option(item).family == "single_head"]
    return tuple(dict.fromkeys((*ids, *lone)))
