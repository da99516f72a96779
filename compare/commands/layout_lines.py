"""Every layout of a house as lines: what rooms may get, counts, what is proven, the best, what was left out."""

from __future__ import annotations

import csv
import io
from collections import Counter, defaultdict
from collections.abc import Iterator

from compare.commands.option_name import option_name
from compare.house.plan import Plan, Use
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.search.exhaust import Searched
from compare.search.proof import Proof
from compare.zones.ducted_sets import DuctedSets
from compare.zones.layouts import Layer, room_offers

MOST_REASONS = 12
WORDS = {
    "h": "a room unit",
    "d": "a branch of a ducted unit",
    "e": "a room heater",
    "o": "the old heat",
    "b": "the air of its neighbours",
}
BY_RULE = {
    Use.BATH: "by rule: a branch of the largest ducted group that reaches it, else the air of its neighbours",
    Use.HALL: "by rule: the air of its neighbours",
    Use.ENTRY: "by rule: the air of its neighbours",
}
NOTHING = "by rule: nothing"
COLD = "a bedroom too cold on the coldest nights, or without any source of heat"
RULES = (
    "By rule: baths join the largest ducted group of their level; halls and entries get no branch, because air comes",
    "back through them; a hall gets a unit only at the head of a stair; laundries and storage get nothing.",
)


def offer_lines(plan: Plan) -> Iterator[str]:
    """What each room may get, and which sets of rooms no ducted unit is offered to."""
    yield "What each room may get:"
    offers = room_offers(plan)
    width = max(len(room.name) for room in plan.rooms)
    for index, room in enumerate(plan.rooms):
        text = ", ".join(WORDS[letter] for letter in offers[index]) or BY_RULE.get(room.use, NOTHING)
        yield f"  {room.name:<{width}}  {text}"
    sets = DuctedSets(plan)
    rooms = [index for index, room in enumerate(plan.rooms) if room.habitable]
    refused: dict[str, list[str]] = defaultdict(list)
    for item in sets.refused(rooms):
        refused[item.reason.value].append(", ".join(plan.rooms[room].name for room in item.rooms))
    yield (
        "Sets of rooms on one level that no ducted unit is offered to, by reason:"
        if refused
        else ("Every set of rooms on one level may share a ducted unit.")
    )
    for reason, names in refused.items():
        yield f"  {len(names):>6,}  {reason}, such as {min(names, key=len)}"


def count_lines(proof: Proof) -> Iterator[str]:
    """Layouts by kind and family."""
    yield f"{proof.enumerated:,} layouts by what each room gets, with every place for ducts:"
    for layer in Layer:
        done, exist = proof.of_kind(layer.value)
        few = f" ({done:,} of them simulated)" if done != exist else ""
        yield f"  {exist:>6,}  {layer.value}{few}"
        for name, count in proof.counts.items():
            if name.startswith(f"{layer.value}: "):
                yield f"          {count:>6,}  {name.removeprefix(layer.value + ': ').replace('_', ' ')}"
    yield from RULES


def proof_lines(proof: Proof) -> Iterator[str]:
    """What was simulated, and what that proves."""
    yield (
        f"Years run: {proof.simulated:,} layouts, {proof.options:,} with their ways to group outdoor units; "
        f"{proof.rejected:,} of these are left out. Run again in full with their own doors: {proof.run_in_full}."
    )
    took = ", ".join(f"{name} {seconds:.1f} s" for name, seconds in proof.seconds.items())
    yield f"Time: {took}."
    yield (
        f"Full runs lie {proof.offset_points:+.1f} points from the quick ones on average and "
        f"{proof.scatter_points:.1f} points off that at most; "
        f"the best layout that was not run in full is {proof.next_points:.1f} points behind."
    )
    yield proof_sentence(proof)


def proof_sentence(proof: Proof) -> str:
    """The set that the best is the best of."""
    if proof.proven:
        return f"Proven best of all {proof.enumerated:,} layouts and of the families', under the chosen weights."
    best = f"Best of {proof.simulated:,} layouts simulated of {proof.enumerated:,}"
    if not proof.ahead:
        return f"{best}; the quick and the full runs differ by more than its lead, so that another may be as good."
    kinds = [f"all {proof.of_kind(kind)[1]:,} {kind}" for kind in proof.proven_kinds]
    if not kinds:
        return f"{best}; the others were screened."
    return f"{best}, and proven so among {' and '.join(kinds)}; the others were screened."


def best_lines(found: Comparison, searched: Searched, top: int) -> Iterator[str]:
    """The best layouts: total by the quick run, and by the full one where there is one."""
    rooms = [room.name for room in found.case.plan.rooms]
    totals = searched.totals(found.weights)
    full = {result.score.option_id: result.score.total(found.weights) for result in found.results if result.settled}
    order = sorted(
        searched.best(found.weights, top, 100.0), key=lambda k: -full.get(searched.options[k].key, totals[k] - 100.0)
    )
    yield f"{'quick':>7}{'full':>7}  layout"
    for k in order:
        option = searched.options[k]
        own = f"{full[option.key]:7.1f}" if option.key in full else f"{'':7}"
        yield f"{totals[k]:7.1f}{own}  {option_name(option, rooms)}  [{option.key}]"


def left_out(option: Option, fatal: bool) -> list[tuple[str, str]]:
    """Why an option is left out, by code and text; empty where it is not."""
    found = [(finding.code, finding.text) for finding in option.findings if finding.fatal]
    return found or ([("cold bedroom", COLD)] if fatal else [])


def rejected_lines(found: Comparison, searched: Searched) -> Iterator[str]:
    """Why options are left out, most frequent reason first, each with the simplest option that it is true of."""
    rooms = [room.name for room in found.case.plan.rooms]
    reasons: Counter[tuple[str, str]] = Counter()
    simplest: dict[tuple[str, str], Option] = {}
    for option, fatal in zip(searched.options, searched.fatal, strict=True):
        for reason in left_out(option, bool(fatal)):
            reasons[reason] += 1
            known = simplest.setdefault(reason, option)
            if len(option.zones) < len(known.zones):
                simplest[reason] = option
    yield "Left out, by reason (an option may have several; --csv writes each with its own):"
    for (code, text), count in reasons.most_common(MOST_REASONS):
        yield f"  {count:>6,}  {code.replace('_', ' ')}: {text}"
        yield f"          such as {option_name(simplest[code, text], rooms)}"
    if len(reasons) > MOST_REASONS:
        yield f"  and {len(reasons) - MOST_REASONS} further reasons"
    if not reasons:
        yield "  none"


def layouts_csv(found: Comparison, searched: Searched) -> str:
    """One row per simulated option: id, family, what it is, total by the quick run, and why it is left out."""
    rooms = [room.name for room in found.case.plan.rooms]
    totals = searched.scores @ found.weights.array
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["option", "family", "name", "quick_total", "left_out"])
    for option, total, fatal in zip(searched.options, totals, searched.fatal, strict=True):
        why = "; ".join(f"{code.replace('_', ' ')}: {text}" for code, text in left_out(option, bool(fatal)))
        writer.writerow([option.key, option.family.value, option_name(option, rooms), f"{total:.3f}", why])
    return out.getvalue()
