"""The four facts of a card and of the first page, and everyday sounds."""

from __future__ import annotations

from dataclasses import dataclass

from compare.views.customer import OptionCard
from proposal.words.figures import Figures
from proposal.words.options import LEFT_OUT
from proposal.words.reasons import Told
from proposal.words.rooms import coldest_door_open

SOUNDS_DBA = (20, 30, 40, 50)
HEALTH_ADVICE_DBA = 30.5
"""Shown as more than 30."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure with its name, its short name, and a line that explains it."""

    key: str
    name: str
    short_name: str
    value: str
    note: str


def _value(key: str, option: OptionCard, figures: Figures) -> str | None:
    facts = option.facts
    if key == "coldest_bedroom":
        return None if facts.coldest_bedroom_c is None else figures.temperature(facts.coldest_bedroom_c)
    if key == "pillow":
        return None if facts.pillow_dba is None else figures.level(facts.pillow_dba)
    return figures.usd(facts.price_usd if key == "price" else facts.bill_usd)


def _note(key: str, option: OptionCard, told: Told) -> str:
    facts, figures, words = option.facts, told.figures, told.words
    if key == "coldest_bedroom":
        form = {True: "open", False: "shut", None: "any"}[coldest_door_open(told.view, option)]
        return words.say("fact_notes", f"{key}_{form}")
    if key == "price":
        low, high = figures.usd(facts.price_low_usd), figures.usd(facts.price_high_usd)
        return words.say("fact_notes", key, low=low, high=high)
    if key == "bill":
        if option.status == LEFT_OUT:
            return words.say("fact_notes", "bill_cold")
        kwh, old = figures.kwh(facts.electricity_kwh), figures.kwh(facts.old_fuel_kwh)
        return words.say("fact_notes", "bill_old" if facts.old_fuel_kwh > 0.0 else key, kwh=kwh, old=old)
    if key == "pillow" and facts.pillow_dba is not None:
        return words.say("fact_notes", key, sound=everyday_sound(facts.pillow_dba, told))
    return words.say("fact_notes", key)


def card_facts(option: OptionCard, told: Told) -> tuple[Fact, ...]:
    """Coldest bedroom, level at the pillow, installed price, energy bill; a dash where a house has no such thing."""
    words = told.words
    found = []
    for key in ("coldest_bedroom", "pillow", "price", "bill"):
        value = _value(key, option, told.figures)
        found.append(
            Fact(
                key=key,
                name=words.say("fact_names", key),
                short_name=words.say("fact_names_short", key),
                value=words.say("labels", "none") if value is None else value,
                note=_note(key, option, told) if value is not None else words.say("fact_notes", f"{key}_none"),
            )
        )
    return tuple(found)


def everyday_sound(level_dba: float, told: Told) -> str:
    """The everyday sound nearest to a level: `a whisper`."""
    nearest = min(SOUNDS_DBA, key=lambda sound: abs(sound - level_dba))
    return told.words.say("noise", str(nearest))


def sound_sentence(option: OptionCard, told: Told) -> str:
    """What is heard in bed, with its yardsticks; empty without a bed."""
    level_dba = option.facts.pillow_dba
    if level_dba is None:
        return ""
    words = told.words
    heard = words.say("noise", "sentence", level=told.figures.level(level_dba), sound=everyday_sound(level_dba, told))
    return f"{heard} {words.say('noise', 'advice_met' if level_dba < HEALTH_ADVICE_DBA else 'advice_missed')}"
