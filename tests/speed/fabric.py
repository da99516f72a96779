"""What the finer fabric costs: the year of a room with two mass branches against the classic room of air and one mass.

The kernel always carries two branches, so the two-node room runs in a copy of the kernel's own source from which the
second branch is cut out line by line. Run from the repository: `python -m tests.speed.fabric`. Ratios matter; times
vary with the machine.
"""

from __future__ import annotations

import argparse
import inspect
import statistics
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numba
import numpy as np

from compare.house.geometry import plan_of
from compare.house.reading import read_house
from compare.loads.case import load_case_of
from compare.loads.cooling import prepared_rooms
from compare.physics import kernel
from compare.physics.fabric.drivers import faces_of
from compare.physics.fabric.room import drive_room
from compare.physics.fabric.spaces import ground_of_year, with_spaces
from compare.physics.fabric.weather import drivers_from_year
from compare.physics.network import Network, Supply
from compare.physics.year import LANES, simulate, step_matrices
from compare.years.case import design_of, weather_of

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"


def two_node_room(rooms: int, hours: int = 8760) -> Network:
    """A house of rooms with one mass each: air and mass, the classic two nodes; the second branch stands empty."""
    dice = np.random.default_rng(rooms)
    clock = np.arange(hours)
    outdoor_c = 9.0 - 13.0 * np.cos(2 * np.pi * clock / hours) + 5.0 * np.sin(2 * np.pi * (clock - 9) / 24)
    g0_w_k = dice.uniform(8.0, 40.0, rooms)
    links = np.zeros((2, rooms, rooms))
    for a in range(rooms - 1):
        links[:, a, a + 1] = links[:, a + 1, a] = [60.0, 10.0]
    return Network(
        room_names=tuple(f"room {index}" for index in range(rooms)),
        g0_w_k=g0_w_k,
        branch_g_w_k=np.column_stack([dice.uniform(50.0, 200.0, rooms), np.zeros(rooms)]),
        branch_tau_s=np.column_stack([dice.uniform(2e4, 9e4, rooms), np.full(rooms, 3600.0)]),
        air_j_k=dice.uniform(1e5, 5e5, rooms),
        q20_w=-g0_w_k * (20.0 - outdoor_c[:, None]),
        link_w_k=links,
        leak_w_k=np.linspace(1.0, 9.0, 3)[:, None] * np.ones(rooms),
        door_state=(clock % 24 < 7).astype(np.int64),
        leak_level=dice.integers(0, 3, hours),
        outdoor_c=outdoor_c,
    )


def finer_fabric(network: Network) -> Network:
    """The same house with a second, quicker branch in every room."""
    dice = np.random.default_rng(1)
    return replace(
        network,
        branch_g_w_k=np.column_stack([network.branch_g_w_k[:, 0], dice.uniform(20.0, 90.0, network.rooms)]),
        branch_tau_s=np.column_stack([network.branch_tau_s[:, 0], dice.uniform(1e3, 8e3, network.rooms)]),
    )


def layouts_of(network: Network, count: int) -> list[list[Supply]]:
    """Layouts of two zones each."""
    hours, rooms = network.hours, network.rooms
    whole, no_mix = np.ones(hours), np.zeros(rooms)
    limits = (6000.0 * whole, 4000.0 * whole, 21.1 * whole, 23.9 * whole)
    found = []
    for index in range(count):
        shares = [np.zeros(rooms), np.zeros(rooms)]
        shares[0][index % rooms] = 1.0
        rest = [room for room in range(rooms) if room != index % rooms]
        shares[1][rest] = 1.0 / len(rest)
        found.append([Supply(share, share, *limits, no_mix) for share in shares])
    return found


SECOND_BRANCH = (
    ("    mass2 = np.full((r_count, n), 20.0, kind)\n", ""),
    ("            c2 = c_e[r, 1]\n", ""),
    (" + c2 * mass2[r, i]", ""),
    ("            e2 = e[r, 1]\n", ""),
    ("                mass2[r, i] = e2 * mass2[r, i] + (1.0 - e2) * air[r, i]\n", ""),
)


def one_branch_kernel() -> Callable[..., int]:
    """The kernel without its second branch, compiled from its own source."""
    source = inspect.getsource(kernel.run_lanes.py_func)
    source = source[source.index("def run_lanes") :]
    for old, new in SECOND_BRANCH:
        if old not in source:
            raise SystemExit(f"the kernel no longer holds {old.strip()!r}; bring SECOND_BRANCH up to date")
        source = source.replace(old, new)
    space = dict(vars(kernel))
    exec(compile(source, "one_branch", "exec", dont_inherit=True, flags=annotations.compiler_flag), space)
    return numba.njit(nogil=True, fastmath=True)(space["run_lanes"])


@contextmanager
def kernel_of(run: Callable[..., int]) -> Iterator[None]:
    """Let the year run in another kernel for a while."""
    kept = kernel.run_lanes
    kernel.run_lanes = run
    try:
        yield
    finally:
        kernel.run_lanes = kept


def per_layout_us(pairs: list[tuple[Network, Callable[..., int]]], count: int, repeats: int) -> list[float]:
    """Best time of one layout's year [microseconds] of each network in its kernel, runs taken in turns."""
    best_s = [float("inf")] * len(pairs)
    for turn in range(repeats + 1):
        for index, (network, run) in enumerate(pairs):
            layouts, step = layouts_of(network, count), step_matrices(network)
            with kernel_of(run):
                start = time.perf_counter()
                simulate(network, layouts, step)
                if turn:
                    best_s[index] = min(best_s[index], time.perf_counter() - start)
    return [one / count * 1e6 for one in best_s]


def preparation_s(name: str) -> tuple[int, float, float]:
    """Rooms of a demo house, seconds to solve their modes, seconds to drive them through a year."""
    house = read_house(SCENARIOS / f"{name}.toml")
    plan, place = plan_of(house), weather_of(house, SCENARIOS)
    ground = ground_of_year(place.year.dry_bulb_c)
    case = load_case_of(house, plan, design_of(house, place), ground)
    start = time.perf_counter()
    prepared = prepared_rooms(case)
    solved = time.perf_counter()
    drivers = with_spaces(plan, drivers_from_year(place.year, faces_of(plan.rooms)), ground)
    for room in prepared:
        drive_room(room, drivers)
    return len(plan.rooms), solved - start, time.perf_counter() - solved


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser()
    ask.add_argument("--layouts", type=int, default=LANES)
    ask.add_argument("--repeats", type=int, default=5)
    given = ask.parse_args()
    print(f"{'rooms':>5}{'two-node us':>14}{'K=2 us':>12}{'ratio':>8}")
    ratios, short = [], one_branch_kernel()
    for rooms in (6, 8, 10, 12):
        plain = two_node_room(rooms)
        pairs = [(plain, short), (finer_fabric(plain), kernel.run_lanes)]
        before, after = per_layout_us(pairs, given.layouts, given.repeats)
        ratios.append(after / before)
        print(f"{rooms:>5}{before:>14.0f}{after:>12.0f}{after / before:>8.2f}")
    print(f"median ratio {statistics.median(ratios):.2f}; target at most 1.15")
    for name in ("ranch", "colonial"):
        count, modes_s, year_s = preparation_s(name)
        print(f"{name}: {count} rooms, modes {modes_s * 1e3:.0f} ms, year of all rooms {year_s * 1e3:.0f} ms")


if __name__ == "__main__":
    main()
