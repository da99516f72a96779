"""Which options stand as cards, and which in the list under them."""

from __future__ import annotations

from compare.scoring.shown import families
from compare.views.customer import CustomerView, OptionCard
from proposal.words import is_close

MOST_CARDS = 5


def card_options(view: CustomerView) -> tuple[OptionCard, ...]:
    """At most five, in the order of the view: the winner, its rival, then the best of each family, then the next.

    A rejected option keeps its place among them, because its price is why people ask for it.
    """
    shown = [option for option in view.options if option.id in view.cards]
    first = [view.answer.winner, view.answer.runner_up or ""]
    wanted = [option for option in shown if option.id in first]
    for family in (family.family for family in families() if family.always):
        best = next((option for option in shown if option.family == family), None)
        if best and all(other.family != family for other in wanted):
            wanted.append(best)
    wanted += [option for option in shown if option not in wanted]
    kept = {option.id for option in wanted[:MOST_CARDS]}
    return tuple(sorted((option for option in view.options if option.id in kept), key=lambda o: _order(o, view)))


def _order(option: OptionCard, view: CustomerView) -> tuple[bool, float]:
    """When it is too close to call, the equals come first, by price; all others keep their order."""
    first = is_close(view) and option.id in view.answer.equals
    return not first, option.facts.price_usd if first else 0.0


def other_options(view: CustomerView) -> tuple[OptionCard, ...]:
    """All others, in the order of the view."""
    kept = {option.id for option in card_options(view)}
    return tuple(option for option in view.options if option.id not in kept)
