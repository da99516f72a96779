"""Reasons-as-data in words: weak points, gains, losses, and why not another layout.

The role of a number ends in `better` or `worse` for its side, as in `installed price.worse`; the first pair decides.
Where only the difference is known its role is `difference`. The view holds no reason inside its error, and nothing is
added here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from compare.views.customer import CustomerView, FaultLine, OptionCard, ReasonLine
from proposal.words.figures import NBSP, Figures
from proposal.words.language import Words, capital, name, plain
from proposal.words.options import option_phrase, option_tag
from proposal.words.rooms import room_group, room_names, shapes

BETTER, WORSE, GAP = "better", "worse", "difference"
LOUD_DBA = 30.5
"""Shown as 31 dB(A) or more: above the health advice of 30 for bedrooms at night (WHO 1999)."""

TWICE_DBA = 9.5
"""Shown as 10 dB(A) or more: about twice as loud (S. S. Stevens 1955, sone scale: 10 dB double the loudness; below 40
phon it doubles sooner, so that this is the least that can be said)."""

LATER_USES = frozenset({"work", "hobby"})
"""Uses that begin after 6 in the morning: their rooms are read at their first hour of use."""

Show = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class Told:
    """A view and the words and figures it is told in."""

    view: CustomerView
    words: Words
    figures: Figures


def homely(reasons: Sequence[ReasonLine]) -> list[ReasonLine]:
    """Reasons in their order, with the yearly bill in place of the energy where both are known."""
    bill = next((reason for reason in reasons if reason.code == "bill"), None)
    if bill is None or all(reason.code != "energy" for reason in reasons):
        return list(reasons)
    return [bill if reason.code == "energy" else reason for reason in reasons if reason is not bill]


def _showers(told: Told) -> dict[str, Show]:
    figures, words = told.figures, told.words
    return {
        "usd": figures.usd,
        "kwh": figures.kwh,
        "level": figures.level,
        "share": figures.of_hundred,
        "percent": figures.percent,
        "starts": figures.starts,
        "temperature": figures.temperature,
        "ratio": lambda value: f"{value:.1f}",
        "count": lambda value: words.count(round(value)),
        "units": lambda value: words.counted(round(value), "unit"),
        "outdoor": lambda value: words.counted(round(value), "outdoor_unit"),
    }


def _values(reason: ReasonLine) -> dict[str, float]:
    """The deciding numbers of a reason by side; a single number of another role is that of the worse side."""
    found: dict[str, float] = {}
    for number in reason.numbers:
        side = number.role.rpartition(".")[2]
        if side in (BETTER, WORSE, GAP):
            found.setdefault(side, number.value)
    if not found and reason.numbers:
        found[WORSE] = reason.numbers[0].value
    return found


def _numbers(reason: ReasonLine, kind: str, told: Told) -> dict[str, str]:
    values = _values(reason)
    show = _showers(told)[kind]
    parts = {role: show(value) for role, value in values.items() if role in (BETTER, WORSE)}
    if kind in ("units", "outdoor"):
        parts |= {f"{role}_count": told.words.count(round(values[role])) for role in (BETTER, WORSE) if role in values}
    if GAP in values:
        parts["gap"] = show(abs(values[GAP]))
    elif BETTER in values and WORSE in values:
        gap = {"usd": told.figures.usd_gap, "kwh": told.figures.kwh_gap}.get(kind)
        if gap is not None:
            parts["gap"] = gap(values[BETTER], values[WORSE])
    return parts


def _hottest(reason: ReasonLine, told: Told) -> tuple[str, str] | None:
    """The hottest of a reason's rooms in the worse option, and its temperature in words."""
    worse = told.view.option(reason.worse)
    indices = {shape.index: shape.name for shape in shapes(told.view, reason.rooms)}
    found = [room for room in worse.rooms if room.room in indices and room.hot_limit_c is not None]
    if not found:
        return None
    hottest = max(found, key=lambda room: room.hot_c)
    return indices[hottest.room], told.figures.temperature(hottest.hot_c)


