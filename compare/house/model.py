"""The house file as a whole, and its JSON schema for editors."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import Field, PrivateAttr, model_validator

from compare.house.control import Control
from compare.house.layers import Construction, u_field
from compare.house.periods import RatePeriod
from compare.house.places import HeadPlace, OutdoorPlace, UnitSpacePlace
from compare.house.plan import Use
from compare.house.rooms import BedPlace, Door, Level, Opening, Room, SeatPlace, Stair, Table, Wall, Window
from compare.house.services import (
    Air,
    Bill,
    Comfort,
    ExistingHeat,
    Fabric,
    Fuel,
    HouseInfo,
    Panel,
    Priorities,
    Rates,
    Site,
)
from compare.house.source import Source
from compare.house.tables import default_of
from compare.house.values import Word, refusal
from compare.units import System

MOST_ITEMS = {
    "level": 4,
    "room": 60,
    "wall": 120,
    "window": 600,
    "door": 120,
    "opening": 120,
    "stair": 20,
    "bed": 120,
    "seat": 120,
    "unit_space": 40,
    "head_place": 120,
    "outdoor_spot": 40,
    "control": 60,
    "construction": 4,
    "rate_period": 24,
    "bill": 240,
}
"""Most items of each list in one file."""

MOST_WINDOWS_A_ROOM = 20


class HouseFile(Table):
    """One house, validated; every number is SI and its name carries the unit."""

    units: Annotated[System, Word(System)]
    house: HouseInfo
    site: Site
    fabric: Fabric
    air: Air
    comfort: Comfort
    panel: Panel
    rates: Rates
    priorities: Priorities
    existing_heat: ExistingHeat | None = None
    levels: list[Level] = Field(alias="level", min_length=1)
    rooms: list[Room] = Field(alias="room", min_length=1)
    walls: list[Wall] = Field(default_factory=list, alias="wall")
    windows: list[Window] = Field(default_factory=list, alias="window")
    doors: list[Door] = Field(default_factory=list, alias="door")
    openings: list[Opening] = Field(default_factory=list, alias="opening")
    stairs: list[Stair] = Field(default_factory=list, alias="stair")
    beds: list[BedPlace] = Field(default_factory=list, alias="bed")
    seats: list[SeatPlace] = Field(default_factory=list, alias="seat")
    unit_spaces: list[UnitSpacePlace] = Field(default_factory=list, alias="unit_space")
    head_places: list[HeadPlace] = Field(default_factory=list, alias="head_place")
    outdoor_spots: list[OutdoorPlace] = Field(default_factory=list, alias="outdoor_spot")
    controls: list[Control] = Field(default_factory=list, alias="control")
    rate_periods: list[RatePeriod] = Field(default_factory=list, alias="rate_period")
    constructions: list[Construction] = Field(default_factory=list, alias="construction")
    bills: list[Bill] = Field(default_factory=list, alias="bill")

    _source: Source = PrivateAttr(default_factory=lambda: Source.of_text("", "house"))

    @model_validator(mode="after")
    def _set_points_apart(self) -> Self:
        for control in self.controls:
            heat = self.comfort.heating_c if control.heating_c is None else control.heating_c
            cool = self.comfort.cooling_c if control.cooling_c is None else control.cooling_c
            if cool < heat + 1.0:
                raise refusal(f'control of "{control.room}": cooling must be at least 2 °F (1 °C) above heating')
        return self

    @model_validator(mode="after")
    def _layers_stand_alone(self) -> Self:
        parts = [made.of for made in self.constructions]
        for part in parts:
            if parts.count(part) > 1:
                raise refusal(f"the layers of the {part.value} are given twice; keep one [[construction]] of it")
            if u_field(part) in self.fabric.model_fields_set:
                raise refusal(f"fabric.{part.value}_u and the layers of the {part.value} say the same; leave one out")
        return self

    def with_layers(self) -> HouseFile:
        """The house with the U-values that follow from its stated layers."""
        values = {u_field(made.of): made.u_w_m2k for made in self.constructions}
        return self.model_copy(update={"fabric": self.fabric.model_copy(update=values)}) if values else self

    @property
    def source(self) -> Source:
        """The text that this house was read from, for pointing at lines."""
        return self._source

    @property
    def folder(self) -> Path | None:
        """Folder of the house file, against which the path of a weather file is taken; None for text in memory."""
        return self._source.folder

    @property
    def fuel_price_usd(self) -> float | None:
        """USD for a unit (therm, gallon, cord, kWh) of the old heat's fuel, own price first; None without old heat."""
        heat = self.existing_heat
        if heat is None or heat.fuel is Fuel.NONE:
            return None
        return self.rates.of(heat.fuel) if heat.price_usd is None else heat.price_usd

    def attach(self, source: Source) -> HouseFile:
        """Remember the text that this house was read from."""
        self._source = source
        return self

    @property
    def people(self) -> float:
        """People who live here: as written, else the sleepers of the regular beds (one in a bedroom without a bed)."""
        if self.house.people is not None:
            return float(self.house.people)
        slept_in = {bed.room for bed in self.beds}
        bare = [room for room in self.rooms if room.use is Use.BEDROOM and room.regular and room.name not in slept_in]
        written = sum(bed.sleepers for bed in self.beds if bed.regular is not False)
        return written + len(bare) * default_of("bed.sleepers")


OPTIONAL_TABLES = ("fabric", "air", "comfort", "panel", "rates", "priorities")
"""Tables that may be left out; each then stands for its defaults."""


def house_schema() -> dict[str, Any]:
    """JSON schema of the house file, kept to plain keywords that TOML editors understand."""
    schema = HouseFile.model_json_schema(by_alias=True, ref_template="#/definitions/{model}")
    schema["definitions"] = schema.pop("$defs")
    schema["required"] = [name for name in schema["required"] if name not in OPTIONAL_TABLES]
    return {"$schema": "http://json-schema.org/draft-04/schema#", **_plain(schema)}


def _plain(node: Any) -> Any:  # noqa: ANN401
    """A schema without titles and nulls, which TOML does not have; a choice of one thing becomes that thing."""
    if isinstance(node, list):
        return [_plain(item) for item in node if item != {"type": "null"}]
    if not isinstance(node, dict):
        return node
    kept = {key: _plain(value) for key, value in node.items() if not _is_clutter(key, value)}
    choices = kept.get("anyOf")
    if isinstance(choices, list) and len(choices) == 1:
        del kept["anyOf"]
        return {**choices[0], **kept}
    return kept


def _is_clutter(key: str, value: object) -> bool:
    return (key == "title" and isinstance(value, str)) or (key == "default" and value is None)
