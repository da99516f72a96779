"""The builder of SVG: well-formed by a general-purpose parser whatever text comes in, and nothing becomes markup."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proposal.drawing import svg

SPACE = "{http://www.w3.org/2000/svg}"


@given(st.text(), st.text(), st.text())
def test_any_text_stays_text(title: str, description: str, label: str) -> None:
    picture = svg.document((10.0, 10.0), title, description, [svg.words("text", label, fill=label)])
    root = ElementTree.fromstring(picture)
    assert {element.tag for element in root.iter()} == {f"{SPACE}{name}" for name in ("svg", "title", "desc", "text")}
    found = root.find(f"{SPACE}text")
    assert found is not None
    expected = svg.clean(label).replace("\r\n", "\n").replace("\r", "\n")
    assert (found.text or "") == expected


@pytest.mark.parametrize(
    ("value", "written"), [(0.0, "0"), (-0.001, "0"), (1.0, "1"), (1.239, "1.24"), (-2.5, "-2.5"), (100.0, "100")]
)
def test_numbers_are_short(value: float, written: str) -> None:
    assert svg.number(value) == written


def test_names_become_attributes_and_none_is_left_out() -> None:
    assert svg.tag("g", stroke_width=2.0, fill=None) == '<g stroke-width="2"/>'
    assert svg.group([]) == ""
