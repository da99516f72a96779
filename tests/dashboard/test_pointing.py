"""Pointing at the plan through the page's server: answers for every wall, pieces that move and come back, bad taps."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house
from compare.trials.head import REASONS
from compare.units import System
from compare.views.shown import NOT_BUILDABLE
from compare.views.tried import PieceLine, RoomStay, SeatStory
from dashboard.keep import Keep
from dashboard.source import HouseSource
from dashboard.table.app import make_app
from dashboard.table.seat_words import story_words
from dashboard.table.tried_words import (
    BECAUSE_AWAY,
    NO_PLACE,
    WHY_LOW_UNIT,
    answer,
    area,
    beneath,
    height,
    length,
    why_sentence,
)
from dashboard.tool import Tool
from proposal.readability import reading_of, sentences_in
from proposal.words import Figures, Told, words_of
from tests.dashboard.client import Client, all_taps, default_values, words_in
from tests.dashboard.real import real_source

HOUSE = "accessory_unit.toml"


@pytest.fixture(scope="module")
def found(scenarios: Path) -> Comparison:
    return compare_house(read_house(scenarios / HOUSE), scenarios)


@pytest.fixture(scope="module")
def source(scenarios: Path, found: Comparison) -> HouseSource:
    return real_source(scenarios / HOUSE, found)


@pytest.fixture
def client(source: HouseSource) -> Client:
    return Client(make_app(source), default_values(source.status()))


def status_of(client: Client, what: object, number: object = 77) -> int:
    client.values["taps"] = {"what": what, "number": number}
    return client.post(client.body()).status_code


def settled(client: Client, told: dict[str, Any]) -> dict[str, Any]:
    """The page once nothing is being worked out any more."""
    while told["work"]["children"]:
        told = client.answer()
    return told


def said(told: dict[str, Any]) -> str:
    return words_in(told["plan"]["children"])


def test_every_wall_gives_an_answer_and_a_way_back(client: Client, source: HouseSource) -> None:
    question = source.status().question
    targets = source.pointed.targets(question)
    assert len(targets.walls) > 12
    client.tap("tool:wall")
    for wall in targets.walls:
        told = said(client.tap(f"wall:{wall.room}.{wall.wall}"))
        assert "Not on this wall." in told or "Installed, about $" in told
        assert f"{wall.facing} wall of {wall.room_name}" in told
    back = client.tap("tool:off")
    assert "Put it away" not in said(back)
    assert "data-tap" in json.dumps(back["scenes"]["children"]) or "tool:wall" in all_taps(list(back.values()))


def test_a_tap_on_the_plan_means_the_nearest_wall(client: Client, found: Comparison) -> None:
    room = found.case.plan.rooms[0]
    xs, ys = [x for x, _ in room.outline_m], [y for _, y in room.outline_m]
    client.tap("tool:wall")
    told = said(client.tap(f"at:0,{min(xs) + 0.2:.2f},{(min(ys) + max(ys)) / 2:.2f}"))
    assert f"west wall of {room.name}" in told
    assert "Tap a wall" in said(client.tap("tool:wall"))


def test_added_to_the_layout_on_the_plan_it_tells_the_price_beside(client: Client) -> None:
    client.tap("tool:wall")
    client.tap("wall:1.0")
    alone = said(client.tap("with:no"))
    both = said(client.tap("with:yes"))
    assert "than without it" in both
    assert "than without it" not in alone


def test_a_moved_sofa_changes_the_question_and_comes_back(
    client: Client, source: HouseSource, found: Comparison
) -> None:
    question = source.status().question
    piece = next(one for one in source.pointed.targets(question).pieces if one.kind == "sofa")
    before = found.case.plan.rooms[0].seats
    start = client.answer()
    client.tap("tool:seat")
    client.tap(f"piece:{piece.piece}")
    choice = next(one for one in piece.choices if one.facing and one.facing != piece.by_wall)
    moved = settled(client, client.tap(f"put:{piece.piece},{choice.at_m[0]:.2f},{choice.at_m[1]:.2f}"))
    assert f"the sofa stands by the {choice.facing} wall" in words_in(moved["head"]["children"])
    assert "Put back" in words_in(moved["turn"]["children"])
    assert moved["cards"] != start["cards"]
    assert found.case.plan.rooms[0].seats == before
    undone = settled(client, client.tap("undo:now"))
    assert undone["cards"] == start["cards"]
    again = settled(client, client.tap("redo:now"))
    assert again["cards"] == moved["cards"]
    back = settled(client, client.tap(f"back:{piece.piece}"))
    assert back["cards"] == start["cards"]
    assert "is back in its place" in words_in(back["head"]["children"])


def test_a_piece_is_tapped_and_then_its_place(client: Client, source: HouseSource) -> None:
    pieces = source.pointed.targets(source.status().question).pieces
    bed = next(one for one in pieces if one.kind == "bed")
    client.tap("tool:seat")
    told = said(client.tap(f"at:{bed.level},{bed.at_m[0]:.2f},{bed.at_m[1]:.2f}"))
    assert "Now tap where it should stand" in told
    spot = bed.choices[0].at_m
    told = settled(client, client.tap(f"at:{bed.level},{spot[0]:.2f},{spot[1]:.2f}"))
    assert "bed stands" in words_in(told["head"]["children"])


def test_pointing_works_at_other_set_points_and_prices(client: Client) -> None:
    """A tried unit and a moved sofa in a house that is held warmer, at a dearer power price."""
    client.tap("tool:wall")
    usual = said(client.tap("wall:1.0"))
    settled(client, client.tap("set:heating:72"))
    warmer = settled(client, client.tap("set:rate:30"))
    assert said(warmer) != usual
    assert "Energy a year" in said(warmer)
    client.tap("tool:seat")
    moved = settled(client, client.tap("put:0,1.0,1.0"))
    assert "Put back" in words_in(moved["turn"]["children"])
    back = settled(client, client.tap("back:0"))
    assert back["cards"] == warmer["cards"]


BAD_TAPS = (
    "tool:", "tool:hammer", "wall:99.0", "wall:0.99", "wall:0", "wall:-1.0", "wall:a.b", "wall:0.0.0", "with:maybe",
    "at:0,1.0,2.0", "piece:99", "piece:-1", "piece:x", "put:0,nan,1", "put:0,1", "put:0,1e9,1", "put:99,1,1",
    "put:0,1,1,1", "back:99", "back:all", "back:x", "drag:0,1,1", "at:", "drag:0,1,1,2,2", "put:0,999.0,1.0",
)  # fmt: skip


@pytest.mark.parametrize("what", BAD_TAPS)
def test_bad_taps_are_refused_without_a_traceback(client: Client, what: str) -> None:
    assert status_of(client, what) == 400


@pytest.mark.parametrize("what", ["at:x,1,1", "at:0,inf,1", "at:0,1;DROP,2", "at:0,1.0000001,1", "at:1000,1,1"])
def test_bad_places_are_refused_with_a_tool_in_hand(client: Client, what: str) -> None:
    client.tap("tool:wall")
    assert status_of(client, what) == 400
    client.tap("tool:seat")
    assert status_of(client, what, 99) == 400


def test_a_place_far_outside_is_pulled_into_the_room(client: Client, source: HouseSource, found: Comparison) -> None:
    client.tap("tool:seat")
    client.tap("put:0,-400.0,300.0")
    question = source.status().question
    move = source.pointed.put(question, 0, (-400.0, 300.0))
    xs = [x for x, _ in found.case.plan.rooms[0].outline_m]
    assert min(xs) < move.x_m < max(xs)


def test_every_reason_has_words(found: Comparison) -> None:
    assert set(REASONS.values()) | set(NOT_BUILDABLE) | {"furniture"} <= set(NO_PLACE)
    assert set(WHY_LOW_UNIT) <= set(NO_PLACE)
    assert set(BECAUSE_AWAY) <= set(NO_PLACE)


def _told(source: HouseSource, system: System = System.US) -> Told:
    return Told(source.view(source.status().question), words_of(), Figures(system))


def test_lengths_and_areas_in_both_systems() -> None:
    """1 ft = 0.3048 m exactly (international foot, 1959)."""
    us, si = Figures(System.US), Figures(System.SI)
    assert (length(3.048, us), length(3.048, si)) == ("10\u00a0ft", "3\u00a0m")
    assert (area(9.290304, us), area(9.29, si)) == ("100\u00a0sq\u00a0ft", "9\u00a0m²")
    assert (height(2.2, us), height(2.2, si)) == ("7\u00a0ft 3\u00a0in.", "2.2\u00a0m")


@pytest.mark.parametrize("cause", ["door", "door_and_way", "way", "stairs", "walls"])
@pytest.mark.parametrize("hot", [False, True])
def test_each_cause_is_told_in_its_words(source: HouseSource, cause: str, hot: bool) -> None:
    question = source.status().question
    spot = source.pointed.wall_at(question, 0, (1.0, 0.1))
    assert spot is not None
    tried = source.pointed.tried(question, spot, "")
    stay = RoomStay(
        room=1, name="Den", value_c=12.0, target_c=18.9, cause=cause, open_c=15.0, shut_doors=1, doorways=2, stairs=1,
        way_m=9.1, needs_w=700.0, arrives_w=200.0,
    )  # fmt: skip
    stays = {"hot" if hot else "cold": (stay,)}
    words = why_sentence(tried.model_copy(update=stays), _told(source), hot=hot)
    assert "Den" in words
    assert ("shut" in words) == cause.startswith("door")
    assert ("the stairs" in words) == (cause in {"door_and_way", "way", "stairs"})


def test_answers_read_easily(source: HouseSource) -> None:
    """Kincaid grade 7 at most over all walls, and no sentence beyond 30 words (our judgement for spoken answers)."""
    question = source.status().question
    texts = []
    for wall in source.pointed.targets(question).walls:
        spot = source.pointed.wall_at(question, 0, (0.0, 0.0))
        assert spot is not None
        tried = source.pointed.tried(question, type(spot)(wall.room, wall.wall), "")
        for hot in (False, True):
            texts += [answer(tried, _told(source), hot=hot), beneath(tried, _told(source), hot=hot)]
    whole = " ".join(text for text in texts if text)
    assert reading_of("walls", [text for text in texts if text]).grade <= 7.0
    assert max(len(sentence.split()) for sentence in sentences_in(whole)) <= 30
    assert not re.search(r"\{\w+\}", whole)


def test_small_changes_at_a_seat_are_not_told_as_changes(source: HouseSource) -> None:
    """Nothing to false precision: 1 dB is about the least that people hear in the laboratory (common knowledge of the
    trade, from memory), and a seat is not told apart by it.
    """
    targets = source.pointed.targets(source.status().question)
    sofa = next(piece for piece in targets.pieces if piece.kind == "sofa")
    line = PieceLine(piece=sofa.piece, room_name="Den", kind="sofa", bed=False, level_dba=30.2, felt_frac=0.10)
    moved = {"level_dba": 31.6, "felt_frac": 0.12}
    story = SeatStory(
        option="x", before=line, after=line.model_copy(update=moved), unit_before="", unit_after="north",
        unit_moved_m=0.0, unit_turned_deg=0.0,
    )  # fmt: skip
    same = story_words(story, sofa, targets, _told(source)).replace("\u00a0", " ")
    assert same == "Sound at the sofa stays at about 32 dB(A). 12 of 100 people would mind the draft, about as before."
    louder = line.model_copy(update={"level_dba": 36.0, "felt_frac": 0.22})
    far = story.model_copy(update={"after": louder, "unit_moved_m": 2.0})
    told = story_words(far, sofa, targets, _told(source)).replace("\u00a0", " ")
    assert "The unit now hangs on the north wall." in told
    assert "36 dB(A), before 30 dB(A)" in told
    assert "before 10 of 100" in told
    turned = story.model_copy(update={"unit_turned_deg": 30.0})
    assert "blows another way" in story_words(turned, sofa, targets, _told(source))
    assert "No unit" in story_words(story.model_copy(update={"after": None}), sofa, targets, _told(source))


def test_answers_are_kept_and_bounded() -> None:
    kept: Keep[int, int] = Keep(3)
    asked: list[int] = []
    for key in (1, 2, 3, 1, 4, 1, 2):
        kept.of(key, lambda key=key: asked.append(key) or key)
    assert asked == [1, 2, 3, 4, 2]
    assert len(kept) == 3
    kept.drop()
    assert len(kept) == 0


def test_tools_have_words() -> None:
    from dashboard.table.pointed_plan import PUT_AWAY, START, TOOLS

    assert set(TOOLS) == set(START) == set(PUT_AWAY) == set(Tool) - {Tool.NONE}
