"""Writing so that a file, or a whole folder of files, is either the old one or the new one, whatever fails."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

PART = ".part"
"""Ending of what is not finished; a name that ends so holds nothing of worth once its writer is gone."""


class Disk:
    """The steps of writing, each one call to the system."""

    def make_folder(self, path: Path) -> None:
        """Make a folder and those above it."""
        path.mkdir(parents=True, exist_ok=True)

    def create(self, path: Path) -> int:
        """Open a new file for writing."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o644)

    def write(self, handle: int, data: bytes) -> int:
        """Write some of the data; returns how much."""
        return os.write(handle, data)

    def sync(self, handle: int) -> None:
        """Have the file's data on the disk."""
        os.fsync(handle)

    def close(self, handle: int) -> None:
        """Close the file."""
        os.close(handle)

    def replace(self, part: Path, path: Path) -> None:
        """Give the finished file, or folder, its name."""
        part.replace(path)

    def sync_folder(self, path: Path) -> None:
        """Have the folder's names on the disk; not every system can."""
        with suppress(PermissionError):
            handle = os.open(path, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


class PrivateDisk(Disk):
    """The steps of writing what only its owner may read: costs and margins."""

    def make_folder(self, path: Path) -> None:
        """Make a folder that others cannot look into, where there is none, and those above it."""
        path.parent.mkdir(parents=True, exist_ok=True)
        path.mkdir(mode=0o700, exist_ok=True)

    def create(self, path: Path) -> int:
        """Open a new file for writing that others can neither read nor write."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)


DISK, PRIVATE = Disk(), PrivateDisk()


def write_whole(path: Path, data: bytes | str, disk: Disk = DISK) -> None:
    """Write a file: at any moment, and after any failure, its name holds the old or the new content whole.

    Raises
    ------
    OSError
        As the system tells it; the old file then stands as it was, and nothing is left beside it.
    """
    disk.make_folder(path.parent)
    part = path.with_name(f".{path.name}.{os.getpid()}{PART}")
    part.unlink(missing_ok=True)
    try:
        _fill(part, _bytes(data), disk)
        disk.replace(part, path)
    except BaseException:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise
    disk.sync_folder(path.parent)


def write_folder(path: Path, files: Mapping[str, bytes | str], disk: Disk = DISK) -> None:
    """Write a new folder with all its files, or none of it; names may hold slashes.

    Raises
    ------
    FileExistsError
        When the folder is there already: what is frozen is never written over.
    OSError
        As the system tells it; nothing is left beside.
    """
    if path.exists():
        raise FileExistsError(f"{path}: is there already; a frozen proposal is never written over")
    part = path.with_name(f".{path.name}.{os.getpid()}{PART}")
    _discard(part)
    try:
        disk.make_folder(part)
        for name, data in files.items():
            target = part / name
            disk.make_folder(target.parent)
            _fill(target, _bytes(data), disk)
        disk.sync_folder(part)
        disk.replace(part, path)
    except BaseException:
        _discard(part)
        raise
    disk.sync_folder(path.parent)


def sweep(folder: Path) -> None:
    """Remove what killed writers left in a folder; called before the next write into it."""
    if folder.is_dir():
        for part in folder.glob(f".*{PART}"):
            _discard(part)


def _fill(path: Path, data: bytes, disk: Disk) -> None:
    handle = disk.create(path)
    try:
        left = memoryview(data)
        while left:
            left = left[disk.write(handle, bytes(left)) :]
        disk.sync(handle)
    finally:
        disk.close(handle)


def _bytes(data: bytes | str) -> bytes:
    return data.encode("utf-8") if isinstance(data, str) else data


def _discard(part: Path) -> None:
    with suppress(OSError):
        if part.is_dir():
            shutil.rmtree(part, ignore_errors=True)
        else:
            part.unlink(missing_ok=True)
