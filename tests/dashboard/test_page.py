"""What the page shows, from views alone: cards, changes, widths, words. Rules: its own design (our judgement)."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any

import pytest

from compare.scoring.weights import priorities
from compare.units import System
from compare.views.customer import CustomerView
from dashboard.session import Form, Page, Question, WhatIf, start_question
from dashboard.table.app import make_app
from dashboard.table.change import change_line
from dashboard.table.choice import MOST_CARDS, card_options, other_options
from dashboard.table.desk import Table, regions
from dashboard.table.head import said_first
from dashboard.table.plan import ROOM_PX, house_picture
from dashboard.table.scene import Shown
from dashboard.table.text import PRIORITY_LABELS
from proposal.words.options import shared_places
from tests.dashboard.client import Client, default_values, every_answer, words_in
from tests.dashboard.double import SampleSource, sample_answer
from tests.proposal.sample_view import two_storey_view


@pytest.fixture
def question(source: SampleSource) -> Question:
    return source.now.question


def ranch() -> CustomerView:
    """The sample ranch as the test double answers at the start."""
    return sample_answer(SampleSource().now.question)


def with_more(view: CustomerView, count: int) -> CustomerView:
    """A view with so many more options of one family, all with a card of their own."""
    more = tuple(view.option("each").model_copy(update={"id": f"each-{k}", "total": 70.0 - k}) for k in range(count))
    options = (*view.options[:-1], *more, view.options[-1])
    return view.model_copy(update={"options": options, "cards": tuple(option.id for option in options)})


def test_five_cards_hold_winner_rival_each_family_and_the_rejected_one() -> None:
    view = with_more(ranch(), 4)
    chosen = [option.id for option in card_options(view)]
    assert set(chosen) == {"mix", "heaters", "hidden", "each", "one"}
    assert (chosen[0], chosen[-1]) == ("mix", "one")
    assert len(chosen) == MOST_CARDS
    assert [option.id for option in other_options(view)] == ["each-0", "each-1", "each-2", "each-3"]


def test_equals_stand_first_by_price_when_it_is_too_close_to_call() -> None:
    view = two_storey_view()
    equal = [option for option in card_options(view) if option.id in view.answer.equals]
    prices = [option.facts.price_usd for option in equal]
    assert [option.id for option in card_options(view)][: len(equal)] == [option.id for option in equal]
    assert prices == sorted(prices)


def test_every_priority_of_the_scores_has_a_row_or_a_switch(question: Question) -> None:
    assert set(PRIORITY_LABELS) == {row.key for row in priorities()}
    asked = question.flipped(WhatIf.FEW_IN_SIGHT).priorities
    assert set(asked) == {row.key for row in priorities()}
    with pytest.raises(ValueError, match="price"):
        start_question({"price": 3}, frozenset())


def test_change_line_names_the_cause_and_what_it_did(question: Question) -> None:
    start = sample_answer(question)
    cheap = sample_answer(question.with_stop("lower_price", 5))
    assert change_line(start, cheap, "x is so").startswith("New advice, because x is so")
    same = sample_answer(question.with_stop("warm_and_even", 4))
    assert change_line(start, same, "x is so").endswith("The advice stays.")
    assert change_line(start, same, "") == ""


def test_the_layout_that_comes_first_is_told_with_the_place_it_comes_from(question: Question) -> None:
    start = sample_answer(question.with_stop("lower_price", 1))
    cheap = sample_answer(question.with_stop("lower_price", 5).with_stop("warm_and_even", 1))
    assert start.answer.winner == "mix"
    assert cheap.answer.winner == "heaters"
    told = change_line(start, cheap, "x is so")
    place = shared_places(start)["heaters"][0]
    ordinal = {2: "second", 3: "third", 4: "fourth"}[place]
    assert told == f"New advice, because x is so: a wall unit with room heaters moves from {ordinal} to first."
    warm = sample_answer(question.flipped(WhatIf.DOORS_SHUT).with_stop("lower_price", 5))
    assert change_line(start, warm, "x is so") == "New advice, because x is so: one wall unit alone is enough now."


def test_a_layout_that_moves_is_told_with_both_places(question: Question) -> None:
    start, other = sample_answer(question), sample_answer(question.with_stop("quiet", 1))
    was, now = shared_places(start)["heaters"][0], shared_places(other)["heaters"][0]
    assert (was, now) == (2, 4)
    told = "Now x is so: a wall unit with room heaters moves from second to fourth. The advice stays."
    assert change_line(start, other, "x is so") == told


def test_the_sentence_holds_when_no_layout_is_enough() -> None:
    view = ranch()
    out = tuple(option.model_copy(update={"status": "left out"}) for option in view.options)
    answer = view.answer.model_copy(update={"winner": "", "runner_up": None, "verdict": "none", "equals": ()})
    source = SampleSource()
    shown = Shown(view.model_copy(update={"options": out, "answer": answer}), Page(source.now.question))
    assert said_first(shown)[0] == "No layout is enough here yet."
    assert regions(Table(source), shown, "x" * 24)["cards"]


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("view", [ranch(), two_storey_view()], ids=["one storey", "two storeys"])
def test_the_house_keeps_to_its_place(view: CustomerView, form: Form, question: Question) -> None:
    shown = Shown(view, Page(question, form=form))
    widest_px, most_high_px = ROOM_PX[form, shown.several_levels]
    for option in view.options:
        picture = house_picture(replace(shown, page=replace(shown.page, shown=option.id)))
        assert picture.width_px <= 1.1 * widest_px
        assert picture.height_px <= most_high_px + 30.0


def shown_in(node: Any) -> list[str]:
    """Every text and picture of a part of the page; what its scripts fill in is left out."""
    if isinstance(node, list):
        return [text for item in node for text in shown_in(item)]
    if not isinstance(node, dict):
        return [node] if isinstance(node, str) else []
    return [text for key, value in node.items() if key != "words" for text in shown_in(value)]


def test_no_field_of_a_text_is_left_open(client: Client) -> None:
    """As in `at most {high} below`: whatever is tapped, in both units and every scene."""
    for name, told in every_answer(client).items():
        if told.startswith(b"{"):
            open_fields = [text for text in shown_in(json.loads(told)) if re.search(r"\{[a-z_]+\}", text)]
            assert not open_fields, name


def test_units_change_every_temperature(client: Client) -> None:
    assert "°F" in words_in(client.answer()["cards"]["children"])
    client.values["units"] = "SI"
    told = client.answer()
    shown = words_in([told[name]["children"] for name in ("head", "plan", "cards", "ask")])
    assert "°C" in shown
    assert "°F" not in shown


def test_hostile_names_stay_text(source: SampleSource, monkeypatch: pytest.MonkeyPatch) -> None:
    bad = "<script>alert(1)</script>\u202e{head_units}"
    view = ranch()
    rooms = tuple(
        room.model_copy(update={"name": bad}) if room.name in {"Laundry", "Bath"} else room for room in view.plan.rooms
    )
    named = view.model_copy(
        update={
            "plan": view.plan.model_copy(update={"rooms": rooms}),
            "house": view.house.model_copy(update={"name": bad}),
        }
    )
    monkeypatch.setattr(source, "view", lambda _question: named)
    monkeypatch.setattr(source, "known", lambda _question: named)
    answer = Client(make_app(source), default_values(source.now)).answer()
    drawings = _all(answer, "svg")
    assert drawings
    for drawing in drawings:
        assert "<script" not in drawing
    assert "\u202e" not in words_in(answer["house-name"]["children"])


def _all(node: Any, key: str) -> list[str]:
    if isinstance(node, list):
        return [hit for item in node for hit in _all(item, key)]
    if not isinstance(node, dict):
        return []
    own = [node[key]] if isinstance(node.get(key), str) else []
    return own + [hit for value in node.values() for hit in _all(value, key)]


def test_the_browser_keeps_a_name_and_nothing_else(client: Client) -> None:
    client.answer()
    page = json.loads(client.get("/_dash-layout").data)
    stores = [part for part in _parts(page) if part.get("type") == "Store"]
    assert [set(store["props"]) for store in stores] == [{"id", "data"}]
    assert len(stores[0]["props"]["data"]) == 24


def _parts(node: Any) -> list[dict[str, Any]]:
    if isinstance(node, list):
        return [part for item in node for part in _parts(item)]
    if not isinstance(node, dict):
        return []
    return [node, *(part for value in node.values() for part in _parts(value))]


def test_sessions_do_not_mix(app: Any, source: SampleSource) -> None:
    one, other = Client(app, default_values(source.now)), Client(app, default_values(source.now))
    one.tap("show:one")
    assert "not enough here" in words_in(one.answer()["plan"]["children"])
    assert "not enough here" not in words_in(other.answer()["plan"]["children"])


def test_the_proposal_is_that_of_the_session(client: Client) -> None:
    client.answer()
    name = client.values["name"]
    assert client.get(f"/proposal/{name}.pdf").data == b"%PDF-1.7 mix"
    assert client.get(f"/proposal/{'x' * 24}.pdf").status_code == 404
    assert name in str(client.answer()["buttons"])


def test_units_of_the_house_file_come_first(source: SampleSource, monkeypatch: pytest.MonkeyPatch) -> None:
    view = ranch()
    metric = view.model_copy(update={"house": view.house.model_copy(update={"units": "SI"})})
    monkeypatch.setattr(source, "view", lambda _question: metric)
    assert Table(source).units(source.now) is System.SI
