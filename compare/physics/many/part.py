"""How the parts of the kernel are compiled: into it, without counting references (they make no arrays)."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import numba

part = numba.njit(nogil=True, fastmath=True, error_model="numpy", _nrt=False, forceinline=True)  # type: ignore[call-overload]


def stamp(folder: Path = Path(__file__).parent) -> str:
    """Digest of the kernel's sources: machine code that is kept on disk is valid for one of them."""
    digest = sha256()
    for path in sorted(folder.glob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()
