"""Weights: five profiles, a family's priorities in words, or a designer's own numbers."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
import numpy.typing as npt

from compare.scoring.criteria import CRITERIA, SIX, Criterion
from compare.scoring.tables import ScoringDataError, number, read_rows

FloatArray = npt.NDArray[np.float64]

STOPS: Final = 5
BALANCED: Final = "Balanced"


@dataclass(frozen=True, slots=True)
class Weights:
    """Shares of the total, one per criterion in the order of `CRITERIA`; they sum to 1."""

    name: str
    fracs: tuple[float, ...]

    def __getitem__(self, criterion: Criterion) -> float:
        """Share of one criterion."""
        return self.fracs[CRITERIA.index(criterion)]

    @property
    def array(self) -> FloatArray:
        """(7,) shares."""
        return np.array(self.fracs, dtype=np.float64)

    @property
    def used(self) -> tuple[Criterion, ...]:
        """Criteria with a share above 0."""
        return tuple(criterion for criterion in CRITERIA if self[criterion] > 0.0)


def make_weights(name: str, points: Mapping[Criterion, float]) -> Weights:
    """Weights from any numbers not below 0; they are scaled to sum to 1. A criterion left out counts 0.

    Raises
    ------
    ValueError
        For a negative or missing number, or when all are 0.
    """
    values = [float(points.get(criterion, 0.0)) for criterion in CRITERIA]
    for criterion, value in zip(CRITERIA, values, strict=True):
        if not (math.isfinite(value) and value >= 0.0):
            raise ValueError(f"weight of {criterion} is {value:g}: give a finite number not below 0")
    total = math.fsum(values)
    if total <= 0.0:
        raise ValueError("all weights are 0: give at least one criterion a weight")
    return Weights(name, tuple(value / total for value in values))


@dataclass(frozen=True, slots=True)
class Profile:
    """A named set of weights and what the family says that wants it."""

    weights: Weights
    says: str
    points: tuple[float, ...]
    """Of 100, the six criteria in order."""
    source: str


@cache
def profiles() -> tuple[Profile, ...]:
    """The five profiles; the first is the default."""
    found = []
    for row in read_rows("weights.csv"):
        points = {criterion: number(row, criterion, "weights.csv") for criterion in SIX}
        if math.fsum(points.values()) != 100.0:
            raise ScoringDataError(f"weights.csv: {row['profile']}: weights must sum to 100")
        weights = make_weights(row["profile"], points)
        found.append(Profile(weights, row["says"], tuple(points.values()), row["source"]))
    return tuple(found)


def balanced() -> Weights:
    """The default weights."""
    return profiles()[0].weights


@dataclass(frozen=True, slots=True)
class Priority:
    """One row of the priorities in words, with its five stops."""

    key: str
    words: str
    criteria: tuple[Criterion, ...]
    form: str
    """``factor``: multiplies the Balanced weights; ``of 100``: adds this many of 100 before scaling."""
    stops: tuple[float, ...]
    start: int
    """Stop at which the row stands when nothing is said (1-5)."""
    source: str


@cache
def priorities() -> tuple[Priority, ...]:
    """The seven rows in their order on the page."""
    return tuple(
        Priority(
            key=row["priority"],
            words=row["words"],
            criteria=tuple(Criterion(name) for name in row["criteria"].split(";")),
            form=row["form"],
            stops=tuple(number(row, f"stop_{k}", "priorities.csv") for k in range(1, STOPS + 1)),
            start=int(number(row, "start", "priorities.csv")),
            source=row["source"],
        )
        for row in read_rows("priorities.csv")
    )


def weights_from_priorities(stops: Mapping[str, int]) -> Weights:
    """Weights of a family that sets each row to one of five stops (1-5); a row left out stays at its start.

    Raises
    ------
    ValueError
        For a row that does not exist or a stop outside 1 to 5.
    """
    rows = {row.key: row for row in priorities()}
    if unknown := sorted(stops.keys() - rows.keys()):
        raise ValueError(f"priorities: {', '.join(unknown)}: use {', '.join(rows)}")
    base = profiles()[0]
    points = dict(zip(SIX, base.points, strict=True))
    for key, row in rows.items():
        stop = stops.get(key, row.start)
        if isinstance(stop, bool) or stop not in range(1, STOPS + 1):
            raise ValueError(f"priorities.{key} is {stop!r}: give a whole number from 1 to 5")
        value = row.stops[int(stop) - 1]
        for criterion in row.criteria:
            points[criterion] = points[criterion] * value if row.form == "factor" else value
    at_start = all(stops.get(key, row.start) == row.start for key, row in rows.items())
    return make_weights(base.weights.name if at_start else "your priorities", points)
