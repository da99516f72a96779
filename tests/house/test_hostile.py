"""Files that no surveyor would write: each ends in a clear error or a finite plan, and soon."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compare.house.defaults import assumptions
from compare.house.geometry import plan_of
from compare.house.problems import HouseFileError
from compare.house.reading import MOST_BYTES, decoded, read_house, read_house_text
from tests.house.houses import HEAD, RANCH, TWO_STOREYS, all_finite


def is_clear(error: HouseFileError) -> bool:
    """Whether every problem is one printable line that says something."""
    said = [str(problem) for problem in error.problems]
    return bool(said) and all(problem.message for problem in error.problems) and all(_is_line(text) for text in said)


def _is_line(text: str) -> bool:
    return len(text) < 1500 and text.isprintable()


def outcome(data: bytes | str) -> str:
    """`error` or `plan`; anything else is a failure of the test."""
    try:
        text = data if isinstance(data, str) else decoded(data, "hostile.toml")
        house = read_house_text(text, "hostile.toml")
        plan = plan_of(house)
    except HouseFileError as error:
        return "error" if is_clear(error) else f"unclear: {error}"
    assert all_finite(plan)
    assert all(surface.area_m2 >= 0.0 for room in plan.rooms for surface in room.surfaces)
    assert all_finite(assumptions(house))
    return "plan"


def named(name: str) -> str:
    """The ranch with its bath under another name, written as a TOML string."""
    escaped = "".join(f"\\U{ord(char):08x}" if not char.isprintable() or char in '"\\' else char for char in name)
    return RANCH.replace('"Bath"', f'"{escaped}"')


BARE = HEAD + '[[level]]\nname = "l"\nbelow = "outdoors"\n'
ROOM = '[[room]]\nname = "{0}"\nlevel = "l"\nuse = "hall"\nat = [{0}, 0]\nsize = [1, 1]\n'

FILES: dict[str, tuple[bytes | str, str]] = {
    "empty": ("", "error"),
    "only comments": ("# nothing\n# here", "error"),
    "only blanks": (" \n\t\n", "error"),
    "byte order mark": (b"\xef\xbb\xbf" + RANCH.encode(), "plan"),
    "byte order mark in text": ("\ufeff" + RANCH, "plan"),
    "UTF-16 little end": (RANCH.encode("utf-16"), "error"),
    "UTF-16 big end": (b"\xfe\xff" + RANCH.encode("utf-16-be"), "error"),
    "Latin-1": (RANCH.replace("Bath", "Bäd").encode("latin-1"), "error"),
    "NUL byte": (RANCH.replace("Bath", "Ba\x00th"), "error"),
    "only NUL": (b"\x00" * 1000, "error"),
    "random bytes": (bytes(range(256)) * 4, "error"),
    "NUL escaped in a name": (RANCH.replace("Bath", "Ba\\u0000th"), "error"),
    "60 rooms": (BARE + "".join(ROOM.format(i) for i in range(60)), "plan"),
    "61 rooms": (BARE + "".join(ROOM.format(i) for i in range(61)), "error"),
    "10,000 rooms": (BARE + "[[room]]\n" * 10_000, "error"),
    "10,000 rooms in one array": (f"room = [{'{},' * 10_000}]\n" + BARE, "error"),
    "20,000 windows": (BARE + "[[window]]\n" * 20_000, "error"),
    "windows beyond the cap": (BARE + "[[window]]\n" * 1_000_000, "error"),
    "5,000 nested brackets": ("x = " + "[" * 5000 + "]" * 5000, "error"),
    "7 nested brackets": ("x = " + "[" * 7 + "]" * 7 + "\n" + RANCH, "error"),
    "5,000 nested inline tables": ("x = " + "{a=" * 5000 + "1" + "}" * 5000, "error"),
    "brackets never closed": ("x = " + "[" * 100_000, "error"),
    "a dotted key of 100,000 parts": (".".join(["a"] * 100_000) + " = 1", "error"),
    "a dotted table of 100,000 parts": ("[" + ".".join(["a"] * 100_000) + "]", "error"),
    "a dotted inline key": ("x = {" + ".".join(["a"] * 100_000) + " = 1}", "error"),
    "a string never closed": ('x = "' + "a" * 200_000, "error"),
    "a long string never closed": ('x = """' + '\\"""' * 50_000, "error"),
    "many quotes": ("x = " + "'" * 200_000, "error"),
    "a 5,000-digit integer": (RANCH.replace("area = 48", "area = " + "4" * 5000), "error"),
    "a 4,000-digit integer": (RANCH.replace("area = 48", "area = " + "4" * 4000), "error"),
    "a long hexadecimal integer": (RANCH.replace("built = 1956", "built = 0x" + "f" * 20_000), "error"),
    "a date for a number": (RANCH.replace("area = 48", "area = 2025-01-01"), "error"),
    "a date that is none": (RANCH.replace("area = 48", "area = 2025-02-31"), "error"),
    "one key twice": (RANCH.replace("people = 4", "people = 4\npeople = 5"), "error"),
    "one table twice": (RANCH + "\n[site]\n", "error"),
    "a table over a list": (RANCH + "\n[room]\n", "error"),
    "a list over a table": (RANCH + "\n[[site]]\n", "error"),
    "rooms that are numbers": ("room = [1, 2, 3]\n" + HEAD, "error"),
    "wrong types all over": ("units = 1\nhouse = 1\nsite = []\nlevel = 1\nroom = {}\ndoor = ''\nfabric = 3", "error"),
    "no rooms": (BARE, "error"),
    "no levels": (HEAD + ROOM.format(0), "error"),
    "no units": (RANCH.replace('units = "US"', ""), "error"),
    "unit system unknown": (RANCH.replace('units = "US"', 'units = "IP"'), "error"),
    "Arabic-Indic digits": (RANCH.replace("area = 48", 'area = "٤٨"'), "error"),
    "bare Arabic-Indic digits": (RANCH.replace("area = 48", "area = ٤٨"), "error"),
    "thousands separators": (RANCH.replace('elevation = "90 m"', 'elevation = "1,090 ft"'), "error"),
    "decimal comma": (RANCH.replace('elevation = "90 m"', 'elevation = "90,5 m"'), "error"),
    "underscores in a number": (RANCH.replace("area = 48", "area = 4_8"), "plan"),
    "stacked powers": (RANCH.replace("area = 48", 'area = "9**9**9"'), "error"),
    "a very long quantity": (RANCH.replace("area = 48", f'area = "{"9" * 100_000}"'), "error"),
    "cfm for a length": (RANCH.replace('"32 in"', '"32 cfm"'), "error"),
    "pinch for a length": (RANCH.replace('"32 in"', '"32 pinch"'), "error"),
    "a negative rate": (RANCH.replace("electricity = 0.165", "electricity = -1"), "error"),
    "tariff 0": (RANCH.replace("electricity = 0.165", "electricity = 0"), "plan"),
    "no climate": (re.sub(r"weather = .*\n|\[site\.design\]\n(.+\n)+", "", RANCH), "plan"),
    "quotes in a name": (named('Bath "A"'), "plan"),
    "markup in a name": (named("<b>|`Bath`|</b>"), "plan"),
    "formula in a name": (named("=1+1"), "plan"),
    "right-to-left override in a name": (named("Bath\u202e"), "error"),
    "zero-width space in a name": (named("Ba\u200bth"), "error"),
    "line break in a name": (named("Ba\nth"), "error"),
    "line separator in a name": (named("Ba\u2028th"), "error"),
    "private character in a name": (named("Ba\ue000th"), "error"),
    "emoji in a name": (named("🛁"), "plan"),
    "Hebrew name": (named("אמבטיה"), "plan"),
    "40 characters": (named("b" * 40), "plan"),
    "41 characters": (named("b" * 41), "error"),
    "41 characters that compose to 40": (named("b" * 39 + "e\u0301"), "plan"),
    "200,000 characters": (named("b" * 100_000), "error"),
    "reserved file name": (named("CON"), "plan"),
    "path as a name": (named("../../etc/passwd"), "plan"),
    "absolute path as a name": (named("/etc/passwd"), "plan"),
    "two rooms of one name": (RANCH.replace('name = "Bath"', 'name = "Hall"'), "error"),
    "one name composed and decomposed": (
        RANCH.replace('name = "Bath"', 'name = "\u00c9"').replace('name = "Laundry"', 'name = "E\u0301"'),
        "error",
    ),
    "room without an outside wall": (
        BARE + "".join(ROOM.format(i) for i in range(3))
        + '[[wall]]\nroom = "1"\nside = "N"\nbeyond = "heated neighbour"\n'
        + '[[wall]]\nroom = "1"\nside = "S"\nbeyond = "heated neighbour"\n',
        "plan",
    ),
    "room that needs no heat": (
        BARE.replace("outdoors", "heated neighbour") + 'above = "heated neighbour"\n' + ROOM.format(0)
        + "".join(f'[[wall]]\nroom = "0"\nside = "{side}"\nbeyond = "heated neighbour"\n' for side in "NESW"),
        "plan",
    ),
    "a wall that is all glass": (
        BARE + 'height = 2.5\n' + ROOM.format(0) + '[[window]]\nroom = "0"\nwall = "N"\nwidth = 1\nheight = 2.5\n',
        "plan",
    ),
    "a comb of a room": (
        BARE + '[[room]]\nname = "comb"\nlevel = "l"\nuse = "hall"\noutline = ['
        + ", ".join(f"[{i}, 0], [{i}, 5], [{i + 0.5}, 5], [{i + 0.5}, 1]" for i in range(10)) + ", [9.5, 0]]\n",
        "error",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", FILES, ids=str)
def test_hostile_files(case: str) -> None:
    data, expected = FILES[case]
    assert outcome(data) == expected


def test_there_are_fifty_of_them() -> None:
    assert len(FILES) >= 50


NUMBER_LINE = re.compile(r"^(\w+) = (-?[\d.]+)$", re.MULTILINE)
ENDS = {"error", "plan"}
VALUES = ("nan", "inf", "-inf", "1e308", "1e-308", "-0.0", "true", '"text"', '"1 pinch"', "-1", "0", "1979-05-27", "[]")


@pytest.mark.parametrize("value", VALUES)
@pytest.mark.parametrize("text", [RANCH, TWO_STOREYS], ids=["ranch", "two storeys"])
def test_hostile_values_in_every_number(text: str, value: str) -> None:
    spots = list(NUMBER_LINE.finditer(text))
    assert len(spots) > 12
    for spot in spots:
        changed = text[: spot.start(2)] + value + text[spot.end(2) :]
        result = outcome(changed)
        assert result in ENDS, spot[0]
        if value in {"nan", "inf", "-inf", "1e308", "true", '"text"', '"1 pinch"', "1979-05-27", "[]"}:
            assert result == "error", spot[0]


def test_a_file_too_large_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * (MOST_BYTES + 1))
    opened: list[Path] = []
    monkeypatch.setattr(Path, "open", lambda self, *_: opened.append(self))
    with pytest.raises(HouseFileError, match="larger than 256 KiB"):
        read_house(path)
    assert opened == []


def test_both_sides_of_the_size_limit() -> None:
    padding = "#" * (MOST_BYTES - len(RANCH.encode()) - 1)
    assert outcome(RANCH + "\n" + padding) == "plan"
    assert outcome(RANCH + "\n#" + padding) == "error"


def test_a_name_with_a_hidden_character_is_not_suggested_elsewhere() -> None:
    assert outcome(RANCH.replace('name = "Laundry"', 'name = "\x80Laundry"')) == "error"


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_a_damaged_file_is_read_or_refused(data: st.DataObject) -> None:
    """Cut a piece out of the ranch and put another text in its place."""
    start = data.draw(st.integers(0, len(RANCH)))
    end = data.draw(st.integers(start, min(len(RANCH), start + 200)))
    assert outcome(RANCH[:start] + data.draw(st.text(max_size=20)) + RANCH[end:]) in ENDS


@given(st.binary(max_size=300))
@settings(max_examples=60, deadline=None)
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    assert outcome(data) == "error"


LINES: tuple[Callable[[str], str], ...] = (
    lambda line: line + line,
    lambda line: "",
    lambda line: line.replace("=", "=="),
    lambda line: line.replace('"', "'"),
    lambda line: "  " + line,
)


@pytest.mark.parametrize("change", range(len(LINES)))
def test_every_line_doubled_dropped_or_spoilt(change: int) -> None:
    lines = TWO_STOREYS.splitlines(keepends=True)
    for position, line in enumerate(lines):
        assert outcome("".join([*lines[:position], LINES[change](line), *lines[position + 1 :]])) in ENDS
