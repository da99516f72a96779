"""What a winner is the best of, and how far the quick runs can be trusted to say so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from compare.scoring.weights import Weights
from compare.search.exhaust import Searched
from compare.years.bench import Result

SIMULATED = "simulated: "
"""Before the name of a kind: how many of it were simulated."""


@dataclass(frozen=True, slots=True)
class Proof:
    """One answer's ground. Points are of the total under the chosen weights."""

    counts: dict[str, int]
    """Layouts by kind, as enumerated."""
    enumerated: int
    simulated: int
    options: int
    """Layouts with each way to group their outdoor units."""
    rejected: int
    run_in_full: int
    offset_points: float
    """Mean of full less quick totals of those run both ways; each family has its own, where three of it were."""
    scatter_points: float
    """Largest distance of any of them from its mean."""
    next_points: float
    """Lead of the winner over the best layout that was not run in full, the mean difference allowed for."""
    seconds: dict[str, float]

    @property
    def ahead(self) -> bool:
        """Whether no simulated layout outside those run in full can be first."""
        return self.next_points > self.scatter_points

    @property
    def proven(self) -> bool:
        """Whether no layout outside those run in full can be first, all layouts of the enumeration being simulated."""
        return self.simulated == self.enumerated and self.ahead

    def of_kind(self, kind: str) -> tuple[int, int]:
        """Layouts of a kind that were simulated, and that exist."""
        return self.counts.get(f"{SIMULATED}{kind}", 0), self.counts.get(kind, 0)

    @property
    def proven_kinds(self) -> tuple[str, ...]:
        """Kinds of which the best is proven: all of them simulated, and none left that can be first."""
        kinds = [key.removeprefix(SIMULATED) for key in self.counts if key.startswith(SIMULATED)]
        return tuple(kind for kind in kinds if self.ahead and len(set(self.of_kind(kind))) == 1)


LEAST_OF_FAMILY = 3


def proof_of(searched: Searched, results: Sequence[Result], weights: Weights) -> Proof:
    """Compare the quick totals of an enumeration with the full ones of those that were run in full."""
    totals = searched.totals(weights)
    full = {r.score.option_id: r.score.total(weights) for r in results if r.settled and not r.score.rejected}
    both = [k for k, option in enumerate(searched.options) if option.key in full and np.isfinite(totals[k])]
    gaps = np.array([full[searched.options[k].key] - totals[k] for k in both])
    families = np.array([option.family.value for option in searched.options])
    offset = np.full(totals.size, float(gaps.mean()) if gaps.size else 0.0)
    for family in set(families[both].tolist()):
        own = families[both] == family
        if np.count_nonzero(own) >= LEAST_OF_FAMILY:
            offset[families == family] = float(gaps[own].mean())
    rest = np.ones(totals.size, dtype=np.bool_)
    rest[both] = False
    outside = float((totals + offset)[rest].max(initial=-np.inf))
    best = max(full.values(), default=-np.inf)
    return Proof(
        counts=searched.counts,
        enumerated=searched.enumerated,
        simulated=searched.simulated,
        options=len(searched.options),
        rejected=int(searched.fatal.sum()),
        run_in_full=len(both),
        offset_points=float(gaps.mean()) if gaps.size else 0.0,
        scatter_points=float(np.abs(gaps - offset[both]).max(initial=0.0)),
        next_points=best - outside,
        seconds=searched.seconds,
    )


def open_places(searched: Searched, proof: Proof, results: Sequence[Result], weights: Weights, most: int) -> list[int]:
    """Places of layouts that the scatter leaves in doubt and that were not run in full, most promising first."""
    totals = searched.totals(weights)
    done = {result.score.option_id for result in results if result.settled}
    best = max((r.score.total(weights) for r in results if r.settled and not r.score.rejected), default=np.inf)
    order = np.argsort(-totals, kind="stable")
    doubt = best - proof.offset_points - 2.0 * proof.scatter_points
    return [int(k) for k in order if totals[k] >= doubt and searched.options[k].key not in done][:most]
