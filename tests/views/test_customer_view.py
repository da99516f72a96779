"""The customer's view: only what is on the list, each id resolved, each number the measure itself."""

from __future__ import annotations

import types
import typing
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from compare.pipeline import Comparison
from compare.scoring.criteria import CRITERIA
from compare.views.customer import CustomerView, OptionCard
from compare.views.plan_view import ViewModel
from tests.houses import compared, compared_text, house, scenario_text, studio
from tests.views.leaks import FORBIDDEN_WORDS

SCENARIOS = ("ranch", "accessory_unit", "flat_roof_ranch", "open_bungalow")


@pytest.fixture(scope="module", params=SCENARIOS)
def both(request: pytest.FixtureRequest) -> tuple[Comparison, CustomerView]:
    found = compared(request.param)
    return found, found.customer_view()


def models(of: type[BaseModel]) -> set[type[BaseModel]]:
    """A model with every model that it holds."""
    found, todo = set(), [of]
    while todo:
        one = todo.pop()
        if one not in found:
            found.add(one)
            todo += [part for f in one.model_fields.values() for part in _parts(f.annotation) if _is_model(part)]
    return found


def _parts(annotation: Any) -> list[Any]:
    if typing.get_origin(annotation) is None:
        return [annotation]
    return [part for argument in typing.get_args(annotation) for part in _parts(argument)]


def _is_model(part: Any) -> bool:
    return isinstance(part, type) and not isinstance(part, types.GenericAlias) and issubclass(part, BaseModel)


def test_every_part_of_the_view_refuses_fields_that_are_not_declared() -> None:
    found = models(CustomerView)
    assert len(found) > 15
    for model in found:
        assert issubclass(model, ViewModel)
        assert model.model_config["extra"] == "forbid"
        assert model.model_config["frozen"] is True


def test_no_field_speaks_of_cost_or_margin() -> None:
    for model in models(CustomerView):
        for name in model.model_fields:
            assert not FORBIDDEN_WORDS & set(name.split("_")), f"{model.__name__}.{name}"


def test_fields_hold_no_open_kind_of_value() -> None:
    """`Any`, `object` or a bare dict would let anything through."""
    for model in models(CustomerView):
        for name, field in model.model_fields.items():
            for part in _parts(field.annotation):
                assert part in (str, int, float, bool, type(None), ...) or _is_model(part), f"{model.__name__}.{name}"


