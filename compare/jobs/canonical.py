"""One way to write down data, so that equal data has equal bytes and one digest.

The idea of RFC 8785 (JSON canonicalization): sorted keys, one form for each number and text. Numbers are kept to ten
significant digits, because the last bits of a sum differ from machine to machine.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import math
import unicodedata
from decimal import Decimal

DIGITS = 10


def plain(value: object) -> object:
    """The value in the few kinds that JSON has: floats rounded, no minus zero, nan and endless as null, text in NFC.

    Raises
    ------
    TypeError
        For anything that has no agreed form.
    """
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, str):
        return unicodedata.normalize("NFC", value)
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, Decimal):
        return format(value, "f")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, dict):
        return {str(plain(key)): plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, set | frozenset):
        return sorted((plain(item) for item in value), key=repr)
    raise TypeError(f"{type(value).__name__} has no agreed form as text")


def _number(value: float) -> float | int | None:
    if not math.isfinite(value):
        return None
    rounded = float(f"{value:.{DIGITS}g}")
    return int(rounded) if rounded == int(rounded) and abs(rounded) < 2**53 else rounded


def canonical_text(value: object) -> str:
    """The value as JSON text: the same data, the same text, with a line break at the end."""
    return json.dumps(plain(value), sort_keys=True, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def sha256_of(data: bytes | str) -> str:
    """Digest of bytes, or of a text as UTF-8."""
    return hashlib.sha256(data.encode("utf-8") if isinstance(data, str) else data).hexdigest()


def digest_of(value: object) -> str:
    """Digest of the value's canonical text."""
    return sha256_of(canonical_text(value))
