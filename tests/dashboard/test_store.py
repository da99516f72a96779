"""Sessions: bounded, oldest out first, names that cannot be guessed and nothing else accepted."""

from __future__ import annotations

import pytest

from dashboard.store import Sessions, new_name


def test_the_longest_unused_session_goes_first() -> None:
    kept: Sessions[int] = Sessions(most=3)
    names = [new_name() for _ in range(4)]
    for value, name in enumerate(names[:3]):
        kept.put(name, value)
    assert kept.find(names[0]) == 0  # used again, so the second is now the oldest
    kept.put(names[3], 3)
    assert [kept.find(name) for name in names] == [0, None, 2, 3]
    assert len(kept) == 3
    assert kept.get(names[1], lambda: 9) == 9


def test_names_are_long_random_and_checked() -> None:
    # OWASP session management: at least 64 bits of entropy; 24 characters of base64 hold 144
    assert len({new_name() for _ in range(1000)}) == 1000
    kept: Sessions[int] = Sessions()
    for bad in ("", "short", "../../../../../../../../", new_name() + "x", new_name()[:-1] + "é", None, 5, ["x"]):
        with pytest.raises(ValueError, match="session"):
            kept.put(bad, 1)
