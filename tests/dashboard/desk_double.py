"""A desk over a comparison that is at hand, and a client that can call every callback of it."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from dash import Dash
from werkzeug.test import TestResponse

from dashboard.desk.study import Study
from dashboard.session import Ready, Status
from tests.dashboard.client import HOST, parts_of
from tests.dashboard.double import OFFERS, SampleSource

DESK_CALL = "/desk/_dash-update-component"


@dataclass
class FixedDesk:
    """A desk whose comparison stands."""

    found: Study | None
    now: Status = field(default_factory=lambda: Ready(SampleSource().status().question, OFFERS))  # type: ignore[union-attr]
    house: tuple[Path, int] | None = None

    def status(self) -> Status:
        return self.now

    def study(self) -> Study | None:
        return self.found

    def file(self) -> tuple[Path, int] | None:
        return self.house

    def open(self) -> None:
        """Nothing to do."""


def desk_values(study: Study) -> dict[str, Any]:
    """What the controls of the desk say when it opens."""
    return {
        "taps.tap": {"what": f"open:{study.first}", "number": 1},
        "pareto.clickData": None,
        "open.data": study.first,
        "units.value": "US",
        "family.value": "all",
        "most.value": "",
        "order.value": "fit",
        "left-out.value": False,
        "room.value": "0",
        "week.value": "coldest",
        "watch.n_intervals": 0,
        "watch.disabled": True,
        "grown.data": 0,
        "issue-now.n_clicks": 1,
        "job.value": "Baker 7",
        "tick.n_intervals": 0,
    }


@dataclass
class DeskClient:
    """Calls the desk by raw requests, from this computer or from another address."""

    app: Dash
    values: dict[str, Any]
    address: str = "127.0.0.1"

    def get(self, path: str, **headers: str) -> TestResponse:
        response = self.app.server.test_client().get(
            path, headers={**HOST, **headers}, environ_base={"REMOTE_ADDR": self.address}
        )
        response.get_data()
        response.close()
        return response

    def post(self, body: Any, path: str = DESK_CALL, **headers: str) -> TestResponse:
        return self.app.server.test_client().post(
            path,
            data=body if isinstance(body, bytes) else json.dumps(body),
            headers={**HOST, **headers},
            content_type="application/json",
            environ_base={"REMOTE_ADDR": self.address},
        )

    def bodies(self, calls: list[dict[str, Any]], **changed: Any) -> dict[str, dict[str, Any]]:
        """The body of every call, by its first output, with some values changed (`open__data` for `open.data`)."""
        values = self.values | {key.replace("__", ".").replace("_o", "-o"): value for key, value in changed.items()}
        return {parts_of(call["output"])[0]: _body(call, values) for call in calls}


def _entry(item: dict[str, str], values: dict[str, Any]) -> dict[str, Any]:
    return {"id": item["id"], "property": item["property"], "value": values[f"{item['id']}.{item['property']}"]}


def _body(call: dict[str, Any], values: dict[str, Any]) -> dict[str, Any]:
    outputs = [dict(zip(("id", "property"), part.rsplit(".", 1), strict=True)) for part in parts_of(call["output"])]
    inputs = [_entry(item, values) for item in call["inputs"]]
    return {
        "output": call["output"],
        "outputs": outputs if call["output"].startswith("..") else outputs[0],
        "inputs": inputs,
        "changedPropIds": [f"{inputs[0]['id']}.{inputs[0]['property']}"],
        "state": [_entry(item, values) for item in call["state"]],
    }


def calls_of(client: DeskClient) -> list[dict[str, Any]]:
    """Every callback of the desk, as this computer is told them."""
    found: list[dict[str, Any]] = json.loads(DeskClient(client.app, client.values).get("/desk/_dash-dependencies").data)
    return found
