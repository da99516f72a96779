"""Sizes and kinds that those who build arrays for the kernel must know."""

from __future__ import annotations

import numpy as np

LANES = 64
"""Layouts, or draws of one house, side by side."""
PIECE_H = 16
"""Hours whose limits, and what was given, change between hours in a row and lanes in a row."""
CHUNK_H = 96
"""Hours that are stepped before they are measured: whole days, and a multiple of the vector length."""
GRID = 41
"""Points of a level curve over the output range."""
BINS = 65
"""Classes of the output range: the least output, and 64 above it."""
GROUP_SUMS = 10
"""Per outdoor unit: power, idle, idle in cold, heat, cold, running, below, starts, heat and cold at the unit."""
PROFILE = 15
"""Numbers of a supply: see `compare.search.kinds`."""
FLAT, OWN, SHARED, SERIES = (np.uint32(k) for k in range(4))
"""Kinds of supply: constant limits, a unit, a unit on a shared outdoor unit, limits by the hour."""
