"""Constructions of the house file given by their layers, and the U-value that follows from them."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Annotated

from pydantic import Field
from pydantic_core import core_schema
from typing_extensions import override

from compare.house.problems import nearest
from compare.house.rooms import Table
from compare.house.values import JsonSchema, Quantity, Word, _Written, refusal

MOST_LAYERS = 12


class LayeredPart(StrEnum):
    """Part of the envelope that layers may be given for; each is a U-value of `[fabric]`."""

    WALL = "wall"
    CEILING = "ceiling"
    """Below a vented attic."""
    ROOF = "roof"
    FLOOR = "floor"


@dataclass(frozen=True, slots=True)
class Material:
    """What a layer is made of."""

    name: str
    conductivity_w_mk: float
    density_kg_m3: float
    specific_heat_j_kgk: float
    source: str


@lru_cache(maxsize=1)
def materials() -> Mapping[str, Material]:
    """Materials by name."""
    text = files("compare").joinpath("data", "house", "materials.csv").read_text(encoding="utf-8")
    return MappingProxyType(
        {
            row["material"]: Material(
                row["material"],
                float(row["conductivity_w_mk"]),
                float(row["density_kg_m3"]),
                float(row["specific_heat_j_kgk"]),
                row["source"],
            )
            for row in csv.DictReader(text.splitlines())
        }
    )


@dataclass(frozen=True, slots=True)
class MaterialName(_Written):
    """A material of the table; the nearest is offered when another is written."""

    @override
    def read(self, value: object, info: core_schema.ValidationInfo) -> str:
        if not isinstance(value, str) or value not in materials():
            listed = ", ".join(materials())
            raise refusal(f"must be one of {listed}", nearest(value, materials()) if isinstance(value, str) else "")
        return value

    @override
    def schema(self) -> JsonSchema:
        return {"type": "string", "enum": list(materials())}


class LayerRow(Table):
    """One layer."""

    material: Annotated[str, MaterialName()]
    thickness_m: Annotated[float, Quantity("layer.thickness")] = Field(alias="thickness")

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance of the layer."""
        return self.thickness_m / materials()[self.material].conductivity_w_mk


class Construction(Table):
    """A part of the envelope by its layers, from outside to inside; takes the place of its U-value."""

    of: Annotated[LayeredPart, Word(LayeredPart)]
    layers: list[LayerRow] = Field(min_length=1, max_length=MOST_LAYERS)

    @property
    def resistance_m2k_w(self) -> float:
        """Resistance between the two surfaces."""
        return sum(layer.resistance_m2k_w for layer in self.layers)

    @property
    def u_w_m2k(self) -> float:
        """U-value with the usual films of a rating."""
        return 1.0 / (self.resistance_m2k_w + rated_films_m2k_w()[self.of])


@lru_cache(maxsize=1)
def rated_films_m2k_w() -> Mapping[LayeredPart, float]:
    """Resistance of both films in a rated U-value; beside a buffer space the air is still on both sides."""
    text = files("compare").joinpath("data", "fabric", "films.csv").read_text(encoding="utf-8")
    value = {row["name"]: float(row["value"]) for row in csv.DictReader(text.splitlines())}
    outside, up = value["rated_outside_m2k_w"], value["rated_inside_up_m2k_w"]
    return MappingProxyType(
        {
            LayeredPart.WALL: value["rated_inside_wall_m2k_w"] + outside,
            LayeredPart.CEILING: up + 1.0 / value["space_up_w_m2k"],
            LayeredPart.ROOF: up + outside,
            LayeredPart.FLOOR: value["rated_inside_down_m2k_w"] + 1.0 / value["space_down_w_m2k"],
        }
    )


def u_field(part: LayeredPart) -> str:
    """The field of `[fabric]` that a part's layers replace."""
    return f"{part.value}_u_w_m2k"
