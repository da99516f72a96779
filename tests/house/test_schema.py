"""The JSON schema for editors: plain keywords, every key, text quantities allowed."""

from __future__ import annotations

import json
from typing import Any

from compare.house.model import MOST_ITEMS, house_schema
from compare.house.tables import fields
from tests.house.houses import RANCH, TWO_STOREYS, tables

KEYWORDS = {
    "$ref", "$schema", "additionalProperties", "anyOf", "default", "definitions", "description", "enum", "format",
    "items", "maxItems", "maxLength", "minItems", "minLength", "maximum", "minimum", "properties", "required", "type",
    "const",
}  # fmt: skip


def _words(node: Any, inside: str = "") -> set[str]:
    """Keywords of a schema; below properties and definitions stand names of ours."""
    if isinstance(node, list):
        return set().union(*(_words(item) for item in node), set())
    if not isinstance(node, dict):
        return set()
    own = set() if inside in {"properties", "definitions"} else set(node)
    return own.union(*(_words(value, key if own else "") for key, value in node.items()), set())


def test_only_plain_keywords() -> None:
    assert _words(house_schema()) <= KEYWORDS


def test_every_key_of_the_examples_is_in_the_schema() -> None:
    schema = house_schema()
    for raw in (tables(RANCH), tables(TWO_STOREYS)):
        for key, value in raw.items():
            assert key in schema["properties"]
            for item in value if isinstance(value, list) else [value]:
                if isinstance(item, dict):
                    spec = schema["properties"][key]
                    name = spec.get("items", spec)["$ref"].split("/")[-1]
                    assert item.keys() <= schema["definitions"][name]["properties"].keys(), key


def test_quantities_may_be_text_and_say_their_units() -> None:
    height = house_schema()["definitions"]["Level"]["properties"]["height"]
    assert height["anyOf"] == [{"type": "number"}, {"type": "string"}]
    assert "a bare number is in ft (US) or m (SI)" in height["description"]
    assert "between 6 ft and 20 ft" in height["description"]
    night = house_schema()["definitions"]["Door"]["properties"]["night"]
    assert "open, shut" in night["description"]


def test_unknown_keys_are_refused_and_needed_ones_named() -> None:
    schema = house_schema()
    assert schema["additionalProperties"] is False
    assert set(schema["required"]) == {"units", "house", "site", "level", "room"}
    assert all(
        table["additionalProperties"] is False for table in schema["definitions"].values() if "properties" in table
    )


def test_it_is_json_and_small() -> None:
    assert len(json.dumps(house_schema())) < 60_000


def test_every_range_belongs_to_a_key() -> None:
    """The table of fields and the tables of the file name the same things."""
    text = json.dumps(house_schema())
    for name in fields():
        if not name.startswith("point."):
            assert f'"{name.split(".")[1]}"' in text, name
    assert set(MOST_ITEMS) <= house_schema()["properties"].keys()
