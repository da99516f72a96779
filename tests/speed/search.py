"""Speed of the search: every fully served layout, other weights, other set points, draws; ratios to slower ways.

    python -m tests.speed.search scenarios/colonial.toml

One run prints all; nothing is asserted. The yardstick is the lumped network of this program in numpy on the same
layouts, one at a time. Times vary with the machine: quote the ratios.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

from compare.house.reading import read_house
from compare.offer import options_of
from compare.physics import kernel_numpy
from compare.physics.year import _run_block, step_matrices
from compare.pipeline import compare_house
from compare.scoring.ranking import rescore
from compare.search import exhaust
from compare.search.exhaust import run_all
from compare.zones.layouts import Layer, all_layouts

MOST = 1024


def timed(call, times=3):
    best = np.inf
    for _ in range(times):
        start = time.process_time(), time.perf_counter()
        result = call()
        best = min(best, time.perf_counter() - start[1])
    return best, result


def main(path: Path) -> None:
    found = compare_house(read_house(path))
    rooms = len(found.case.plan.rooms)
    layouts = [item.layout for item in all_layouts(found.case.plan, layers=frozenset([Layer.FULL]))]
    start = time.perf_counter()
    made = options_of(found.case, found.sources, layouts[:MOST])
    options = [option for option in made if all(not group.shared for group in option.outdoor.groups)]
    print(f"{path.stem}: {rooms} rooms, {len(layouts)} fully served layouts, {len(options)} of them timed")
    print(f"designed and priced: {time.perf_counter() - start:.2f} s")
    found.kit.hear(options, found.sources.units)
    run_all(found.kit, options[:64])
    for threads in (1, 2):
        exhaust.THREADS = threads
        wall, (scores, _, seconds) = timed(lambda: run_all(found.kit, options), 2)
        years = seconds["years and scores"]
        print(
            f"{threads} thread(s): years and scores {years:.3f} s = {years / len(options) * 1e6:.0f} us a layout "
            f"({len(options)} layouts); strips {seconds['strips']:.3f} s; target 0.5 s a thousand on one core"
        )
    wall, _ = timed(lambda: run_all(found.kit, options[:100]))
    print(f"100 layouts after a change of set point or habit: {wall * 1000:.0f} ms (target 60)")
    weights = found.weights.array
    wall, _ = timed(lambda: rescore(scores, weights), 20)
    print(f"other weights over {len(options)} layouts: {wall * 1000:.2f} ms (target 1)")
    step = step_matrices(found.case.network)
    supplies = [found.kit.factory.of_option(options[0])]
    slow, _ = timed(lambda: _run_block(found.case.network, step, supplies, kernel_numpy.run_lanes), 1)
    ratio = slow / (years / len(options))
    print(f"numpy loop in double precision, one layout, traces only: {slow:.2f} s; ratio {ratio:.0f}")
    start = time.perf_counter()
    sure = found.certainty()
    took = time.perf_counter() - start
    print(f"certainty: {sure.draws} draws of {len(sure.bands)} options in {took:.1f} s (target 20)")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "scenarios/colonial.toml"))