def test_every_id_that_is_named_is_an_option_of_the_view(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    ids = [option.id for option in view.options]
    assert len(set(ids)) == len(ids)
    named = {view.answer.winner, *view.answer.equals, *view.cards, *view.profile_winners.values()}
    named |= {view.answer.runner_up} - {None}
    for option in view.options:
        for line in (*option.better_than_winner, *option.worse_than_winner, option.weak_point):
            named |= {line.better, line.worse} if line else set()
    assert named <= set(ids)


def test_numbers_are_the_measures(both: tuple[Comparison, CustomerView]) -> None:
    found, view = both
    for card in view.options:
        result = found.by_id[card.id]
        measures, facts = result.score.measures, card.facts
        assert facts.price_usd == float(result.option.price.mid_usd) == measures.price.mid_usd
        assert facts.price_low_usd <= facts.price_usd <= facts.price_high_usd
        assert facts.electricity_kwh == measures.energy.electricity_kwh
        assert facts.equal_service_kwh == measures.energy.equal_service_kwh
        assert facts.bill_usd == measures.energy.bill_usd
        assert facts.outdoor_units == result.option.outdoor.count
        assert card.criteria == {c.value: s for c, s in zip(CRITERIA, result.score.scores, strict=True)}
        assert card.total == pytest.approx(
            sum(view.weights[name] * score for name, score in card.criteria.items()), abs=1e-6
        )


def test_the_coldest_bedroom_is_the_coldest_of_its_rooms(both: tuple[Comparison, CustomerView]) -> None:
    found, view = both
    for card in view.options:
        beds = [i for i, room in enumerate(found.case.plan.rooms) if room.beds and room.regular]
        assert card.facts.coldest_bedroom_c == pytest.approx(min(card.rooms[i].morning_c for i in beds), abs=1e-6)


def test_rooms_are_drawn_as_they_stand_on_the_plan(both: tuple[Comparison, CustomerView]) -> None:
    found, view = both
    for shape, room in zip(view.plan.rooms, found.case.plan.rooms, strict=True):
        assert shape.outline_m == room.outline_m
        assert (shape.name, shape.level, shape.use) == (room.name, room.level, room.use.value)
    assert [outcome.room for outcome in view.options[0].rooms] == list(range(len(found.case.plan.rooms)))


def test_units_stand_in_their_rooms_and_each_tag_once(both: tuple[Comparison, CustomerView]) -> None:
    found, view = both
    for card in view.options:
        tags = [mark.tag for mark in (*card.drawing.units, *card.drawing.outdoor)]
        assert len(set(tags)) == len(tags)
        assert len(card.drawing.units) == card.heads + card.hidden + card.heaters
        heads = [mark for mark in card.drawing.units if mark.kind not in {"concealed unit", "room heater"}]
        assert [found.case.plan.rooms[mark.room].name for mark in heads] == list(card.head_rooms)


def test_the_winner_is_first_and_left_out_options_come_last(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    assert view.options[0].id == view.answer.winner
    status = [option.status for option in view.options]
    assert status == sorted(status, key=["offered", "left out"].index)
    totals = [option.total for option in view.options if option.status == "offered"]
    assert totals == sorted(totals, reverse=True)


def test_a_left_out_option_says_why(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    for option in view.options:
        assert (option.status == "left out") is any(fault.fatal for fault in option.faults)


def test_a_house_without_a_place_for_ducts_says_so() -> None:
    view = compared("flat_roof_ranch").customer_view()
    assert {item.family for item in view.not_possible} == {"mix", "ducted_all"}
    assert all(item.text and item.cure for item in view.not_possible)


def test_priorities_reorder_without_a_new_year() -> None:
    found = compared("ranch")
    cheap = found.customer_view({"lower_price": 5})
    assert cheap.weights["rough cost"] > found.customer_view().weights["rough cost"]
    assert cheap.option(cheap.answer.winner).facts.price_usd <= max(o.facts.price_usd for o in cheap.options)


def test_bands_hold_every_running_hour_once(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    for option in view.options:
        for band in option.bands:
            assert len(band.hours) == len(band.edges_w) - 1
            assert sum(band.hours) <= 8760
            assert 0.0 <= band.on_off_share <= 1.0
            assert 0.0 <= band.smallest_w <= band.largest_w


def test_a_view_is_the_same_text_every_time() -> None:
    found = compared("ranch")
    assert found.customer_view().model_dump_json() == found.customer_view().model_dump_json()


def test_a_view_reads_back_as_itself(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    assert CustomerView.model_validate_json(view.model_dump_json()) == view


def test_an_extra_field_is_refused(both: tuple[Comparison, CustomerView]) -> None:
    _, view = both
    card = view.options[0].model_dump()
    with pytest.raises(ValidationError, match="margin_frac"):
        OptionCard.model_validate(card | {"margin_frac": 0.4})


def test_a_house_without_bedrooms_has_no_coldest_bedroom() -> None:
    from compare.pipeline import compare_house

    view = compare_house(house(studio())).customer_view()
    assert view.options[0].facts.coldest_bedroom is None
    assert view.options[0].facts.pillow_dba is None


def test_no_outdoor_spot_names_every_family_as_not_possible() -> None:
    text = scenario_text("accessory_unit")
    spot = text[text.index("[[outdoor_spot]]") : text.index("[panel]")]
    view = compared_text(text.replace(spot, "")).customer_view()
    assert view.answer.winner == ""
    assert view.options == ()
    assert "single_head" in {item.family for item in view.not_possible}
