"""Every step of every write is made to fail, once with an error, once with a full disk, once by killing the process.

After SQLite's testing notes (sqlite.org/testing.html): fail the 1st operation, then the 2nd ... until none fails. The
old file or the new one must stand whole, and the next start leaves nothing beside it.
"""

from __future__ import annotations

import datetime as dt
import errno
import os
import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from compare.jobs.changes import Wanted, agree, changes, write_change
from compare.jobs.disk import PART, Disk, sweep, write_folder, write_whole
from compare.jobs.status import Status, add_status, events
from compare.prices.price_list import load_price_list
from compare.prices.quantity import count

DAY = dt.date(2026, 11, 25)
STEPS = ("make_folder", "create", "write", "sync", "close", "replace", "sync_folder")
OLD, NEW = b"old " * 1000, b"new " * 5000


class FailingDisk(Disk):
    """Fails at one step; the steps before it happen as they should. Step 0 never fails and only counts."""

    def __init__(self, at: int = 0, how: str = "error") -> None:
        self.at, self.how, self.count = at, how, 0

    def __getattribute__(self, name: str):
        if name not in STEPS:
            return object.__getattribute__(self, name)
        real = object.__getattribute__(self, name)

        def step(*args):
            self.count += 1
            if self.count != self.at:
                return real(*args)
            if self.how == "kill":
                os._exit(137)
            if name == "write":
                os.write(args[0], args[1][: len(args[1]) // 2])
            if name == "close":
                real(*args)
            raise OSError(errno.ENOSPC if self.how == "full" else errno.EIO, f"step {self.count}: {name}")

        return step


def put_file(folder: Path, disk: Disk) -> None:
    write_whole(folder / "file.json", NEW, disk)


def put_status(folder: Path, disk: Disk) -> None:
    add_status(folder, Status.SHOWN, DAY, "abc", "new", disk=disk)


def put_change(folder: Path, disk: Disk) -> None:
    wanted = Wanted("abc", "thicker wall", (count("masonry_wall", "W1"),), DAY)
    write_change(folder, wanted, load_price_list(), disk)


def put_agreement(folder: Path, disk: Disk) -> None:
    agree(folder, 1, DAY, disk)


def put_proposal(folder: Path, disk: Disk) -> None:
    write_folder(folder / "proposal-1", {"record.json": NEW, "house.toml": OLD, "units/indoor.csv": OLD}, disk)


def before_file(folder: Path) -> None:
    write_whole(folder / "file.json", OLD)


def before_status(folder: Path) -> None:
    add_status(folder, Status.DRAFT, DAY, "abc")


def before_change(folder: Path) -> None:
    for state in (Status.DRAFT, Status.SHOWN, Status.ACCEPTED):
        add_status(folder, state, DAY, "abc")


def before_agreement(folder: Path) -> None:
    before_change(folder)
    put_change(folder, Disk())


def before_proposal(folder: Path) -> None:
    folder.mkdir(exist_ok=True)


WRITERS: dict[str, tuple[Callable[[Path], None], Callable[[Path, Disk], None]]] = {
    "file": (before_file, put_file),
    "status": (before_status, put_status),
    "change": (before_change, put_change),
    "agreement": (before_agreement, put_agreement),
    "proposal": (before_proposal, put_proposal),
}


def content(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def finished(folder: Path) -> dict[str, bytes]:
    return {name: data for name, data in content(folder).items() if PART not in name}


def reference(writer: str, folder: Path) -> tuple[dict[str, bytes], dict[str, bytes], int]:
    """The folder before, the folder after, and the number of steps between."""
    before, put = WRITERS[writer]
    before(folder)
    old, disk = content(folder), FailingDisk()
    put(folder, disk)
    return old, content(folder), disk.count


def strays(folder: Path) -> list[str]:
    return [str(path) for path in folder.rglob(f"*{PART}*")]


@pytest.mark.parametrize("how", ["error", "full"])
@pytest.mark.parametrize("writer", WRITERS)
def test_old_or_new_is_whole_whatever_step_fails(writer, how, tmp_path):
    old, new, steps = reference(writer, tmp_path / "reference")
    before, put = WRITERS[writer]
    assert steps >= 6
    kept_old = 0
    for step in range(1, steps + 1):
        folder = tmp_path / f"{step}"
        before(folder)
        with pytest.raises(OSError, match=f"step {step}"):
            put(folder, FailingDisk(step, how))
        assert content(folder) in (old, new), step
        assert strays(folder) == [], step
        kept_old += content(folder) == old
    assert kept_old >= steps - 1  # only the last step, syncing the folder's names, comes after the new name


KILL = """
import sys
from pathlib import Path
from tests.jobs.test_torn_writes import WRITERS, FailingDisk
WRITERS[sys.argv[1]][1](Path(sys.argv[2]), FailingDisk(int(sys.argv[3]), "kill"))
"""
REPO = Path(__file__).resolve().parents[2]


@pytest.mark.slow
@pytest.mark.parametrize("writer", WRITERS)
def test_old_or_new_is_whole_when_the_process_is_killed(writer, tmp_path):
    old, new, steps = reference(writer, tmp_path / "reference")
    before, _ = WRITERS[writer]
    runs = []
    for step in range(1, steps + 1):
        folder = tmp_path / f"{step}"
        before(folder)
        runs.append((folder, subprocess.Popen([sys.executable, "-c", KILL, writer, str(folder), str(step)], cwd=REPO)))
    for step, (folder, run) in enumerate(runs, start=1):
        assert run.wait(60) == 137, step
        assert finished(folder) in (old, new), step
        sweep(folder)
        for inner in (path for path in folder.iterdir() if path.is_dir()):
            sweep(inner)
        assert strays(folder) == [], step
        assert content(folder) in (old, new), step


def test_what_is_frozen_is_never_written_over(tmp_path):
    write_folder(tmp_path / "p", {"a": b"1"})
    with pytest.raises(FileExistsError, match="never written over"):
        write_folder(tmp_path / "p", {"a": b"2"})
    assert content(tmp_path) == {"p/a": b"1"}


def test_a_write_in_pieces_is_put_together(tmp_path):
    class Slow(Disk):
        def write(self, handle: int, data: bytes) -> int:
            return super().write(handle, data[:7])

    write_whole(tmp_path / "f", NEW, Slow())
    assert (tmp_path / "f").read_bytes() == NEW


def test_the_status_after_a_failed_write_is_still_read(tmp_path):
    before_status(tmp_path)
    with pytest.raises(OSError, match="step 3"):
        put_status(tmp_path, FailingDisk(3))
    assert [event.status for event in events(tmp_path)] == [Status.DRAFT]


def test_a_change_order_is_priced_by_the_list(tmp_path):
    before_agreement(tmp_path)
    assert [change.price_usd for change in changes(tmp_path)] == [load_price_list().row("masonry_wall").mid_usd]
    assert changes(tmp_path)[0].lines[0][1] == Decimal(1)
