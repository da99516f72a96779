"""The year kernel in processor time of its one thread: by number of rooms and of layouts, and against the oracle."""

from __future__ import annotations

import time

from compare.physics.year import LANES, WARMUP_H, simulate, step_matrices
from tests.physics import oracle
from tests.speed.networks import HOURS, layouts_of, network_of, processor_s

ORACLE_H = 240


def main() -> None:
    """Print the figures."""
    for rooms in (8, 10, 12):
        network = network_of(rooms)
        matrices, layouts = step_matrices(network), layouts_of(network, LANES)
        simulate(network, layouts[:1], matrices)
        seconds = processor_s(lambda n=network, m=matrices, lay=layouts: simulate(n, lay, m))
        print(f"{rooms:2} rooms, {LANES} layouts of 3 zones: {1e6 * seconds / LANES:7.0f} us a layout-year")
    network = network_of(10)
    matrices, layouts = step_matrices(network), layouts_of(network, 1024)
    for count in (1, 4, 16, 64, 256, 1024):
        seconds = processor_s(lambda c=count: simulate(network, layouts[:c], matrices), times=3)
        print(f"10 rooms, {count:4} layouts: {1e3 * seconds:8.1f} ms, {1e6 * seconds / count:7.0f} us each")
    short = network_of(10, ORACLE_H)
    plan = layouts_of(short, 1)[0]
    step = step_matrices(short)
    own = step.ca_dt + short.g0_w_k + step.c_e.sum(axis=1)
    start = time.process_time()
    oracle.run(short, plan, warmup=0, mix_scale=[1.0 / (1.0 + float((s.mix_w_k / own).max())) for s in plan])
    slow = (time.process_time() - start) / ORACLE_H * (HOURS + WARMUP_H)
    fast = processor_s(lambda: simulate(network, layouts[:LANES], matrices)) / LANES
    print(f"numpy oracle, 10 rooms: {slow:.1f} s a layout-year (from {ORACLE_H} hours)")
    print(f"that is {slow / fast:,.0f} times the kernel's")


if __name__ == "__main__":
    main()
