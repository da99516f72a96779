"""Which quotes to offer again, with which layout, and why; and one to leave as it is.

A layout is worth offering again only if the family's own ranking puts it no lower than today's, it clears both floors,
and neither comfort, nor margin after call-back risk, nor the dollars that are left get less: what earns more is never
put above what fits. Figures are compared as they are shown, so that the page never contradicts itself.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from compare.office.view import OfficeOption
from dashboard.office.quotes import Quote, layout_name
from dashboard.office.words import and_list, count_word, points, usd

LEAST_COMFORT = 5.0
LEAST_MARGIN = 1.0
"""Points that a gain must reach to be told; our judgement."""
COMFORT_FLOOR = 70.0
"""Comfort score from which a quote may go out; our judgement, to be set by the company."""
SOON_DAYS = 7


@dataclass(frozen=True, slots=True)
class Floors:
    """What a quote must reach: comfort score, and margin after call-back risk as a percentage of the price."""

    comfort: float
    margin_pct: float

    def clears(self, option: OfficeOption) -> bool:
        """Whether an option reaches both."""
        return round(option.comfort.comfort_score) >= self.comfort and round(margin_pct(option), 1) >= self.margin_pct


@dataclass(frozen=True, slots=True)
class Again:
    """A quote and the layout to offer instead."""

    quote: Quote
    now: OfficeOption
    better: OfficeOption

    @property
    def comfort_gain(self) -> float:
        """Points of comfort."""
        return self.better.comfort.comfort_score - self.now.comfort.comfort_score

    @property
    def margin_gain(self) -> float:
        """Points of margin after call-back risk."""
        return margin_pct(self.better) - margin_pct(self.now)

    @property
    def left_gain_usd(self) -> float:
        """Dollars that are left after call-back risk, more than today."""
        return float(self.better.margin.risk_adjusted_usd - self.now.margin.risk_adjusted_usd)


def margin_pct(option: OfficeOption) -> float:
    """Margin after call-back risk as a percentage of the price."""
    return 100.0 * float(option.margin.risk_adjusted_frac)


def again(quote: Quote, floors: Floors) -> Again | None:
    """What to offer instead of a quote; None where nothing is better for both sides."""
    now, view = quote.option, quote.view
    if now is None or view is None or not quote.is_open:
        return None
    found = [Again(quote, now, other) for other in view.options if other.id != now.id]
    able = [one for one in found if _better(one, floors)]
    return min(able, key=lambda one: (one.better.place, -one.margin_gain), default=None)


def _better(one: Again, floors: Floors) -> bool:
    place, before = one.better.place, one.now.place
    if place == 0 or (before and place > before) or not floors.clears(one.better):
        return False
    worse = one.comfort_gain < 0.0 or one.margin_gain < 0.0 or one.left_gain_usd < 0.0
    return not worse and (one.comfort_gain >= LEAST_COMFORT or one.margin_gain >= LEAST_MARGIN)


def worth_offering(quotes: Iterable[Quote], floors: Floors, on: dt.date) -> tuple[Again, ...]:
    """Every quote to offer again, the one with the least time left first."""
    found = [one for quote in quotes if (one := again(quote, floors)) is not None]
    return tuple(sorted(found, key=lambda one: (one.quote.days_left(on), -one.margin_gain, one.quote.label)))


def leave(quotes: Iterable[Quote], floors: Floors) -> Quote | None:
    """The open quote that is right as it is and earns best: first in its house, over both floors, no cold bedroom."""
    able = [
        (option.margin.risk_adjusted_frac, quote.label, quote)
        for quote in quotes
        if quote.is_open and (option := quote.option) is not None and quote.place == 1 and floors.clears(option)
        and not option.comfort.cold_rooms and again(quote, floors) is None
    ]  # fmt: skip
    return max(able, key=lambda item: item[:2])[2] if able else None


def why(one: Again, on: dt.date) -> str:
    """The reason in a few sentences."""
    told = [f"{layout_name(one.now)} now."]
    left = one.quote.days_left(on)
    if 0 <= left <= SOON_DAYS:
        told.append(f"{points(left, 'day')} left to decide.")
    if one.now.comfort.cold_rooms and not one.better.comfort.cold_rooms:
        verb = "stays" if len(one.now.comfort.cold_rooms) == 1 else "stay"
        told.append(f"{and_list(one.now.comfort.cold_rooms)} {verb} cold on the coldest mornings.")
    told.append(f"{_other(one)} {_gains(one)}.")
    more = float(one.better.price_usd - one.now.price_usd)
    price = f"costs {usd(abs(more))} {'more' if more > 0 else 'less'}" if abs(more) >= 50 else "costs the same"
    told.append(f"It {price} and leaves us {usd(one.left_gain_usd)} more.")
    return " ".join(told)


def _other(one: Again) -> str:
    """The better layout's name; of the same kind when only its make-up differs."""
    if one.better.family == one.now.family:
        return "Another of the same kind"
    return layout_name(one.better)


def _gains(one: Again) -> str:
    gains = [
        f"{points(round(gain), 'point')} of {what}"
        for gain, what in ((one.comfort_gain, "comfort"), (one.margin_gain, "margin"))
        if round(gain) >= 1
    ]
    return f"would add {and_list(gains)}" if gains else "would keep comfort and margin"


def stay(quote: Quote) -> str:
    """Why a quote is left as it is."""
    option = quote.option
    assert option is not None
    return (
        f"{layout_name(option)} now. It fits this family best, no bedroom stays cold, and it leaves "
        f"{margin_pct(option):.0f}\u00a0% after call-back risk."
    )


def headline(quotes: Sequence[Quote], found: Sequence[Again]) -> str:
    """The sentence that opens the page."""
    open_ = [quote for quote in quotes if quote.is_open]
    if not open_:
        return "No quote is open."
    if not any(quote.option for quote in open_):
        return "The open quotes are not worked out yet."
    if not found:
        return "No open quote would do better with another layout."
    many = len(found) > 1
    who = f"{count_word(len(found)).capitalize()} open quote{'s' if many else ''}"
    warmer = any(round(one.comfort_gain) >= 1 for one in found)
    return f"{who} would earn more{' and keep rooms warmer' if warmer else ''} with another layout."


def lead(quotes: Sequence[Quote], found: Sequence[Again], floors: Floors) -> str:
    """The line under it: how many clear both floors, and who would join them."""
    known = [(quote, option) for quote in quotes if quote.is_open and (option := quote.option) is not None]
    if not known:
        return ""
    clear = sum(floors.clears(option) for _, option in known)
    some = f"{count_word(clear).capitalize()} of the {count_word(len(known))}" if clear < len(known) else "All of them"
    told = f"{some} {'clears' if clear == 1 < len(known) else 'clear'} both floors."
    joining = [one.quote.label for one in found if not floors.clears(one.now)]
    if joining:
        told += f" {and_list(joining)} would join with another layout."
    return told
