"""How long the pages take to answer: server time of each call, median and 95th percentile, with parallel clients.

    python -m tests.speed.callbacks --house tests/ten_rooms.toml --clients 8 --rounds 12

The house is compared for real, every switch is answered once and the main pages of the desk are made before the clock
starts, as `serve` does in the background. Each client is a session of its own; all of them call at the same time, so a
time holds the waiting for the others too. The last two columns are the same call with one client: time on the wall, and
time of the processor, which other programs on the machine do not lengthen. A layout is opened `first` once; later it is
at hand. Aim at the table: 0.2 s for priorities, 0.5 s for switches on a quiet machine.
"""

from __future__ import annotations

import argparse
import os
import statistics
import time
from collections import defaultdict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from dash import Dash

from dashboard.desk.page import warm
from dashboard.desk.study import HouseDesk
from dashboard.session import Ready, Working
from dashboard.source import HouseSource
from dashboard.table.app import make_app
from tests.dashboard.client import Client, all_taps, default_values
from tests.dashboard.desk_double import DeskClient, calls_of, desk_values

Times = dict[str, list[tuple[float, float]]]
"""Seconds on the wall and of the processor, by call."""


def opened(path: Path) -> HouseSource:
    """A source whose background work is over."""
    source = HouseSource(path)
    source.open()
    while isinstance(status := source.status(), Working):
        time.sleep(0.1)
    if not isinstance(status, Ready):
        raise SystemExit(f"{path.name}: {status}")
    for offer in status.offers:
        source.view(status.question.flipped(offer.what))
    return source


def _timed(times: Times, name: str, call: Callable[[], Any]) -> None:
    start_s, start_cpu_s = time.perf_counter(), time.thread_time()
    call()
    times[name].append((time.perf_counter() - start_s, time.thread_time() - start_cpu_s))


def at_table(app: Dash, ready: Ready, rounds: int) -> Times:
    """One family: priorities, switches, cards, scenes."""
    times: Times = defaultdict(list)
    client = Client(app, default_values(ready))
    first = client.answer()
    taps = ("scene:afternoon", "scene:morning", "look:dark", "look:light")
    for number in range(rounds):
        for row, _ in ready.question.stops:
            client.values["stops"][row] = 1 + number % 5
            _timed(times, "table: a priority", client.answer)
        for key in client.values["switches"]:
            client.values["switches"][key] = not client.values["switches"][key]
            _timed(times, "table: a switch", client.answer)
        for tap in taps:
            _timed(times, "table: a tap", lambda tap=tap: client.tap(tap))
    _numbers(client, times, rounds)
    assert first
    return times


def _numbers(client: Client, times: Times, rounds: int) -> None:
    """Set points that nobody tried before, power prices, and pairs, on the house as its file describes it."""
    ids = [tap.removeprefix("beside:") for tap in all_taps(client.answer()["cards"]) if tap.startswith("beside:")]
    for number in range(rounds):
        set_point = f"set:heating:{62.0 + number % 90 / 10.0:.1f}"
        _timed(times, "table: a new set point", lambda tap=set_point: client.tap(tap))
        _timed(times, "table: a power price", lambda number=number: client.tap(f"set:rate:{10 + number}"))
        _timed(times, "table: a pair", lambda number=number: client.tap(f"beside:{ids[number % len(ids)]}"))
        _timed(times, "table: undo", lambda: client.tap("undo:now"))


def at_desk(app: Dash, values: dict[str, Any], ids: list[str], rounds: int) -> Times:
    """One designer: layouts opened one after the other, with all that follows."""
    times: Times = defaultdict(list)
    client = DeskClient(app, dict(values))
    calls = calls_of(client)
    for number in range(rounds):
        first = "first " if number < len(ids) else ""
        client.values["open.data"] = ids[number % len(ids)]
        client.values["week.value"] = f"{number % 52}"
        for name, body in client.bodies(calls).items():
            if not name.startswith(("root", "issued")):  # what writes a file is not tried
                what = f"{first}{name.split('.')[0]}" if name.startswith("options") else name.split(".")[0]
                _timed(times, f"desk: {what}", lambda body=body: client.post(body))
    return times


def together(work: Callable[[], Times], clients: int) -> Times:
    """The times of several clients at once."""
    found: Times = defaultdict(list)
    with ThreadPoolExecutor(clients) as pool:
        for times in pool.map(lambda _number: work(), range(clients)):
            for name, values in times.items():
                found[name] += values
    return found


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--house", type=Path, default=Path("tests/ten_rooms.toml"))
    parser.add_argument("--clients", type=int, default=8)
    parser.add_argument("--rounds", type=int, default=12)
    asked = parser.parse_args()
    source = opened(asked.house)
    desk = HouseDesk(source)
    app, ready, study = make_app(source, None, desk), source.status(), desk.study()
    assert isinstance(ready, Ready)
    assert study is not None
    warm(study)
    ids = [item.option.option_id for item in study.ranking.ranked][:8]
    print(f"{asked.house.name}, {len(study.found.case.plan.rooms)} rooms, {asked.clients} clients at once, seconds")
    print(f"{'call':<24}{'calls':>7}{'median':>9}{'95th':>9}{'alone':>9}{'CPU':>9}")
    for work in (
        lambda: at_table(app, ready, asked.rounds),
        lambda: at_desk(app, desk_values(study), ids, asked.rounds),
    ):
        alone, all_at_once = together(work, 1), together(work, asked.clients)
        for name, values in all_at_once.items():
            walls = [wall_s for wall_s, _ in values]
            tail = statistics.quantiles(walls, n=20)[-1]
            one, cpu = (statistics.median(column) for column in zip(*alone[name], strict=True))
            print(f"{name:<24}{len(values):>7}{statistics.median(walls):>9.3f}{tail:>9.3f}{one:>9.3f}{cpu:>9.3f}")


if __name__ == "__main__":
    main()
