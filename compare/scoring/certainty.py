"""How sure a recommendation is: the lead in points and, once drawn, the share of draws in which the winner stays."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from compare.scoring.judgements import Judgements


class Verdict(StrEnum):
    """The word that stands beside a recommendation."""

    CLEAR = "clear"
    LIKELY = "likely"
    TOO_CLOSE = "too close to call"
    NOT_SAMPLED = "ahead; not yet tested against its inputs"


@dataclass(frozen=True, slots=True)
class Certainty:
    """Lead, draws and the word for them."""

    verdict: Verdict
    lead_points: float
    """Lead over the best option of another family; infinite when there is none."""
    near: tuple[str, ...]
    """The winner, then the best option of each other family within a tie of it."""
    draws: int = 0
    stays_frac: float = math.nan
    """Share of draws in which the winner's family stays first; nan before any draw."""
    others: tuple[tuple[str, float], ...] = ()
    """The best option of each family that is first in the other draws, with their shares, largest first."""
    bands: tuple[tuple[str, float, float], ...] = ()
    """Per option the total that one draw in ten falls below and one in ten exceeds."""

    def band(self, option_id: str) -> tuple[float, float] | None:
        """Low and high total of one option; None where it was not drawn."""
        return next(((low, high) for known, low, high in self.bands if known == option_id), None)


def judge(lead_points: float, near: tuple[str, ...], numbers: Judgements, draws: int = 0, stays: int = 0) -> Certainty:
    """The one rule: a lead under 3 points is too close to call; else 80 % of draws clear, 60 % likely, less too close.

    Raises
    ------
    ValueError
        When more draws stay than were made.
    """
    if not 0 <= stays <= draws:
        raise ValueError(f"stays is {stays} of {draws} draws: it must lie between 0 and draws")
    share = stays / draws if draws else math.nan
    return Certainty(_verdict(lead_points, share, numbers), lead_points, near, draws, share)


def _verdict(lead_points: float, share: float, numbers: Judgements) -> Verdict:
    if lead_points < numbers.tie_points:
        return Verdict.TOO_CLOSE
    if math.isnan(share):
        return Verdict.NOT_SAMPLED
    if share >= numbers.clear_share_frac:
        return Verdict.CLEAR
    return Verdict.LIKELY if share >= numbers.likely_share_frac else Verdict.TOO_CLOSE
