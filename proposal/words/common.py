"""Too close to call: why not another layout, in what holds against each of the equal ones alike."""

from __future__ import annotations

from collections.abc import Callable

from compare.scoring.judgements import rulebook
from compare.views.customer import OptionCard, ReasonLine
from proposal.words.answer import Lead, equals
from proposal.words.arguments import rivals
from proposal.words.language import capital
from proposal.words.options import option_tag, question
from proposal.words.reasons import Told, fatal_fault, fault_sentence, homely, loss, strongest_first
from proposal.words.rooms import shapes

Measure = Callable[[OptionCard], float | None]
MOST_LOSSES = 2
MONEY = frozenset({"price", "bill"})
"""Told as amounts of their own: the difference is another one against each equal layout."""


def _room_value(told: Told, reason: ReasonLine, read: str) -> Measure:
    """A figure of the reason's first room in any layout."""
    wanted = {shape.index for shape in shapes(told.view, reason.rooms[:1])}

    def value(option: OptionCard) -> float | None:
        return next((getattr(room, read) for room in option.rooms if room.room in wanted), None)

    return value


def _margin(code: str, one: float, other: float) -> float:
    """What two figures must differ by before anything is said of them: the error limits of the scoring."""
    numbers, larger = rulebook().numbers, max(abs(one), abs(other))
    margins = {
        "price": max(numbers.limit_price_frac * larger, numbers.limit_price_least_usd),
        "bill": numbers.limit_energy_frac * larger,
        "starts": larger * (1.0 - 1.0 / numbers.limit_starts),
        "below_minimum": numbers.limit_hours_below_frac,
        "bed_noise": numbers.limit_noise_dba,
        "morning": numbers.limit_temperature_k,
        "no_cooling": numbers.limit_temperature_k,
        "hot_hours": numbers.limit_temperature_k,
    }
    return margins.get(code, 0.0)


def _measure(told: Told, reason: ReasonLine) -> Measure | None:
    """What a reason is about as a figure of any layout, larger being worse; None where no layout has it by itself."""
    facts: dict[str, Measure] = {
        "price": lambda option: option.facts.price_usd,
        "bill": lambda option: option.facts.bill_usd,
        "starts": lambda option: option.facts.starts_per_year,
        "below_minimum": lambda option: option.facts.below_minimum_share,
        "visible_units": lambda option: option.facts.visible_units,
        "outdoor_units": lambda option: option.facts.outdoor_units,
        "on_heaters": lambda option: sum(room in option.heater_rooms for room in reason.rooms),
    }
    if reason.code in facts:
        return facts[reason.code]
    if reason.code == "bed_noise":
        return _room_value(told, reason, "bed_dba")
    if reason.code in ("no_cooling", "hot_hours"):
        return _room_value(told, reason, "hot_c")
    if reason.code == "morning":
        warm = _room_value(told, reason, "morning_c")

        def cold(option: OptionCard) -> float | None:
            value = warm(option)
            return None if value is None else -value

        return cold
    return None


def _against_all(told: Told, rival: OptionCard, reason: ReasonLine, sign: float) -> bool:
    """Whether a rival is worse (`sign` 1) or better (-1) than every equal layout in what a reason is about."""
    measure = _measure(told, reason)
    if measure is None:
        return False
    own = measure(rival)
    others = [measure(option) for option in equals(told.view)]
    return own is not None and all(
        other is not None and sign * (own - other) > _margin(reason.code, own, other) for other in others
    )


def _money(told: Told, rival: OptionCard, code: str, form: str) -> str:
    amount = rival.facts.price_usd if code == "price" else rival.facts.bill_usd
    names = told.words.listed([option_tag(told.view, option, told.words) for option in equals(told.view)])
    return told.words.say("common", f"{code}_{form}", amount=told.figures.usd(amount), names=names)


def _gain(told: Told, rival: OptionCard) -> str:
    """The amount in which it beats every equal layout; empty where there is none."""
    codes = [reason.code for reason in homely(rival.better_than_winner) if _against_all(told, rival, reason, -1.0)]
    found = next((code for code in codes if code in MONEY), None)
    return "" if found is None else _money(told, rival, found, "less")


def _losses(told: Told, rival: OptionCard) -> list[str]:
    said = []
    for reason in strongest_first(homely(rival.worse_than_winner)):
        if not _against_all(told, rival, reason, 1.0):
            continue
        if reason.code in MONEY:
            said.append(_money(told, rival, reason.code, "more"))
        else:
            said.append(f"{capital(loss(reason, told))}.")
    return said[:MOST_LOSSES]


def why_not_common(rival: OptionCard, told: Told) -> Lead | None:
    """The question about another layout and the answer that holds against each of the equal ones; None without one."""
    fault = fatal_fault(rival)
    gain = _gain(told, rival)
    if fault is not None:
        said = [told.words.say("answers", "left_out", fault=fault_sentence(fault, told))]
    else:
        said = _losses(told, rival)
    if not said:
        return None
    return Lead(question(told.view, rival, told.words), " ".join(text for text in (gain, *said) if text))


def common_questions(told: Told) -> tuple[Lead, ...]:
    """A question for each layout that is not among the equal ones, where its answer is the same for all of them."""
    found = (why_not_common(rival, told) for rival in rivals(told.view))
    return tuple(lead for lead in found if lead is not None)
