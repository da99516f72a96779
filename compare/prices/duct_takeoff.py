"""Quantities of the duct work of one concealed unit: piece by piece where it is designed, else by the branch."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from compare.prices.job import DuctedItem, DuctParts, DuctRun
from compare.prices.quantity import Quantity, count, feet

LARGEST_USUAL_FILTER_IN2 = 400
"""Return grilles come in two price classes, up to 20 x 20 in. and above it."""
DEEP_FILTER_IN = 4


def duct_quantities(unit: DuctedItem) -> Iterator[Quantity]:
    """Duct work, pan, switch, carpentry and balancing of one concealed unit."""
    if unit.parts is None:
        yield count("duct_branch", f"branches of {unit.name}", unit.branches)
        yield count("return_grille_filter", f"return of {unit.name}", unit.returns)
    else:
        yield from _designed(unit, unit.parts)
    yield count("trunk_plenum_return_box", f"trunk of {unit.name}", unit.trunks)
    yield count("balance_commission_ducted", unit.name)
    optional = (("secondary_pan", unit.secondary_pan), ("float_switch", unit.float_switch), ("soffit", unit.soffit))
    for item, wanted in optional:
        if wanted:
            yield count(item, unit.name)


def _designed(unit: DuctedItem, parts: DuctParts) -> Iterator[Quantity]:
    for run in parts.runs:
        yield from _run(run, f"{unit.name} to {run.room}")
    wide, high, deep = parts.filter_in
    large = wide * high > LARGEST_USUAL_FILTER_IN2
    note = f"return of {unit.name}, filter {wide} x {high} x {deep} in."
    yield count("return_grille_filter_large" if large else "return_grille_filter", note, unit.returns)
    if deep >= DEEP_FILTER_IN:
        yield count("filter_deep", note, unit.returns)
    yield count("unit_hangers", unit.name)
    yield from (count("door_undercut", f"door of {room}, air back to {unit.name}") for room in parts.undercuts)


def _run(run: DuctRun, note: str) -> Iterator[Quantity]:
    """The runs of one room: collars, ducts by size and length, elbows, dampers, registers."""
    lengths = ((f"duct_rigid_{run.diameter_in}", run.rigid_m), (f"duct_flex_{run.diameter_in}", run.flex_m))
    yield count("branch_start", note, run.runs)
    for item, length_m in lengths:
        amount = feet(run.runs * length_m)
        if amount:
            yield count(item, note, amount)
    pieces: tuple[tuple[str, int], ...] = (
        ("duct_elbow", run.runs * run.elbows),
        ("balance_damper", run.runs),
        ("supply_register", run.runs),
    )
    yield from (count(item, note, Decimal(amount)) for item, amount in pieces if amount)
