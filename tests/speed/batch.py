"""How fast a folder of houses goes, whether memory stays flat, whether the time grows with the number of houses.

    python -m tests.speed.batch --houses 1000 --workers 2

Houses are invented: three rooms and an attic, each with its own sizes and leakage, so that nothing is cached across
them but the weather. Prints a line per tenth of the houses, then a verdict; ends with 1 when memory or time creep.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import tomlkit

from compare.jobs.batch import Task
from compare.jobs.journal import Journal
from compare.jobs.pool import run_pool
from tests.jobs.small import small_tables

PARTS = 10
CREEP_FRAC = 0.15
"""Memory of the last part over that of the second, and time a house likewise: more is a leak or a slow-down."""


def write_houses(folder: Path, count: int) -> list[Task]:
    """So many different houses."""
    tasks = []
    for number in range(count):
        raw = small_tables(air={"ach50": 3 + number % 97 / 10})
        raw["house"]["name"] = f"House {number} (invented)"
        living, bed_a, bed_b = raw["room"]
        wide = round(5 + number % 31 / 10, 2)
        living["size"], bed_a["at"], bed_b["size"] = [wide, 5], [wide, 0], [min(4, wide), 4]
        raw["bed"][0]["at"] = [wide + 2, 2]
        path = folder / f"house-{number:05d}.toml"
        path.write_text(tomlkit.dumps(raw), encoding="utf-8")
        tasks.append(Task(str(path)))
    return tasks


def resident_mb(pid: int) -> float:
    """Resident memory of a process; nan where the system does not tell."""
    try:
        lines = Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines()
        return next(float(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))
    except (OSError, StopIteration):
        return float("nan")


def workers_mb() -> float:
    """The largest worker."""
    return max((resident_mb(child.pid) for child in multiprocessing.active_children() if child.pid), default=0.0)


Part = tuple[float, float, float]
"""Median processor seconds a house, resident memory of the largest worker and of the parent, MB."""


def run(tasks: list[Task], workers: int, journal: Journal) -> tuple[list[Part], int]:
    """Work through the tasks, printing a line per part; returns the parts and the number of errors."""
    each = max(1, len(tasks) // PARTS)
    parts: list[Part] = []
    cpu_s: list[float] = []
    errors, since_s = 0, time.perf_counter()
    for done, row in enumerate(run_pool(tasks, workers), start=1):
        journal.add(row)
        errors += bool(row.error)
        cpu_s.append(row.cpu_s)
        if done % each == 0:
            rate = each / (time.perf_counter() - since_s)
            part = (statistics.median(cpu_s), workers_mb(), resident_mb(os.getpid()))
            parts.append(part)
            memory = f"worker {part[1]:6.1f} MB  parent {part[2]:6.1f} MB"
            print(f"{done:6d} houses  {rate:6.2f} houses/s  {part[0]:6.3f} CPU s a house  {memory}", flush=True)
            cpu_s, since_s = [], time.perf_counter()
    return parts, errors


def main() -> int:
    """Run and print."""
    options = argparse.ArgumentParser()
    options.add_argument("--houses", type=int, default=1000)
    options.add_argument("--workers", type=int, default=2)
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as name:
        tasks = write_houses(Path(name), asked.houses)
        journal = Journal(Path(name) / "results")
        start_s = time.perf_counter()
        parts, errors = run(tasks, asked.workers, journal)
        total_s = time.perf_counter() - start_s
        journal.write_table(Path(task.path).name for task in tasks)
    rate = len(tasks) / total_s
    print(f"{len(tasks)} houses, {errors} errors, {total_s:.1f} s, {rate:.2f} houses/s on {asked.workers} processes")
    return verdict(parts)


def verdict(parts: list[Part]) -> int:
    """Whether the second half is as fast and as small as the first, the start left out."""
    steady = parts[1:]
    if len(steady) < 4:
        return 0
    half = len(steady) // 2
    first, second = steady[:half], steady[half:]
    slower = statistics.median(p[0] for p in second) / statistics.median(p[0] for p in first) - 1
    larger = max(max(p[i] for p in second) / max(p[i] for p in first) - 1 for i in (1, 2))
    print(f"second half against first: processor time a house {slower:+.1%}, memory {larger:+.1%}")
    return int(slower > CREEP_FRAC or larger > CREEP_FRAC)


if __name__ == "__main__":
    sys.exit(main())
