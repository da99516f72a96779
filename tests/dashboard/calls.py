"""Every route and every call of a server, found by asking the server itself, so that new ones are found too."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from flask import Flask
from werkzeug.test import TestResponse

from tests.dashboard.client import parts_of

METHODS = ("GET", "POST", "PUT", "DELETE", "PATCH")
CALLS, LAYOUT, UPDATE = "_dash-dependencies", "_dash-layout", "_dash-update-component"
_PART = re.compile(r"<(?:(\w+)(?:\([^)]*\))?:)?(\w+)>")
Fetch = Callable[[str], TestResponse]


def routes(server: Flask, values: Mapping[str, str]) -> Iterator[tuple[str, frozenset[str]]]:
    """Every path with its methods; parts of a rule are filled from `values`, else with a word that nothing has."""
    for rule in server.url_map.iter_rules():
        path = _PART.sub(lambda part: values.get(part[2], "nothing"), rule.rule)
        yield path, frozenset(rule.methods or ())


def prefixes(server: Flask) -> list[str]:
    """Where each page of the server has its calls: `/`, `/desk/` and so on."""
    return sorted({rule.rule.removesuffix(CALLS) for rule in server.url_map.iter_rules() if rule.rule.endswith(CALLS)})


def components(node: Any) -> Iterator[dict[str, Any]]:
    """Every component of a layout."""
    if isinstance(node, list):
        for item in node:
            yield from components(item)
    elif isinstance(node, dict):
        if "props" in node:
            yield node
        for value in node.values():
            if isinstance(value, dict | list):
                yield from components(value)


@dataclass(frozen=True)
class Page:
    """What is in a page when it opens."""

    found: tuple[dict[str, Any], ...]

    def entry(self, item: Mapping[str, str], given: Mapping[str, Any]) -> Any:
        """An input or a state with the value that the page gives it; a list for a pattern."""
        if item["id"].startswith("{"):
            wanted = json.loads(item["id"])
            own = [c["props"] for c in self.found if isinstance(c["props"].get("id"), dict)
                   and c["props"]["id"].keys() == wanted.keys()
                   and all(isinstance(v, list) or c["props"]["id"][k] == v for k, v in wanted.items())]  # fmt: skip
            return [{"id": p["id"], "property": item["property"], "value": p.get(item["property"])} for p in own]
        props = next((c["props"] for c in self.found if c["props"].get("id") == item["id"]), {})
        value = given.get(f"{item['id']}.{item['property']}", props.get(item["property"]))
        return {"id": item["id"], "property": item["property"], "value": value}


def bodies(fetch: Fetch, prefix: str, given: Mapping[str, Any]) -> dict[str, dict[str, Any]]:
    """The body of every call of a page by its output, as the page that has just opened would send it."""
    page = Page(tuple(components(json.loads(fetch(f"{prefix}{LAYOUT}").data))))
    return {call["output"]: body(call, page, given) for call in json.loads(fetch(f"{prefix}{CALLS}").data)}


def body(call: Mapping[str, Any], page: Page, given: Mapping[str, Any]) -> dict[str, Any]:
    """The body of one call."""
    outputs = [dict(zip(("id", "property"), part.rsplit(".", 1), strict=True)) for part in parts_of(call["output"])]
    inputs = [page.entry(item, given) for item in call["inputs"]]
    first = next((one for one in inputs if isinstance(one, dict)), None)
    return {
        "output": call["output"],
        "outputs": outputs if call["output"].startswith("..") else outputs[0],
        "inputs": inputs,
        "changedPropIds": [f"{first['id']}.{first['property']}"] if first else [],
        "state": [page.entry(item, given) for item in call["state"]],
    }
