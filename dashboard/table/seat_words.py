"""Sentences about a moved bed or seat: where it stands, what it hears and feels now, where the unit hangs."""

from __future__ import annotations

from compare.trials.places import Move
from compare.views.tried import PieceTarget, SeatStory, Targets
from dashboard.session import Question
from dashboard.table.tried_words import PIECES
from proposal.words import Told, name

MOVED_M = 0.3
"""From this on a unit is said to hang elsewhere."""
HEARD_DB, FELT_FRAC = 2.0, 0.03
"""Smaller changes of sound and draft are not told: few hear 1 dB, and the draft model is no finer (our judgement)."""
TURNED_DEG = 20.0
"""From this on it is said to blow another way; side vanes turn by 30."""


def piece_words(piece: PieceTarget, targets: Targets) -> str:
    """As in `the sofa`, with its room where the house has several of its kind."""
    kind = PIECES.get(piece.kind, "seat")
    several = sum(other.kind == piece.kind for other in targets.pieces) > 1
    return f"the {kind} in {name(piece.room_name)}" if several else f"the {kind}"


def place_words(facing: str) -> str:
    """As in `by the west wall` or `in the middle of the room`."""
    return f"by the {facing} wall" if facing else "in the middle of the room"


def changed_piece(before: Question, after: Question) -> tuple[int, Move | None] | None:
    """The piece that moved between two questions, and where to; None there where it went back to its place."""
    old, new = ({move.piece: move for move in question.moves} for question in (before, after))
    for piece in sorted(old.keys() | new.keys()):
        if old.get(piece) != new.get(piece):
            return piece, new.get(piece)
    return None


def move_cause(before: Question, after: Question, targets: Targets) -> str:
    """What moved between two questions, as a clause: `the sofa stands by the west wall`; empty when nothing did."""
    found = changed_piece(before, after)
    if found is None:
        return ""
    piece = next((one for one in targets.pieces if one.piece == found[0]), None)
    if piece is None:
        return ""
    if found[1] is None:
        return f"{piece_words(piece, targets)} is back in its place"
    return f"{piece_words(piece, targets)} stands {place_words(piece.by_wall)}"


def story_words(story: SeatStory, piece: PieceTarget, targets: Targets, told: Told) -> str:
    """What the move does where one sits or lies, in the layout on the plan."""
    at = "at the pillow" if piece.kind == "bed" else f"at {piece_words(piece, targets)}"
    said = []
    if story.unit_moved_m >= MOVED_M:
        on = f"on the {story.unit_after} wall" if story.unit_after else "in another place"
        said.append(f"The unit now hangs {on}.")
    elif story.unit_turned_deg >= TURNED_DEG:
        said.append("The unit now blows another way, to spare you the draft.")
    if story.after is None:
        return " ".join([*said, f"No unit blows or is heard {at} in this layout."])
    figures, after, before = told.figures, story.after, story.before
    level = figures.level(after.level_dba)
    felt = figures.of_hundred(after.felt_frac)
    if before is None:
        return " ".join([*said, f"Sound {at}: {level}. {felt} people would mind the draft."])
    was_level, was_felt = figures.level(before.level_dba), figures.of_hundred(before.felt_frac)
    quiet = abs(after.level_dba - before.level_dba) < HEARD_DB
    still = abs(after.felt_frac - before.felt_frac) < FELT_FRAC
    sound = f"Sound {at} stays at about {level}" if quiet else f"Sound {at}: {level}, before {was_level}"
    than = ", about as before" if still else f", before {was_felt}"
    return " ".join([*said, f"{sound}. {felt} people would mind the draft{than}."])
