"""Every layout of a house, run on measures alone; the best of them run in full, and what that proves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from time import perf_counter

from compare.offer import Progress, old_heat_rooms, options_of, silent
from compare.options.option import Option
from compare.pipeline import FINALIST_POINTS, Comparison
from compare.scoring.judgements import rulebook
from compare.scoring.weights import profiles
from compare.search.exhaust import Searched, run_all
from compare.search.proof import open_places, proof_of
from compare.search.screen import predicted, sample_of
from compare.years.bench import Bench
from compare.years.gather import Shared
from compare.years.supplies import factory_of
from compare.zones.layouts import Layer, all_layouts, counts
from compare.zones.sketch import LayoutSketch

PROVEN_ROOMS, FULL_ROOMS = 10, 12
"""Rooms up to which every layout is simulated, and every fully served one."""
MOST_SIMULATED = 4500
MOST_SCREENED = 1000
SAMPLE = 1024
CHOSEN_RERUN, PROFILE_RERUN = 16, 4
"""Best layouts that are run in full: under the chosen weights, and under each profile."""
DOUBT_RERUN = 40
"""Further ones where the two runs differ by more than the lead."""


def with_best(found: Comparison, tell: Progress) -> Comparison:
    """Add the best of the enumeration, run in full, and say what was proven."""
    searched = search_layouts(found, tell)
    case, numbers = found.case, rulebook().numbers
    bench = Bench(case, factory_of(case), found.season, numbers)
    shared = Shared(case, found.season, numbers, found.need, found.kit.base.reference_usd, found.kit.base.ears)
    wanted: dict[str, int] = {}
    for weights in (found.weights, *(profile.weights for profile in profiles())):
        most = CHOSEN_RERUN if weights is found.weights else PROFILE_RERUN
        wanted |= {searched.options[k].key: k for k in searched.best(weights, most, FINALIST_POINTS)}
    whole = replace(found, space=searched)
    for _ in range(2):
        fresh = [k for key, k in wanted.items() if key not in whole.by_id]
        added = []
        for done, place in enumerate(fresh, start=1):
            run = bench.settled_run(bench.first_runs([searched.options[place]])[0])
            added.append(bench.result(run, shared, settled=True))
            tell("best layouts in full", done, len(fresh))
        whole = replace(whole, results=(*whole.results, *added), ears=shared.ears)
        proof = proof_of(searched, whole.results, whole.weights)
        whole = replace(whole, proof=proof)
        if proof.next_points > proof.scatter_points:
            break
        doubt = open_places(searched, proof, whole.results, whole.weights, DOUBT_RERUN)
        wanted = {searched.options[k].key: k for k in doubt}
    return whole


def search_layouts(found: Comparison, tell: Progress = silent) -> Searched:
    """Enumerate and simulate.

    Up to `PROVEN_ROOMS` rooms every layout of every kind; to `FULL_ROOMS` rooms every fully served layout, others
    screened; beyond, all screened. Never more than `MOST_SIMULATED`.
    """
    case, started = found.case, perf_counter()
    rooms = len(case.plan.rooms)
    every = list(all_layouts(case.plan, old_heat_rooms=old_heat_rooms(case), layers=frozenset(Layer)))
    kept = [item.layout for item in every if rooms <= PROVEN_ROOMS or item.layer is Layer.FULL]
    others = [item.layout for item in every if not (rooms <= PROVEN_ROOMS or item.layer is Layer.FULL)]
    if rooms > FULL_ROOMS or len(kept) > MOST_SIMULATED:
        kept, others = [], [item.layout for item in every]
    room_left = max(0, min(MOST_SIMULATED - len(kept), MOST_SCREENED))
    chosen = [*kept, *_screened(found, others, room_left)]
    options = options_of(case, found.sources, chosen, tell)
    built = perf_counter()
    found.kit.hear(options, found.sources.units)
    scores, fatal, seconds = run_all(found.kit, options, lambda done, of: tell("every layout", done, of))
    return Searched(
        options=options,
        scores=scores,
        fatal=fatal,
        counts=counts(every),
        enumerated=len(every),
        simulated=len(chosen),
        seconds={"units, ducts and prices": built - started, **seconds},
    )


def _screened(found: Comparison, layouts: Sequence[LayoutSketch], most: int) -> list[LayoutSketch]:
    """The most promising layouts by parts fitted on a simulated sample; all of them where they are few."""
    if len(layouts) <= most:
        return list(layouts)
    sample = sample_of(len(layouts), SAMPLE)
    made = options_of(found.case, found.sources, [layouts[k] for k in sample])
    options = [option for option in made if not _shares(option)]
    found.kit.hear(options, found.sources.units)
    scores, _, _ = run_all(found.kit, options)
    guess = predicted(layouts, sample, scores @ found.weights.array)
    order = sorted(range(len(layouts)), key=lambda k: -guess[k])
    return [layouts[k] for k in sorted(order[:most])]


def _shares(option: Option) -> bool:
    return any(group.shared for group in option.outdoor.groups)
