"""Rows of the flat workspaces, as offsets: constants, so that a row costs nothing to find."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import T, V
from compare.physics.many.sizes import GRID

(
    REACH_WARM, PER_WARM, LEAST_WARM, PER_RANGE_WARM, REACH_COLD, PER_COLD, LEAST_COLD, PER_RANGE_COLD, FELT_LEAST,
    PER_FELT, PER_MORE, FELT_SHARE, TOP, BOTTOM,
) = (np.uint64(k) * T for k in range(14))  # fmt: skip
"""Rows of a kind of supply: share that reaches the rooms and one over it, least output, one over the range; of cooling
what is felt of the least output, total for felt below it and beyond it, felt share of the most; limits."""
UNIT_ROWS = np.uint64(14) * T
(
    LOW, MIDDLE, HIGH, PER_LOW, PER_SPAN, COP_LOW, SLOPE_LOW, COP_MIDDLE, SLOPE_MIDDLE,
) = (np.uint64(k) * T for k in range(9))  # fmt: skip
"""Rows of a kind of outdoor unit in one mode: outputs, one over the least and over the range, COP and its slopes."""
MACHINE_ROWS = np.uint64(9) * T
ASKED, FELT, SHARE, OWN_ROWS = (np.uint64(k) * V for k in range(4))
"""Rows of an indoor unit in the hours at hand: what it is asked, what of that is felt, what moisture may come back."""
LOUD, LOUDER, HEARD_ROWS = (np.uint64(k) * T for k in range(3))
"""Rows of what is heard of a unit: share of the hour that it runs, and that times its place in its step."""
SOUND_ROW = np.uint64(4)
"""Numbers of a step of a pair of level curves."""
LAST_STEP, STEPS = np.float32(GRID - 2), np.float32(GRID - 1)
"""Last step of a level curve, and how many there are."""
