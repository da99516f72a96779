"""All families of the ranch, full year and scores: from a cold start in a new process, and again in a warm one."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.speed.networks import best_s, processor_s

RANCH = Path(__file__).resolve().parents[2] / "scenarios" / "ranch.toml"


def compare() -> int:
    """Compare the ranch; number of options."""
    from compare.house.reading import read_house
    from compare.pipeline import compare_house

    return len(compare_house(read_house(RANCH), RANCH.parent).options)


def main() -> None:
    """Print cold and warm seconds."""
    compare()  # fills the caches of sun and machine code
    cold = best_s(lambda: subprocess.run([sys.executable, "-m", "tests.speed.families", "once"], check=True), times=3)
    warm, used = best_s(compare), processor_s(compare)
    print(f"ranch, {compare()} options with their years, scores and settled doors")
    print(f"cold start with filled caches: {cold:.2f} s   warm: {warm:.2f} s ({used:.2f} s of processor time)")


if __name__ == "__main__":
    if sys.argv[1:] == ["once"]:
        compare()
    else:
        main()
