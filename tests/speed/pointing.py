"""How long pointing at the plan takes: server time of a unit tried on a wall and of a moved sofa, alone and together.

    python -m tests.speed.pointing --house scenarios/ranch.toml --clients 8 --rounds 12

Every tap is at another place, so that nothing is answered from memory; a moved sofa is timed until its answer stands on
the page. The last columns are one client: time on the wall, and of the processor. Aim: 0.5 s on a quiet machine.
"""

from __future__ import annotations

import argparse
import itertools
import os
import statistics
import time
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from dash import Dash

from dashboard.session import Ready
from dashboard.table.app import make_app
from tests.dashboard.client import Client, default_values
from tests.speed.callbacks import Times, opened, together

GOLDEN = 0.618033988749895
"""Steps of this share fill a stretch evenly without ever meeting a place twice."""


def _timed(times: Times, name: str, call: Callable[[], Any]) -> None:
    """Seconds on the wall and of all threads: a moved sofa is worked out aside."""
    start_s, start_cpu_s = time.perf_counter(), time.process_time()
    call()
    times[name].append((time.perf_counter() - start_s, time.process_time() - start_cpu_s))


def _settled(client: Client, what: str) -> None:
    told: dict[str, Any] = client.tap(what)
    while told["work"]["children"]:
        told = client.answer()


def at_plan(app: Dash, ready: Ready, places: itertools.count[int], rounds: int) -> Times:
    """One family that points at walls and moves its sofa."""
    times: Times = defaultdict(list)
    client = Client(app, default_values(ready))
    client.answer()
    pointed = app.server.config["pointed"]
    targets = pointed.targets(ready.question)
    sofa = next(piece for piece in targets.pieces if piece.kind == "sofa")
    (x0, y0), (x1, y1) = _box(sofa.at_m)
    for _ in range(rounds):
        share = next(places) * GOLDEN % 1.0
        client.tap("tool:wall")
        at = f"at:0,{x0 + share * (x1 - x0):.2f},{y0 - 3.0 * share:.2f}"
        _timed(times, "a unit on a wall, alone", lambda at=at: client.tap(at))
        _timed(times, "the same, added", lambda: client.tap("with:yes"))
        client.tap("tool:seat")
        put = f"put:{sofa.piece},{x0 + share * (x1 - x0):.2f},{y0 + share * (y1 - y0):.2f}"
        _timed(times, "a sofa moved", lambda put=put: _settled(client, put))
    return times


def _box(at_m: tuple[float, float]) -> tuple[tuple[float, float], tuple[float, float]]:
    return (at_m[0] - 1.5, at_m[1] - 1.0), (at_m[0] + 1.5, at_m[1] + 1.0)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--house", type=Path, default=Path("scenarios/ranch.toml"))
    parser.add_argument("--clients", type=int, default=8)
    parser.add_argument("--rounds", type=int, default=12)
    asked = parser.parse_args()
    source = opened(asked.house)
    app, ready = make_app(source), source.status()
    assert isinstance(ready, Ready)
    app.server.config["pointed"] = source.pointed
    places = itertools.count(1)
    alone, all_at_once = (
        together(lambda: at_plan(app, ready, places, asked.rounds), count) for count in (1, asked.clients)
    )
    print(f"{asked.house.name}, {asked.clients} clients at once, seconds")
    print(f"{'call':<26}{'calls':>7}{'median':>9}{'95th':>9}{'alone':>9}{'95th':>9}{'CPU':>9}")
    for name, values in all_at_once.items():
        walls, own = ([wall_s for wall_s, _ in many] for many in (values, alone[name]))
        figures = (_middle(walls), _tail(walls), _middle(own), _tail(own), _middle([cpu_s for _, cpu_s in alone[name]]))
        print(f"{name:<26}{len(values):>7}" + "".join(f"{figure:>9.3f}" for figure in figures))


def _middle(values: list[float]) -> float:
    return statistics.median(values)


def _tail(values: list[float]) -> float:
    return statistics.quantiles(values, n=20)[-1]


if __name__ == "__main__":
    main()
