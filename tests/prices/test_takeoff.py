from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from compare.prices.items import items
from compare.prices.job import Base, IndoorItem, IndoorKind, JobDescription, OutdoorItem, StaticClass
from compare.prices.takeoff import combine, take_off
from tests.prices.jobs import FT_M, ducted, head, pairs, shared


def amounts(job: JobDescription) -> dict[str, Decimal]:
    return {quantity.item: quantity.amount for quantity in combine(take_off(job))}


def test_single_head_is_counted_piece_by_piece():
    assert amounts(pairs(head("living", 12))) == {
        "pair_wall_head_12": 1,
        "line_set_first_15_ft": 15,
        "line_set_beyond_15_ft": 5,
        "line_cover": 12,
        "pad": 1,
        "circuit_first": 1,
        "surge_protector": 1,
        "pressure_vacuum_release": 1,
        "set_up": 1,
        "permit": 1,
        "hand_over": 1,
    }


def test_ducted_unit_brings_its_ducts_pan_switch_and_balancing():
    got = amounts(pairs(head("living", 12), ducted("hall", 12, 3, soffit=True)))
    assert got["duct_branch"] == 3
    assert got["circuit_first"] == got["circuit_further"] == got["surge_protector"] == 1
    once = ("trunk_plenum_return_box", "return_grille_filter", "secondary_pan", "float_switch", "soffit")
    assert all(got[name] == 1 for name in (*once, "balance_commission_ducted", "pair_ducted_low_12"))
    assert got["pad"] == got["pressure_vacuum_release"] == 2


def test_shared_unit_takes_one_circuit_and_a_test_for_each_two_branches():
    heads = tuple(head(f"h{i}", size, "shared", 35.0, 15.0) for i, size in enumerate((6, 9, 12, 15)))
    got = amounts(shared(36, *heads))
    assert got["shared_outdoor_36"] == got["circuit_first"] == got["pad"] == 1
    assert got["shared_wall_head_6_12"] == 3
    assert got["shared_wall_head_15_24"] == 1
    assert got["pressure_vacuum_release"] == 2
    assert got["line_set_first_15_ft"] == 60
    assert got["line_set_beyond_15_ft"] == 80


def test_options_are_counted_once_each():
    unit = replace(head("living", 12), condensate_pump=True, masonry_wall=True)
    outdoor = OutdoorItem("out living", 12, base=Base.BRACKET, snow_stand=True, added_charge_kg=0.45359237)
    got = amounts(
        JobDescription(
            (unit,),
            (outdoor,),
            room_heaters=("north bedroom", "south bedroom"),
            transfer_grilles=("study",),
            old_units=2,
            further_electrical=1,
            service_upgrade=True,
        )
    )
    once = ("condensate_pump", "masonry_wall", "wall_bracket", "snow_stand", "transfer_grille", "service_upgrade")
    assert all(got[name] == 1 for name in (*once, "further_electrical", "refrigerant"))
    assert got["room_heater"] == got["remove_old"] == 2
    assert "pad" not in got


def test_every_line_says_which_drawing_item_it_was_counted_for():
    quantities = take_off(pairs(head("living head", 12), ducted("hall unit", 9, 3), room_heaters=("bath",)))
    notes = {q.note for q in quantities}
    assert {"living head", "line to living head", "branches of hall unit", "room heater, bath"} <= notes
    assert all(q.note and q.unit == items()[q.item].unit and q.amount > 0 for q in quantities)


def test_nothing_to_do_costs_nothing():
    assert take_off(JobDescription()) == ()


def test_short_line_has_no_labour_beyond_the_first_feet():
    assert "line_set_beyond_15_ft" not in amounts(pairs(head("living", 9, line_ft=15.0)))
    assert amounts(pairs(head("living", 9, line_ft=15.1)))["line_set_beyond_15_ft"] == Decimal("0.1")


GOOD = pairs(head("living", 12))
ONE_SHARED = shared(18, head("a", 9, "shared"))
MID_SHARED = JobDescription(
    (head("a", 9, "shared"),),
    (OutdoorItem("shared", 24, shared=True),),
    (replace(ducted("hall", 12, 3), outdoor="shared", static=StaticClass.MID),),
)
BAD = {
    "unknown outdoor": (replace(GOOD, outdoor=()), "living: outdoor = 'out living' is not among"),
    "unequal pair": (replace(GOOD, outdoor=(OutdoorItem("out living", 9),)), "size 9 is paired with .* size 12"),
    "idle outdoor unit": (replace(GOOD, outdoor=(*GOOD.outdoor, OutdoorItem("x", 9))), "x: one of a pair serves one"),
    "one on shared": (ONE_SHARED, "serves two or more indoor units, has 1"),
    "mid static on shared": (MID_SHARED, "hall: only low static"),
    "same name": (pairs(head("a", 9), head("a", 9)), "2 units are called 'a'"),
    "no name": (pairs(head(" ", 9)), "a unit has no name"),
    "no line": (pairs(head("a", 9, line_ft=0.0, cover_ft=0.0)), "line_length_m is 0"),
    "negative line": (pairs(head("a", 9, line_ft=-3.0, cover_ft=-4.0)), "a: line_length_m = -0.914.*; give a figure"),
    "endless line": (pairs(head("a", 9, line_ft=float("inf"))), "line_length_m = inf"),
    "no number": (pairs(head("a", 9, line_ft=float("nan"))), "line_length_m = nan"),
    "more cover than line": (pairs(head("a", 9, line_ft=20, cover_ft=21)), "line_cover_m is longer"),
    "no branches": (pairs(ducted("hall", 9, 0)), "hall: branches = 0; give 1 or more"),
    "negative old units": (replace(GOOD, old_units=-1), "old_units = -1; give 0 or more"),
    "no such size": (pairs(head("a", 11)), "no take-off item 'pair_wall_head_11'"),
    "no such shared size": (shared(24, head("a", 9, "shared"), head("b", 11, "shared")), "'pair_wall_head_11'"),
    "no such shared outdoor size": (shared(99, head("a", 9, "shared"), head("b", 9, "shared")), "'shared_outdoor_99'"),
}


@pytest.mark.parametrize("case", BAD)
def test_faults_name_field_and_cure(case):
    job, words = BAD[case]
    with pytest.raises(ValueError, match=words):
        take_off(job)


def test_all_faults_are_told_at_once():
    with pytest.raises(ValueError, match=r"(?s)serves two or more.*old_units = -1"):
        take_off(replace(ONE_SHARED, old_units=-1))


@pytest.mark.parametrize("kind", list(IndoorKind))
@pytest.mark.parametrize("size", [6, 9, 12, 15, 18])
def test_every_kind_has_an_item_paired_and_shared(kind, size):
    alone = IndoorItem("a", kind, size, "out", 20 * FT_M)
    assert take_off(JobDescription((alone,), (OutdoorItem("out", size),)))
    both = (alone, replace(alone, name="b"))
    assert take_off(JobDescription(both, (OutdoorItem("out", 24, shared=True),)))
