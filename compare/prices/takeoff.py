"""Quantities from a plain description of the job: every line says which drawing item it belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import ROUND_HALF_UP, Decimal

from compare.prices.duct_takeoff import duct_quantities
from compare.prices.items import items
from compare.prices.job import (
    Base,
    DuctedItem,
    IndoorItem,
    IndoorKind,
    JobDescription,
    OutdoorItem,
    StaticClass,
    check_job,
)
from compare.prices.quantity import TENTH, Quantities, Quantity, count, feet

__all__ = ["Quantities", "Quantity", "combine", "take_off"]

LB_KG = Decimal("0.45359237")
FIRST_RUN_FT = Decimal(15)
"""Length of line whose labour is already in setting the unit; beyond it hours are added."""


def take_off(job: JobDescription) -> Quantities:
    """Count the job.

    A description without any unit or heater gives no lines at all, not even set-up and permit.

    Raises
    ------
    ValueError
        Any fault in the description, naming the field and the cure (`compare.prices.job.check_job`), or a unit of a
        kind and size for which there is no take-off item.
    """
    check_job(job)
    lines = [*_indoor(job), *_ducted(job), *_outdoor(job), *_extras(job)]
    if not lines:
        return ()
    site = (count("set_up", "job"), count("permit", "job"), count("hand_over", "job"))
    return (*lines, *site)


def combine(quantities: Iterable[Quantity]) -> Quantities:
    """Add up equal items; their notes are joined with semicolons, each once. For a short list in a document."""
    amounts: dict[str, Decimal] = {}
    notes: dict[str, dict[str, None]] = {}
    for q in quantities:
        amounts[q.item] = amounts.get(q.item, Decimal(0)) + q.amount
        notes.setdefault(q.item, {})[q.note] = None
    return tuple(Quantity(name, amounts[name], items()[name].unit, "; ".join(notes[name])) for name in amounts)


def _unit(shared_item: str, pair_item: str, name: str, shared: bool) -> Quantity:
    """Count an indoor unit; the sizes sold as pairs are the sizes there are, on a shared outdoor unit too."""
    pair = count(pair_item, name)
    return count(shared_item, name) if shared else pair


def _run(unit: IndoorItem | DuctedItem) -> Iterator[Quantity]:
    """Line set, cover, pump and masonry of one indoor unit."""
    length = feet(unit.line_length_m)
    first = min(length, FIRST_RUN_FT)
    yield count("line_set_first_15_ft", f"line to {unit.name}", first)
    if length > first:
        yield count("line_set_beyond_15_ft", f"line to {unit.name}", length - first)
    cover = feet(unit.line_cover_m)
    if cover:
        yield count("line_cover", f"cover of the line to {unit.name}", cover)
    if unit.condensate_pump:
        yield count("condensate_pump", unit.name)
    if unit.masonry_wall:
        yield count("masonry_wall", unit.name)


def _is_shared(job: JobDescription, outdoor: str) -> bool:
    return next(unit.shared for unit in job.outdoor if unit.name == outdoor)


_INDOOR_WORDS = {
    IndoorKind.WALL: "wall_head",
    IndoorKind.FLOOR: "floor_console",
    IndoorKind.CEILING: "ceiling_cassette",
}
LARGEST_SMALL_HEAD = 12
"""Wall heads for shared outdoor units come in two price classes, up to this size and above it."""


def _indoor(job: JobDescription) -> Iterator[Quantity]:
    for unit in job.indoor:
        word = _INDOOR_WORDS[unit.kind]
        item = f"shared_{word}"
        if unit.kind is IndoorKind.WALL:
            item += "_6_12" if unit.size <= LARGEST_SMALL_HEAD else "_15_24"
        yield _unit(item, f"pair_{word}_{unit.size}", unit.name, _is_shared(job, unit.outdoor))
        yield from _run(unit)


def _ducted(job: JobDescription) -> Iterator[Quantity]:
    for unit in job.ducted:
        static = "ducted_low" if unit.static is StaticClass.LOW else "ducted_mid"
        yield _unit(f"shared_{static}", f"pair_{static}_{unit.size}", unit.name, _is_shared(job, unit.outdoor))
        yield from _run(unit)
        yield from duct_quantities(unit)


def _outdoor(job: JobDescription) -> Iterator[Quantity]:
    for number, unit in enumerate(job.outdoor):
        if unit.shared:
            yield count(f"shared_outdoor_{unit.size}", unit.name)
        yield count("pad" if unit.base is Base.PAD else "wall_bracket", unit.name)
        if unit.snow_stand:
            yield count("snow_stand", unit.name)
        yield count("circuit_first" if number == 0 else "circuit_further", f"circuit of {unit.name}")
        if number == 0:
            yield count("surge_protector", "job")
        yield count("pressure_vacuum_release", f"lines of {unit.name}", _tests(job, unit))
        if unit.added_charge_kg:
            pounds = (Decimal(repr(float(unit.added_charge_kg))) / LB_KG).quantize(TENTH, rounding=ROUND_HALF_UP)
            yield count("refrigerant", unit.name, pounds)


def _tests(job: JobDescription, unit: OutdoorItem) -> int:
    """One test and vacuum for a pair, one for each two branches of a shared unit (our judgement)."""
    branches = sum(indoor.outdoor == unit.name for indoor in job.units)
    return (branches + 1) // 2 if unit.shared else 1


def _extras(job: JobDescription) -> Iterator[Quantity]:
    yield from (count("room_heater", f"room heater, {room}") for room in job.room_heaters)
    yield from (count("transfer_grille", f"transfer grille, {room}") for room in job.transfer_grilles)
    counted = (("remove_old", job.old_units), ("further_electrical", job.further_electrical))
    yield from (count(item, "job", amount) for item, amount in counted if amount)
    if job.service_upgrade:
        yield count("service_upgrade", "job")
