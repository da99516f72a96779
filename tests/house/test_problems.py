"""Every named fault of a house file: found, at its line, with what to write."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.house.geometry import plan_of
from compare.house.problems import HouseFileError, Problem, nearest, shown
from compare.house.reading import MOST_BYTES, decoded, house_of, read_house, read_house_text
from tests.house.faults import CASES
from tests.house.houses import HEAD, RANCH, TWO_STOREYS, tables


def faults(text: str) -> tuple[Problem, ...]:
    """Every problem of a text, from reading and from geometry."""
    try:
        plan_of(read_house_text(text, "house.toml"))
    except HouseFileError as error:
        return error.problems
    return ()


def line_of(text: str, fragment: str) -> int:
    return text[: text.index(fragment)].count("\n") + 1


@pytest.mark.parametrize("case", CASES, ids=str)
def test_each_fault_is_named_at_its_line(case: str) -> None:
    old, new, path, says = CASES[case]
    text = RANCH.replace(old, new, 1) if old in RANCH else RANCH + f"\n{new}\n"
    assert text != RANCH
    found = [problem for problem in faults(text) if problem.path == path]
    assert found, f"{path} not among {[str(problem) for problem in faults(text)]}"
    assert says in found[0].message
    assert found[0].line > 0
    assert str(found[0]).startswith(f"house.toml:{found[0].line}: {path}")


@pytest.mark.parametrize(
    ("old", "new", "fragment", "suggestion"),
    [
        ("plan_north", "plan_nort", "plan_nort", "plan_north"),
        ('use = "laundry"', 'use = "laundy"', "laundy", "laundry"),
        ('room = "Bath"\nwall', 'room = "Bahth"\nwall', '"Bahth"', "Bath"),
        ('level = "ground"\nuse = "bath"', 'level = "grond"\nuse = "bath"', '"grond"', "ground"),
        ("[rates]", "[rate]", "[rate]", "rates"),
    ],
)
def test_line_and_nearest_word(old: str, new: str, fragment: str, suggestion: str) -> None:
    text = RANCH.replace(old, new, 1)
    problem = next(problem for problem in faults(text) if problem.suggestion)
    assert problem.line == line_of(text, fragment)
    assert problem.suggestion == suggestion
    assert str(problem).endswith(f'did you mean "{suggestion}"?')


def test_every_problem_comes_at_once_in_the_order_of_the_file() -> None:
    text = RANCH
    for old, new in (
        ("plan_north", "plan_nort"),
        ("area = 48", "area = 480"),
        ('between = ["Hall", "Bath"]', 'between = ["Hall", "Bahth"]'),
        ('between = ["Hall", "Laundry"]', 'between = ["Bedroom 1", "Laundry"]'),
        ("at = [35, 5]", "at = [5, 35]"),
        ('throws = "N"', 'throws = "up"'),
        ("service_amps = 200", "service_amps = 2"),
    ):
        text = text.replace(old, new, 1)
    problems = faults(text)
    assert [problem.path for problem in problems] == [
        "house.plan_nort", "window[1].area", "door[3].between[2]", "door[4].between", "bed[3].at",
        "head_place[3].throws", "panel.service_amps",
    ]  # fmt: skip
    lines = [problem.line for problem in problems]
    assert lines == sorted(lines)
    for problem in problems:
        assert 0 < problem.line <= text.count("\n")


def test_a_faulty_stair_is_named() -> None:
    same = TWO_STOREYS.replace('lower = "Hall"', 'lower = "Bed A"')
    assert any("not on the level above" in problem.message for problem in faults(same))
    apart = TWO_STOREYS.replace('lower = "Hall"\nupper = "Landing"', 'lower = "Kitchen"\nupper = "Bed A"')
    assert any("neither over nor beside" in problem.message for problem in faults(apart))


def test_the_lowest_level_must_say_what_is_below() -> None:
    text = TWO_STOREYS.replace('below = "slab on ground"\n', "")
    assert [problem.path for problem in faults(text)][:1] == ["level[1]"]
    assert 'below = one of "slab on ground"' in faults(text)[0].message


def test_a_forgotten_space_between_rooms_is_named() -> None:
    rooms = (("s", 0, 0, 6, 2), ("n", 0, 4, 6, 2), ("w", 0, 2, 2, 2), ("e", 4, 2, 2, 2))
    text = HEAD + '[[level]]\nname = "l"\nbelow = "outdoors"\n'
    for name, x, y, w, d in rooms:
        text += f'[[room]]\nname = "{name}"\nlevel = "l"\nuse = "hall"\nat = [{x}, {y}]\nsize = [{w}, {d}]\n'
    (problem,) = faults(text)
    assert "rooms enclose 4.0 m² around (3.00 m, 3.00 m)" in problem.message


def test_more_doors_than_the_wall_is_long() -> None:
    text = RANCH + '[[door]]\nbetween = ["Open living", "Hall"]\n'
    assert any("wide together" in problem.message for problem in faults(text))


def test_too_many_windows_in_a_room() -> None:
    text = RANCH + '[[window]]\nroom = "Open living"\nwall = "S"\narea = 0.5\n' * 18
    problems = faults(text)
    assert [problem.path for problem in problems] == ["window[27].room"]
    assert "at most 20" in problems[0].message


def test_a_key_after_a_table_line_gets_a_hint() -> None:
    problem = next(p for p in faults(RANCH + '\nunits = "US"\n') if p.path == "priorities.units")
    assert "belongs to that table" in problem.message


def test_names_are_compared_composed() -> None:
    """The same name in two Unicode forms is one name (UAX 15), for duplicates and for references."""
    composed, decomposed = "Caf\u00e9", "Cafe\u0301"
    text = RANCH.replace('"Bath"', f'"{composed}"')
    assert faults(text) == ()
    assert faults(text.replace(f'room = "{composed}"', f'room = "{decomposed}"')) == ()
    twice = text.replace('name = "Laundry"', f'name = "{decomposed}"')
    assert any("has this name" in problem.message for problem in faults(twice))


def test_files_that_cannot_be_opened(tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path, Path("nul\x00.toml")):
        with pytest.raises(HouseFileError):
            read_house(path)
    good = tmp_path / "good.toml"
    good.write_text(RANCH, encoding="utf-8")
    assert plan_of(read_house(good)) == plan_of(read_house_text(RANCH, "good.toml"))
    assert read_house(good).folder == tmp_path
    assert read_house_text(RANCH, "good.toml").folder is None
    good.write_bytes(b"\xef\xbb\xbf" + RANCH.replace("\n", "\r\n").encode())
    assert plan_of(read_house(good)) == plan_of(read_house_text(RANCH, "good.toml"))


def test_tables_from_memory_name_their_problems_without_lines() -> None:
    raw = tables(RANCH)
    raw["room"][0]["use"] = "loving"
    with pytest.raises(HouseFileError) as refused:
        house_of(raw)
    assert str(refused.value).startswith('house: room[1].use = "loving": must be one of')


def test_values_are_shown_on_one_short_line() -> None:
    assert shown("a\nb\u202e") == '"a\\u000ab\\u202e"'
    assert shown(10**400) == "a very large number"
    assert shown({"a": 1}) == "{...}"
    assert shown([1, 2, 3, 4]) == "[4 items]"
    assert shown([True, "x"]) == '[true, "x"]'
    assert len(shown("x" * 5000)) < 80
    assert nearest("zzzz", ["abc"]) == ""


def test_a_file_that_fails_to_open_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "house.toml"
    path.write_text(RANCH, encoding="utf-8")

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(HouseFileError, match=r"house\.toml: cannot be read: Permission denied"):
        read_house(path)


def test_lists_of_names_with_something_else_in_them() -> None:
    text = RANCH.replace(
        'serves = ["Bedroom 1", "Bath", "Bedroom 2", "Bedroom 3", "Open living"]', 'serves = ["Bath", 3]'
    )
    assert [problem.path for problem in faults(text)] == ["unit_space[3].serves[2]"]


def test_empty_notes_are_no_fault() -> None:
    assert faults(RANCH.replace('service = "any side"', 'service = ""')) == ()


def test_bytes_beyond_the_cap_are_refused() -> None:
    with pytest.raises(HouseFileError, match="larger than 256 KiB"):
        decoded(b"#" * (MOST_BYTES + 1), "x.toml")
