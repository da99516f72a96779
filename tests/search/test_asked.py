"""`--set` and `--explain`: the house with that change, a pair explained both ways, errors that tell the cure."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import typer

from compare.commands.asked import explained, house_with
from compare.house.reading import read_house
from compare.pipeline import Comparison
from compare.scoring.reasons import compare_two


@pytest.mark.parametrize(
    ("change", "read", "value"),
    [
        ("air.ach50=6", lambda house: house.air.ach50_1_h, 6.0),
        ("room[Bedroom].use=work", lambda house: [r.use.value for r in house.rooms if r.name == "Bedroom"], ["work"]),
        ("rates.electricity=0.30", lambda house: house.rates.electricity_usd_kwh, 0.30),
        ("priorities.quiet=5", lambda house: house.priorities.quiet, 5),
    ],
)
def test_a_value_is_changed_and_nothing_else(scenarios: Path, change: str, read, value) -> None:
    file = scenarios / "accessory_unit.toml"
    before, after = read_house(file), house_with(file, [change])
    assert read(before) != value
    assert read(after) == value
    assert [room.name for room in after.rooms] == [room.name for room in before.rooms]


def test_an_entry_by_its_number_is_that_by_its_name(scenarios: Path) -> None:
    file = scenarios / "accessory_unit.toml"
    names = [room.name for room in read_house(file).rooms]
    number = names.index("Bedroom") + 1
    by_number, by_name = (house_with(file, [f"room[{which}].use=work"]) for which in (number, "Bedroom"))
    assert by_number.rooms == by_name.rooms


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ("air.ach50", "write PATH=VALUE"),
        ("room[Cellar].use=work", "by a name|or a name"),
        ("room[9].use=work", "from 1 to"),
        ("nowhere[1].x=2", "there is no nowhere"),
        ("room[Bedroom]=2", "end with a field"),
        ("air.ach50=fast", "air.ach50"),
    ],
)
def test_a_wrong_change_says_what_to_write(
    scenarios: Path, change: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(typer.Exit):
        house_with(scenarios / "accessory_unit.toml", [change])
    assert re.search(told, capsys.readouterr().err)


def test_a_pair_is_explained_by_letter_and_by_id_alike(unit: Comparison) -> None:
    ranked = unit.rank().ranked
    ids = ranked[0].option.option_id, ranked[1].option.option_id
    text = explained(unit, ids, 0)
    assert text == explained(unit, ("A", "B"), 0)
    pair = compare_two(ranked[0].option, ranked[1].option, unit.weights)
    assert f"A leads by {pair.lead_points:.1f} points" in text
    lost = [float(number) for number in re.findall(r"[+-]\d+\.\d", text.splitlines()[2])]
    assert sum(lost) == pytest.approx(pair.lead_points, abs=0.31)
    told = [line for line in text.splitlines() if re.match(r"\s+\d+\.\d  ", line)]
    assert len(told) == len(pair.for_first) + len(pair.for_second)


def test_an_unknown_option_lists_those_that_exist(unit: Comparison) -> None:
    with pytest.raises(ValueError, match="A = "):
        explained(unit, ("A", "h99"), 0)
