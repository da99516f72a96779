"""A browser of bytes: speaks to the page's server as the page does, and gathers everything that it may answer."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from typing import Any

from dash import Dash
from werkzeug.test import TestResponse

from dashboard.session import Ready
from dashboard.store import new_name
from dashboard.table.controls import all_offers

CALL = "/_dash-update-component"
HOST = {"Host": "127.0.0.1:8050"}


def default_values(ready: Ready) -> dict[str, Any]:
    """What the controls say when the page opens."""
    return {
        "stops": dict(ready.question.stops),
        "switches": {offer.what.value: offer.what in ready.question.on for offer in all_offers(ready.offers)},
        "taps": None,
        "screen": "portrait",
        "units": "US",
        "wait": None,
        "name": new_name(),
    }


@dataclass
class Client:
    """One session over the test client of a server."""

    app: Dash
    values: dict[str, Any]
    taps: int = field(default=0)

    def get(self, path: str, **headers: str) -> TestResponse:
        """A plain request."""
        response = self.app.server.test_client().get(path, headers={**HOST, **headers})
        response.get_data()
        response.close()
        return response

    def post(self, body: object, **headers: str) -> TestResponse:
        """A call with any body."""
        data = body if isinstance(body, bytes | str) else json.dumps(body)
        return self.app.server.test_client().post(
            CALL, data=data, headers={**HOST, **headers}, content_type="application/json"
        )

    def _entry(self, item: dict[str, str]) -> Any:
        if not item["id"].startswith("{"):
            return {"id": item["id"], "property": item["property"], "value": self.values[item["id"]]}
        kind = "stops" if '"stops"' in item["id"] else "switches"
        told = {"stops": "stops", "switches": "switch"}[kind]
        entries = []
        for key, value in self.values[kind].items():
            own = {"kind": told, "key": key}
            entries.append(
                {"id": own, "property": item["property"], "value": own if item["property"] == "id" else value}
            )
        return entries

    def body(self, changed: str = "screen.form") -> dict[str, Any]:
        """The body of the call that answers."""
        calls = json.loads(self.get("/_dash-dependencies").data)
        call = next(item for item in calls if "head.children" in item["output"])
        outputs = [dict(zip(("id", "property"), part.rsplit(".", 1), strict=True)) for part in parts_of(call["output"])]
        return {
            "output": call["output"],
            "outputs": outputs,
            "inputs": [self._entry(item) for item in call["inputs"]],
            "changedPropIds": [changed],
            "state": [self._entry(item) for item in call["state"]],
        }

    def answer(self) -> dict[str, Any]:
        """The regions as the page would show them now."""
        response = self.post(self.body())
        assert response.status_code == 200, response.data
        return json.loads(response.data)["response"]

    def tap(self, what: str) -> dict[str, Any]:
        """Tap something, and the regions after it."""
        self.taps += 1
        self.values["taps"] = {"what": what, "number": self.taps}
        return self.answer()


def parts_of(output: str) -> list[str]:
    """`..a.children...b.children..` as its parts."""
    return re.split(r"\.\.\.", output.strip("."))


def words_in(node: Any) -> str:
    """All text of a part of the page, in order."""
    if isinstance(node, str):
        return node
    if isinstance(node, list):
        return " ".join(words_in(item) for item in node)
    if isinstance(node, dict):
        return words_in(node.get("props", {}).get("children", ""))
    return ""


def all_taps(node: Any) -> list[str]:
    """Everything in a part of the page that can be tapped."""
    if isinstance(node, list):
        return [tap for item in node for tap in all_taps(item)]
    if not isinstance(node, dict):
        return []
    own = [node["props"]["data-tap"]] if "data-tap" in node.get("props", {}) else []
    return own + [tap for value in node.values() if isinstance(value, dict | list) for tap in all_taps(value)]


def every_answer(client: Client) -> dict[str, bytes]:
    """Index, layout, list of calls, style files, and the answer to every control and every tap there is."""
    found = {path: client.get(path).data for path in ("/", "/_dash-layout", "/_dash-dependencies", "/look/tokens.css")}
    assert all(found.values())
    first = client.answer()
    found["start"] = json.dumps(first, ensure_ascii=False).encode()
    for tap in sorted(set(all_taps(list(first.values())))):
        found[tap] = json.dumps(client.tap(tap), ensure_ascii=False).encode()
    for form in ("landscape", "narrow"):
        client.values["screen"] = form
        found[form] = json.dumps(client.answer(), ensure_ascii=False).encode()
    client.values["units"] = "SI"
    found["SI"] = json.dumps(client.answer(), ensure_ascii=False).encode()
    for key, value in dict(client.values["switches"]).items():
        client.values["switches"][key] = not value
        found[f"switch {key}"] = json.dumps(client.answer(), ensure_ascii=False).encode()
    for key in client.values["stops"]:
        client.values["stops"][key] = 5
        found[f"stop {key}"] = json.dumps(client.answer(), ensure_ascii=False).encode()
    return found
