"""Arguments in words: why this layout, where it loses, why not another, what would change the advice."""

from __future__ import annotations

from collections.abc import Sequence

from compare.views.customer import CustomerView, OptionCard, ReasonLine
from proposal.words.answer import Lead, equals
from proposal.words.language import capital
from proposal.words.options import LEFT_OUT, option_phrase, question, winner_of
from proposal.words.reasons import (
    Told,
    fatal_fault,
    fault_sentence,
    gain,
    homely,
    loss,
    lost,
    strongest_first,
    weak_point_long,
    weakest,
    why,
)

MOST_REASONS = 5
MOST_LOSSES = 5
WISHED = {
    "Keep the price down": ("price",),
    "Quiet and even": ("bed_noise", "seat_noise", "outdoor_noise", "morning"),
    "Low bills": ("bill", "energy"),
    "Built to last": ("starts", "below_minimum"),
}
"""Facts that each wish is about."""


def rivals(view: CustomerView) -> tuple[OptionCard, ...]:
    """Options on the cards other than the winner and its equals: the runner-up first, those left out last."""
    same = {option.family for option in equals(view)}
    shown = (option for option in map(view.option, view.cards) if option.family not in same)
    return tuple(
        sorted(shown, key=lambda option: (option.status == LEFT_OUT, option.id != view.answer.runner_up, -option.total))
    )


def why_reasons(told: Told, most: int = MOST_REASONS) -> tuple[str, ...]:
    """Up to five facts for the recommended layout: one for each rival, then a second; each kind of fact once."""
    used: set[str] = set()
    said: list[str] = []
    others = rivals(told.view)
    for turn in range(2):
        for rival in others:
            if fatal_fault(rival):
                said += [left_out_because(rival, told)] if turn == 0 else []
                continue
            facts = strongest_first(homely(rival.worse_than_winner))
            fresh = next((reason for reason in facts if reason.code not in used), None)
            if fresh:
                used.add(fresh.code)
                said.append(f"{capital(why(fresh, told))}.")
    return tuple(said[:most])


def left_out_because(option: OptionCard, told: Told) -> str:
    """Why an option is left out, behind its name; empty for an offered one."""
    fault = fatal_fault(option)
    if fault is None:
        return ""
    phrase = option_phrase(told.view, option, told.words)
    return told.words.say("reason_lists", "left_out", phrase=phrase, fault=fault_sentence(fault, told))


def _losses(view: CustomerView, subject: OptionCard) -> list[ReasonLine]:
    """Facts in which others beat the subject, most points first."""
    if subject.id != view.answer.winner:
        return homely(subject.worse_than_winner)
    found = [reason for rival in rivals(view) if not fatal_fault(rival) for reason in homely(rival.better_than_winner)]
    return sorted(found, key=lambda reason: -reason.points)


def where_it_loses(told: Told, option: OptionCard | None = None, most: int = MOST_LOSSES) -> tuple[str, ...]:
    """The weak point in print, and every loss of another kind, what counts most first; of the advice by default."""
    subject = option or winner_of(told.view)
    if subject is None:
        return ()
    first = weak_point_long(subject, told)
    said = [first] if first else []
    weak = weakest(subject)
    used = {weak.code} if weak else set()
    for reason in _losses(told.view, subject):
        if reason.code not in used and len(said) < most:
            used.add(reason.code)
            said.append(f"{capital(loss(reason, told))}.")
    return tuple(said)


def _that_count(reasons: Sequence[ReasonLine]) -> list[ReasonLine]:
    """Reasons that carry points, and the bill; facts that are only shown where there are no others."""
    found = homely(reasons)
    return strongest_first([reason for reason in found if reason.points > 0.0 or reason.code == "bill"] or found)


def why_not(option: OptionCard, told: Told) -> Lead:
    """A question about another layout and its answer: what it does better, then what it does worse."""
    view, words = told.view, told.words
    fault = fatal_fault(option)
    gains = [
        words.say("answers", "gain", gain=capital(gain(reason, told)))
        for reason in homely(option.better_than_winner)[:1]
    ]
    if option.id in {equal.id for equal in equals(view)}:
        said = [words.say("answers", "close")]
    elif fault:
        said = [*gains, words.say("answers", "left_out", fault=fault_sentence(fault, told))]
    else:
        most = 1 if gains and option.id != view.answer.runner_up else 2
        losses = [why(reason, told) for reason in _that_count(option.worse_than_winner)[:most]]
        but = [words.say("answers", "but", why=losses[0])] if gains and losses else []
        said = [*gains, *but, *(words.say("answers", "why", why=capital(text)) for text in losses[len(but) :])]
    return Lead(question(view, option, words), " ".join(said) or words.say("answers", "even"))


