"""The folder of house files: list, read, write at once and whole, and keep unsaved drafts from getting lost.

Only plain files of the folder itself are touched, under names that this module checks. A write goes to a new file that
then takes the old one's name; the old one is kept. Drafts lie in a hidden folder beside the houses.
"""

from __future__ import annotations

import json
import os
import re
import secrets
import time
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from compare.house.reading import MOST_BYTES
from dashboard.survey.draft.history import digest

HIDDEN = ".survey"
MOST_HOUSES = 200
MOST_KEPT = 10
"""Earlier versions of one house that are kept."""
_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9 _().-]{0,58}\.toml")
_FOREIGN = re.compile(r"[^a-z0-9]+")


class ShelfError(ValueError):
    """A house that cannot be opened or written; the text says why in plain words."""


class ChangedError(ShelfError):
    """The file is another than the one that was opened."""


@dataclass(frozen=True, slots=True)
class Kept:
    """An unsaved draft: its text and the digest of the file that it began from, empty for a new house."""

    data: bytes
    base: str
    changed_s: float


def checked_file(name: object) -> str:
    """A file name of this folder; raises `ShelfError`."""
    if not isinstance(name, str) or not _NAME.fullmatch(name) or ".." in name:
        raise ShelfError("A file name has letters, figures and blanks, and ends in .toml.")
    return name


def file_name_for(house: str) -> str:
    """A file name made of a house's name."""
    plain = _FOREIGN.sub("_", house.lower()).strip("_")[:40]
    return f"{plain or 'house'}.toml"


class Shelf:
    """The houses of one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self._lock = RLock()

    def path(self, name: object) -> Path:
        """Where a house lies; raises `ShelfError` for names and links that lead elsewhere."""
        path = self.folder / checked_file(name)
        if path.is_symlink() or (path.exists() and not path.is_file()):
            raise ShelfError(f"{path.name} is no plain file of this folder.")
        return path

    def names(self) -> list[str]:
        """House files of the folder, by name."""
        found = (path.name for path in self.folder.glob("*.toml") if path.is_file() and not path.is_symlink())
        return sorted(name for name in found if _NAME.fullmatch(name))[:MOST_HOUSES]

    def free_file(self, house: str) -> str:
        """A file name for a new house that neither a file nor a draft has."""
        wish = file_name_for(house)
        taken = {name.casefold() for name in (*self.names(), *self.drafts())}
        number, name = 2, wish
        while name.casefold() in taken or (self.folder / name).exists():
            name, number = f"{wish.removesuffix('.toml')}_{number}.toml", number + 1
        return name

    def read(self, name: object) -> bytes:
        """The bytes of a house file; raises `ShelfError`."""
        path = self.path(name)
        try:
            if path.stat().st_size > MOST_BYTES:
                raise ShelfError(f"{path.name} is too large for a house file.")
            return path.read_bytes()
        except OSError as error:
            raise ShelfError(f"{path.name} cannot be read: {_why(error)}.") from None

    def now(self, name: object) -> str:
        """Digest of the file as it is; empty where there is none."""
        path = self.path(name)
        return digest(self.read(name)) if path.exists() else ""

    def write(self, name: object, data: bytes, base: str) -> str:
        """Write a house whole, if the file still is the one with digest `base` (empty: there is none yet).

        Returns the new digest. Raises `ChangedError` when somebody else changed it, `ShelfError` when it cannot be.
        """
        path = self.path(name)
        with self._lock:
            if self.now(name) != base:
                told = "was changed by somebody else" if base else "exists already"
                raise ChangedError(f"{path.name} {told}. Save under another name, or take the file as it is now.")
            try:
                if base:
                    self._keep_old(path)
                    _put(path, data)
                else:
                    _put_new(path, data)
            except FileExistsError:
                raise ChangedError(f"{path.name} exists already. Save under another name.") from None
            except OSError as error:
                raise ShelfError(f"{path.name} cannot be written: {_why(error)}. The draft is kept.") from None
            return digest(data)

    def _keep_old(self, path: Path) -> None:
        """Keep the version that is about to be replaced, and the latest ones before it."""
        folder = self._hidden("before")
        stamp = time.strftime("%Y%m%d-%H%M%S", time.gmtime(path.stat().st_mtime))
        _put(folder / f"{path.stem} {stamp}-{digest(path.read_bytes())[:6]}.toml", path.read_bytes())
        old = sorted(folder.glob(f"{path.stem} ????????-??????-??????.toml"))
        for extra in old[:-MOST_KEPT]:
            extra.unlink(missing_ok=True)

    def _hidden(self, *parts: str) -> Path:
        folder = self.folder.joinpath(HIDDEN, *parts)
        folder.mkdir(parents=True, exist_ok=True)
        return folder

    def drafts(self) -> list[str]:
        """Houses with an unsaved draft, by name."""
        folder = self.folder / HIDDEN / "drafts"
        if not folder.is_dir():
            return []
        return sorted(path.name for path in folder.glob("*.toml") if _NAME.fullmatch(path.name) and path.is_file())

    def keep(self, name: object, data: bytes, base: str) -> None:
        """Keep a draft; raises `ShelfError` where the folder cannot be written."""
        file = checked_file(name)
        with self._lock:
            try:
                folder = self._hidden("drafts")
                _put(folder / f"{file}.base", json.dumps({"base": base, "of": digest(data)}).encode())
                _put(folder / file, data)
            except OSError as error:
                raise ShelfError(f"The draft cannot be kept on this computer: {_why(error)}. Save the house.") from None

    def kept(self, name: object) -> Kept | None:
        """The unsaved draft of a house."""
        path = self.folder / HIDDEN / "drafts" / checked_file(name)
        try:
            data, changed_s = path.read_bytes(), path.stat().st_mtime
            told = json.loads(path.with_name(f"{path.name}.base").read_bytes())
            base = told.get("base") if isinstance(told, dict) else ""
        except OSError:
            return None
        except ValueError:
            base = ""
        return Kept(data, base if isinstance(base, str) else "", changed_s)

    def drop(self, name: object) -> None:
        """A draft that was saved or given up."""
        path = self.folder / HIDDEN / "drafts" / checked_file(name)
        with self._lock:
            path.unlink(missing_ok=True)
            path.with_name(f"{path.name}.base").unlink(missing_ok=True)


def _why(error: OSError) -> str:
    return (error.strerror or "no access").lower()


def _temporary(path: Path, data: bytes) -> Path:
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    with beside.open("xb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    return beside


def _put(path: Path, data: bytes) -> None:
    """Write a file whole: readers see the old one or the new one, never a part."""
    beside = _temporary(path, data)
    try:
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def _put_new(path: Path, data: bytes) -> None:
    """The same for a file that must not exist; raises `FileExistsError` if it does."""
    beside = _temporary(path, data)
    try:
        path.hardlink_to(beside)
    finally:
        beside.unlink(missing_ok=True)
