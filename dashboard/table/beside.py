"""Any two layouts side by side: plans, price, bills, quiet, each room, and where each is better in sentences."""

from __future__ import annotations

from dash import html
from dash.development.base_component import Component

from compare.views.customer import OptionCard, ReasonLine
from dashboard.components import Drawing
from dashboard.session import Form, TableSource
from dashboard.table.change import verb_behind
from dashboard.table.choice import card_options, other_options
from dashboard.table.scene import Shown
from dashboard.table.tap import button, named
from dashboard.table.text import SCENES
from proposal.drawing.look import Scene
from proposal.drawing.plan import plan_svg, plan_table
from proposal.words import capital, card_facts, gain, option_phrase, place, weak_point
from proposal.words.options import LEFT_OUT, TIE_POINTS
from proposal.words.reasons import homely

PLAN_PX = {Form.PORTRAIT: 300.0, Form.LANDSCAPE: 340.0, Form.NARROW: 150.0}
MOST_SENTENCES = 5
CHOOSE = "Tap two layouts."
ONE_MORE = "Tap one more layout."


def chosen(shown: Shown) -> list[OptionCard]:
    """The options side by side that the view still has, in the order of the view."""
    return [option for option in shown.view.options if option.id in shown.page.beside]


def beside_title(shown: Shown) -> str:
    """Both names; what to do before two are chosen."""
    pair = chosen(shown)
    if len(pair) == 2:
        phrases = [option_phrase(shown.view, option, shown.told.words) for option in pair]
        return f"{capital(phrases[0])} or {phrases[1]}?"
    return "Two layouts side by side"


def _lower(name: str) -> str:
    return name[:1].lower() + name[1:]


def chooser(shown: Shown) -> Component:
    """Every layout as a button; two are chosen, a third takes the place of the older one."""
    options = (*card_options(shown.view), *other_options(shown.view))
    chips = [
        button(shown.name(option), f"beside:{option.id}", "chip small", pressed=option.id in shown.page.beside)
        for option in options
    ]
    return html.Div(chips, className="chips", role="group", **named("Layouts to compare"))


def _heads(pair: list[OptionCard], shown: Shown) -> Component:
    cells = []
    for option in pair:
        look = shown.look(PLAN_PX[shown.page.form], compact=True)
        drawn = Drawing(svg=plan_svg(shown.view, option.id, shown.page.scene, look), hidden=True)
        where = html.Span(place(shown.view, option, shown.told.words), className="place")
        plum = " recommended" if shown.recommended(option) else ""
        cells.append(
            html.Th([where, html.Span(shown.name(option), className="beside-name"), drawn], className=plum, scope="col")
        )
    return html.Tr([html.Td(className="corner"), *cells])


def _fact_rows(pair: list[OptionCard], shown: Shown) -> list[Component]:
    told, figures = shown.told, shown.told.figures
    facts = [{fact.key: fact for fact in card_facts(option, told)} for option in pair]
    beneath = {
        "price": [f"{figures.usd(o.facts.price_low_usd)} to {figures.usd(o.facts.price_high_usd)}" for o in pair],
        "bill": [figures.kwh(o.facts.electricity_kwh) for o in pair],
    }
    rows: list[Component] = []
    for key in ("price", "bill", "coldest_bedroom", "pillow"):
        cells: list[Component] = []
        for side, fact in enumerate(facts):
            below = [html.Span(beneath[key][side], className="under")] if key in beneath else []
            cells.append(html.Td([html.B(fact[key].value), *below]))
        rows.append(html.Tr([html.Th(facts[0][key].name, scope="row"), *cells]))
    fits = [html.Td("left out" if o.status == LEFT_OUT else html.B(f"{figures.points(o.total)}/100")) for o in pair]
    return [*rows, html.Tr([html.Th("Fit for you", scope="row"), *fits])]


def room_rows(pair: list[OptionCard], shown: Shown) -> list[Component]:
    """What each room is at the moment that the plan shows; in the sound picture, what is heard there."""
    look = shown.look(1.0)
    tables = [plan_table(shown.view, option.id, shown.page.scene, look) for option in pair]
    sound = shown.page.scene is Scene.SOUND
    names = list(dict.fromkeys(row[0] for table in tables for row in table.rows))
    by_name = [{row[0]: row for row in table.rows} for table in tables]
    rows: list[Component] = []
    for name in names:
        cells: list[Component] = []
        for found in by_name:
            row = found.get(name, (name, "–", "–", "–"))
            value = " / ".join(row[1:3]) if sound else row[1]
            word = "" if sound or row[3] == look.say("none") else row[3]
            cells.append(html.Td([value, html.Span(word, className="under")]))
        rows.append(html.Tr([html.Th(name, scope="row"), *cells]))
    return rows


def sentences(reasons: tuple[ReasonLine, ...], shown: Shown) -> list[str]:
    """Where an option is better than the other one, most weighty first; no two of the same words."""
    said = [f"{capital(gain(reason, shown.told))}." for reason in homely(reasons)]
    return list(dict.fromkeys(said))[:MOST_SENTENCES]


def lead(pair: list[OptionCard], shown: Shown) -> str:
    """Which of the two fits better by what matters to the family; nothing between two within a tie."""
    out = [option for option in pair if option.status == LEFT_OUT]
    if out:
        return " ".join(f"{shown.name(option)}: {_lower(weak_point(option, shown.told))}" for option in out)
    gap = pair[0].total - pair[1].total
    if abs(gap) < TIE_POINTS:
        return "Too close to call between these two: fewer than 3 points of 100 lie between them."
    ahead = pair[0] if gap > 0.0 else pair[1]
    points = shown.told.figures.points(abs(gap))
    return f"{shown.name(ahead)}: ahead by {points} points of 100, by what matters to you."


def _better(option: OptionCard, said: list[str], shown: Shown) -> Component:
    body: list[Component] = [html.Li(text) for text in said]
    nothing = [html.P("Nowhere by more than we can tell.", className="quiet")] if not body else []
    head = html.H3(f"Where {option_phrase(shown.view, option, shown.told.words)} {verb_behind('be', option)} better")
    return html.Div([head, html.Ul(body), *nothing], className="better")


def beside_panel(shown: Shown, source: TableSource) -> list[Component]:
    """The chooser; with two chosen, all of both."""
    pair = chosen(shown)
    if len(pair) < 2:
        return [html.P(ONE_MORE if pair else CHOOSE, className="quiet", role="status"), chooser(shown)]
    found = source.pair(shown.page.question, pair[0].id, pair[1].id)
    both = (sentences(found.first_better, shown), sentences(found.second_better, shown))
    moment = SCENES[shown.page.scene]
    rooms = f"Each room: {_lower(moment)}" + (
        ", at the bed / at the seat, dB(A)" if shown.page.scene is Scene.SOUND else ""
    )
    table = html.Table(
        [
            html.Caption("Two layouts side by side", className="unseen"),
            html.Thead(_heads(pair, shown)),
            html.Tbody(_fact_rows(pair, shown)),
            html.Tbody(
                [html.Tr(html.Th(rooms, colSpan=3, scope="colgroup", className="group")), *room_rows(pair, shown)]
            ),
        ],
        className="beside-table",
    )
    told = [_better(option, said, shown) for option, said in zip(pair, both, strict=True)]
    return [
        chooser(shown),
        html.P(lead(pair, shown), className="stroke says beside-lead", role="status"),
        html.Div([table, html.Div(told, className="betters")], className="beside"),
    ]