def questions(told: Told) -> tuple[Lead, ...]:
    """A question for each other card, the strongest rival first."""
    return tuple(why_not(option, told) for option in rivals(told.view))


def _turn(option: OptionCard, told: Told) -> str:
    """What taking another layout instead would bring and cost."""
    words = told.words
    better, worse = homely(option.better_than_winner)[:1], homely(option.worse_than_winner)[:1]
    keys = {(1, 1): "take", (1, 0): "take_gain", (0, 1): "take_loss", (0, 0): "take_plain"}
    return words.say(
        "turns",
        keys[len(better), len(worse)],
        phrase=option_phrase(told.view, option, words),
        gain=capital(gain(better[0], told)) if better else "",
        loss=loss(worse[0], told) if worse else "",
    )


def _wish(wishes: list[str], told: Told) -> str:
    words = told.words
    shown = wishes[0]
    if len(wishes) > 1:
        shown = words.say("turns", "either", first=", ".join(wishes[:-1]), last=wishes[-1])
    return words.say("turns", "lead", wishes=shown)


def _cards_of(view: CustomerView) -> dict[str, str]:
    """For each option the card that stands for its kind; forms of one layout share it."""
    cards = {view.option(item).family: item for item in view.cards}
    cards |= {option.family: option.id for option in equals(view)}
    return {option.id: cards.get(option.family, option.id) for option in view.options}


def turns(told: Told) -> tuple[Lead, ...]:
    """What would change the advice: the wishes under which another layout wins, then those under which none does."""
    view, words = told.view, told.words
    by_winner: dict[str, list[str]] = {}
    profiles: dict[str, list[str]] = {}
    known = _cards_of(view)
    for profile, winner in view.profile_winners.items():
        key = words.say("turn_keys", profile)
        if key != "wish_balanced" and winner in known:
            by_winner.setdefault(known[winner], []).append(words.say("turns", key))
            profiles.setdefault(known[winner], []).append(profile)
    same = {option.id for option in equals(view)}
    changed, kept = [], []
    for winner, wishes in by_winner.items():
        option = view.option(winner)
        if winner in same:
            key = "leans" if len(same) > 1 else "stays"
            stays = words.say("turns", key, phrase=option_phrase(view, option, words))
            every = len(by_winner) == 1 and len(wishes) > 2
            if every and view.flips_tried:
                continue
            facts = [_decides(option, profile, view) for profile in profiles[winner]]
            decided = [f"{capital(gain(fact, told))}." for fact in facts if fact is not None][:1]
            lead = words.say("turns", "lead_any") if every else _wish(wishes, told)
            kept.append(Lead(lead, " ".join((stays, *decided))))
        else:
            changed.append(Lead(_wish(wishes, told), _turn(option, told)))
    return (*changed, *kept)


def choose(told: Told) -> tuple[Lead, ...]:
    """Too close to call: all that each loses against the others, beyond the margin of error."""
    view, words = told.view, told.words
    group = equals(view)
    said = []
    for option in group if len(group) > 1 else ():
        losses = [f"{capital(lost(reason, told))}." for reason in _against_equals(option, view)]
        others = [option_phrase(view, other, words) for other in group if other.id != option.id]
        phrase = option_phrase(view, option, words)
        lead = words.say("choose", "lead" if len(others) == 1 else "lead_many", phrase=phrase, other=others[0])
        said.append(Lead(lead, " ".join(losses[:MOST_LOSSES]) or words.say("choose", "none")))
    return tuple(said)


def _against_equals(option: OptionCard, view: CustomerView) -> list[ReasonLine]:
    """Facts in which an option of an equal group loses to the winner, or the winner to the others, each kind once."""
    if option.id != view.answer.winner:
        return homely(option.worse_than_winner)
    others = [other for other in equals(view) if other.id != option.id]
    found: dict[str, ReasonLine] = {}
    for reason in sorted((r for other in others for r in homely(other.better_than_winner)), key=lambda r: -r.points):
        found.setdefault(reason.code, reason)
    return list(found.values())


def _decides(option: OptionCard, wish: str, view: CustomerView) -> ReasonLine | None:
    """The fact in which an equal layout serves a wish better than the others do; None where the view holds none."""
    others = [other for other in equals(view) if other.id != option.id]
    facts = [reason for other in others for reason in _against_equals(other, view) if reason.better == option.id]
    return next((reason for code in WISHED.get(wish, ()) for reason in facts if reason.code == code), None)
