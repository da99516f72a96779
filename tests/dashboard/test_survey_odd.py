"""Files that are TOML and hardly a house: each opens, shows what can be shown, and lists the rest; nothing breaks."""

from __future__ import annotations

import copy
import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.store import new_name
from dashboard.survey.draft.edits import written
from dashboard.survey.heard import Event
from dashboard.survey.live import Loads
from dashboard.survey.page import filled
from dashboard.survey.work import Survey

JUNK = st.sampled_from(
    [
        0,
        -1,
        10**17,
        1.5,
        True,
        "",
        "x",
        "12 ft",
        "N",
        "Bath",
        "a\nb",
        "\u202e",
        [],
        [1],
        [1, 2],
        ["a", "b"],
        [[1, 2], [3, 4], [5, 6]],
        "nan",
        1e300,
    ]
)
ODD = (
    "",
    "room = 5",
    "room = [5]",
    'units = 7\nroom = "x"',
    "[room]\nname = 3",
    "[[room]]\n[[room]]",
    "[[level]]\n[[room]]\nlevel = []",
    "[[door]]\nbetween = 5",
    '[[door]]\nbetween = ["a"]',
    "[[unit_space]]\nclear = 3",
    "[site]\ndesign = 5",
    "house = []",
    "bill = [[]]",
    "[[bill]]\nfrom = 07:00:00\nto = 2025-01-01T07:00:00Z",
    "a.b.c.d = 1",
    '"" = 1',
    "[[room]]\nat = [1, 2]\nsize = [0, 0]\nname = 'x'\nlevel = 'y'",
)


def shown(folder: Path, text: str) -> dict[str, Any]:
    (folder / "odd.toml").write_text(text)
    survey = Survey(folder, loads=Loads(wait_s=0.0))
    name = new_name()
    look = survey.hear(name, (Event(1, "open", -1, {"file": "odd.toml"}),))
    assert look.file == "odd.toml", look.note
    for number, what in enumerate(("room.0", "door.0", "window.0", "unit_space.0", "bed.0"), start=2):
        look = survey.hear(name, (Event(number, "choose", 0, {"ref": what}),))
        page = filled(survey, look)
    survey.shelf.drop("odd.toml")
    return page


@pytest.mark.parametrize("text", ODD)
def test_an_odd_file_opens_and_says_what_to_mend(tmp_path: Path, text: str) -> None:
    page = shown(tmp_path, text)
    assert page["file"] == "odd.toml"
    assert "mend" in json.dumps([page["head"], page["side"]], default=lambda part: part.to_plotly_json())


def leaves(node: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    steps = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    found = [at] if at else []
    for step, item in steps:
        found += leaves(item, (*at, step))
    return found


def as_toml(node: Any) -> str:
    """Tables in lines, whatever they hold."""
    if isinstance(node, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {as_toml(value)}" for key, value in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(as_toml(item) for item in node) + "]"
    return written(node)


@pytest.mark.slow
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_value_may_be_anything(tmp_path: Path, scenarios: Path, data: st.DataObject) -> None:
    raw = copy.deepcopy(tomllib.loads((scenarios / "cabin.toml").read_text()))
    for _ in range(data.draw(st.integers(1, 4))):
        places = leaves(raw)
        *path, last = data.draw(st.sampled_from(places))
        here: Any = raw
        for step in path:
            here = here[step]
        here[last] = data.draw(JUNK)
    text = "".join(f"{json.dumps(key)} = {as_toml(value)}\n" for key, value in raw.items())
    assert shown(tmp_path, text)["svg"].startswith("<svg")
