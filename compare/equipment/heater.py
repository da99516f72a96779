"""Electric room heaters: their size from the design load, and the circuits that a set of them takes."""

from __future__ import annotations

import math
from collections.abc import Sequence

HEATER_MARGIN = 1.25
"""A room heater is the next 500 W above its design load times this (our judgement)."""
HEATER_STEP_W = 500.0
CIRCUIT_W = 3840.0
"""Fixed heating on one 20 A, 240 V circuit: 80 % of its rating (NEC 424.4 and 210.20, continuous load; from memory)."""


def heater_w(load_w: float) -> float:
    """Rated power of a heater that carries a room's design load."""
    return HEATER_STEP_W * math.ceil(HEATER_MARGIN * load_w / HEATER_STEP_W)


def heater_circuits(heaters_w: Sequence[float]) -> int:
    """Circuits of 20 A for a set of heaters, the largest placed first; one above a circuit's limit takes several."""
    left: list[float] = []
    alone = 0
    for power in sorted(heaters_w, reverse=True):
        if power > CIRCUIT_W:
            alone += math.ceil(power / CIRCUIT_W)
            continue
        for place, room in enumerate(left):
            if power <= room:
                left[place] = room - power
                break
        else:
            left.append(CIRCUIT_W - power)
    return alone + len(left)
