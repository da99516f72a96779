"""The houses of a folder: listed without working anything out, opened one by one, the least recently used put to sleep.

A house that is awake holds several comparisons, so only a few are. One that sleeps is compared again when it is asked
something; its page and its sessions stay.
"""

from __future__ import annotations

import re
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Any, Protocol

from compare.house.problems import HouseFileError
from compare.house.reading import read_house

ENDING = ".toml"
MOST_LISTED = 500
MOST_AWAKE = 2
MOST_OPEN = 60
"""Houses whose comparisons, and whose pages, are kept (our judgement: up to 100 MB for ten rooms, and 1 MB)."""
MOST_PROBLEMS = 3
_UNSAFE = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True, slots=True)
class Listed:
    """One house of the list: what a customer may see of it, or what is wrong with its file."""

    key: str
    file: str
    name: str = ""
    place: str = ""
    levels: int = 0
    problems: tuple[str, ...] = ()
    more: int = 0
    """Problems beyond those told."""


class OpenHouse(Protocol):
    """A house whose pages are served."""

    wsgi: Callable[..., Any]

    def sleep(self) -> None:
        """Give up what can be worked out again."""


Opener = Callable[[Path, str], OpenHouse]
"""Opens a house file under a key."""


def keys_of(names: list[str]) -> dict[str, str]:
    """A short address for each file name, in plain letters, each its own."""
    found: dict[str, str] = {}
    for name in sorted(names):
        stem = _UNSAFE.sub("-", Path(name).stem.lower()).strip("-")[:48] or "house"
        key, number = stem, 2
        while key in found:
            key, number = f"{stem}-{number}", number + 1
        found[key] = name
    return found


def listed(path: Path, key: str) -> Listed:
    """Read a house file for the list; a broken one is told with its problems."""
    try:
        house = read_house(path)
    except HouseFileError as error:
        told = tuple(str(problem) for problem in error.problems[:MOST_PROBLEMS])
        return Listed(key, path.name, problems=told, more=max(0, len(error.problems) - MOST_PROBLEMS))
    except (ValueError, OSError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return Listed(key, path.name, problems=(f"{path.name}: {reason}",))
    return Listed(key, path.name, house.house.name, house.site.place, len(house.levels))


class Shelf:
    """Houses of a folder by key."""

    def __init__(self, folder: Path, opener: Opener, most_awake: int = MOST_AWAKE) -> None:
        self.folder, self._opener, self._most_awake = folder, opener, most_awake
        self._lock = Lock()
        self._read: dict[tuple[str, int, int], Listed] = {}
        self._open: OrderedDict[str, OpenHouse] = OrderedDict()

    def files(self) -> dict[str, str]:
        """File names by key, as the folder stands now."""
        try:
            found = [path.name for path in self.folder.iterdir() if path.suffix == ENDING and path.is_file()]
        except OSError:
            found = []
        return keys_of(sorted(found)[:MOST_LISTED])

    def listed(self) -> tuple[Listed, ...]:
        """Every house in the order of its name; broken ones last. Read again only where a file changed."""
        rows, kept = [], {}
        for key, name in self.files().items():
            path = self.folder / name
            try:
                stat = path.stat()
            except OSError:
                continue
            stamp = key, stat.st_mtime_ns, stat.st_size
            kept[stamp] = self._read.get(stamp) or listed(path, key)
            rows.append(kept[stamp])
        with self._lock:
            self._read = kept
        return tuple(sorted(rows, key=lambda row: (bool(row.problems), row.name.lower(), row.file)))

    def house(self, key: str) -> OpenHouse | None:
        """The pages of a house; None for a key that the folder does not have. The one used longest ago gives way."""
        name = self.files().get(key)
        if name is None:
            return None
        with self._lock:
            if key not in self._open:
                self._open[key] = self._opener(self.folder / name, key)
                while len(self._open) > MOST_OPEN:
                    self._open.popitem(last=False)[1].sleep()
            newly = next(reversed(self._open)) != key or len(self._open) > self._most_awake
            self._open.move_to_end(key)
            tired = list(self._open.values())[: -self._most_awake] if newly else []
            found = self._open[key]
        for house in tired:
            house.sleep()
        return found
