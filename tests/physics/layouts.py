"""Supplies of some layouts of a prepared house, spread over the families, for tests of the year."""

from __future__ import annotations

from collections.abc import Sequence

from compare.offer import Sources, options_of
from compare.physics.network import Supply
from compare.years.case import HouseCase
from compare.years.supplies import factory_of


def layouts_of(case: HouseCase, sources: Sources, most: int) -> list[Sequence[Supply]]:
    """Supplies of at most so many options, evenly picked from all of them."""
    options = options_of(case, sources)
    factory = factory_of(case)
    step = max(1, len(options) // most)
    return [factory.of_option(option) for option in options[::step]][:most]
