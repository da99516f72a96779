"""A folder of houses on a pool of processes: rows as they arrive; a worker that dies costs its own house only."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Future, ProcessPoolExecutor, wait
from multiprocessing import get_context
from pathlib import Path

from compare.jobs.batch import FAULT, HouseRow, Task, compare_one, input_digest

HOUSES_A_WORKER = 200
"""Workers are replaced after so many houses each, so that whatever a library keeps does not add up. The whole pool is
closed and opened anew: the pool's own way of replacing single workers can stand still (CPython issue 115634)."""
WAITING_A_WORKER = 2
"""Tasks handed out at a time; the rest wait here, so that memory does not grow with the folder."""

Work = Callable[[Task], HouseRow]


def start_worker() -> None:
    """One thread per worker, and the slow imports once."""
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS"):
        os.environ[name] = "1"
    import compare.pipeline  # noqa: F401


def run_pool(tasks: Sequence[Task], workers: int, work: Work = compare_one) -> Iterator[HouseRow]:
    """Rows of all tasks as they are done.

    When a worker dies (out of memory, killed), the pool is started anew; the tasks it held are tried once more one by
    one, and one that kills its worker again becomes a row with that error.
    """
    group = workers * HOUSES_A_WORKER
    for start in range(0, len(tasks), group):
        waiting = list(reversed(tasks[start : start + group]))
        while waiting:
            held: list[Task] = []
            yield from _until_broken(waiting, held, workers, work)
            for task in held:
                yield from _alone(task, work)


def _pool(workers: int) -> ProcessPoolExecutor:
    return ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=start_worker)


def _until_broken(waiting: list[Task], held: list[Task], workers: int, work: Work) -> Iterator[HouseRow]:
    """Hand out tasks, the last first, until none waits or the pool breaks; `held` then has those it was working on."""
    running: dict[Future[HouseRow], Task] = {}
    with _pool(workers) as pool:
        while (waiting or running) and not held:
            while waiting and len(running) < workers * WAITING_A_WORKER and not held:
                task = waiting.pop()
                try:
                    running[pool.submit(work, task)] = task
                except BrokenExecutor:
                    held.append(task)
            done, _ = wait(running, return_when=FIRST_COMPLETED)
            for future in done:
                task = running.pop(future)
                try:
                    yield future.result()
                except BrokenExecutor:
                    held.append(task)
    held += running.values()


def _alone(task: Task, work: Work) -> Iterator[HouseRow]:
    with _pool(1) as pool:
        try:
            yield pool.submit(work, task).result()
        except BrokenExecutor:
            text = "the process at work on this house was ended by the system (out of memory?); try it alone"
            yield HouseRow(Path(task.path).name, input_digest(task), error=f"{FAULT}: {text}")
