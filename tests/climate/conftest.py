"""A cache folder of its own for every test session."""

from __future__ import annotations

from collections.abc import Iterator

import pytest


@pytest.fixture(autouse=True, scope="session")
def own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the user's own cache out of the tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HPLAYOUTS_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield
