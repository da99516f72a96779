"""Numbers as the kernel takes them: single precision, and unsigned where they index (signed ones are slower)."""

from __future__ import annotations

import numpy as np

from compare.physics.many.sizes import CHUNK_H, LANES, PIECE_H

N, T, V, DAY = np.uint64(LANES), np.uint64(CHUNK_H), np.uint64(PIECE_H), np.uint64(24)
U0, U1, U2, U3, U4, U5, U6, U7, U8, U9, U10, U11, U12, U13, U14 = (np.uint64(k) for k in range(15))
ZERO, QUARTER, ONE, TWO, THREE, FOUR = (np.float32(x) for x in (0.0, 0.25, 1.0, 2.0, 3.0, 4.0))
SMALL, LARGE = np.float32(1e-6), np.float32(1e30)
