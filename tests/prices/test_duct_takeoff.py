"""Designed ducts counted piece by piece: same feet and pieces as the design, each line with its drawing item."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest

from compare.options.tags import outdoor_tag, zone_tags
from compare.prices.job import DuctParts, DuctRun
from compare.prices.price_list import load_price_list, price
from compare.prices.takeoff import take_off
from tests.houses import compared
from tests.prices.jobs import FT_M, ducted, pairs

LUMP = {"duct_branch"}
PIECES = {"branch_start", "duct_rigid_6", "duct_flex_6", "duct_elbow", "balance_damper", "supply_register"}


def usual(room: str = "bedroom", runs: int = 1) -> DuctRun:
    """12 ft of 6 in. duct, 5 ft of it flexible, two elbows: the branch behind the usual price."""
    return DuctRun(room, 6, runs, rigid_m=7 * FT_M, flex_m=5 * FT_M, elbows=2)


def designed(*runs: DuctRun, filter_in: tuple[int, int, int] = (16, 20, 2), undercuts: tuple[str, ...] = ()):
    unit = ducted("hall unit", 9, sum(run.runs for run in runs))
    return replace(unit, parts=DuctParts(runs, filter_in, undercuts))


def amounts(unit) -> dict[str, Decimal]:
    total: Counter[str] = Counter()
    for quantity in take_off(pairs(unit)):
        total[quantity.item] += quantity.amount
    return dict(total)


def sums(job, names: set[str]) -> tuple[float, float, float]:
    rows = load_price_list().rows
    wanted = [q for q in take_off(job) if q.item in names]
    return tuple(
        float(sum(q.amount * getattr(rows[q.item], c) for q in wanted)) for c in ("low_usd", "mid_usd", "high_usd")
    )


def test_pieces_of_a_usual_branch_cost_what_the_branch_costs_before_its_design():
    # the lump sum per branch is the cost sheet's 70 / 120 / 220 of material and 2 / 2.5 / 3 hours (from memory)
    pieces = sums(pairs(designed(usual())), PIECES)
    lump = sums(pairs(ducted("hall unit", 9, 1)), LUMP)
    assert pieces == pytest.approx(lump, rel=0.03)


def test_pieces_are_those_of_the_runs():
    long = DuctRun("far room", 8, 2, rigid_m=10 * FT_M, flex_m=6 * FT_M, elbows=1)
    got = amounts(designed(usual(), long, undercuts=("far room",)))
    assert got["duct_rigid_6"] == 7
    assert got["duct_flex_6"] == 5
    assert got["duct_rigid_8"] == 20
    assert got["duct_flex_8"] == 12
    assert got["duct_elbow"] == 4
    assert got["balance_damper"] == got["supply_register"] == got["branch_start"] == 3
    assert got["door_undercut"] == got["unit_hangers"] == got["trunk_plenum_return_box"] == 1
    assert not LUMP & set(got)


@pytest.mark.parametrize(
    ("filter_in", "item", "deep"),
    [
        ((20, 20, 2), "return_grille_filter", 0),
        ((20, 25, 2), "return_grille_filter_large", 0),
        ((16, 20, 4), "return_grille_filter", 1),
    ],
)
def test_return_is_priced_by_its_filter(filter_in, item, deep):
    got = amounts(designed(usual(), filter_in=filter_in))
    assert got[item] == 1
    assert got.get("filter_deep", 0) == deep


def test_bigger_and_longer_ducts_cost_more():
    def mid(run: DuctRun) -> Decimal:
        return price(take_off(pairs(designed(run))), load_price_list()).mid_usd

    base = usual()
    assert mid(base) < mid(replace(base, diameter_in=8)) < mid(replace(base, diameter_in=8, rigid_m=12 * FT_M))


BAD = {
    "count": (replace(designed(usual()), branches=2), "branches = 2 but the runs come to another number"),
    "no run": (replace(designed(usual()), parts=DuctParts((usual(runs=0),), (16, 20, 2))), "give 1 run or more"),
    "length": (designed(replace(usual(), rigid_m=float("nan"))), "hall unit to bedroom: rigid_m = nan"),
    "size": (designed(replace(usual(), diameter_in=11)), "there is no take-off item 'duct_rigid_11'"),
}


@pytest.mark.parametrize("case", BAD)
def test_faults_name_the_run(case):
    unit, words = BAD[case]
    with pytest.raises(ValueError, match=words):
        take_off(pairs(unit))


@pytest.fixture(scope="module")
def options():
    return compared("ranch").options


def test_every_options_ducts_are_the_designed_ones(options):
    seen = 0
    for option in options:
        zones = [zone.ducts.takeoff for zone in option.zones if zone.ducts is not None]
        got: Counter[str] = Counter()
        for quantity in take_off(option.job):
            got[quantity.item] += quantity.amount
        for kind in ("rigid", "flex"):
            wanted_ft = sum(m for t in zones for _, m in getattr(t, f"{kind}_m")) / FT_M
            counted_ft = sum(float(v) for k, v in got.items() if k.startswith(f"duct_{kind}_"))
            assert counted_ft == pytest.approx(wanted_ft, abs=0.05 * 30)  # each line is rounded to a tenth of a foot
        assert got["supply_register"] == sum(t.registers for t in zones)
        assert got["balance_damper"] == sum(t.dampers for t in zones)
        assert got["duct_elbow"] == sum(t.elbows for t in zones)
        assert got["transfer_grille"] == sum(t.transfer_grilles for t in zones)
        assert got["door_undercut"] == sum(t.undercuts for t in zones)
        seen += len(zones)
    assert seen > 5


def test_every_quantity_names_something_on_the_drawing(options):
    rooms = {room.name for room in compared("ranch").case.plan.rooms}
    for option in options:
        tags = set(zone_tags(option.zones)) | {outdoor_tag(i) for i in range(option.outdoor.count)}
        for quantity in take_off(option.job):
            words = set(re.findall(r"[A-Z]\d+", quantity.note))
            named = words & tags or {room for room in rooms if room in quantity.note} or quantity.note == "job"
            site = quantity.item in {"set_up", "permit", "hand_over"}
            assert named or site, quantity


def test_lines_sum_to_the_total_to_the_cent_in_every_option(options):
    for option in options:
        lines = option.price.lines
        for column in ("low_usd", "mid_usd", "high_usd"):
            assert sum(getattr(line, column) for line in lines) == getattr(option.price, column)
            assert all(getattr(line, column) == round(getattr(line, column), 2) for line in lines)
