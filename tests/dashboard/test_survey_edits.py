"""Edits of a house file's text. The oracle is the standard library's TOML reader and its line comparison."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

import pytest

from compare.house.reading import read_house_text
from dashboard.survey.draft.edits import Edit, EditError, Insert, Remove, Set, Swap, Unset, applied, changed, written
from dashboard.survey.draft.history import BOM, MOST_STEPS, NotReadableError, draft_of
from dashboard.survey.draft.names import renamed
from dashboard.survey.draft.rooms import delete_room, move_room, push_wall

NAMES = (
    "accessory_unit", "cabin", "colonial", "day_wing", "flat_roof_ranch", "open_bungalow", "ranch", "tight_new",
    "vaulted_four", "vaulted_ranch",
)  # fmt: skip


def touched(before: str, after: str) -> list[str]:
    """Lines that went or came."""
    found = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in found if line[:1] in "+-" and not line.startswith(("+++", "---"))]


def comments(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.lstrip().startswith("#")]


def edited(text: str, *edits: Edit) -> str:
    return applied(text, tomllib.loads(text), edits)[0]


@pytest.mark.parametrize("name", NAMES)
def test_a_file_that_was_not_edited_keeps_every_byte(scenarios: Path, name: str) -> None:
    data = (scenarios / f"{name}.toml").read_bytes()
    for form in (data, data.replace(b"\n", b"\r\n"), BOM + data, BOM + data.replace(b"\n", b"\r\n")):
        assert draft_of(form, name).data == form


@pytest.mark.parametrize("name", NAMES)
def test_one_edit_touches_its_lines_alone(scenarios: Path, name: str) -> None:
    text = (scenarios / f"{name}.toml").read_text()
    raw = tomllib.loads(text)
    for position, room in enumerate(raw["room"]):
        other = "entry" if room["use"] == "storage" else "storage"
        after = edited(text, Set(("room", position, "use"), other))
        assert touched(text, after) == [f"-use = {written(room['use'])}", f"+use = {written(other)}"]
        assert comments(after) == comments(text)
    named = applied(text, raw, renamed(raw, "room", 0, "Somewhere else"))[0]
    old = raw["room"][0]["name"]
    assert all(old in line for line in touched(text, named) if line[0] == "-")
    assert all("Somewhere else" in line for line in touched(text, named) if line[0] == "+")
    assert read_house_text(named, name).rooms[0].name == "Somewhere else"


@pytest.mark.parametrize("name", NAMES)
def test_crlf_and_mark_stay_after_an_edit(scenarios: Path, name: str) -> None:
    data = BOM + (scenarios / f"{name}.toml").read_bytes().replace(b"\n", b"\r\n")
    draft = draft_of(data, name)
    after = draft.after(push_wall(draft.raw, 0, "S", -2.0, together=False).edits).data
    assert after.startswith(BOM)
    assert after.count(b"\n") == after.count(b"\r\n")
    changed_lines = touched(data.decode("utf-8-sig"), after.decode("utf-8-sig"))
    assert changed_lines
    assert len(changed_lines) <= 8


WILD = '''# top
units = "US"   # feet

[house] # who
name = "A \\"B\\" = [c] # d"   # tail
notes = """
[[room]]
# not a comment, size = [1, 2]
"""
built = 1950
"odd key" = 1

# rooms
[[room]] # one
name = 'Bath'
size = [
  5, # wide
  7,
] # tape
# between
[[window]]
room = "Bath"
# about the hall
[[room]]
name = "Hall"
size = [3, 4]

[[unit_space]]
serves = [
  "Bath", # wet
  'Hall',
]

[site.design]
heating_99 = 5
# end'''


def test_unusual_writing_is_kept_to_the_letter() -> None:
    after = edited(WILD, Set(("room", 0, "size"), [6, 7]))
    assert after == WILD.replace("[\n  5, # wide\n  7,\n]", "[6, 7]")
    after = edited(WILD, Swap(("unit_space", 0, "serves"), "Bath", "Wet room"))
    assert after == WILD.replace('"Bath", # wet', '"Wet room", # wet')
    after = edited(WILD, Set(("site", "design", "heating_99"), -1.5))
    assert after == WILD.replace("heating_99 = 5", "heating_99 = -1.5")
    after = edited(WILD, Set(("room", 1, "height"), 9))
    assert after == WILD.replace("size = [3, 4]\n", "size = [3, 4]\nheight = 9\n")
    after = edited(WILD, Unset(("house", "built")))
    assert after == WILD.replace("built = 1950\n", "")


def test_adding_and_removing_keeps_comments_and_neighbours() -> None:
    more = edited(WILD, Insert("room", {"name": "Attic", "size": [1.5, 2]}))
    assert more == WILD.replace("size = [3, 4]\n", 'size = [3, 4]\n\n[[room]]\nname = "Attic"\nsize = [1.5, 2]\n')
    assert edited(more, Remove("room", 2)) == WILD
    less = edited(WILD, Remove("room", 0))
    assert comments(less) == [line for line in comments(WILD) if "wide" not in line]
    assert [item["name"] for item in tomllib.loads(less)["room"]] == ["Hall"]
    new = edited(WILD, Insert("bed", {"room": "Hall", "at": [1, 2]}))
    assert new == WILD + '\n\n[[bed]]\nroom = "Hall"\nat = [1, 2]\n'
    table = edited(WILD, Set(("comfort", "heating"), 69))
    assert table == WILD + "\n\n[comfort]\nheating = 69\n"


INLINE = """# all in lines
units = "US"
house = {name = "x", built = 1950} # short
site.place = "here"
room = [
  {name = "Bath", size = [5, 7]}, # first
  {name = "Hall", size = [3, 4]},
]
"""


def test_inline_tables_and_dotted_keys_are_edited_too() -> None:
    cases: list[tuple[Edit, ...]] = [
        (Set(("room", 1, "size"), [4, 4]),),
        (Set(("house", "built"), 1951), Set(("site", "place"), "there")),
        (Insert("room", {"name": "Attic", "size": [1, 2]}),),
        (Remove("room", 0),),
        (Swap(("room", 0, "name"), "Bath", "Wet room"), Set(("house", "people"), 3)),
    ]
    raw = tomllib.loads(INLINE)
    for edits in cases:
        after = edited(INLINE, *edits)
        assert tomllib.loads(after) == changed(raw, edits)
        assert after.startswith("# all in lines")
        assert "# short" in after


def test_what_cannot_be_written_is_refused() -> None:
    with pytest.raises(EditError):
        edited(WILD, Set(("house", "built"), float("nan")))
    with pytest.raises(EditError):
        edited(WILD, Set(("house", "built"), object()))


@pytest.mark.parametrize("text", ['"', "[", "a = ", "a = 1\na = 2", "a = [[[[[[[[[[", "\x00"])
def test_a_text_that_is_no_toml_is_told(text: str) -> None:
    with pytest.raises(NotReadableError, match=r"house\.toml"):
        draft_of(text.encode(), "house.toml")


def test_undo_and_redo_are_bounded_and_exact(scenarios: Path) -> None:
    first = draft_of((scenarios / "ranch.toml").read_bytes(), "ranch.toml")
    draft, texts = first, [first.text]
    for step in range(MOST_STEPS + 5):
        draft = draft.after(move_room(draft.raw, 0, (-0.5 if step % 2 else -1.0, 0.0)).edits)
        texts.append(draft.text)
    for text in reversed(texts[-MOST_STEPS - 1 : -1]):
        draft = draft.undone()
        assert draft.text == text
    assert draft.undone() is draft
    for text in texts[6:]:
        draft = draft.redone()
        assert draft.text == text
    assert draft.redone() is draft
    assert draft.version > first.version


@pytest.mark.parametrize("name", NAMES)
def test_a_deleted_room_leaves_no_name_behind(scenarios: Path, name: str) -> None:
    text = (scenarios / f"{name}.toml").read_text()
    raw: dict[str, Any] = tomllib.loads(text)
    for position, room in enumerate(raw["room"]):
        after, tables = applied(text, raw, delete_room(raw, position).edits)
        assert f'"{room["name"]}"' not in after
        assert len(tables["room"]) == len(raw["room"]) - 1
        assert comments(after) == comments(text)
