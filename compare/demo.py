"""The bundled demo house: an invented ranch that comes with the program."""

from __future__ import annotations

from importlib import resources

from compare.house.model import HouseFile
from compare.house.reading import read_house_text

NAME = "ranch.toml"


def demo_text() -> str:
    """Text of the demo house file."""
    return resources.files("compare.data.demo").joinpath(NAME).read_text(encoding="utf-8")


def demo_house() -> HouseFile:
    """The demo house."""
    return read_house_text(demo_text(), NAME)
