"""What would change the answer: the smallest change of one thing that puts another kind of layout first.

Every search starts at what is, goes outward in small steps both ways, and narrows the first step that has another kind
of layout in front. Rejected options stay rejected. What the house would do is simulated again (`house_flips` and
`compare.turning_points`); what is only asked for, or judged, is scored again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from compare.scoring.aggregate import criterion_score
from compare.scoring.criteria import CRITERIA, Criterion
from compare.scoring.curves import Curve
from compare.scoring.judgements import Rulebook
from compare.scoring.points import all_points
from compare.scoring.ranking import rescore, scores_matrix
from compare.scoring.scores import OptionScore
from compare.scoring.weights import Weights

FloatArray = npt.NDArray[np.float64]

CONSIDERED = 16
"""Best options that are scored again where a curve or a credit changes."""
HALVINGS = 12
CURVES: Mapping[str, tuple[Criterion, bool]] = {
    "M1": (Criterion.MATCH, False),
    "M2": (Criterion.MATCH, False),
    "L1": (Criterion.CYCLING, False),
    "L2": (Criterion.CYCLING, False),
    "N1": (Criterion.NOISE, True),
    "N2": (Criterion.NOISE, True),
    "N3": (Criterion.NOISE, True),
    "C1": (Criterion.COMFORT, False),
    "C2": (Criterion.COMFORT, False),
    "C3": (Criterion.COMFORT, False),
    "C4": (Criterion.COMFORT, False),
    "C5": (Criterion.COMFORT, False),
    "E": (Criterion.ENERGY, False),
}
"""Curves that are moved: the criterion they feed, and whether they are moved by decibels rather than by a factor.

The price curve is not among them: it is a ratio of prices, which are moved themselves.
"""


@dataclass(frozen=True, slots=True)
class Flip:
    """One change that puts another kind of layout first."""

    kind: str
    """`weight`, `price`, `credit`, `curve`, `insulation`, `leakage`, `doors` (all bedroom doors), `door` (one alone),
    `envelope`, `rate`."""
    subject: str
    """Criterion, family, measure or part of the house that is changed."""
    before: float
    after: float
    unit: str
    """A word of `compare.scoring.criteria.Kind`."""
    winner: str
    """Option id that is first then."""
    family: str
    size: float
    """How far it is, so that changes of one kind can be compared: the log of a factor, or a share."""


WinnerAt = Callable[[float], OptionScore | None]


def score_flips(options: Sequence[OptionScore], weights: Weights, book: Rulebook) -> tuple[Flip, ...]:
    """Changes of what is asked for or judged, the nearest of each kind first."""
    alive = sorted((o for o in options if not o.rejected), key=lambda o: (-o.total(weights), o.price_usd, o.option_id))
    if not alive:
        return ()
    found = [
        nearest(weight_flips(alive, weights)),
        nearest(price_flips(alive, weights, book)),
        nearest(credit_flips(alive[:CONSIDERED], weights, book)),
        nearest(curve_flips(alive[:CONSIDERED], weights, book)),
    ]
    return tuple(flip for flip in found if flip is not None)


def nearest(flips: Iterator[Flip]) -> Flip | None:
    """The smallest change of some; None where there is none."""
    return min(flips, key=lambda flip: (flip.size, flip.subject), default=None)


def weight_flips(alive: Sequence[OptionScore], weights: Weights) -> Iterator[Flip]:
    """For each criterion the share of the total at which another kind is first; the other weights keep their ratio."""
    matrix = scores_matrix(alive)
    base = weights.array
    for place, criterion in enumerate(CRITERIA):
        if base[place] <= 0.0 or base[place] >= 1.0:
            continue
        rest = np.where(np.arange(base.size) == place, 0.0, base)

        def at(share: float, rest: FloatArray = rest, place: int = place) -> OptionScore | None:
            chosen = rest / rest.sum() * (1.0 - share)
            chosen[place] = share
            return first_of(alive, rescore(matrix, chosen))

        before = float(base[place])
        for path in (_even(before, 1.0), _even(before, 0.0)):
            hit = search(path, at, alive[0].family)
            if hit:
                yield _flip("weight", criterion.value, (before, hit[0]), "share", hit[1], abs(hit[0] - before))


def price_flips(alive: Sequence[OptionScore], weights: Weights, book: Rulebook) -> Iterator[Flip]:
    """The winner's kind dearer, or another kind cheaper, until another kind is first."""
    place = CRITERIA.index(Criterion.COST)
    matrix = scores_matrix(alive)
    ratio = np.array([option.measures.price_ratio for option in alive])
    families = np.array([option.family for option in alive])
    best = {family: next(o for o in alive if o.family == family) for family in dict.fromkeys(families.tolist())}
    for family, option in best.items():
        own = families == family

        def at(factor: float, own: npt.NDArray[np.bool_] = own) -> OptionScore | None:
            moved = matrix.copy()
            prices = np.where(own, ratio * factor, ratio)
            moved[:, place] = [book.curves["K"].points(float(p)) for p in prices]
            return first_of(alive, rescore(moved, weights.array))

        path = _factors(2.0) if family == alive[0].family else _factors(0.5)
        hit = search(path, at, alive[0].family)
        if hit:
            prices_usd = (option.price_usd, option.price_usd * hit[0])
            yield _flip("price", family, prices_usd, "money", hit[1], abs(math.log(hit[0])))


