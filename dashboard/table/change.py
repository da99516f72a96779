"""What a change of a priority or a switch does to the advice, in one sentence each."""

from __future__ import annotations

from compare.units import System
from compare.views.customer import CustomerView, OptionCard
from dashboard.habits import Habit
from dashboard.session import Question, WhatIf
from dashboard.table.choice import card_options
from dashboard.table.scene import Shown
from dashboard.table.text import SWITCH_STATES
from dashboard.table.undo import ChangeWords, told_change
from proposal.words import equals, is_close, lead_points, option_name, option_phrase, words_of
from proposal.words.options import LEFT_OUT, shared_places

CAUSES = ChangeWords(
    switches={
        WhatIf.DOORS_SHUT: ("the bedroom doors are shut at night", "the bedroom doors stand open at night"),
        WhatIf.COOL_BEDROOMS: ("the bedrooms are cooled", "the bedrooms need no cooling"),
        WhatIf.FEW_IN_SIGHT: ("units in sight count", "units in sight do not count"),
        WhatIf.INSULATE_FIRST: ("the attic is insulated first", "the attic stays as it is"),
    },
    priority="“{label}” counts: {stop}",
    numbers={
        Habit.HEATING: "the house is heated to {value}",
        Habit.COOLING: "the house is cooled to {value}",
        Habit.RATE: "electricity costs {value} a kWh",
    },
)
"""What is now the case."""
_MOST_NAMED = 8


def cause(before: Question, after: Question, units: System = System.US) -> str:
    """What changed between two questions, as a clause; empty when nothing did."""
    return told_change(before, after, units, CAUSES)


def _names(view: CustomerView) -> dict[str, str]:
    return {option_name(view, option, words_of()): option.id for option in view.options}


def _enough(before: CustomerView, after: CustomerView) -> str:
    """The layout that is no longer left out, or now is."""
    old, new = _names(before), _names(after)
    for name in (name for name in new if name in old):
        was, now = before.option(old[name]).status == LEFT_OUT, after.option(new[name]).status == LEFT_OUT
        if was != now:
            option = after.option(new[name])
            enough = "no longer enough" if now else "enough"
            return f"{option_phrase(after, option, words_of())} {verb_behind('be', option)} {enough}"
    return ""


def _moved(before: CustomerView, after: CustomerView) -> str:
    """The layout that moves most among the others: `one wall unit moves from third to second`."""
    words = words_of()
    old, new = _names(before), _names(after)
    was, now = shared_places(before), shared_places(after)
    steps: list[tuple[int, str]] = []
    for name in (name for name in new if name in old):
        places = was.get(old[name]), now.get(new[name])
        if not (places[0] and places[1]) or places[0][0] == places[1][0]:
            continue
        first, last = places[0][0], places[1][0]
        if 1 < first <= _MOST_NAMED and 1 < last <= _MOST_NAMED:
            ordinals = [words.say("places", f"ordinal_{place}").lower() for place in (first, last)]
            option = after.option(new[name])
            moves = f"{option_phrase(after, option, words)} {verb_behind('move', option)}"
            steps.append((abs(first - last), f"{moves} from {ordinals[0]} to {ordinals[1]}"))
    return max(steps, default=(0, ""), key=lambda step: step[0])[1]


def _risen(before: CustomerView, after: CustomerView) -> str:
    """From where the layout that is now first alone has come: `one wall unit moves from third to first`."""
    words = words_of()
    winner = next((option for option in after.options if option.id == after.answer.winner), None)
    if winner is None or is_close(after):
        return ""
    old = _names(before).get(option_name(after, winner, words))
    if old is None:
        return ""
    phrase, (place, _) = option_phrase(after, winner, words), shared_places(before).get(old, (0, False))
    if before.option(old).status == LEFT_OUT:
        return f"{phrase} {verb_behind('be', winner)} enough now"
    if not 1 < place <= _MOST_NAMED:
        return ""
    return f"{phrase} {verb_behind('move', winner)} from {words.say('places', f'ordinal_{place}').lower()} to first"


def advice(view: CustomerView) -> tuple[str, ...]:
    """Names of the layouts between which nothing is said; one name where one is advised, none where none is enough."""
    if not any(option.id == view.answer.winner for option in view.options):
        return ()
    return tuple(sorted(option_name(view, option, words_of()) for option in equals(view)))


def change_line(before: CustomerView, after: CustomerView, because: str) -> str:
    """What a change did to the advice."""
    if not because:
        return ""
    if advice(before) != advice(after):
        risen = _risen(before, after)
        return f"New advice, because {because}: {risen}." if risen else f"New advice, because {because}."
    effect = _enough(before, after) or _moved(before, after)
    return f"Now {because}: {effect}. The advice stays." if effect else f"Now {because}. The advice stays."


def bill_line(after: Shown, because: str) -> str:
    """What a price of electricity does: it changes bills and no order, because the order counts kilowatt-hours."""
    bills = after.told.figures
    others = [option for option in card_options(after.view) if option.status != LEFT_OUT]
    first = after.winner or (others[0] if others else None)
    rival = next((option for option in others if first is not None and option.id != first.id), None)
    if first is None or rival is None:
        return f"Now {because}. The order stays."
    costs = [bills.usd(option.facts.bill_usd) for option in (first, rival)]
    names = [option_phrase(after.view, option, words_of()) for option in (first, rival)]
    told = f"{names[0]} then {verb_behind('cost', first)} {costs[0]} a year to run, {names[1]} {costs[1]}"
    return f"Now {because}: {told}. The order stays: it goes by the power that a layout needs, not by its price."


def outcome(shown: Shown, beside: str = "") -> str:
    """As in `the mix leads by 4 points`; where one other catches up with `beside`: `the mix draws level with` it."""
    told = shown.told
    if shown.winner is None:
        return "no layout is enough"
    group = {option_phrase(shown.view, option, told.words): option for option in equals(shown.view)}
    if len(group) == 1:
        return f"{next(iter(group))} {verb_behind('lead', shown.winner)} by {lead_points(told)}"
    others = [phrase for phrase in group if phrase != beside]
    if len(group) == 2 and len(others) == 1:
        return f"{others[0]} {verb_behind('draw', group[others[0]])} level with {beside}"
    return f"{told.words.say('nouns', 'layout_many', n=told.words.count(len(group)))} draw level"


def turn_sentence(what: WhatIf, on: Shown, off: Shown) -> str:
    """What a switch does to the answer and by how much: both its states."""
    state, without = SWITCH_STATES[what]
    leaders = [_alone(shown) for shown in (on, off)]
    first, last = outcome(on, leaders[1]), outcome(off, leaders[0])
    if first == last:
        return f"{state} or not, {first}."
    return f"{state}, {first}. {without}, {last}."


def _alone(shown: Shown) -> str:
    """The layout that leads alone; empty when there is none."""
    if shown.winner is None or is_close(shown.view):
        return ""
    return option_phrase(shown.view, shown.winner, shown.told.words)


def verb_behind(verb: str, option: OptionCard) -> str:
    """The verb behind an option: several units lead, one layout leads."""
    plural = {"head_each": option.heads > 1, "ducted_all": option.hidden > 1, "few_heads": True}
    many = plural.get(option.family, False)
    if verb == "be":
        return "are" if many else "is"
    return verb if many else f"{verb}s"
