"""Enumeration: counts by hand and by Bell numbers, what is proven, what never may be offered."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from compare import every_layout
from compare.commands.layout_lines import proof_sentence
from compare.every_layout import SAMPLE, with_best
from compare.house.geometry import plan_of
from compare.house.reading import read_house
from compare.pipeline import Comparison
from compare.search.screen import predicted, sample_of
from compare.zones.ducted_sets import MOST_IN_GROUP
from compare.zones.layouts import Layer, _partitions, all_layouts, counts
from compare.zones.sketch import Rest

BELL = (1, 1, 2, 5, 15, 52, 203)
"""Number of ways to split a set of n (OEIS A000110)."""


@pytest.mark.parametrize("size", range(len(BELL)))
def test_splits_are_as_many_as_bell_numbers(size: int) -> None:
    found = list(_partitions(list(range(size))))
    assert len(found) == BELL[size]
    assert len({tuple(sorted(tuple(sorted(block)) for block in split)) for split in found}) == BELL[size]


def layouts_of(scenarios: Path, name: str):
    plan = plan_of(read_house(scenarios / f"{name}.toml"))
    return plan, list(all_layouts(plan, layers=frozenset(Layer)))


def test_house_without_a_place_never_gets_ducts(scenarios: Path) -> None:
    """No unit space: heads, and every choice of heaters in three closed bedrooms: 2^3, one of them without any."""
    _, layouts = layouts_of(scenarios, "flat_roof_ranch")
    assert all(zone.space < 0 for item in layouts for zone in item.layout.zones)
    assert len(layouts) == 8
    assert counts(layouts)[Layer.FULL.value] == 1


@pytest.mark.parametrize("name", ["ranch", "day_wing", "tight_new", "colonial"])
def test_every_layout_keeps_the_rules(scenarios: Path, name: str) -> None:
    plan, layouts = layouts_of(scenarios, name)
    assert len({item.layout.key for item in layouts}) == len(layouts)
    habitable = {i for i, room in enumerate(plan.rooms) if room.habitable}
    for item in layouts:
        layout = item.layout
        rooms = [room for zone in layout.zones for room in zone.rooms]
        assert len(rooms) == len(set(rooms))
        assert layout.served | {room for room, _ in layout.rest} == set(range(len(plan.rooms)))
        for zone in layout.zones:
            if zone.space < 0:
                assert len(zone.rooms) == 1
                continue
            space = plan.unit_spaces[zone.space]
            assert all(plan.rooms[room].level == space.level for room in zone.rooms)
            assert not space.serves or set(zone.rooms) <= set(space.serves)
            assert 1 <= len(habitable & set(zone.rooms)) <= MOST_IN_GROUP
        if item.layer is Layer.FULL:
            assert not any(rest in (Rest.HEATER, Rest.OLD_HEAT) for _, rest in layout.rest)
            for cell in plan.open_spaces:
                if habitable & set(cell) and len(cell) == 1:
                    landing = any(link.kind.value == "stair" and cell[0] in (link.a, link.b) for link in plan.links)
                    assert landing or set(cell) <= layout.served


def test_ranch_fully_served_by_hand(scenarios: Path) -> None:
    """Four habitable rooms, each alone or in a group, each group in one of the places that reach it; counted again."""
    plan, layouts = layouts_of(scenarios, "ranch")
    rooms = [i for i, room in enumerate(plan.rooms) if room.habitable]
    roomy = {k for k, space in enumerate(plan.unit_spaces) if space.kind.value in ("attic", "crawlspace", "basement")}
    expected = 0
    for size in range(len(rooms) + 1):
        for ducted in combinations(rooms, size):
            for blocks in _partitions(list(ducted)):
                if len(blocks) > 3:
                    continue
                ways = [()]
                for block in blocks:
                    reach = [k for k, s in enumerate(plan.unit_spaces) if not s.serves or set(block) <= set(s.serves)]
                    ways = [(*way, k) for way in ways for k in reach]
                expected += sum(all(way.count(k) == 1 or k in roomy for k in way) for way in ways)
    assert counts(layouts)[Layer.FULL.value] == expected


def test_best_of_the_enumeration_is_never_worse_and_is_proven(unit: Comparison) -> None:
    found = with_best(unit)
    assert found.proof is not None
    assert found.proof.simulated == found.proof.enumerated
    assert found.rank().winner.total >= unit.rank().winner.total
    assert found.proof.proven


def test_adding_layouts_moves_no_other(unit: Comparison) -> None:
    """The score of an option does not depend on which others are listed."""
    found = with_best(unit)
    for result in unit.results:
        assert found.by_id[result.score.option_id].score.scores == result.score.scores


@pytest.mark.slow
def test_screen_ranks_like_the_simulation(wing: Comparison) -> None:
    """Parts fitted on a sample of the enumeration rank the rest of it (Spearman above 0.9)."""
    from scipy.stats import spearmanr

    space = with_best(wing).space
    assert space is not None
    alone = [k for k, option in enumerate(space.options) if all(not group.shared for group in option.outdoor.groups)]
    totals = (space.scores @ wing.weights.array)[alone]
    sample = sample_of(len(alone), SAMPLE)
    guess = predicted([space.options[k].layout for k in alone], sample, totals[sample])
    rest = sorted(set(range(len(alone))) - set(sample))
    assert spearmanr(guess[rest], totals[rest]).statistic > 0.9


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Limits as for a house with more rooms than are searched whole."""
    for name, value in {"PROVEN_ROOMS": 7, "MOST_SCREENED": 60, "SAMPLE": 200, "MOST_SHARED": 60}.items():
        monkeypatch.setattr(every_layout, name, value)


@pytest.mark.slow
@pytest.mark.usefixtures("few")
def test_eleven_rooms_every_fully_served_layout_is_run_and_others_are_screened(wing: Comparison) -> None:
    found = with_best(wing)
    proof, kind = found.proof, Layer.FULL.value
    assert proof.of_kind(kind)[0] == proof.of_kind(kind)[1] > 0
    assert proof.simulated == proof.of_kind(kind)[1] + 60
    assert not proof.proven
    assert kind in proof.proven_kinds
    assert f"proven so among all {proof.of_kind(kind)[1]:,} {kind}" in proof_sentence(proof)
    shared = [option for option in found.space.options if any(group.shared for group in option.outdoor.groups)]
    assert 0 < len(shared) <= 60
    assert len(found.space.options) == proof.simulated + len(shared)


@pytest.mark.slow
def test_more_rooms_are_screened_and_the_answer_says_so(
    wing: Comparison, few: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(every_layout, "FULL_ROOMS", 7)
    found = with_best(wing)
    assert found.proof.simulated == 60
    assert found.proof.enumerated == len(list(all_layouts(wing.case.plan, layers=frozenset(Layer))))
    text = proof_sentence(found.proof)
    assert text.startswith(f"Best of 60 layouts simulated of {found.proof.enumerated:,}")
    assert "proven" not in text.lower()