def _parts(reason: ReasonLine, told: Told) -> dict[str, str]:
    view, words = told.view, told.words
    kind = words.say("reasons", f"{reason.code}.kind")
    better, worse = view.option(reason.better), view.option(reason.worse)
    rooms = room_group(view, reason.rooms, words) if len(reason.rooms) > 1 else room_names(reason.rooms, words)
    those = option_tag(view, worse, words)
    parts = {
        **_numbers(reason, kind, told),
        "other": option_phrase(view, better, words),
        "tag": option_tag(view, better, words),
        "those": those,
        "Those": capital(those),
        "rooms": rooms,
    }
    if reason.rooms:
        parts["room"] = name(reason.rooms[0])
    hottest = _hottest(reason, told) if reason.code == "no_cooling" else None
    if hottest:
        parts["room"], parts["hot"] = name(hottest[0]), hottest[1]
    return parts


def _is_loud(reason: ReasonLine) -> bool:
    return reason.code == "bed_noise" and _values(reason).get(WORSE, 0.0) >= LOUD_DBA


def is_within_advice(reason: ReasonLine) -> bool:
    """Whether it is about noise in bed that keeps the health advice that the paper states."""
    return reason.code == "bed_noise" and not _is_loud(reason)


def strongest_first(reasons: Sequence[ReasonLine]) -> list[ReasonLine]:
    """Reasons in their order, those that lie within a limit stated in the paper behind all others."""
    return sorted(reasons, key=is_within_advice)


def _advised(reason: ReasonLine) -> str:
    """Ending of the form for noise within the advice: louder, or about twice as loud."""
    values = _values(reason)
    gap_db = values.get(WORSE, 0.0) - values.get(BETTER, 0.0)
    return "twice" if gap_db >= TWICE_DBA else "advised"


def _is_later(reason: ReasonLine, told: Told) -> bool:
    """Whether the room of a morning figure is read at its first hour of use and not at 6."""
    first = shapes(told.view, reason.rooms[:1])
    return bool(first) and first[0].use in LATER_USES


def _say(reason: ReasonLine, form: str, told: Told) -> str:
    """A form of a reason in words.

    Raises
    ------
    ValueError
        When the reason lacks a number or a room that its sentence needs.
    """
    words = told.words
    key = f"{reason.code}.{form}"
    if _is_loud(reason) and words.has("reasons", f"{key}_loud"):
        key = f"{key}_loud"
    if is_within_advice(reason) and words.has("reasons", f"{key}_{_advised(reason)}"):
        key = f"{key}_{_advised(reason)}"
    if reason.code == "morning" and _is_later(reason, told) and words.has("reasons", f"{key}_later"):
        key = f"{key}_later"
    parts = _parts(reason, told)
    missing = words.fields("reasons", key) - parts.keys()
    if missing:
        raise ValueError(f"reason '{reason.code}' of {reason.worse} lacks {', '.join(sorted(missing))}")
    return words.say("reasons", key, **parts)


def card_sentence(reason: ReasonLine, told: Told) -> str:
    """The weak point on a card, for the worse side: `Costs $9,000 more than room heaters.`"""
    return capital(_say(reason, "card", told))


def loss(reason: ReasonLine, told: Told) -> str:
    """The loss as a clause, for the worse side: `it costs $9,000 more than a wall unit with room heaters`."""
    return _say(reason, "loss", told)


def lost(reason: ReasonLine, told: Told) -> str:
    """The loss against one other layout that was named before, in few words: `it costs $110 a year more to run`."""
    return _say(reason, "lost" if told.words.has("reasons", f"{reason.code}.lost") else "loss", told)


def gain(reason: ReasonLine, told: Told) -> str:
    """The gain as a clause, for the better side: `it costs $9,000 less`."""
    return _say(reason, "gain", told)


def why(reason: ReasonLine, told: Told) -> str:
    """The fact as the recommended layout says it of the worse one: `four wall units would cost $300 more`."""
    return _say(reason, "why", told)


