"""One small house compared once for all tests of the search."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house


@pytest.fixture(scope="session")
def unit(scenarios: Path) -> Comparison:
    """The accessory unit: four rooms, options of every family."""
    return compare_house(read_house(scenarios / "accessory_unit.toml"))


@pytest.fixture(scope="session")
def wing(scenarios: Path) -> Comparison:
    """The house with a working wing: eight rooms."""
    return compare_house(read_house(scenarios / "day_wing.toml"))
