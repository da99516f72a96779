"""Last page: price and what it covers, assumptions, cautions, and lines to sign on when it is an offer."""

from __future__ import annotations

from compare.views.customer import OptionCard
from proposal.document.blocks import Beside, Block, Bullets, Heading, Paragraph
from proposal.document.charts import money_figure
from proposal.document.conditions import applies, rows
from proposal.words import Told, capital, name, option_phrase, plain, room_group
from proposal.words.figures import NBSP
from proposal.words.options import unit_noun

MOST_ASSUMPTIONS = 6


def _short(told: Told) -> str:
    return told.words.code.partition("-")[0]


def table(name_: str, told: Told, option: OptionCard) -> list[dict[str, str]]:
    """Rows of a data table that apply."""
    return [row for row in rows(name_, _short(told)) if applies(row["applies"], told.view, option)]


def _own_scope(told: Told, option: OptionCard) -> list[str]:
    """Units of this option in words, with the rooms they serve."""
    view, words = told.view, told.words
    said = []
    if option.heads:
        units = words.counted(option.heads, unit_noun(option))
        rooms = room_group(view, option.head_rooms, words)
        said.append(words.say("document", "included_heads", units=units, rooms=rooms))
    if option.hidden:
        units = words.counted(option.hidden, "hidden_unit")
        rooms = room_group(view, option.ducted_rooms, words)
        key = "included_hidden_at" if option.places else "included_hidden"
        places = words.listed([name(place) for place in option.places])
        said.append(words.say("document", key, units=units, rooms=rooms, places=places))
    if option.facts.outdoor_units:
        units = words.counted(option.facts.outdoor_units, "outdoor_unit")
        said.append(words.say("document", "included_outdoor", units=units))
    if option.heaters:
        units = words.counted(option.heaters, "heater")
        rooms = room_group(view, option.heater_rooms, words)
        said.append(words.say("document", "included_heaters", units=units, rooms=rooms))
    return [capital(text) for text in said]


def _price_text(told: Told, option: OptionCard) -> list[Block]:
    words, figures, facts = told.words, told.figures, option.facts
    key = "price_estimate" if told.view.house.estimate else "price_offer"
    prices = {
        "price": figures.usd(facts.price_usd),
        "low": figures.usd(facts.price_low_usd),
        "high": figures.usd(facts.price_high_usd),
    }
    energy = words.say(
        "document",
        "price_energy_old" if facts.old_fuel_kwh > 0.0 else "price_energy",
        bill=figures.usd(facts.bill_usd),
        rate=f"${told.view.house.electricity_usd_kwh:.3f}".rstrip("0"),
    )
    return [Paragraph(words.say("document", key, **prices)), Paragraph(energy)]


def price_blocks(told: Told, option: OptionCard, *, named: bool) -> list[Block]:
    """Price range, energy, and what the price covers; with the name of the layout where several suit equally."""
    words = told.words
    phrase = option_phrase(told.view, option, words)
    heading = words.say("document", "price_heading_named" if named else "price_heading", phrase=phrase)
    scope = table("scope", told, option)
    inside = [*_own_scope(told, option), *(row["text"] for row in scope if row["part"] == "included")]
    outside = [row["text"] for row in scope if row["part"] == "excluded"]
    lists = tuple(
        Bullets(tuple(Paragraph(text, style="small") for text in items), heading=words.say("document", heading))
        for heading, items in (("included", inside), ("excluded", outside))
    )
    more = Heading(2, words.say("charts", "scope_heading"), after=True)
    return [Heading(2, heading), *_price_text(told, option), *money_figure(told), more, Beside(lists)]


def _sentence(text: str) -> str:
    shown = capital(plain(text))
    return shown if not shown or shown.endswith((".", "!", "?")) else f"{shown}."


def _assumed(told: Told) -> list[str]:
    """Assumptions that a family can check, in plain words, those that matter most first."""
    known = {row["subject"]: row for row in rows("assumed", _short(told))}
    found: list[tuple[int, str]] = []
    for line in told.view.assumptions:
        row = known.get(line.subject.partition(" (")[0])
        if row is not None:
            text = row["text"].replace("{value}", name(line.value).replace(" ", NBSP))
            found.append((int(row["rank"]), text))
    return [text for _, text in sorted(found)]


def assumed_blocks(told: Told) -> list[Block]:
    """What was assumed: weather first, then what the family can check; the rest is counted."""
    view, words = told.view, told.words
    weather = " ".join(_sentence(text) for text in (view.house.weather, view.house.weather_error) if text)
    if weather and words.has("document", "weather_generic"):
        weather = words.say("document", "weather_generic")
    items = [Paragraph(weather, lead=words.say("document", "weather_lead"), style="small")] if weather else []
    shown = _assumed(told)[:MOST_ASSUMPTIONS]
    items += [Paragraph(text, style="small") for text in shown]
    rest = len(view.assumptions) - len(shown)
    if rest > 0:
        key = "assumed_more_one" if rest == 1 else "assumed_more_many"
        items.append(Paragraph(capital(words.say("document", key, n=words.count(rest))), style="small"))
    if not items:
        return []
    columns = 2 if len(items) > 2 else 1
    return [Heading(2, words.say("document", "assumed_heading")), Bullets(tuple(items), columns=columns)]


def caution_blocks(told: Told, option: OptionCard) -> list[Block]:
    """What can hurt someone, and who must decide."""
    items = tuple(Paragraph(row["text"], lead=row["lead"], style="small") for row in table("cautions", told, option))
    return [Heading(2, told.words.say("document", "cautions_heading")), Bullets(items, columns=2)]