def _fault_value(fault: FaultLine, kind: str, told: Told) -> str | None:
    if kind == "rooms":
        return ""
    if not fault.numbers:
        return None
    return _showers(told)[kind](fault.numbers[0].value)


def _fault_limit(fault: FaultLine, kind: str, told: Told) -> str:
    limits = [number.value for number in fault.numbers if number.role == "limit"]
    return _showers(told)[kind](limits[0]) if limits else ""


def _fault_key(fault: FaultLine, table: str, told: Told) -> str:
    """Key of a finding's words: those with the limit where a temperature does not show what is wrong.

    A bedroom is judged by its coldest hours of night and told by its mornings; these may lie above the limit.
    """
    numbers = {number.role: number.value for number in fault.numbers}
    key = f"{fault.code}_limit"
    if not told.words.has(table, key) or not {"value", "limit"} <= numbers.keys():
        return fault.code
    over = told.figures.degrees(numbers["value"]) >= told.figures.degrees(numbers["limit"])
    return key if over else fault.code


def _fault_parts(fault: FaultLine, kind: str, told: Told) -> dict[str, str]:
    return {
        "room": name(fault.rooms[0]),
        "rooms": room_names(fault.rooms, told.words),
        "value": _fault_value(fault, kind, told) or "",
        "limit": "" if kind == "rooms" else _fault_limit(fault, kind, told),
    }


def fault_clause(fault: FaultLine, told: Told) -> str:
    """Why an option is left out, or what must be said of it; without words of its own, the finding's own text."""
    words = told.words
    if words.has("faults", fault.code) and fault.rooms:
        kind = words.say("fault_kinds", fault.code)
        value = _fault_value(fault, kind, told)
        if value is not None:
            return words.say("faults", _fault_key(fault, "faults", told), **_fault_parts(fault, kind, told))
    return words.say("faults", "other") if words.has("faults", "other") else own_text(fault.text)


def fault_sentence(fault: FaultLine, told: Told) -> str:
    """The same as a sentence; the stop of an abbreviation at its end is enough."""
    clause = capital(fault_clause(fault, told))
    return clause if clause.endswith(".") else f"{clause}."


def own_text(text: str) -> str:
    """A finding's own text on one line, without its last full stop, its numbers joined to their units."""
    joined = plain(text)
    joined = joined if joined.endswith(".m.") else joined.rstrip(".")
    for unit in ("°F", "°C", "dB(A)", "kWh", "%", "kBtu/h", "kW"):
        joined = joined.replace(f" {unit}", f"{NBSP}{unit}")
    return joined


def fatal_fault(option: OptionCard) -> FaultLine | None:
    """The finding for which an option is left out, None for an offered one."""
    return next((fault for fault in option.faults if fault.fatal), None)


def weakest(option: OptionCard) -> ReasonLine | None:
    """The reason in which an option loses most; the yearly bill in place of the energy where both are known."""
    reason = option.weak_point
    if reason is None or reason.code != "energy":
        return reason
    same = (item for item in option.worse_than_winner if item.code == "bill" and item.better == reason.better)
    return next(same, reason)


def weak_point(option: OptionCard, told: Told) -> str:
    """Where an option loses, in one short sentence; for one left out, why. Empty when nothing exceeds its error."""
    fault = fatal_fault(option)
    if fault:
        words = told.words
        if words.has("fault_cards", fault.code) and fault.rooms:
            kind = words.say("fault_kinds", fault.code)
            if fault.numbers or kind == "rooms":
                key = _fault_key(fault, "fault_cards", told)
                return words.say("fault_cards", key, **_fault_parts(fault, kind, told))
        return fault_sentence(fault, told)
    reason = weakest(option)
    return card_sentence(reason, told) if reason else ""


def weak_point_long(option: OptionCard, told: Told) -> str:
    """The weak point as it stands in print: `Where this mix loses: it costs ...`; empty when there is none."""
    reason = weakest(option)
    if reason is None:
        return ""
    this = told.words.say("reason_lists", "this_mix" if option.family == "mix" else "this_layout")
    return told.words.say("reason_lists", "loses", this=this, loss=loss(reason, told))
