"""The small house, compared once for all tests of this folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.pipeline import Comparison
from tests.jobs.small import small_comparison


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    return small_comparison(tmp_path_factory.mktemp("small"))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return tmp_path / "job"
