"""`layouts`: every layout that a house allows, by kind; which is best, of what, and what was left out and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from compare.commands.console import clear_errors, house_at, progress_bar, say
from compare.commands.tables import option_name
from compare.pipeline import Comparison, compare_house
from compare.search.exhaust import Searched
from compare.search.proof import Proof
from compare.zones.layouts import Layer

Top = Annotated[int, typer.Option(help="How many of the best layouts to list.", min=0)]
MOST_REASONS = 12


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("layouts")(layouts)


def layouts(file: Annotated[Path, typer.Argument(help="House file (TOML).")], top: Top = 20) -> None:
    """Count, simulate and rank every layout of a house, and say what the best is the best of."""
    house = house_at(file)
    with clear_errors(), progress_bar() as tell:
        found = compare_house(house, file.parent, progress=tell).with_best(tell)
    searched = found.space
    assert found.proof is not None
    assert searched is not None
    for line in (*count_lines(found.proof), "", *proof_lines(found.proof), ""):
        say(line)
    for line in (*best_lines(found, searched, top), "", *rejected_lines(searched)):
        say(line)


def count_lines(proof: Proof) -> Iterator[str]:
    """Layouts by kind and family."""
    yield f"{proof.enumerated:,} layouts by what each room gets, with every place for ducts:"
    for layer in Layer:
        yield f"  {proof.counts.get(layer.value, 0):>6,}  {layer.value}"
        for name, count in proof.counts.items():
            if name.startswith(f"{layer.value}: "):
                yield f"          {count:>6,}  {name.removeprefix(layer.value + ': ').replace('_', ' ')}"
    yield "Baths join the largest ducted group of their level; at most six habitable rooms to a ducted unit."


def proof_lines(proof: Proof) -> Iterator[str]:
    """What was simulated, and what that proves."""
    whole = proof.simulated == proof.enumerated
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
    if proof.proven:
        yield f"Proven best of these {proof.enumerated:,} layouts and of the families', under the chosen weights."
    elif whole:
        yield (
            f"Best of {proof.simulated:,} simulated of {proof.enumerated:,}; the two runs differ by more than its "
            "lead, so that another of those may be as good."
        )
    else:
        yield f"Best of {proof.simulated:,} simulated of {proof.enumerated:,}; the others were screened."


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


def rejected_lines(searched: Searched) -> Iterator[str]:
    """Why options are left out, most frequent reason first."""
    reasons: Counter[tuple[str, str]] = Counter()
    cold = 0
    for option, fatal in zip(searched.options, searched.fatal, strict=True):
        texts = [(finding.code, finding.text) for finding in option.findings if finding.fatal]
        reasons.update(texts)
        cold += bool(fatal) and not texts
    yield "Left out, by reason (an option may have several):"
    if cold:
        yield f"  {cold:>6,}  a bedroom too cold on the coldest nights, or without any source of heat"
    for (code, text), count in reasons.most_common(MOST_REASONS):
        yield f"  {count:>6,}  {code.replace('_', ' ')}: {text}"
    if len(reasons) > MOST_REASONS:
        yield f"  and {len(reasons) - MOST_REASONS} further reasons"
