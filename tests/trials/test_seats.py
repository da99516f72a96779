"""A moved bed or seat gives what a house file with it there would give; everything else stays as it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.air.geometry import inside
from compare.house.reading import read_house
from compare.pipeline import Comparison, compare_house
from compare.trials.pieces import pieces_of
from compare.trials.places import EDGE_M, Move, choices, facing_at, moved_plan, piece_at, within_room
from compare.trials.seats import with_moves
from compare.trials.told import seat_story, targets_view


def sofa_of(found: Comparison) -> int:
    return next(number for number, piece in enumerate(pieces_of(found.case.plan)) if piece.kind == "sofa")


def test_a_piece_put_where_it_stands_changes_nothing(ranch: Comparison) -> None:
    for number, piece in enumerate(pieces_of(ranch.case.plan)):
        same = with_moves(ranch, [Move(number, *piece.at_m)])
        for before, after in zip(ranch.scores, same.scores, strict=True):
            assert after.scores == pytest.approx(before.scores, abs=1e-9)
            assert after.price_usd == before.price_usd


@pytest.mark.slow
@pytest.mark.parametrize(("kind", "at_m"), [("sofa", (1.2, 6.5)), ("bed", None)])
def test_a_moved_piece_gives_what_a_file_with_it_there_gives(
    small: Comparison, scenarios: Path, kind: str, at_m: tuple[float, float] | None
) -> None:
    """The oracle is the whole program on another house file."""
    plan = small.case.plan
    number = next(n for n, piece in enumerate(pieces_of(plan)) if piece.kind == kind)
    piece = pieces_of(plan)[number]
    move = within_room(plan, number, at_m or choices(plan, number, 0.0)[1].at_m)
    house = read_house(scenarios / "accessory_unit.toml")
    field = "beds" if piece.bed else "seats"
    items = [
        item.model_copy(update={"at_m": (move.x_m, move.y_m)})
        if item.room == plan.rooms[piece.room].name and item.at_m == pytest.approx(piece.at_m)
        else item
        for item in getattr(house, field)
    ]
    assert items != getattr(house, field)
    whole = compare_house(house.model_copy(update={field: items}), scenarios)
    moved = with_moves(small, [move])
    assert [option.key for option in moved.options] == [option.key for option in whole.options]
    for mine, other in zip(moved.scores, whole.scores, strict=True):
        assert mine.scores == pytest.approx(other.scores, abs=1e-6)
        assert mine.price_usd == other.price_usd


def test_a_sofa_in_front_of_the_unit_hears_and_feels_more_than_one_far_from_it(ranch: Comparison) -> None:
    """Nearer to a source the direct sound is louder and the jet faster; the unit's place is held by choice of spots."""
    sofa = sofa_of(ranch)
    option = next(one for one in ranch.options if one.key == "h0")
    siting = option.zones[0].siting
    assert siting is not None
    plan = ranch.case.plan
    spots = [choice.at_m for choice in choices(plan, sofa, ranch.case.house.house.plan_north_deg)]
    levels = {}
    for spot in spots:
        moved = with_moves(ranch, [Move(sofa, *spot)])
        after = seat_story(ranch, moved, "h0", sofa).after
        assert after is not None
        own = moved.by_id["h0"].option.zones[0].siting
        assert own is not None
        levels[((own.x_m - spot[0]) ** 2 + (own.y_m - spot[1]) ** 2) ** 0.5] = after.level_dba
    nearest, farthest = min(levels), max(levels)
    assert farthest > nearest + 1.0
    assert levels[nearest] > levels[farthest]


def test_no_layout_is_worse_placed_than_before_for_lack_of_trying(ranch: Comparison) -> None:
    """After a move every room unit is placed anew: no other place known before has fewer points at the new seat."""
    sofa = sofa_of(ranch)
    moved = with_moves(ranch, [Move(sofa, 1.0, 4.0)])
    for before, after in zip(ranch.options, moved.options, strict=True):
        for old, new in zip(before.zones, after.zones, strict=True):
            if old.siting is not None and new.siting is not None and old.pair.label == new.pair.label:
                worst = [rejected.reason for rejected in new.siting.rejected if "points behind" in rejected.reason]
                assert all(float(reason.split()[0]) >= -1e-9 for reason in worst)


def test_the_house_is_not_changed(ranch: Comparison) -> None:
    plan, house = ranch.case.plan, ranch.case.house
    with_moves(ranch, [Move(0, 1.0, 4.0)])
    assert ranch.case.plan is plan
    assert ranch.case.house is house
    assert with_moves(ranch, []) is ranch


def test_pieces_keep_their_numbers_and_stay_in_their_rooms(ranch: Comparison) -> None:
    plan = ranch.case.plan
    for number, piece in enumerate(pieces_of(plan)):
        for far in ((-50.0, -50.0), (80.0, 3.0), (3.0, 80.0), (7.0, 4.0)):
            move = within_room(plan, number, far)
            moved = moved_plan(plan, [move])
            now = pieces_of(moved)[number]
            assert (now.room, now.kind, now.number) == (piece.room, piece.kind, piece.number)
            assert now.at_m == (move.x_m, move.y_m)
            assert inside(now.at_m, plan.rooms[piece.room].outline_m)
        for choice in choices(plan, number, 0.0):
            assert inside(choice.at_m, plan.rooms[piece.room].outline_m)
            assert facing_at(plan, number, 0.0, choice.at_m) == choice.facing
    assert EDGE_M > 0.0


def test_a_tap_on_a_piece_means_it(ranch: Comparison) -> None:
    plan = ranch.case.plan
    for number, piece in enumerate(pieces_of(plan)):
        assert piece_at(plan, plan.rooms[piece.room].level, piece.at_m, 1.0) == number
    assert piece_at(plan, 0, (-30.0, 0.0), 1.0) is None
    assert piece_at(plan, 7, pieces_of(plan)[0].at_m, 1.0) is None


@pytest.mark.parametrize("moves", [[Move(99, 1.0, 1.0)], [Move(0, -5.0, 1.0)], [Move(0, 1.0, 1.0), Move(0, 2.0, 2.0)]])
def test_moves_that_make_no_sense_are_refused(ranch: Comparison, moves: list[Move]) -> None:
    with pytest.raises(ValueError, match=r"piece|once"):
        with_moves(ranch, moves)
    with pytest.raises(ValueError, match="finite"):
        within_room(ranch.case.plan, 0, (float("nan"), 1.0))


def test_targets_name_every_wall_and_piece(ranch: Comparison) -> None:
    targets = targets_view(ranch)
    assert {wall.room for wall in targets.walls} == set(range(len(ranch.case.plan.rooms)))
    assert [piece.piece for piece in targets.pieces] == list(range(len(pieces_of(ranch.case.plan))))
    assert not any(piece.moved for piece in targets.pieces)
    moved = targets_view(with_moves(ranch, [Move(0, 1.0, 4.0)]), [Move(0, 1.0, 4.0)])
    assert [piece.piece for piece in moved.pieces if piece.moved] == [0]
    assert moved.pieces[0].at_m == (1.0, 4.0)
