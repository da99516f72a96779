"""What opens under the plan: two layouts side by side, numbers, the units for a photo of a wall."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house
from compare.scoring.facts import Audience, facts
from compare.views.pair import PairView, pair_view
from dashboard.session import Page
from dashboard.table.beside import sentences
from dashboard.table.change import verb_behind
from dashboard.table.on_wall import units_of
from dashboard.table.scene import Shown
from tests.dashboard.client import Client, all_taps, words_in
from tests.dashboard.double import SampleSource, sample_answer


@pytest.fixture(scope="module")
def found(scenarios: Path) -> Comparison:
    return compare_house(read_house(scenarios / "accessory_unit.toml"), scenarios)


def panel(answer: dict[str, Any]) -> Any:
    return answer["panel"]["children"]


def props(node: Any, kind: str) -> list[dict[str, Any]]:
    if isinstance(node, list):
        return [hit for item in node for hit in props(item, kind)]
    if not isinstance(node, dict):
        return []
    own = [node["props"]] if node.get("type") == kind else []
    return own + [hit for value in node.values() if isinstance(value, dict | list) for hit in props(value, kind)]


def test_a_pair_shows_only_what_its_view_declares() -> None:
    assert set(PairView.model_fields) == {"first", "second", "first_better", "second_better"}
    with pytest.raises(ValueError, match="extra"):
        PairView(first="a", second="b", first_better=(), second_better=(), cost_usd=1.0)  # type: ignore[call-arg]


@pytest.mark.slow
def test_a_pair_is_told_by_the_same_facts_both_ways_round_and_by_none_of_the_office(found: Comparison) -> None:
    ranking = found.rank()
    view = found.customer_view()
    ids = [option.id for option in view.options]
    for one, other in combinations(ids, 2):
        pair, turned = pair_view(ranking, one, other), pair_view(ranking, other, one)
        assert (pair.first_better, pair.second_better) == (turned.second_better, turned.first_better)
        for line in (*pair.first_better, *pair.second_better):
            assert facts()[line.code].audience is Audience.EVERYONE
        sides = {(line.better, line.worse) for line in pair.first_better}
        assert sides <= {(one, other)}
    winner = view.option(view.answer.winner)
    for option in view.options:
        if option.id != winner.id:
            assert pair_view(ranking, winner.id, option.id).first_better == option.worse_than_winner
    with pytest.raises(KeyError):
        pair_view(ranking, winner.id, "nobody")


@pytest.mark.slow
def test_every_pair_of_a_real_house_is_told_in_sentences(found: Comparison) -> None:
    view = found.customer_view()
    ranking, source = found.rank(), SampleSource()
    shown = Shown(view, Page(source.now.question))
    for one, other in combinations([option.id for option in view.options], 2):
        pair = pair_view(ranking, one, other)
        for reasons in (pair.first_better, pair.second_better):
            said = sentences(reasons, shown)
            assert len(said) == len(set(said))
            assert all(text.endswith(".") and "{" not in text for text in said)


def test_two_layouts_are_chosen_and_a_third_takes_the_place_of_the_older(client: Client) -> None:
    assert panel(client.answer()) == []
    first = client.tap("beside:heaters")
    assert "Tap one more layout." in words_in(panel(first))
    told = words_in(panel(client.tap("beside:mix")))
    assert "Where the mix is better" in told
    assert "It costs $480 a year less to run than" in told
    assert "It costs $9,000 less than the mix." in told
    assert "$15,800" in told
    assert "$6,800" in told
    third = client.tap("beside:each")
    assert "a wall unit with room heaters" not in words_in(panel(third))
    assert "four wall units" in words_in(panel(third)).lower()
    assert words_in(panel(client.tap("panel:"))) == ""


def test_little_between_two_layouts_is_said_as_such(client: Client, source: SampleSource) -> None:
    client.answer()
    client.tap("beside:heaters")
    told = words_in(panel(client.tap("beside:each")))
    view = sample_answer(source.now.question)
    gap = abs(view.option("heaters").total - view.option("each").total)
    assert ("Too close to call" in told) == (gap < 3.0)


def test_a_layout_that_is_left_out_says_why_beside_another(client: Client) -> None:
    client.answer()
    client.tap("beside:one")
    told = words_in(panel(client.tap("beside:mix")))
    assert "48" in told
    assert "left out" in told


def test_side_by_side_follows_the_moment_and_the_units(client: Client) -> None:
    client.answer()
    client.tap("beside:mix")
    client.tap("beside:one")
    assert "Each room: cold morning" in words_in(panel(client.answer()))
    assert "dB(A)" in words_in(panel(client.tap("scene:sound")))
    client.values["units"] = "SI"
    told = words_in(panel(client.tap("scene:afternoon")))
    assert "°C" in told
    assert "°F" not in told


def test_numbers_are_stepped_in_the_units_of_the_page(client: Client) -> None:
    client.answer()
    steppers = {item["tap"]: item for item in props(panel(client.tap("panel:numbers")), "Stepper")}
    heat = steppers["set:heating:"]
    assert (heat["value"], heat["down"], heat["up"], heat["unit"]) == (70.0, 69.0, 71.0, "°F")
    client.values["units"] = "SI"
    heat = {item["tap"]: item for item in props(panel(client.answer()), "Stepper")}["set:heating:"]
    assert (heat["value"], heat["down"], heat["up"], heat["unit"]) == (21.1, 21.0, 21.5, "°C")
    after = client.tap("set:rate:30")
    assert "electricity costs 30¢ a kWh" in words_in(panel(after))
    assert "30¢" in words_in(after["habits"]["children"])
    assert "numbers:own" in all_taps(panel(after))
    assert "numbers:own" not in all_taps(panel(client.tap("numbers:own")))


def test_a_price_of_power_tells_bills_and_that_the_order_stays(client: Client) -> None:
    client.answer()
    told = words_in(client.tap("set:rate:30")["head"]["children"])
    assert "electricity costs 30¢ a kWh" in told
    assert "a year to run" in told
    assert "The order stays" in told


def test_units_for_the_wall_are_to_size_and_named_by_room(source: SampleSource) -> None:
    view = sample_answer(source.now.question)
    shown = Shown(view, Page(source.now.question, shown="each"))
    (unit,) = units_of(shown)
    marks = [mark for mark in view.option("each").drawing.units if mark.kind == "wall head"]
    # one inch is 0.0254 m by definition
    assert (unit["wide"], unit["high"]) == (round(marks[0].width_m / 0.0254), round(marks[0].height_m / 0.0254))
    assert str(unit["label"]).count(",") >= len(marks)
    hidden = Shown(view, Page(source.now.question, shown="hidden"))
    assert units_of(hidden) == []


def test_a_layout_without_units_on_walls_says_so(client: Client) -> None:
    client.answer()
    client.tap("show:hidden")
    assert "hangs nothing on a wall" in words_in(panel(client.tap("panel:wall")))


def test_several_hidden_units_are_better_and_one_is(source: SampleSource) -> None:
    view = sample_answer(source.now.question)
    one = view.option("hidden")
    two = one.model_copy(update={"hidden": 2})
    assert (verb_behind("be", one), verb_behind("be", two)) == ("is", "are")
    assert (verb_behind("move", view.option("each")), verb_behind("move", view.option("mix"))) == ("move", "moves")
