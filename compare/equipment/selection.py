"""Choosing the size of one zone's unit: the smallest that covers the design loads, with every other size's reason."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from compare.equipment.catalogue import Catalogue
from compare.equipment.output import RatedOutput
from compare.equipment.performance import Mode, performance
from compare.equipment.rules import rule
from compare.equipment.unit import Pair, UnitKind


@dataclass(frozen=True, slots=True)
class Demand:
    """Design loads of what a unit serves.

    `heat_w` at the 99 % outdoor temperature and `cool_w` (total: sensible and latent) at the 1 % one, both in the
    rooms. The delivered shares are what ducts leave of the unit's output (1 for room units).
    """

    heat_w: float
    cool_w: float
    heat_outdoor_c: float
    cool_outdoor_c: float
    delivered_heat_frac: float = 1.0
    delivered_cool_frac: float = 1.0

    def __post_init__(self) -> None:
        for name in ("heat_w", "cool_w"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0.0):
                raise ValueError(f"{name} must be a finite load of at least 0 W, got {value!r}")
        for name in ("heat_outdoor_c", "cool_outdoor_c"):
            if not math.isfinite(getattr(self, name)):
                raise ValueError(f"{name} must be a finite design temperature")
        for name in ("delivered_heat_frac", "delivered_cool_frac"):
            if not 0.0 < getattr(self, name) <= 1.0:
                raise ValueError(f"{name} must lie above 0 and not above 1, got {getattr(self, name)!r}")


@dataclass(frozen=True, slots=True)
class Cover:
    """Output at design conditions over the load, after duct loss; endless where there is no load."""

    heat_frac: float
    cool_frac: float

    @property
    def enough(self) -> bool:
        """Whether both reach the least cover of the selection rule."""
        return self.heat_frac >= _HEAT_LEAST and self.cool_frac >= _COOL_LEAST


_HEAT_LEAST = rule("selection", "heat_cover_least_frac")
_COOL_LEAST = rule("selection", "cool_cover_least_frac")


@dataclass(frozen=True, slots=True)
class Rejection:
    """A size that was not chosen, and why in one clause."""

    pair: Pair
    cover: Cover
    reason: str


@dataclass(frozen=True, slots=True)
class Selection:
    """The chosen pair for a zone.

    `next_down` is the next smaller size when it still reaches 0.92 of both loads; `short` is true when even the
    largest size does not cover the loads and was taken for want of a larger one. `notes` are sentences on oversize.
    """

    pair: Pair
    cover: Cover
    next_down: Pair | None
    next_down_cover: Cover | None
    rejected: tuple[Rejection, ...]
    short: bool
    notes: tuple[str, ...]


def design_output_w(output: RatedOutput, demand: Demand) -> tuple[float, float]:
    """Most heating at the 99 % and most total cooling at the 1 % temperature [W], before duct loss."""
    return _most_w(output, demand.heat_outdoor_c, Mode.HEAT), _most_w(output, demand.cool_outdoor_c, Mode.COOL)


@lru_cache(maxsize=4096)
def _most_w(output: RatedOutput, outdoor_c: float, mode: Mode) -> float:
    return float(performance(output, np.array([outdoor_c]), mode).max_w[0])


def cover(output: RatedOutput, demand: Demand) -> Cover:
    """Design output delivered over design load, heating and cooling."""
    heat_w, cool_w = design_output_w(output, demand)
    return Cover(
        _share(heat_w * demand.delivered_heat_frac, demand.heat_w),
        _share(cool_w * demand.delivered_cool_frac, demand.cool_w),
    )


def _share(output_w: float, load_w: float) -> float:
    return output_w / load_w if load_w > 0.0 else math.inf


def select(kind: UnitKind, demand: Demand, units: Catalogue) -> Selection:
    """The smallest pair of a kind that delivers 1.00 of the heating and 0.95 of the total cooling load.

    Raises
    ------
    ValueError
        When the catalogue has no pair of that kind.
    """
    offered = units.pairs_of(kind)
    if not offered:
        raise ValueError(f"the catalogue has no {kind!s}; add rows of it to capacity.csv, cop.csv and indoor.csv")
    covers = [cover(pair.output, demand) for pair in offered]
    enough = [place for place, value in enumerate(covers) if value.enough]
    place = enough[0] if enough else len(offered) - 1
    chosen = covers[place]
    down = place - 1 if place > 0 and _near(covers[place - 1]) else None
    rejected = tuple(
        Rejection(pair, value, _reason(value, i > place))
        for i, (pair, value) in enumerate(zip(offered, covers, strict=True))
        if i != place
    )
    return Selection(
        pair=offered[place],
        cover=chosen,
        next_down=None if down is None else offered[down],
        next_down_cover=None if down is None else covers[down],
        rejected=rejected,
        short=not enough,
        notes=_notes(chosen, offered[place], demand),
    )


def _near(value: Cover) -> bool:
    least = rule("selection", "next_size_down_frac")
    return value.heat_frac >= least and value.cool_frac >= least


def _reason(value: Cover, larger: bool) -> str:
    if larger and value.enough:
        return "larger than needed: a smaller size covers both loads"
    parts = []
    if value.heat_frac < _HEAT_LEAST:
        parts.append(f"heating covers {value.heat_frac:.2f} of the load, {_HEAT_LEAST:.2f} is needed")
    if value.cool_frac < _COOL_LEAST:
        parts.append(f"cooling covers {value.cool_frac:.2f} of the load, {_COOL_LEAST:.2f} is needed")
    return "; ".join(parts)


def _notes(value: Cover, pair: Pair, demand: Demand) -> tuple[str, ...]:
    """Sentences on size against the published bands; the adopted method and local rules govern."""
    notes = []
    cool_high = rule("selection", "cool_band_high_frac")
    heat_high = rule("selection", "heat_band_high_frac")
    for name, share, high in (("cooling", value.cool_frac, cool_high), ("heating", value.heat_frac, heat_high)):
        if math.isfinite(share) and share > high:
            notes.append(f"{name} output is {share:.2f} of the load, above {high:.2f} (sizing band of variable speed)")
    least_w = float(performance(pair.output, np.array([demand.heat_outdoor_c]), Mode.HEAT).min_w[0])
    if least_w * demand.delivered_heat_frac > demand.heat_w > 0.0:
        notes.append("even on the design day the heating load lies below the unit's minimum output: it never modulates")
    if value.heat_frac < _HEAT_LEAST:
        notes.append(f"the largest size is short in heating: {value.heat_frac:.2f} of the load")
    if value.cool_frac < _COOL_LEAST:
        notes.append(f"the largest size is short in cooling: {value.cool_frac:.2f} of the load")
    return tuple(notes)
