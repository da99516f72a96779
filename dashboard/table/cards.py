"""Option cards: place, name, small house, four facts, fit, where it loses, and why not."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.views.customer import OptionCard
from dashboard.components import Drawing
from dashboard.session import Form
from dashboard.table.ask import answer_block
from dashboard.table.choice import card_options, other_options
from dashboard.table.scene import Shown
from dashboard.table.tap import button
from dashboard.table.text import (
    ALSO,
    COMPARE,
    COMPARED,
    LEFT_OUT,
    NOT_BUILT,
    ROOMS_COLD,
    SHOW,
    SHOWN,
    SIGN_COMPARE,
    SIGN_WHY,
    SIGN_WHY_NOT,
    WHY,
    WHY_NOT,
)
from proposal.drawing.plan import plan_svg
from proposal.words import capital, card_facts, name, option_line, place, plain, weak_point
from proposal.words.options import LEFT_OUT as STATUS_LEFT_OUT
from proposal.words.options import unit_noun

SMALL_PX = {Form.PORTRAIT: 156.0, Form.LANDSCAPE: 92.0, Form.NARROW: 132.0}
SHORT_NAMES = {"price": "Installed", "bill": "Energy a year"}
"""Names of facts on a tall card, where the longer ones would break."""


def is_left_out(option: OptionCard) -> bool:
    """Whether the option has a fatal fault."""
    return option.status == STATUS_LEFT_OUT


def _second_lines(option: OptionCard, shown: Shown) -> dict[str, str]:
    facts, figures = option.facts, shown.told.figures
    energy = figures.kwh(facts.electricity_kwh)
    if facts.old_fuel_kwh > 0.0:
        energy = f"{energy} and {figures.kwh(facts.old_fuel_kwh)} of fuel"
    if is_left_out(option):
        energy = f"{energy}, {ROOMS_COLD}"
    return {"price": f"{figures.usd(facts.price_low_usd)} to {figures.usd(facts.price_high_usd)}", "bill": energy}


def fact_list(option: OptionCard, shown: Shown) -> Component:
    """The four facts; low to high and kilowatt-hours beneath where there is room."""
    more = _second_lines(option, shown)
    rows: list[Component] = []
    for fact in card_facts(option, shown.told):
        label = fact.short_name if shown.landscape else SHORT_NAMES.get(fact.key, fact.name)
        value: list[Component | str] = [html.Span(fact.value, className="value")]
        if fact.key in more and not shown.landscape:
            value.append(html.Span(more[fact.key], className="beneath"))
        rows.append(html.Div([html.Dt(label), html.Dd(value)], className="fact"))
    return html.Dl(rows, className="facts")


def fit_bar(option: OptionCard, shown: Shown) -> Component:
    """Bar and number of 100; the word *left out* for an option with a fatal fault."""
    if is_left_out(option):
        reason = weak_point(option, shown.told) if shown.landscape else LEFT_OUT
        return html.P(reason, className="fit out")
    points = shown.told.figures.points(option.total)
    bar = html.Span(html.Span(style={"width": f"{max(0.0, min(100.0, option.total)):.1f}%"}), className="bar")
    number = html.Span([html.B(points), html.Span("/100")], className="of")
    return html.P([html.Span("Fit"), bar, number], className="fit")


def small_house(option: OptionCard, shown: Shown) -> Component:
    """The plan of the option in small."""
    look = shown.look(SMALL_PX[shown.page.form], compact=True)
    return html.Div(
        Drawing(svg=plan_svg(shown.view, option.id, shown.page.scene, look), hidden=True), className="small-house"
    )


def compare_button(option: OptionCard, shown: Shown, full: str) -> Component:
    """Puts the option side by side with another one."""
    chosen = option.id in shown.page.beside
    sign = html.Span(COMPARED if chosen else SIGN_COMPARE)
    return button(sign, f"beside:{option.id}", "pick", pressed=chosen, label=f"{COMPARE}: {full}")


def _classes(option: OptionCard, shown: Shown, base: str) -> str:
    told = {
        "recommended": shown.recommended(option),
        "left-out": is_left_out(option),
        "on-plan": option.id == shown.on_plan.id,
    }
    return " ".join([base, *(word for word, true in told.items() if true)])


def place_words(option: OptionCard, shown: Shown) -> str:
    """Place among the others; on cards without room for it without the word *likely*, which stands above."""
    words = shown.told.words
    if shown.recommended(option) and shown.page.form is not Form.NARROW:
        return words.say("places", "recommended")
    return place(shown.view, option, words)


def line(option: OptionCard, shown: Shown) -> str:
    """What the option is; where units of two kinds work together, how many of each."""
    words = shown.told.words
    kinds = [(option.hidden, "hidden_unit"), (option.heaters, "heater")]
    counted = [words.counted(count, noun) for count, noun in kinds if count]
    if option.heads and option.hidden:
        counted.insert(0, words.counted(option.heads, unit_noun(option)))
        return capital(words.listed(counted))
    return capital(words.listed(counted)) if option.heaters else option_line(shown.view, option, words)


def _show_button(option: OptionCard, shown: Shown, label: str) -> Component:
    """The whole card as a target; its word is only the sign."""
    chosen = option.id == shown.on_plan.id
    sign = html.Span(SHOWN if chosen else SHOW)
    return button(sign, f"show:{option.id}", "show", pressed=chosen, label=f"Show on the plan: {label}")


def card(option: OptionCard, shown: Shown) -> Component:
    """One option."""
    full = shown.name(option, short=shown.landscape)
    asked = shown.page.asked == f"why:{option.id}"
    why = WHY if shown.recommended(option) else WHY_NOT
    narrow = shown.page.form is Form.NARROW
    sign = why.lower() if narrow else SIGN_WHY if shown.recommended(option) else SIGN_WHY_NOT
    weak = weak_point(option, shown.told)
    parts = [
        html.P(place_words(option, shown), className="place"),
        _show_button(option, shown, full),
        html.Div([html.H3(full), html.P(line(option, shown), className="line")], className="title"),
        compare_button(option, shown, full),
        small_house(option, shown),
        fact_list(option, shown),
        fit_bar(option, shown),
        button(
            html.Span([html.Span(weak, className="loss"), " ", html.Span(sign, className="why-sign")]),
            f"ask:why:{option.id}",
            "why",
            pressed=asked,
            label=f"{full}: {weak} {why}",
        ),
    ]
    if asked and shown.page.form is Form.NARROW:
        parts.append(html.Div(answer_block(shown), className="card-answer"))
    return html.Article(parts, className=_classes(option, shown, "card"))


def cards(shown: Shown) -> list[Component]:
    """The row of cards."""
    return [card(option, shown) for option in card_options(shown.view)]


def _line(option: OptionCard, shown: Shown) -> Component:
    facts = [
        html.Span([html.Span(fact.short_name, className="line-label"), " ", fact.value], className="line-fact")
        for fact in card_facts(option, shown.told)
    ]
    fit = "left out" if is_left_out(option) else f"{shown.told.figures.points(option.total)}/100"
    return html.Li(
        button(
            [
                html.Span(shown.name(option), className="line-name"),
                html.Span(facts, className="line-facts"),
                html.Span(fit, className="line-fit"),
                html.Span(weak_point(option, shown.told), className="line-loss"),
            ],
            f"show:{option.id}",
            pressed=option.id == shown.on_plan.id,
        ),
        className=_classes(option, shown, "also-line"),
    )


def also(shown: Shown) -> list[Component]:
    """Options beyond the cards, one line each, and what cannot be built here."""
    rest = other_options(shown.view)
    parts: list[Component] = []
    if rest:
        parts += [html.H2(ALSO), html.Ul([_line(option, shown) for option in rest], className="also-list")]
    if shown.view.not_possible:
        words = shown.told.words
        items = []
        for item in shown.view.not_possible:
            family = words.say("families", item.family) if words.has("families", item.family) else name(item.family)
            text = f"{plain(item.text)} {plain(item.cure)}".strip()
            items.append(html.Li([html.B(f"{family}. "), text]))
        parts += [html.H2(NOT_BUILT), html.Ul(items, className="not-built")]
    return parts
