"""The arguments of a comparison as lines: points lost, reasons, how sure, what would change it, envelope work first."""

from __future__ import annotations

from collections.abc import Iterator

from compare.commands.flip_lines import flip_sentences
from compare.commands.option_name import option_name
from compare.commands.page import Printed
from compare.scoring.criteria import SIX
from compare.scoring.ranking import Ranked
from compare.scoring.reasons import compare_two, reason_sentence
from compare.scoring.scores import OptionScore
from compare.scoring.worries import answer_sentence, answers, worries
from compare.search.check import Checked
from compare.turning_points import envelope_first, flips_of
from compare.units import Kind, show
from compare.worries import asked_of

MOST_REASONS = 5
MOST_BEATING = 2


def lost_lines(page: Printed) -> Iterator[str]:
    """Points lost to the winner by criterion, and what beats an option on every one; where each of the front leads."""
    winner = page.ranking.winner
    if winner is None:
        return
    first = page.letters[winner.option.option_id]
    yield f"Points of the total lost to {first}, by criterion (minus: ahead), and what beats the option everywhere:"
    yield f"   {'match':>7}{'cycl':>6}{'noise':>7}{'comf':>6}{'cost':>6}{'enrg':>6}{'all':>7}"
    for item in page.listed:
        if item.place > 1:
            lost = "".join(f"{n:{width}.1f}" for n, width in zip(item.lost, (7, 6, 7, 6, 6, 6), strict=False))
            yield f"{page.letters[item.option.option_id]:<3}{lost}{sum(item.lost):7.1f}  {_beaten(page, item)}"
    front = [key for key in page.ranking.pareto if key in page.letters]
    more = len(page.ranking.pareto) - len(front)
    rest = f" and {more} more that are not listed" if more else ""
    yield f"Not beaten everywhere by any other: {', '.join(page.letters[key] for key in front) or 'none'}{rest}."


def _beaten(page: Printed, item: Ranked) -> str:
    if not item.dominated_by:
        return "by none: best somewhere"
    names = sorted(item.dominated_by, key=lambda key: (key not in page.letters, key))
    told = "; ".join(page.short(key) for key in names[:MOST_BEATING])
    more = len(names) - MOST_BEATING
    return f"by {told}" + (f" and {more} more" if more > 0 else "")


def reason_lines(page: Printed) -> Iterator[str]:
    """The winner against every other listed option, in both directions."""
    winner = page.ranking.winner
    if winner is None:
        return
    yield "Why, and where it loses (only differences beyond the error of their data):"
    for item in page.listed:
        if item.option.option_id != winner.option.option_id:
            behind = f"{sum(item.lost):.1f} points behind" if item.place else "left out"
            yield f"{page.letters[winner.option.option_id]} against {page.letters[item.option.option_id]}, {behind}:"
            yield from _pair(page, winner.option, item.option)


def _pair(page: Printed, winner: OptionScore, other: OptionScore) -> Iterator[str]:
    pair = compare_two(winner, other, page.ranking.weights)
    for mark, reasons in (("+", pair.for_first), ("-", pair.for_second)):
        for reason in reasons[:MOST_REASONS]:
            names = page.letters[reason.better_id], page.letters[reason.worse_id]
            yield f"  {mark} {reason_sentence(reason, *names, page.units.value)}"


def sure_lines(page: Printed) -> Iterator[str]:
    """The verdict, who is first in the other draws, and the bands of all totals."""
    sure = page.found.certainty(page.ranking.weights)
    if sure.draws == 0:
        return
    winner = page.letters[sure.near[0]]
    yield (
        f"How sure: {sure.verdict.value}. {winner} stays first in {sure.stays_frac:.0%} of {sure.draws} joint draws of "
        f"house, units, prices, credit and weights."
    )
    for option_id, share in sure.others[:MOST_REASONS]:
        yield f"  {page.short(option_id)} is first in {share:.0%}"
    yield "  Eight draws of ten: " + ", ".join(f"{page.short(k)} {low:.0f}-{high:.0f}" for k, low, high in sure.bands)


def checked_lines(checked: Checked) -> Iterator[str]:
    """How far scaled draws and draws simulated again in full lie apart."""
    yield (
        f"Draws checked: {checked.draws} houses built and simulated again in full, {checked.options} options each. The "
        f"totals differ by {checked.mean_points:.2f} points on average and {checked.most_points:.2f} at most; the same "
        f"option is first in {checked.order_kept_frac:.0%} of them."
    )


def flip_lines(page: Printed) -> Iterator[str]:
    """One sentence for each change that puts another kind of layout first."""
    winner = page.ranking.winner
    assert winner is not None
    yield "What would put another kind of layout first (the smallest change of each sort):"
    flips = flips_of(page.found, page.ranking.weights)
    for line in flip_sentences(flips, winner.option.family, page.short, page.units.value):
        yield f"  {line}"


def envelope_lines(page: Printed) -> Iterator[str]:
    """The house with its attic insulated and sealed first: loads, and each kind's best with its new sizes."""
    after = envelope_first(page.found)
    if after is None:
        yield "Envelope work first: the attic is insulated already, nothing to work out."
        return
    now, units = page.found.case.loads.house, page.units
    pairs = [(now.heat_w, after.heat_w, "heating"), (now.cool_total_w, after.cool_w, "cooling")]
    told = ", ".join(
        f"{word} {show(before, Kind.CAPACITY, units)} -> {show(then, Kind.CAPACITY, units)}"
        for before, then, word in pairs
    )
    yield f"With the attic insulated and sealed first (worked out anew with new sizes): {told}."
    rooms = [room.name for room in page.found.case.plan.rooms]
    same = [item for item in page.ranking.ranked if item.place and item.option.option_id in after.options]
    was = {item.option.family: item for item in reversed(same)}
    for item in after.best_of_kinds(page.ranking.weights):
        option = after.options[item.option.option_id]
        sizes = ", ".join(zone.pair.label for zone in option.zones)
        before = was.get(item.option.family)
        kept = f" (now {before.total:.1f})" if before else " (now left out)"
        yield f"  {item.total:5.1f}{kept}  ${item.option.price_usd:,.0f}  {option_name(option, rooms)}: {sizes}"


def profile_lines(page: Printed) -> Iterator[str]:
    """The winner under each of the five profiles, the chosen weights first."""
    yield "Best under other priorities:"
    winner = page.ranking.winner
    rows = [(f"as chosen: {page.ranking.weights.name}", (winner.option.option_id,) if winner else ())]
    for name, ids in (*rows, *page.ranking.profile_winners):
        if ids:
            equal = f" (and {len(ids) - 1} within 3 points)" if len(ids) > 1 else ""
            letter = f"{page.letters[ids[0]]}: " if ids[0] in page.letters else ""
            scores = page.ranking.find(ids[0]).option.scores
            told = " ".join(f"{score:.0f}" for score in scores[: len(SIX)])
            yield f"  {name:<24} {letter}{page.name(ids[0])} [{told}]{equal}"


def worry_lines(page: Printed) -> Iterator[str]:
    """What families ask, answered from this house's numbers."""
    asked = asked_of(page.found, page.ranking)
    if asked is None:
        return
    each = asked.each.option_id if asked.each else ""
    names = page.letters[asked.winner.option_id], page.letters.get(each, "a unit in every room")
    yield "What families ask, from this house's numbers:"
    for worry, answer in zip(worries(), answers(asked), strict=True):
        yield f"  {worry.question} {answer_sentence(answer, asked, names, page.units.value)}"
