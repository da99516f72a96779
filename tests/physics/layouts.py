"""Supplies of some layouts of a prepared house, spread over the families, for tests of the year."""

from __future__ import annotations

from collections.abc import Sequence

from compare import pipeline
from compare.physics.network import Supply
from compare.pipeline import Sources
from compare.years.case import HouseCase
from compare.years.supplies import factory_of


def layouts_of(case: HouseCase, sources: Sources, most: int) -> list[Sequence[Supply]]:
    """Supplies of at most so many options, evenly picked from all of them."""
    options = pipeline._options(case, sources, lambda *_: None)
    factory = factory_of(case)
    step = max(1, len(options) // most)
    return [factory.of_option(option) for option in options[::step]][:most]
