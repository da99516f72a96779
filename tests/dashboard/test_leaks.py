"""Nothing of costs can reach the table page: the process does not know them, and a planted figure would be found."""

from __future__ import annotations

import base64
import json
import re
import subprocess
import sys
from typing import Any

import pytest

from dashboard.table.app import make_app
from tests.dashboard.client import Client, default_values, every_answer
from tests.dashboard.double import SampleSource

PLANTED = (7391.77, 0.38219, 48127.0)
"""Cost, margin and wage of nobody."""
_LONG = re.compile(rb"[A-Za-z0-9+/]{40,}={0,2}")


def spellings(value: float) -> set[bytes]:
    """A figure as it might be written: plain, with a comma, as dollars, as percent."""
    written = {f"{value}", f"{value:.2f}", f"{value:,.2f}", f"{100.0 * value:.3f}"}
    if value >= 1000.0:
        written |= {f"{value:.0f}", f"{value:,.0f}"}
    return {text.encode() for text in written}


def hits(answers: dict[str, bytes], values: tuple[float, ...]) -> list[str]:
    """Where a figure stands, also inside base64."""
    found = []
    for name, data in answers.items():
        unpacked = [
            base64.b64decode(part.rstrip(b"=")[: len(part.rstrip(b"=")) // 4 * 4]) for part in _LONG.findall(data)
        ]
        found += [
            name for value in values if any(text in place for text in spellings(value) for place in (data, *unpacked))
        ]
    return found


class PlantedSource(SampleSource):
    """A source whose inside holds costs beside the view."""

    cost_usd, margin_frac, wage_usd = PLANTED


def _client(source: SampleSource) -> Client:
    return Client(make_app(source), default_values(source.now))


def test_planted_costs_are_in_no_answer() -> None:
    answers = every_answer(_client(PlantedSource()))
    assert len(answers) > 30
    assert hits(answers, PLANTED) == []


@pytest.mark.parametrize("where", ["house", "option", "packed"])
def test_a_planted_leak_is_found(where: str, monkeypatch: pytest.MonkeyPatch) -> None:
    source = PlantedSource()
    clean = source.view

    def leaking(question: Any) -> Any:
        view = clean(question)
        secret = f"{PLANTED[0]:,.2f}"
        if where == "packed":
            secret = base64.b64encode(f"margin {secret} of nobody at all.".encode()).decode()
        if where == "option":
            options = tuple(
                option.model_copy(update={"facts": option.facts.model_copy(update={"price_high_usd": PLANTED[2]})})
                for option in view.options
            )
            return view.model_copy(update={"options": options})
        return view.model_copy(update={"house": view.house.model_copy(update={"name": f"House {secret}"})})

    monkeypatch.setattr(source, "view", leaking)
    planted = (48100.0,) if where == "option" else PLANTED[:1]
    first = json.dumps(_client(source).answer(), ensure_ascii=False).encode()
    assert hits({"start": first}, planted) == ["start"]


def test_the_page_process_never_loads_the_office() -> None:
    code = (
        "import sys; import dashboard.table.app, dashboard.source, dashboard.commands;"
        "print([name for name in sys.modules if name.startswith('compare.office')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
