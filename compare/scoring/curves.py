"""Score curves: piecewise linear between anchors, or straight on a logarithmic axis; flat outside."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from compare.scoring.tables import ScoringDataError, number, read_rows, to_si

_FORMS: Final = ("linear", "log2")


@dataclass(frozen=True, slots=True)
class Anchor:
    """One anchor of a curve as the table gives it, and its SI position."""

    x: float
    """In the unit of the table."""
    unit: str
    x_si: float
    points: float
    source: str
    reason: str


@dataclass(frozen=True, slots=True)
class Curve:
    """Points 0-100 over a measure in SI.

    A ``linear`` curve joins its anchors and is flat outside them. A ``log2`` curve is the straight line through its
    two anchors over log2(x), cut at 0 and 100.
    """

    measure: str
    form: str
    anchors: tuple[Anchor, ...]
    xs: tuple[float, ...]
    ys: tuple[float, ...]

    def points(self, x_si: float) -> float:
        """Points of one value.

        Raises
        ------
        ValueError
            When the value is not a number (a measure that does not exist has no points), or when a logarithmic
            curve is asked for a value that is not above 0.
        """
        if math.isnan(x_si):
            raise ValueError(f"{self.measure} is not a number: leave the measure out of its score instead")
        if self.form == "log2":
            return self._log_points(x_si)
        if x_si <= self.xs[0]:
            return self.ys[0]
        if x_si >= self.xs[-1]:
            return self.ys[-1]
        i = bisect_right(self.xs, x_si)
        x0, x1, y0, y1 = self.xs[i - 1], self.xs[i], self.ys[i - 1], self.ys[i]
        return y0 + (y1 - y0) * (x_si - x0) / (x1 - x0)

    @property
    def per_doubling(self) -> float:
        """Change of points with each doubling of a logarithmic curve (negative: fewer)."""
        return (self.ys[1] - self.ys[0]) / math.log2(self.xs[1] / self.xs[0])

    def _log_points(self, x_si: float) -> float:
        if x_si <= 0.0:
            raise ValueError(f"{self.measure} is {x_si:g}: it must be above 0")
        if math.isinf(x_si):
            return 100.0 if self.per_doubling > 0.0 else 0.0
        line = self.ys[0] + self.per_doubling * math.log2(x_si / self.xs[0])
        return min(100.0, max(0.0, line))

    def value_at(self, points: float) -> float:
        """The SI value at which a logarithmic curve gives these points."""
        return self.xs[0] * math.exp2((points - self.ys[0]) / self.per_doubling)


def make_curve(measure: str, form: str, anchors: Sequence[Anchor]) -> Curve:
    """A checked curve.

    Raises
    ------
    ScoringDataError
        When the anchors do not rise, the points leave 0-100, or the form does not fit.
    """
    xs = tuple(a.x_si for a in anchors)
    ys = tuple(a.points for a in anchors)
    where = f"curves.csv: {measure}"
    if form not in _FORMS:
        raise ScoringDataError(f"{where}: form {form!r}: use one of {', '.join(_FORMS)}")
    if len(xs) < 2 or any(b <= a for a, b in itertools.pairwise(xs)):
        raise ScoringDataError(f"{where}: give at least two anchors with x rising")
    if any(not 0.0 <= y <= 100.0 for y in ys):
        raise ScoringDataError(f"{where}: points must lie in 0 to 100")
    if form == "log2" and (len(xs) != 2 or xs[0] <= 0.0 or ys[0] == ys[1]):
        raise ScoringDataError(f"{where}: a log2 curve needs two anchors above 0 with different points")
    return Curve(measure, form, tuple(anchors), xs, ys)


def parse_curves(text: str | None = None) -> dict[str, Curve]:
    """Curves by measure from `text`, else from the bundled table."""
    grouped: dict[str, list[Anchor]] = {}
    forms: dict[str, str] = {}
    for row in read_rows("curves.csv", text):
        x, unit = number(row, "x", "curves.csv"), row["unit"]
        anchor = Anchor(x, unit, to_si(x, unit), number(row, "points", "curves.csv"), row["source"], row["reason"])
        grouped.setdefault(row["measure"], []).append(anchor)
        if forms.setdefault(row["measure"], row["form"]) != row["form"]:
            raise ScoringDataError(f"curves.csv: {row['measure']}: one form for all anchors of a curve")
    return {measure: make_curve(measure, forms[measure], anchors) for measure, anchors in grouped.items()}


@cache
def bundled_curves() -> dict[str, Curve]:
    """The curves that come with the program."""
    return parse_curves()
