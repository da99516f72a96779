"""Served zones: the loop between duct loss, size and ducts closes, and bigger loads never get smaller units."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pytest

from compare.air.ducts.design import design_ducts
from compare.equipment.selection import cover
from compare.equipment.unit import Pair, UnitKind
from compare.house.plan import SpaceKind, Use
from compare.zones import served
from compare.zones.basis import DesignBasis
from compare.zones.served import LARGEST_DUCTS, ServedZone, design_zone, request_of, room_unit_zone, sited
from compare.zones.sketch import ZoneSketch
from tests.houses import basis_of, prepared

FACTORS = tuple(np.linspace(0.2, 3.0, 29))


def places(name: str) -> list[ZoneSketch]:
    """One ducted zone for every place of a scenario, with all rooms that it reaches."""
    plan = prepared(name).plan
    return [
        ZoneSketch(tuple(sorted(place.serves)), index) for index, place in enumerate(plan.unit_spaces) if place.serves
    ]


def living(name: str) -> int:
    return next(i for i, room in enumerate(prepared(name).plan.rooms) if room.use is Use.LIVING)


def designed_alone(basis: DesignBasis, zone: ServedZone, pair: Pair) -> float:
    """Share of the heat that reaches the rooms when ducts are drawn for a given unit."""
    assert zone.ducts is not None
    request = request_of(replace(basis, duct_policy=zone.ducts.policy), zone.sketch, pair)
    return design_ducts(basis.plan, request).heat_delivered_frac


@pytest.mark.parametrize("name", ["ranch", "colonial", "accessory_unit"])
def test_the_unit_is_sized_with_the_loss_of_its_own_ducts(name: str) -> None:
    """At any load, also where the loss of a small unit's ducts asks for a size whose own ducts lose less."""
    for sketch in places(name):
        for factor in FACTORS:
            basis = basis_of(prepared(name), float(factor))
            zone = design_zone(basis, sketch, ())
            assert designed_alone(basis, zone, zone.pair) == pytest.approx(zone.demand.delivered_heat_frac, abs=1e-12)
            assert zone.selection.cover == cover(zone.pair.output, zone.demand)
            assert zone.selection.short or zone.selection.cover.enough


@pytest.mark.parametrize("name", ["ranch", "accessory_unit"])
def test_more_load_never_gets_a_smaller_unit(name: str) -> None:
    for sketch in places(name):
        for kind in (UnitKind.DUCTED_LOW, UnitKind.DUCTED_MID):
            zones = [served._ducted_of(basis_of(prepared(name), float(f)), sketch, (), kind) for f in FACTORS]
            sizes = [zone.pair.size_kbtuh for zone in zones]
            assert sizes == sorted(sizes)
    room = living(name)
    zones = []
    for factor in FACTORS:
        basis = basis_of(prepared(name), float(factor))
        site = partial(sited(basis), room)
        zones.append(room_unit_zone(basis, ZoneSketch((room,)), (), UnitKind.WALL, site))
    sizes = [zone.pair.size_kbtuh for zone in zones]
    assert sizes == sorted(sizes)
    assert sizes[-1] > sizes[0]


def test_duct_loss_is_in_the_size() -> None:
    """The load at the unit is the rooms' load over the share that arrives; less arrives through an attic."""
    case = prepared("ranch")
    zones = {case.plan.unit_spaces[s.space].kind: design_zone(basis_of(case), s, ()) for s in places("ranch")}
    attic, inside = zones[SpaceKind.ATTIC], zones[SpaceKind.HALL_DROP]
    assert attic.demand.delivered_heat_frac < inside.demand.delivered_heat_frac <= 1.0
    assert inside.demand.delivered_heat_frac > 0.95


def test_larger_ducts_are_tried_before_a_stronger_fan(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[tuple[UnitKind, str]] = []
    design = served._ducted_of

    def refused(basis: DesignBasis, sketch: ZoneSketch, attached: tuple[int, ...], kind: UnitKind) -> ServedZone:
        tried.append((kind, basis.duct_policy))
        return replace(design(basis, sketch, attached, kind), reasons=("too much static",))

    monkeypatch.setattr(served, "_ducted_of", refused)
    zone = design_zone(basis_of(prepared("ranch")), places("ranch")[0], ())
    assert tried == [
        (UnitKind.DUCTED_LOW, "normal"),
        (UnitKind.DUCTED_LOW, LARGEST_DUCTS),
        (UnitKind.DUCTED_MID, "normal"),
        (UnitKind.DUCTED_MID, LARGEST_DUCTS),
    ]
    assert zone.reasons == ("too much static",)


@pytest.mark.parametrize("name", ["ranch", "colonial", "accessory_unit"])
def test_shares_of_the_air_add_up_and_only_served_rooms_get_some(name: str) -> None:
    for sketch in places(name):
        zone = design_zone(basis_of(prepared(name)), sketch, ())
        assert zone.share.sum() == pytest.approx(1.0, abs=1e-12)
        assert set(np.flatnonzero(zone.share)) == set(sketch.rooms)
        assert set(np.flatnonzero(zone.mix_w_k)) == set(sketch.rooms)


def test_a_room_unit_carries_the_load_of_the_rooms_that_borrow_its_air() -> None:
    case = prepared("ranch")
    basis = basis_of(case)
    open_living = living("ranch")
    hall = next(i for i, room in enumerate(case.plan.rooms) if room.use is Use.HALL)
    alone, with_hall = (design_zone(basis, ZoneSketch((open_living,)), borrowed) for borrowed in ((), (hall,)))
    assert with_hall.demand.heat_w - alone.demand.heat_w == pytest.approx(case.heat_load_w[hall])
    assert alone.share.tolist() == with_hall.share.tolist()
    assert alone.key != with_hall.key


def test_loads_of_several_rooms_are_added_at_their_common_hour() -> None:
    """Rooms that peak at unlike hours need less together than the sum of their peaks."""
    basis = basis_of(prepared("ranch"))
    rooms = range(len(basis.plan.rooms))
    together, apart = basis.cool_w(rooms), sum(basis.cool_w((room,)) for room in rooms)
    assert together < apart
    assert together == pytest.approx(basis.cool_load_w.sum(axis=1).max())


def test_a_load_beyond_the_largest_unit_is_told_and_gets_the_largest() -> None:
    basis = basis_of(prepared("ranch"), 20.0)
    zone = design_zone(basis, ZoneSketch((living("ranch"),)), ())
    assert zone.selection.short
    assert zone.pair.size_kbtuh == max(pair.size_kbtuh for pair in basis.units.pairs_of(UnitKind.WALL))


def test_another_kind_of_room_unit_is_taken_where_no_wall_is_right(monkeypatch: pytest.MonkeyPatch) -> None:
    """A wall head first; a floor console, then a ceiling cassette, where it has no good place."""
    place = served.place_room_unit

    def no_wall(plan, room, unit, north):  # type: ignore[no-untyped-def]
        found = place(plan, room, unit, north)
        return replace(found, feasible=False, notes=("no wall",)) if found.kind == "wall_head" else found

    monkeypatch.setattr(served, "place_room_unit", no_wall)
    basis = basis_of(prepared("ranch"))
    zone = design_zone(basis, ZoneSketch((living("ranch"),)), ())
    assert zone.pair.kind is not UnitKind.WALL
    assert zone.feasible
