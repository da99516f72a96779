"""Speed of the search on the ten-room house, all in one run: layouts, changes, weights, growth, ratios, a fresh start.

    python -m tests.speed.search [HOUSE.toml] [--variants]

Nothing is asserted. Times are of the processor, the least of several; other work on the machine makes them longer,
so quote the ratios: to this program's network in numpy and double precision, and to the package iso52016 (conduction
of every wall node by node; ours is a lumped network). `--variants` adds every kind of layout with every way to group
outdoor units, which takes minutes to design.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

from compare.house.reading import read_house
from compare.offer import options_of
from compare.physics import kernel_numpy
from compare.physics.assemble import first_open_w_k, laws_of, link_matrices_w_k, states_of
from compare.physics.year import _run_block, step_matrices
from compare.pipeline import Comparison, compare_house
from compare.scoring.ranking import rescore
from compare.search import exhaust
from compare.search.check import shaken_case
from compare.search.exhaust import run_all
from compare.search.kit import Kit
from compare.years.bench import Bench
from compare.years.supplies import factory_of
from compare.zones.layouts import Layer, all_layouts
from tests.speed.networks import processor_s
from tests.speed.yardstick import zone_year_s

TEN_ROOMS = Path(__file__).resolve().parents[1] / "ten_rooms.toml"
GROWTH = (128, 256, 512, 1024)
CHANGED = 100


def own_units(options):
    """Options in which every indoor unit has an outdoor unit of its own."""
    return [option for option in options if all(not group.shared for group in option.outdoor.groups)]


def say(what: str, seconds: float, more: str = "") -> None:
    print(f"{what:64} {1e3 * seconds:9.1f} ms  {more}", flush=True)


def main(path: Path, variants: bool) -> None:
    found = compare_house(read_house(path), path.parent)
    case = found.case
    kinds = frozenset(Layer) if variants else frozenset([Layer.FULL])
    layouts = list(all_layouts(case.plan, layers=kinds))
    full = [item.layout for item in layouts if item.layer is Layer.FULL]
    start = time.process_time()
    options = own_units(options_of(case, found.sources, full))
    designed = time.process_time() - start
    found.kit.hear(options, found.sources.units)
    rooms, count = len(case.plan.rooms), len(options)
    print(f"{path.stem}: {rooms} rooms, {count} fully served layouts; processor time, least of several")
    say("designed and priced", designed, f"{1e3 * designed / count:.2f} ms a layout")
    exhaust.THREADS = 1
    run_all(found.kit, options[:64])
    strips = processor_s(lambda: [found.kit.strip(option) for option in options], 3)
    years = processor_s(lambda: run_all(found.kit, options), 8)
    say("strips, years and scores of all, one thread", years, f"{1e6 * years / count:.0f} us a layout; target 500 ms")
    say("  of which strips", strips)
    walls(found, options)
    steps(found, options)
    if variants:
        every(found, [item.layout for item in layouts])
    changes(found, options[:CHANGED])
    weights(found, options)
    for some in GROWTH:
        if some <= count:
            took = processor_s(lambda n=some: run_all(found.kit, options[:n]), 4)
            say(f"{some} layouts", took, f"{1e6 * took / some:.0f} us each")
    ratios(found, options, years / count)
    fresh(path)


def walls(found: Comparison, options) -> None:
    """Elapsed time on one and two threads; says little where others use the machine."""
    for threads in (1, 2):
        best = wall_s(lambda: run_all(found.kit, options), threads)
        say(f"  the same by the clock on the wall, {threads} thread(s)", best, "target 500 and 250 ms" * (threads == 2))


def wall_s(work, threads: int, times: int = 6) -> float:
    """Least elapsed time of several, on so many threads."""
    exhaust.THREADS = threads
    best = np.inf
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    exhaust.THREADS = 1
    return best


def steps(found: Comparison, options) -> None:
    """Where the time goes: rooms, units, arrays and scores."""
    from compare.physics.many import year as kernel

    kit, run = found.kit, kernel.run_lanes
    lanes = [kit.strip(option).lane for option in options]
    runner, houses = kit.runner(), kit.common_houses()
    whole = processor_s(lambda: runner.run_many(houses, lanes), 3)
    try:
        kernel.run_lanes = lambda count, *rest: run(0, *rest)
        rooms = processor_s(lambda: runner.run_many(houses, lanes), 3)
        kernel.run_lanes = lambda *all_of_it: 0
        arrays = processor_s(lambda: runner.run_many(houses, lanes), 3)
    finally:
        kernel.run_lanes = run
    say("  of which rooms stepped", rooms - arrays)
    say("  of which units measured", whole - rooms)
    say("  of which arrays of the blocks", arrays)


def every(found: Comparison, layouts) -> None:
    """All kinds of layout, each with its ways to group outdoor units."""
    start = time.process_time()
    options = options_of(found.case, found.sources, layouts)
    say(f"variants: {len(options)} options designed and priced", time.process_time() - start)
    found.kit.hear(options, found.sources.units)
    took = processor_s(lambda: run_all(found.kit, options), 1)
    say("variants: strips, years and scores", took, f"{1e6 * took / len(options):.0f} us each; target 4 s")
    say("  the same by the clock on the wall, 2 threads", wall_s(lambda: run_all(found.kit, options), 2, 1))


def changes(found: Comparison, options) -> None:
    """A changed house with its units as they are: everything that its scores need is worked out again."""
    case, house = found.case, found.case.house

    def again(changed, prepared: float, what: str, target: int) -> None:
        def scored() -> None:
            base = replace(found.kit.base, case=changed, factory=factory_of(changed))
            run_all(Kit(base), options)

        need = processor_s(lambda: Bench(changed, factory_of(changed), found.season, found.kit.book.numbers).need(), 2)
        took = processor_s(scored, 3)
        say(f"{len(options)} layouts after a change of {what}", prepared + took, f"target {target} ms")
        say("  the same by the clock on the wall, 2 threads", prepared + wall_s(scored, 2))
        if prepared:
            say("  of which the house prepared anew", prepared)
        say("  beside it: what the house needs, for efficiency", need)

    warmer = house.comfort.model_copy(update={"heating_c": house.comfort.heating_c + 1.0})
    again(replace(case, house=house.model_copy(update={"comfort": warmer})), 0.0, "set point", 60)

    links = tuple(replace(link, night_open_frac=1.0) for link in case.plan.links)
    plan = replace(case.plan, links=links)

    def doors():
        states = states_of(plan, case.weather.dry_bulb_c, case.network_options.step_s)
        laws = laws_of(plan, case.weather.site.elevation_m, case.network_options)
        open_w_k = first_open_w_k(laws, states.warm)
        links_w_k = link_matrices_w_k(plan, laws, states, open_w_k)
        return replace(case, plan=plan, network=replace(case.network, link_w_k=links_w_k, door_state=states.hourly))

    again(doors(), processor_s(doors, 3), "door habit", 60)
    one = dict.fromkeys(("ua", "leakage", "partition", "opening", "solar"), 1.0)
    for part, name in (("ua", "insulation"), ("leakage", "leakage")):
        took = processor_s(lambda p=part: shaken_case(case, one | {p: 0.8}), 2)
        again(shaken_case(case, one | {part: 0.8}), took, name, 450)


def weights(found: Comparison, options) -> None:
    scores, _, _ = run_all(found.kit, options)
    chosen = found.weights.array
    took = processor_s(lambda: [rescore(scores, chosen) for _ in range(100)], 3) / 100
    say(f"other weights over {len(options)} layouts", took, "target 1 ms")


def ratios(found: Comparison, options, mine_s: float) -> None:
    case, rooms = found.case, len(found.case.plan.rooms)
    step = step_matrices(case.network)
    supplies = [found.kit.factory.of_option(option) for option in options[:2]]
    slow = processor_s(lambda: _run_block(case.network, step, supplies[:1], kernel_numpy.run_lanes), 1)
    say("numpy in double precision, one layout, rooms alone", slow, f"{slow / mine_s:,.0f} times as long")
    theirs = zone_year_s()
    ratio = theirs / (mine_s / rooms)
    say("iso52016, one zone's year", theirs, f"{ratio:,.0f} times our room-year (ours: a lumped network, all measures)")


def fresh(path: Path) -> None:
    """A new process up to the first table of the families; a run before fills the caches, compiled modules too."""
    best = np.inf
    keeping = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-m", "tests.speed.first_table", str(path)]
    for measured in (False, True, True, True):
        start = time.perf_counter()
        used = subprocess.run(command, check=True, capture_output=True, text=True, env=keeping)
        if measured and time.perf_counter() - start < best:
            best, own = time.perf_counter() - start, float(used.stdout.split()[-1])
    say("fresh process to the families' first table, wall", best, f"{own:.2f} s of the processor; target 2 s")


if __name__ == "__main__":
    named = [arg for arg in sys.argv[1:] if not arg.startswith("--")]
    main(Path(named[0]) if named else TEN_ROOMS, "--variants" in sys.argv)
