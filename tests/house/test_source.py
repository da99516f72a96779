"""Lines of keys in a TOML text, against the text itself; limits that hold before it is parsed."""

from __future__ import annotations

import contextlib
import time
import tomllib

import pytest

from compare.house.source import Source, TooDeepError, line_index, path_text
from tests.house.houses import RANCH, TWO_STOREYS

TEXT = '''# [not.a.table]
units = "US"   # = a comment
[site]
place = "a [b] = # c"
design.heating_99 = 27
[site.more]
"quoted" = 1
long = """
fake = 1
[fake]
"""
[[room]]
name = 'one'
outline = [
  [0, 0], # fake = 2
  [1, 0],
]
[[room]]
name = "two"
[[room.window]]
area = 1
[[room.window]]
area = {a = 1, b = [2]}
after = 1
'''


def test_lines_of_every_kind_of_key() -> None:
    assert tomllib.loads(TEXT)
    assert line_index(TEXT) == {
        ("units",): 2, ("site",): 3, ("site", "place"): 4, ("site", "design", "heating_99"): 5, ("site", "more"): 6,
        ("site", "more", "quoted"): 7, ("site", "more", "long"): 8, ("room", 0): 12, ("room", 0, "name"): 13,
        ("room", 0, "outline"): 14, ("room", 1): 18, ("room", 1, "name"): 19, ("room", 1, "window", 0): 20,
        ("room", 1, "window", 0, "area"): 21, ("room", 1, "window", 1): 22, ("room", 1, "window", 1, "area"): 23,
        ("room", 1, "window", 1, "after"): 24,
    }  # fmt: skip


@pytest.mark.parametrize("text", [RANCH, TWO_STOREYS], ids=["ranch", "two storeys"])
def test_every_key_of_a_house_is_found_on_its_line(text: str) -> None:
    lines, index = text.splitlines(), line_index(text)
    wanted: list[tuple[str | int, ...]] = []

    def walk(node: object, loc: tuple[str | int, ...]) -> None:
        if isinstance(node, dict):
            for key, value in node.items():
                wanted.append((*loc, key))
                walk(value, (*loc, key))
        elif isinstance(node, list) and node and isinstance(node[0], dict):
            for position, item in enumerate(node):
                walk(item, (*loc, position))

    walk(tomllib.loads(text), ())
    for loc in wanted:
        if loc in index:
            assert str(loc[-1]) in lines[index[loc] - 1]
        else:
            assert isinstance(tomllib.loads(text)[str(loc[0])], list), loc


def test_the_nearest_table_answers_for_a_missing_key() -> None:
    source = Source.of_text(TEXT, "t")
    assert source.line_of(("room", 1, "size", 0)) == 18
    assert source.line_of(("door", 3)) == 0
    assert source.line_of(()) == 0
    assert path_text(("room", 1, "size", 0)) == "room[2].size[1]"


@pytest.mark.parametrize(
    "text", ["x = " + "[" * 7, "a.b.c.d.e.f.g.h = 1", "[a.b.c.d.e.f.g.h]", "x = {a.b.c.d.e.f.g.h = 1}"]
)
def test_deep_texts_are_refused(text: str) -> None:
    with pytest.raises(TooDeepError) as refused:
        line_index("\n\n" + text)
    assert refused.value.line == 3


@pytest.mark.parametrize("text", ["x = [[[[[[1]]]]]]", "a.b.c.d.e.f = 1", 'x = "[[[[[[[[[a.b.c.d.e.f.g.h.i"'])
def test_bearable_depth_is_not(text: str) -> None:
    assert line_index(text)


@pytest.mark.parametrize("piece", ['"', "'", '"""', "'''", '\\"""', "#", "[", "]", "a.", "=", "\\", '"\\', "{", ",\n"])
def test_the_pass_is_linear(piece: str) -> None:
    """Eight times the text takes far less than the 64 times of a quadratic pass."""

    def spent(length: int, opening: str) -> float:
        text = opening + piece * (length // len(piece))
        started = time.process_time()
        with contextlib.suppress(TooDeepError):
            line_index(text)
        return time.process_time() - started

    for opening in ('x = """', ""):
        short = max(min(spent(25_000, opening) for _ in range(3)), 1e-3)
        assert spent(200_000, opening) < 32.0 * short
