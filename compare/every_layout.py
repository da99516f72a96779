"""Every layout of a house, run on measures alone; the best of them run in full, and what that proves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from time import perf_counter

import numpy as np
import numpy.typing as npt

from compare.offer import Progress, old_heat_rooms, options_of, silent
from compare.options.option import Option
from compare.pipeline import FINALIST_POINTS, Comparison
from compare.scoring.criteria import CRITERIA
from compare.scoring.judgements import rulebook
from compare.scoring.weights import profiles
from compare.search.exhaust import Searched, run_all
from compare.search.kit import Kit
from compare.search.proof import SIMULATED, open_places, proof_of
from compare.search.screen import predicted, sample_of
from compare.years.bench import Bench
from compare.years.gather import Shared
from compare.years.supplies import factory_of
from compare.zones.layouts import Enumerated, Layer, all_layouts, counts
from compare.zones.sketch import LayoutSketch

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

PROVEN_ROOMS, FULL_ROOMS = 10, 12
"""Rooms up to which every layout is simulated, and every fully served one."""
MOST_SIMULATED = 9000
MOST_SCREENED = 1000
MOST_SHARED = 300
"""Best layouts that are also tried on shared outdoor units where not every form of every layout is run."""
SAMPLE = 1024
PORTION = 512
"""Options on shared outdoor units whose hourly rows are held at once."""
CHOSEN_RERUN, PROFILE_RERUN = 16, 4
"""Best layouts that are run in full: under the chosen weights, and under each profile."""
DOUBT_RERUN = 40
"""Further ones where the two runs differ by more than the lead."""


def with_best(found: Comparison, tell: Progress = silent) -> Comparison:
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
            added.append(bench.result(bench.settled_alone(searched.options[place]), shared, settled=True))
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

    Up to `PROVEN_ROOMS` rooms every layout of every kind in each form of outdoor units. To `FULL_ROOMS` rooms every
    fully served layout, others screened, and shared outdoor units for the best of them. Beyond, and where there are
    more than `MOST_SIMULATED`, all are screened.
    """
    case, started = found.case, perf_counter()
    every = list(all_layouts(case.plan, old_heat_rooms=old_heat_rooms(case), layers=frozenset(Layer)))
    chosen, whole = _chosen(found, every)
    options = options_of(case, found.sources, [item.layout for item in chosen], tell, sharing=whole)
    built = perf_counter()
    scores, fatal, seconds = _run(found, options, tell)
    simulated = Counter(item.layer.value for item in chosen)
    searched = Searched(
        options=options,
        scores=scores,
        fatal=fatal,
        counts=counts(every) | {f"{SIMULATED}{layer}": number for layer, number in simulated.items()},
        enumerated=len(every),
        simulated=len(chosen),
        seconds={"units, ducts and prices": built - started, **seconds},
    )
    return searched if whole else _with_shared(found, searched)


def _chosen(found: Comparison, every: Sequence[Enumerated]) -> tuple[list[Enumerated], bool]:
    """Layouts to simulate, in their order, and whether each is to be run in every form of outdoor units."""
    rooms = len(found.case.plan.rooms)
    if rooms <= PROVEN_ROOMS and len(every) <= MOST_SIMULATED:
        return list(every), True
    kept = [item for item in every if item.layer is Layer.FULL]
    if rooms > FULL_ROOMS or len(kept) > MOST_SIMULATED - MOST_SCREENED:
        return _screened(found, every, MOST_SCREENED), False
    others = [item for item in every if item.layer is not Layer.FULL]
    return [*kept, *_screened(found, others, MOST_SCREENED)], False


def _run(
    found: Comparison, options: Sequence[Option], tell: Progress = silent
) -> tuple[FloatArray, BoolArray, dict[str, float]]:
    """Scores, rejections and seconds of some options, in portions.

    Each shared outdoor unit has hourly rows of its own; a portion's go with its kit, so that memory does not grow with
    the number of layouts. Options with single outdoor units have most rows in common and run as one portion.
    """
    found.kit.hear(options, found.sources.units)
    scores, fatal = np.empty((len(options), len(CRITERIA))), np.empty(len(options), dtype=np.bool_)
    seconds: Counter[str] = Counter()
    done = 0
    for portion in _portions(options):
        own = [options[k] for k in portion]
        kit = Kit(found.kit.base, found.kit.book)
        got = run_all(kit, own, partial(_tell, tell, done, len(options)))
        scores[portion], fatal[portion] = got[:2]
        seconds.update(got[2])
        done += len(portion)
    return scores, fatal, dict(seconds)


def _tell(tell: Progress, before: int, of: int, done: int, _own: int) -> None:
    tell("every layout", before + done, of)


def _portions(options: Sequence[Option]) -> list[list[int]]:
    """Places of options with single outdoor units, then of the others, those with like numbers of units together."""
    apart = [k for k, option in enumerate(options) if not _shares(option)]
    shared = [k for k, option in enumerate(options) if _shares(option)]
    shared.sort(key=lambda k: (len(options[k].zones), sum(zone.ducts is not None for zone in options[k].zones)))
    return [part for part in (apart, *(shared[i : i + PORTION] for i in range(0, len(shared), PORTION))) if part]


def _screened(found: Comparison, items: Sequence[Enumerated], most: int) -> list[Enumerated]:
    """The most promising layouts by parts fitted on a simulated sample; all of them where they are few."""
    if len(items) <= most:
        return list(items)
    layouts = [item.layout for item in items]
    sample = sample_of(len(layouts), SAMPLE)
    options = options_of(found.case, found.sources, [layouts[k] for k in sample], sharing=False)
    scores, _, _ = _run(found, options)
    guess = predicted(layouts, sample, scores @ found.weights.array)
    order = sorted(range(len(layouts)), key=lambda k: -guess[k])
    return [items[k] for k in sorted(order[:most])]


def _with_shared(found: Comparison, searched: Searched) -> Searched:
    """The best layouts, under the chosen weights and each profile, also on shared outdoor units."""
    best: dict[LayoutSketch, None] = {}
    everyone = (found.weights, *(profile.weights for profile in profiles()))
    for weights in everyone:
        places = searched.best(weights, MOST_SHARED // len(everyone), np.inf)
        best |= dict.fromkeys(searched.options[k].layout for k in places)
    started = perf_counter()
    made = options_of(found.case, found.sources, list(best))
    shared = tuple(option for option in made if _shares(option))
    if not shared:
        return searched
    scores, fatal, _ = _run(found, shared)
    return replace(
        searched,
        options=(*searched.options, *shared),
        scores=np.concatenate([searched.scores, scores]),
        fatal=np.concatenate([searched.fatal, fatal]),
        seconds=searched.seconds | {"shared outdoor units": perf_counter() - started},
    )


def _shares(option: Option) -> bool:
    return any(group.shared for group in option.outdoor.groups)
