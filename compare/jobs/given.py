"""What a comparison is worked out from: the text of the house file, its weather, and a company's own lists."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from compare.climate.embedded import stations
from compare.equipment.catalogue import catalogue
from compare.house.model import HouseFile
from compare.house.reading import decoded, read_house_text
from compare.offer import Progress, Sources
from compare.pipeline import Comparison, compare_house
from compare.prices.price_list import load_price_list

HOUSE, PRICES, UNITS = "house.toml", "prices.csv", "units"


@dataclass(frozen=True, slots=True)
class Given:
    """Bytes of the house file, its folder, and where own lists lie; the program's lists where None."""

    name: str
    house: bytes
    folder: Path
    prices: Path | None = None
    units: Path | None = None

    @classmethod
    def at(cls, path: Path, prices: Path | None = None, units: Path | None = None) -> Given:
        """A house file as it lies on the disk."""
        return cls(path.name, path.read_bytes(), path.parent, prices, units)

    @classmethod
    def frozen(cls, folder: Path, name: str) -> Given:
        """What a frozen proposal was worked out from."""
        prices, units = folder / PRICES, folder / UNITS
        return cls(name, (folder / HOUSE).read_bytes(), folder, prices, units if units.is_dir() else None)

    def read(self) -> HouseFile:
        """The house, validated; HouseFileError with every problem."""
        return read_house_text(decoded(self.house, self.name), self.name, self.folder)

    def sources(self) -> Sources:
        """Unit catalogue and price list."""
        return Sources(catalogue(self.units), load_price_list(self.prices))

    def worked_out(self, progress: Progress | None = None) -> Comparison:
        """The comparison."""
        return compare_house(self.read(), self.folder, sources=self.sources(), progress=progress)


def weather_file(house: HouseFile, folder: Path) -> tuple[str, bytes] | None:
    """Name and content of the weather file that a house names; None where the year comes with the program.

    Raises
    ------
    ValueError
        When the file lies outside the folder of the house file, so that it cannot be frozen beside it.
    """
    named = house.site.weather
    if named is None or named in stations():
        return None
    path = (folder / named).resolve()
    if Path(named).is_absolute() or not path.is_relative_to(folder.resolve()):
        raise ValueError(f"site.weather = {named!r}: lies outside the folder of the house file; copy it beside it")
    return path.relative_to(folder.resolve()).as_posix(), path.read_bytes()