def credit_flips(alive: Sequence[OptionScore], weights: Weights, book: Rulebook) -> Iterator[Flip]:
    """The credit of a room on a resistance heater, 0 to 100."""
    before = book.numbers.heater_credit
    place = CRITERIA.index(Criterion.MATCH)
    matrix = scores_matrix(alive)

    def at(credit: float) -> OptionScore | None:
        other = Rulebook(book.curves, replace(book.numbers, heater_credit=credit))
        moved = matrix.copy()
        moved[:, place] = [
            criterion_score(Criterion.MATCH, all_points(option.measures, other), other.numbers) for option in alive
        ]
        return first_of(alive, rescore(moved, weights.array))

    for path in (_even(before, 100.0, 12), _even(before, 0.0, 8)):
        hit = search(path, at, alive[0].family)
        if hit:
            yield _flip("credit", "heater_credit", (before, hit[0]), "count", hit[1], abs(hit[0] - before) / 100.0)


def curve_flips(alive: Sequence[OptionScore], weights: Weights, book: Rulebook) -> Iterator[Flip]:
    """Each curve made milder or stricter: its anchors by a factor up to 2, or by up to 10 dB."""
    matrix = scores_matrix(alive)
    for name, (criterion, by_level) in CURVES.items():
        place = CRITERIA.index(criterion)
        if weights.array[place] <= 0.0:
            continue

        def at(step: float, name: str = name, place: int = place, by_level: bool = by_level) -> OptionScore | None:
            curves = {**book.curves, name: moved_curve(book.curves[name], step, by_level=by_level)}
            other = Rulebook(curves, book.numbers)
            moved = matrix.copy()
            moved[:, place] = [
                criterion_score(CRITERIA[place], all_points(option.measures, other), other.numbers) for option in alive
            ]
            return first_of(alive, rescore(moved, weights.array))

        paths = (_even(0.0, 10.0, 8), _even(0.0, -10.0, 8)) if by_level else (_factors(2.0, 8), _factors(0.5, 8))
        for path in paths:
            hit = search(path, at, alive[0].family)
            if hit:
                size = abs(hit[0]) / 10.0 if by_level else abs(math.log(hit[0]))
                before = 0.0 if by_level else 1.0
                yield _flip("curve", name, (before, hit[0]), "level" if by_level else "ratio", hit[1], size)


def moved_curve(curve: Curve, step: float, *, by_level: bool) -> Curve:
    """A curve with its anchors moved by a level, or stretched by a factor."""
    xs = tuple(x + step for x in curve.xs) if by_level else tuple(x * step for x in curve.xs)
    return replace(curve, xs=xs)


def first_of(alive: Sequence[OptionScore], totals: FloatArray) -> OptionScore:
    """The best option: highest total, then the lower price, then the id."""
    equal = [option for option, best in zip(alive, totals >= totals.max(), strict=True) if best]
    return min(equal, key=lambda option: (option.price_usd, option.option_id))


def search(path: Sequence[float], winner_at: WinnerAt, family: str) -> tuple[float, OptionScore] | None:
    """The nearest value of a path at which another family is first, narrowed between its two steps."""
    known = path[0]
    for value in path[1:]:
        winner = winner_at(value)
        if winner is not None and winner.family != family:
            return _narrowed(known, (value, winner), winner_at, family)
        known = value
    return None


def _narrowed(
    known: float, hit: tuple[float, OptionScore], winner_at: WinnerAt, family: str
) -> tuple[float, OptionScore]:
    value, winner = hit
    for _ in range(HALVINGS):
        middle = 0.5 * (known + value)
        found = winner_at(middle)
        if found is not None and found.family != family:
            value, winner = middle, found
        else:
            known = middle
    return value, winner


def _even(start: float, end: float, steps: int = 40) -> list[float]:
    return [float(value) for value in np.linspace(start, end, steps + 1)]


def _factors(end: float, steps: int = 40) -> list[float]:
    return [math.exp(value) for value in _even(0.0, math.log(end), steps)]


def _flip(kind: str, subject: str, values: tuple[float, float], unit: str, winner: OptionScore, size: float) -> Flip:
    return Flip(kind, subject, values[0], values[1], unit, winner.option_id, winner.family, size)
