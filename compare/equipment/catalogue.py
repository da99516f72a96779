"""The unit catalogue: the bundled generic one, or a user's tables of the same columns in place of any of its tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from compare.equipment.assembly import Units, assemble
from compare.equipment.columns import TABLES
from compare.equipment.table import CatalogueError, column_names
from compare.equipment.unit import LABEL, Pair, SharedUnit, UnitKind

_SAME_SIZE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Catalogue:
    """Every unit on offer, smallest first. `spectra` maps (shape, speed) to eight octave offsets [dB]."""

    pairs: tuple[Pair, ...]
    shared: tuple[SharedUnit, ...]
    spectra: Mapping[tuple[str, str], tuple[float, ...]]
    label: str = LABEL

    def pairs_of(self, kind: UnitKind) -> tuple[Pair, ...]:
        """Single-zone pairs of one kind by rising size."""
        return tuple(pair for pair in self.pairs if pair.kind is kind)

    def pair(self, kind: UnitKind, size_kbtuh: float) -> Pair:
        """One single-zone pair.

        Raises
        ------
        KeyError
            When the catalogue has no such size; the text lists the sizes there are.
        """
        for pair in self.pairs_of(kind):
            if abs(pair.size_kbtuh - size_kbtuh) < _SAME_SIZE:
                return pair
        sizes = ", ".join(f"{pair.size_kbtuh:g}" for pair in self.pairs_of(kind))
        raise KeyError(f"the catalogue has no {kind} of size {size_kbtuh:g} kBtu/h; sizes: {sizes}")

    def shared_unit(self, size_kbtuh: float) -> SharedUnit:
        """One shared outdoor unit by its nominal size; KeyError as in `pair`."""
        for unit in self.shared:
            if abs(unit.outdoor.size_kbtuh - size_kbtuh) < _SAME_SIZE:
                return unit
        sizes = ", ".join(f"{unit.outdoor.size_kbtuh:g}" for unit in self.shared)
        raise KeyError(f"the catalogue has no shared outdoor unit of {size_kbtuh:g} kBtu/h; sizes: {sizes}")


def catalogue(path: Path | None = None) -> Catalogue:
    """The bundled generic catalogue, with any of its tables replaced by the user's.

    Parameters
    ----------
    path
        A folder with tables named as in `TABLES` (those it lacks are taken from the generic catalogue), or one
        CSV file whose columns match one of the tables.

    Raises
    ------
    CatalogueError
        Naming file, line, column and cure of every problem of a table.
    """
    if path is None:
        return _generic()
    return _catalogue(assemble(_user_texts(path)), f"{LABEL}, with the tables of {path.name}")


@cache
def _generic() -> Catalogue:
    return _catalogue(assemble({}), LABEL)


def _catalogue(units: Units, label: str) -> Catalogue:
    return Catalogue(units.pairs, units.shared, units.spectra, label)


def _user_texts(path: Path) -> dict[str, str]:
    if not path.exists():
        raise CatalogueError(f"{path}: not found; give a folder or a CSV file with the tables of the catalogue")
    files = sorted(path.glob("*.csv")) if path.is_dir() else [path]
    if not files:
        raise CatalogueError(f"{path}: holds no CSV file; tables are named {', '.join(TABLES)}")
    texts: dict[str, str] = {}
    for file in files:
        try:
            text = file.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise CatalogueError(f"{file.name}: cannot be read as UTF-8 text ({error})") from None
        name = file.name if file.name in TABLES else _table_like(file.name, column_names(text))
        if name in texts:
            raise CatalogueError(f"{file.name}: a second table of the columns of {name}")
        texts[name] = text
    return texts


def _table_like(file: str, head: tuple[str, ...]) -> str:
    def misses(name: str) -> int:
        needed = {column.name for column in TABLES[name] if not column.optional}
        return len(needed.symmetric_difference(set(head) - {"model"}))

    best = min(TABLES, key=misses)
    if misses(best) > 0 and misses(best) * 2 > len(TABLES[best]):
        raise CatalogueError(f"{file}:1: these columns fit no table of the catalogue; tables are {', '.join(TABLES)}")
    return best
