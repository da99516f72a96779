"""Everything that a house file leaves out, and what is assumed in its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from compare.house.furniture import NEEDS_SEAT
from compare.house.model import HouseFile
from compare.house.plan import Use
from compare.house.rooms import Door, Table, Window
from compare.house.services import Air, ExistingHeat, Fuel, Rates
from compare.house.tables import Field, age_presets, fields, sentences
from compare.house.values import Quantity
from compare.units import Kind, System, show


@dataclass(frozen=True, slots=True)
class Assumption:
    """One thing that the file does not say: where it would stand, the value taken, and why."""

    path: str
    value_text: str
    reason: str


_LISTS = {
    "level": "levels",
    "window": "windows",
    "door": "doors",
    "opening": "openings",
    "stair": "stairs",
    "bed": "beds",
}
_TABLES = ("house", "site", "fabric", "air", "comfort", "rates")
_FUEL_RATE = {Fuel.GAS: "gas", Fuel.OIL: "oil", Fuel.PROPANE: "propane", Fuel.WOOD: "wood"}


def _quantities(table: Table) -> Iterator[tuple[str, str, Field]]:
    """Attribute, key and table row of each number of a table that has a default."""
    for name, info in type(table).model_fields.items():
        for mark in info.metadata:
            if isinstance(mark, Quantity) and fields()[mark.field].default is not None:
                yield name, info.alias or name, fields()[mark.field]


def _matters(house: HouseFile, table: Table, key: str) -> bool:
    """Whether a number that was left out reaches any result."""
    if isinstance(table, Window):
        return key in {"shade", "overhang"} or (key in {"height", "overhang_above"} and table.overhang_m > 0.0)
    if isinstance(table, Door):
        size_known = table.written_area_m2 is not None
        return table.between is not None or (key in {"width", "height"} and not size_known)
    if isinstance(table, Air):
        return key != "heat_recovery" or table.ventilation_m3_s > 0.0
    if isinstance(table, Rates):
        heat = house.existing_heat
        own_price = heat is not None and heat.price_usd is not None
        return key in {"electricity", "carbon"} or (
            heat is not None and not own_price and _FUEL_RATE.get(heat.fuel) == key
        )
    return True


def _text(value_si: float, kind: Kind, system: System) -> str:
    return show(value_si, kind, system)


def _left_out(house: HouseFile, table: Table) -> Iterator[tuple[str, Field]]:
    for name, key, spec in _quantities(table):
        written = name in table.model_fields_set or getattr(table, name) is None
        if not written and _matters(house, table, key):
            yield key, spec


def _number(house: HouseFile, path: str, spec: Field) -> Assumption:
    value = _text(spec.default or 0.0, spec.kind, house.units)
    return Assumption(path, value, f"{spec.sentence} ({spec.mark})")


def _of_tables(house: HouseFile) -> Iterator[Assumption]:
    for name in _TABLES:
        for key, spec in _left_out(house, getattr(house, name)):
            yield _number(house, f"{name}.{key}", spec)
    if isinstance(house.existing_heat, ExistingHeat):
        for key, spec in _left_out(house, house.existing_heat):
            yield _number(house, f"existing_heat.{key}", spec)


def _of_lists(house: HouseFile) -> Iterator[Assumption]:
    """One line for each number that items of a list leave out, with how many do."""
    for key, attribute in _LISTS.items():
        items: Sequence[Table] = getattr(house, attribute)
        missing: dict[str, tuple[int, Field]] = {}
        for item in items:
            for name, spec in _left_out(house, item):
                missing[name] = missing.get(name, (0, spec))[0] + 1, spec
        for name, (count, spec) in missing.items():
            yield _number(house, f"{key}.{name} ({count} of {len(items)})", spec)


def _of_presets(house: HouseFile) -> Iterator[Assumption]:
    """Constructions and leakage that follow from the age of the house."""
    fabric, air = house.fabric, house.air
    preset = age_presets()[fabric.age]
    if "age" not in fabric.model_fields_set:
        yield Assumption("fabric.age", fabric.age.value, f"the house was built in {house.house.built}")
    for name, info in type(fabric).model_fields.items():
        key = info.alias or name
        if key in preset.values and name not in fabric.model_fields_set:
            value = _text(preset.values[key], fields()[f"fabric.{key}"].kind, house.units)
            yield Assumption(f"fabric.{key}", value, f"usual in a house of {preset.age} ({preset.source})")
    if "ach50_1_h" in air.model_fields_set:
        return
    if "leakage" not in air.model_fields_set:
        yield Assumption("air.class", air.leakage.value, f"usual in a house of {preset.age} (our judgement)")
    value = _text(air.ach50_1_h, Kind.AIR_CHANGES, house.units)
    reason = f"typical of the class {air.leakage.value} (from the unit leakage area of the ASHRAE Handbook)"
    yield Assumption("air.ach50", f"{value} at 50 Pa", reason)


def _named(field: str, value_text: str = "") -> Assumption:
    value, mark, sentence = sentences()[field]
    return Assumption(field, value_text or value, f"{sentence} ({mark})")


def _of_words(house: HouseFile) -> Iterator[Assumption]:
    """Choices, counts and whole tables that were left out."""
    if house.house.people is None:
        yield _named("house.people", f"{house.people:g}")
    for table, key, name in (
        (house.site, "shelter", "site.shelter"),
        (house.site, "weather", "site.weather"),
        (house.site, "design", "site.design"),
        (house.fabric, "wall_type", "fabric.wall_type"),
        (house.air, "ventilation_kind", "air.ventilation_kind"),
        (house.panel, "service_a", "panel.service_amps"),
        (house.panel, "free_spaces", "panel.free_spaces"),
    ):
        if key not in table.model_fields_set:
            yield _named(name)
    if any("above" not in level.model_fields_set for level in house.levels):
        yield _named("level.above")
    if any(level.below is None for level in house.levels[1:]):
        yield _named("level.below")
    if not house.priorities.model_fields_set:
        yield _named("priorities")
    if house.existing_heat is None:
        yield _named("existing_heat")
    if not house.controls:
        yield _named("control")


def _of_furniture(house: HouseFile) -> Iterator[Assumption]:
    slept_in, sat_in = {bed.room for bed in house.beds}, {seat.room for seat in house.seats}
    bare = [room.name for room in house.rooms if room.use is Use.BEDROOM and room.name not in slept_in]
    empty = [room.name for room in house.rooms if room.use in NEEDS_SEAT and room.name not in sat_in]
    if bare:
        yield _named("room.bed", f"{', '.join(bare)}: one bed")
    if empty:
        yield _named("room.seat", f"{', '.join(empty)}: one seat")
    if any(space.inside is None for space in house.unit_spaces):
        yield _named("unit_space.inside")


def assumptions(house: HouseFile) -> tuple[Assumption, ...]:
    """Everything assumed for a house because its file does not say it, in the order of the file's tables."""
    parts = (_of_tables, _of_presets, _of_words, _of_lists, _of_furniture)
    return tuple(found for part in parts for found in part(house))
