"""A new process up to the first table of the families, as `tests.speed.search` starts it.

    python -m tests.speed.first_table [HOUSE.toml]

Only what the program itself needs is imported. Prints the processor time of the whole process, its own start included.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from compare.house.reading import read_house
from compare.pipeline import compare_house

TEN_ROOMS = Path(__file__).resolve().parents[1] / "ten_rooms.toml"


def families(path: Path) -> None:
    """Compare the families of a house and rank them."""
    found = compare_house(read_house(path), path.parent)
    assert found.rank().ranked
    print(time.process_time())


if __name__ == "__main__":
    families(Path(sys.argv[1]) if len(sys.argv) > 1 else TEN_ROOMS)
