"""Costs and margin never reach a customer: odd figures are planted in the cost book and looked for in the view."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from compare.equipment.catalogue import catalogue
from compare.house.reading import read_house_text
from compare.offer import Sources
from compare.office.compile import job_cost, write_price_list
from compare.pipeline import Comparison, compare_house
from compare.prices.price_list import load_price_list
from compare.prices.takeoff import take_off
from compare.views.customer import CustomerView
from tests.houses import scenario_text
from tests.views.leaks import ODD_MARGIN, TOKEN, leaked, odd_book, secrets


@pytest.fixture(scope="module")
def compared_with_odd_costs(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    """The accessory unit priced by a list that the office compiled from a marked cost book."""
    path: Path = tmp_path_factory.mktemp("office") / "prices.csv"
    write_price_list(odd_book(), path, ODD_MARGIN)
    house = read_house_text(scenario_text("accessory_unit"), "house.toml")
    return compare_house(house, sources=Sources(catalogue(), load_price_list(path)))


@pytest.fixture(scope="module")
def view(compared_with_odd_costs: Comparison) -> CustomerView:
    return compared_with_odd_costs.customer_view()


@pytest.fixture(scope="module")
def hidden(compared_with_odd_costs: Comparison) -> set[Decimal]:
    found = secrets(odd_book(), [(option.price, take_off(option.job)) for option in compared_with_odd_costs.options])
    assert len(found) > 150
    return found


def test_the_view_is_priced_with_the_marked_list(view: CustomerView, compared_with_odd_costs: Comparison) -> None:
    """Else the search below would look at other prices: cost / (1 - margin) is what is shown."""
    winner = view.option(view.answer.winner)
    job = compared_with_odd_costs.by_id[winner.id].option.job
    direct = float(job_cost(take_off(job), odd_book()).mid.direct_usd)
    assert winner.facts.price_usd == pytest.approx(direct / (1 - float(ODD_MARGIN)), rel=1e-4)


def test_no_cost_stands_in_the_view(view: CustomerView, hidden: set[Decimal]) -> None:
    text = view.model_dump_json()
    assert leaked(text, hidden) == set()
    assert TOKEN not in text


def test_a_cost_put_in_the_place_of_a_price_is_found(
    view: CustomerView, hidden: set[Decimal], compared_with_odd_costs: Comparison
) -> None:
    option = view.options[0]
    job = compared_with_odd_costs.by_id[option.id].option.job
    direct = job_cost(take_off(job), odd_book()).mid.direct_usd
    bad = option.model_copy(update={"facts": option.facts.model_copy(update={"price_low_usd": float(direct)})})
    text = view.model_copy(update={"options": (bad, *view.options[1:])}).model_dump_json()
    assert direct in leaked(text, hidden)


def test_a_cost_within_a_sentence_is_found(view: CustomerView, hidden: set[Decimal]) -> None:
    figure = max(hidden)
    house = view.house.model_copy(update={"weather": f"A year from nearby; {figure:.2f} dollars to us."})
    assert figure in leaked(view.model_copy(update={"house": house}).model_dump_json(), hidden)


def test_a_margin_is_found(view: CustomerView, hidden: set[Decimal]) -> None:
    weights = view.weights | {"gain": float(ODD_MARGIN)}
    assert ODD_MARGIN in leaked(view.model_copy(update={"weights": weights}).model_dump_json(), hidden)
