"""Rows of the flat workspaces, as offsets: constants, so that the compiler sees that rows do not overlap."""

from __future__ import annotations

import numpy as np

from compare.physics.many.numbers import T
from compare.physics.many.sizes import GRID

(
    HEAT, COOL, WARM, LOAD, REACH, PAUSE, RUN, LOUD, LOUDER, BELOW, REST, KEEP, KEEP_SLOPE, SUM, SLOPE, FIRST,
) = (np.uint64(k) * T for k in range(16))  # fmt: skip
"""Rows of the workspace: of one outdoor unit, of the unit that is heard, of moisture; then those of indoor units."""
ASKED, SENSIBLE, LEAST, MOST, SHARE, OWN_ROWS = (np.uint64(k) * T for k in range(6))
"""Rows of each indoor unit."""
(
    REACH_WARM, PER_WARM, LEAST_WARM, MOST_WARM, REACH_COLD, PER_COLD, LEAST_COLD, MOST_COLD, FELT_LEAST, FELT_MOST,
    PER_FELT, TOP, BOTTOM,
) = (np.uint64(k) * T for k in range(13))  # fmt: skip
"""Rows of a kind of supply: share that reaches the rooms and one over it, outputs, what is felt of them, limits."""
UNIT_ROWS = np.uint64(13)
SOUND_ROW = np.int32(4)
"""Numbers of a step of a pair of level curves."""
LAST_STEP, STEPS = np.int32(GRID - 2), np.float32(GRID - 1)
"""Last step of a level curve, and how many there are."""
