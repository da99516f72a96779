"""Houses compared for real, once for all tests of trials."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house


@pytest.fixture(scope="session")
def ranch(scenarios: Path) -> Comparison:
    """A demo ranch: an open living space, a hall, three bedrooms whose doors are shut at night."""
    return compare_house(read_house(scenarios / "ranch.toml"), scenarios)


@pytest.fixture(scope="session")
def small(scenarios: Path) -> Comparison:
    """A demo accessory unit of four rooms."""
    return compare_house(read_house(scenarios / "accessory_unit.toml"), scenarios)
