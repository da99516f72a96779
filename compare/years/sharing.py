"""When a shared outdoor unit needs a year of its own: only where its limit binds.

A head on a shared unit gets at most what it would get on its own. Where a layout's year with single outdoor units never
asks for more than the shared unit's part, that year is also the shared option's year, to the last digit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from compare.options.option import Option
from compare.physics.network import Supply, YearTrace
from compare.years.origin import Origin, Ran

SLACK_W = 1.0
"""A limit counts as kept within this; the year's thermostats settle to half of it."""


def holds_within(trace: YearTrace, supplies: Sequence[Supply]) -> bool:
    """Whether a year asks for no more than these limits in any hour."""
    given = trace.supply_w
    return all(
        not np.any(given[:, k] > supply.heat_limit_w + SLACK_W)
        and not np.any(-given[:, k] > supply.cool_limit_w + SLACK_W)
        for k, supply in enumerate(supplies)
    )


def shares_outdoor(option: Option) -> bool:
    """Whether any outdoor unit of an option serves several indoor units."""
    return any(group.shared for group in option.outdoor.groups)


@dataclass(slots=True)
class Spared:
    """Years kept by layout, and how many were run and how many were taken over."""

    first: dict[str, Ran] = field(default_factory=dict)
    settled: dict[str, Ran] = field(default_factory=dict)
    topped: dict[str, Ran] = field(default_factory=dict)
    run: int = 0
    taken_over: int = 0

    def find(
        self, kept: dict[str, Ran], option: Option, supplies: Sequence[Supply], *, doors_of: Origin | None
    ) -> Ran | None:
        """The year of the same layout with single outdoor units, where it holds for this option too.

        `doors_of` is the run whose temperatures set the doors; it has to be the kept one's as well.
        """
        sibling = kept.get(option.layout.key) if shares_outdoor(option) else None
        if sibling is None or (doors_of is not None and not self._began_from(doors_of, option)):
            return None
        return sibling if holds_within(sibling.trace, supplies) else None

    def _began_from(self, origin: Origin, option: Option) -> bool:
        first = self.first.get(option.layout.key)
        return first is not None and first.origin is origin
