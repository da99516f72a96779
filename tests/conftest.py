"""Fixtures shared by all tests."""

from __future__ import annotations

from pathlib import Path

import pytest

REPOSITORY = Path(__file__).resolve().parents[1]


def _beside(*parts: str) -> Path:
    """A folder beside the repository; tests that need it are skipped where it is absent."""
    folder = REPOSITORY.parent.joinpath("shared", *parts)
    if not folder.is_dir():
        pytest.skip(f"no folder {'/'.join(('shared', *parts))} beside the repository")
    return folder


@pytest.fixture(scope="session")
def shared_weather() -> Path:
    """Folder of weather years beside the repository."""
    return _beside("weather")


@pytest.fixture(scope="session")
def shared_reference() -> Path:
    """Folder of reference houses and sheets beside the repository."""
    return _beside("reference")


@pytest.fixture(scope="session")
def scenarios() -> Path:
    """Folder of demo houses."""
    return REPOSITORY / "scenarios"
