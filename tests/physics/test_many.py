"""The kernel of many lanes: what is kept of it on disk belongs to its sources."""

from __future__ import annotations

import shutil
from pathlib import Path

from compare.physics import many
from compare.physics.many.part import stamp
from compare.physics.many.year import run_lanes

SOURCES = Path(many.__file__).parent


def test_an_edit_of_any_part_is_another_kernel(tmp_path: Path) -> None:
    """The compiler's cache looks at the file of the outermost function alone; the digest looks at all."""
    copy = shutil.copytree(SOURCES, tmp_path / "many", ignore=shutil.ignore_patterns("__pycache__"))
    assert stamp(copy) == stamp()
    for path in copy.glob("*.py"):
        text = path.read_text(encoding="utf-8")
        path.write_text(f"{text}\n", encoding="utf-8")
        assert stamp(copy) != stamp(), path.name
        path.write_text(text, encoding="utf-8")


def test_the_digest_is_closed_over() -> None:
    """What a function closes over is part of its key in the cache; a module's variable is not."""
    assert [cell.cell_contents for cell in run_lanes.py_func.__closure__] == [stamp()]
