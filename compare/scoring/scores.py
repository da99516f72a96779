"""Six scores of one option (a seventh on request), its findings, and its total under any weights."""

from __future__ import annotations

import math
from dataclasses import dataclass

from compare.scoring.aggregate import criterion_score
from compare.scoring.criteria import CRITERIA, Criterion
from compare.scoring.evidence import Calendar, Evidence, Fault
from compare.scoring.faults import find_faults
from compare.scoring.judgements import Rulebook, rulebook
from compare.scoring.measures import Measures, measure
from compare.scoring.points import Points, all_points
from compare.scoring.season import Season
from compare.scoring.weights import Weights

TOTAL_DIGITS = 9
"""Totals are rounded to this many decimals before they are compared, so that the last bit decides nothing."""


@dataclass(frozen=True, slots=True)
class OptionScore:
    """One option scored. `scores` stand in the order of `CRITERIA`, the seventh always computed."""

    measures: Measures
    points: Points
    scores: tuple[float, ...]
    faults: tuple[Fault, ...]

    @property
    def option_id(self) -> str:
        """Stable id of the option."""
        return self.measures.option_id

    @property
    def family(self) -> str:
        """Family of the option."""
        return self.measures.family

    @property
    def price_usd(self) -> float:
        """Middle installed price."""
        return self.measures.price.mid_usd

    @property
    def fatal(self) -> tuple[Fault, ...]:
        """Findings that reject the option."""
        return tuple(fault for fault in self.faults if fault.fatal)

    @property
    def amber(self) -> tuple[Fault, ...]:
        """Findings that must be read out."""
        return tuple(fault for fault in self.faults if not fault.fatal)

    @property
    def rejected(self) -> bool:
        """Whether any finding is fatal."""
        return bool(self.fatal)

    def score(self, criterion: Criterion) -> float:
        """One score, 0-100."""
        return self.scores[CRITERIA.index(criterion)]

    def total(self, weights: Weights) -> float:
        """Weighted mean of the scores, 0-100."""
        pairs = zip(self.scores, weights.fracs, strict=True)
        return round(math.fsum(score * weight for score, weight in pairs), TOTAL_DIGITS)


def score_measures(measures: Measures, book: Rulebook | None = None) -> OptionScore:
    """Scores and findings from measures alone.

    Raises
    ------
    ValueError
        When a measure that a score needs is missing; the text names the option.
    """
    book = book or rulebook()
    try:
        points = all_points(measures, book)
        scores = tuple(criterion_score(criterion, points, book.numbers) for criterion in CRITERIA)
    except ValueError as error:
        raise ValueError(f"option {measures.option_id}: {error}") from error
    return OptionScore(measures, points, scores, find_faults(measures, book.numbers))


def score_option(evidence: Evidence, when: Calendar | Season, book: Rulebook | None = None) -> OptionScore:
    """Measures, scores and findings of one option. Pass a `Season` when many options share one year."""
    book = book or rulebook()
    return score_measures(measure(evidence, when, book.numbers), book)
