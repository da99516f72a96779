"""Every layout that a house can have: run on measures in the background, and any of them in full when it is opened."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from compare.every_layout import with_best
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.search.exhaust import Searched
from compare.years.bench import Bench
from compare.years.gather import Shared
from compare.years.supplies import factory_of


class Hunt(StrEnum):
    """How far the run of every layout is."""

    IDLE = "idle"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Progress:
    """State of the run: what is being done, how much of it, and how much there is."""

    state: Hunt = Hunt.IDLE
    what: str = ""
    done: int = 0
    total: int = 0


@dataclass(frozen=True, slots=True)
class Quick:
    """A layout of the enumeration that was run on measures alone."""

    option: Option
    total: float
    """Fit of 100 by the quick run, moved by what full runs differ from quick ones on average; minus infinity where it
    is left out."""

    @property
    def price_usd(self) -> float:
        """Installed price, middle."""
        return float(self.option.price.mid_usd)

    @property
    def left_out(self) -> bool:
        """Whether it has a fatal fault."""
        return math.isinf(self.total)


def quick_layouts(found: Comparison) -> dict[str, Quick]:
    """Every layout that was run on measures and not in full, by id, the best first; none before the run."""
    space: Searched | None = found.space
    if space is None:
        return {}
    totals = space.totals(found.weights) + (found.proof.offset_points if found.proof is not None else 0.0)
    full = found.by_id
    order = sorted(range(len(space.options)), key=lambda k: (-totals[k], space.options[k].key))
    return {
        space.options[k].key: Quick(space.options[k], float(totals[k]))
        for k in order
        if space.options[k].key not in full
    }


def with_full_run(found: Comparison, option: Option) -> Comparison:
    """The comparison with one more layout run in full, with the doors of its own temperatures."""
    numbers = rulebook().numbers
    bench = Bench(found.case, factory_of(found.case), found.season, numbers)
    base = found.kit.base
    shared = Shared(found.case, found.season, numbers, found.need, base.reference_usd, base.ears)
    result = bench.result(bench.settled_alone(option), shared, settled=True)
    return replace(found, results=(*found.results, result), ears=shared.ears)


def every_layout(found: Comparison, tell: Callable[[Progress], None]) -> Comparison:
    """The comparison with every layout run on measures and the best of them in full."""
    return with_best(found, lambda what, done, total: tell(Progress(Hunt.RUNNING, what, done, total)))
