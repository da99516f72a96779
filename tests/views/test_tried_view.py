"""What a customer may see of trials: only the fields that are listed, no word of the office, no planted cost."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from pydantic import ValidationError

from compare.equipment.catalogue import catalogue
from compare.house.reading import read_house_text
from compare.offer import Sources
from compare.office.compile import job_cost, write_price_list
from compare.pipeline import Comparison, compare_house
from compare.prices.price_list import load_price_list
from compare.prices.takeoff import take_off
from compare.trials.head import Tried, try_head
from compare.trials.places import Move
from compare.trials.seats import with_moves
from compare.trials.told import seat_story, targets_view, tried_view
from compare.trials.walls import WallSpot, wall_sides
from compare.views import tried as views
from compare.views.customer import OptionCard
from tests.houses import scenario_text
from tests.views.leaks import CENT, FORBIDDEN_WORDS, LARGE_USD, ODD_MARGIN, TOKEN, leaked, odd_book, secrets

FIELDS = {
    "TriedView": "target level at_m kind beside against wall_against pointed_against moved_m cold hot room_area_m2 "
    "line_most_m wall_least_m card pieces",
    "RoomStay": "room name value_c target_c cause open_c shut_doors doorways stairs way_m needs_w arrives_w",
    "PieceLine": "piece room_name kind bed level_dba felt_frac",
    "WallTarget": "room wall room_name facing outside beyond",
    "PieceTarget": "piece room_name level kind at_m corners_m moved by_wall choices",
    "PlaceChoice": "facing at_m",
    "SeatStory": "option before after unit_before unit_after unit_moved_m unit_turned_deg",
    "Targets": "walls pieces",
}
"""Everything that trials may tell; a new field is a decision."""


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    """The accessory unit priced by a list that the office compiled from a marked cost book."""
    path: Path = tmp_path_factory.mktemp("office") / "prices.csv"
    write_price_list(odd_book(), path, ODD_MARGIN)
    house = read_house_text(scenario_text("accessory_unit"), "house.toml")
    return compare_house(house, sources=Sources(catalogue(), load_price_list(path)))


@pytest.fixture(scope="module")
def tried(marked: Comparison) -> tuple[Tried, ...]:
    """A unit on every wall of the first two rooms."""
    spots = [WallSpot(room, side.number) for room in (0, 1) for side in wall_sides(marked.case.plan, room, 0.0)]
    return tuple(try_head(marked, spot) for spot in spots)


@pytest.fixture(scope="module")
def hidden(marked: Comparison, tried: tuple[Tried, ...]) -> set[Decimal]:
    """All figures of the office but those that look like a place on the plan in metres to the centimetre."""
    options = [*marked.options, *(one.result.option for one in tried if one.result is not None)]
    found = secrets(odd_book(), [(option.price, take_off(option.job)) for option in options])
    rare = {figure for figure in found if figure >= LARGE_USD or Decimal(f"{figure:.5e}") % CENT}
    assert len(rare) > 0.9 * len(found)
    return rare


@pytest.mark.parametrize("name", sorted(FIELDS))
def test_views_have_the_listed_fields_and_no_others(name: str) -> None:
    model = getattr(views, name)
    assert set(model.model_fields) == set(FIELDS[name].split())
    assert not {word for field in model.model_fields for word in field.split("_")} & FORBIDDEN_WORDS
    assert model.model_config["extra"] == "forbid"
    assert model.model_config["frozen"]


def test_no_planted_cost_is_in_any_view(marked: Comparison, tried: tuple[Tried, ...], hidden: set[Decimal]) -> None:
    priorities = marked.case.house.priorities.model_dump()
    drawn = {"card": {"bands"}}  # hundreds of loads in watts, one of which has the digits of a cost by chance
    texts = [tried_view(marked, one, priorities).model_dump_json(exclude=drawn) for one in tried]
    move = Move(0, 2.0, 1.0)
    moved = with_moves(marked, [move])
    texts += [targets_view(moved, [move]).model_dump_json()]
    texts += [seat_story(marked, moved, key, 0).model_dump_json() for key in marked.by_id]
    texts += [moved.customer_view().model_dump_json()]
    assert sum('"price_usd"' in text for text in texts) > 3
    for text in texts:
        assert leaked(text, hidden) == set()
        assert TOKEN not in text


def test_a_cost_in_the_place_of_a_price_is_found(
    marked: Comparison, tried: tuple[Tried, ...], hidden: set[Decimal]
) -> None:
    one = next(one for one in tried if one.result is not None)
    assert one.result is not None
    view = tried_view(marked, one, marked.case.house.priorities.model_dump())
    card = view.card
    assert isinstance(card, OptionCard)
    direct = job_cost(take_off(one.result.option.job), odd_book()).mid.direct_usd
    bad = card.model_copy(update={"facts": card.facts.model_copy(update={"price_low_usd": float(direct)})})
    assert direct in leaked(view.model_copy(update={"card": bad}).model_dump_json(), hidden)


def test_no_further_field_can_be_slipped_in() -> None:
    with pytest.raises(ValidationError, match="extra"):
        views.PlaceChoice(facing="", at_m=(0.0, 0.0), cost_usd=1.0)  # type: ignore[call-arg]
