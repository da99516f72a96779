"""A password of a page: kept as a scrypt hash in a file that only its owner can read.

After OWASP ASVS 5.0.0: 6.2.1 (length; the item asks for 8 at least and advises 15, 12 is our judgement), 11.4.2 (a
hash made for passwords), and NIST SP 800-63B (no rules of composition).
"""

from __future__ import annotations

import os
import secrets
import stat
from pathlib import Path

from werkzeug.security import check_password_hash, generate_password_hash

SHORTEST, LONGEST = 12, 200
FEWEST_SIGNS = 5
METHOD = "scrypt:32768:8:1"
MOST_BYTES = 1024
OWNER_ONLY = 0o600
OTHERS = stat.S_IRWXG | stat.S_IRWXO
OFFICE_CURE = "hplayouts office password DIR"


class PasswordError(ValueError):
    """A password that will not do, or a file of one that cannot be used; the text names the cure."""


def check_new(password: str) -> None:
    """Raise `PasswordError` for a password that is too short, too long or all alike."""
    if not SHORTEST <= len(password) <= LONGEST:
        raise PasswordError(f"password: {len(password)} signs; give {SHORTEST} to {LONGEST}, several words will do")
    if len(set(password)) < FEWEST_SIGNS:
        raise PasswordError(f"password: fewer than {FEWEST_SIGNS} different signs; choose another")


def set_password(path: Path, password: str) -> None:
    """Write the hash of a new password; the old or the new file stands whole, readable by its owner only."""
    check_new(password)
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f"{path.name}.{secrets.token_hex(6)}.part")
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY)
    try:
        with os.fdopen(handle, "w", encoding="ascii") as out:
            out.write(generate_password_hash(password, method=METHOD) + "\n")
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def read_hash(path: Path, cure: str = OFFICE_CURE) -> str:
    """The kept hash; `cure` is the command that sets it.

    Raises
    ------
    PasswordError
        No file, one that others may read, or one that holds no hash.
    """
    try:
        told = path.stat()
        if os.name == "posix" and told.st_mode & OTHERS:
            raise PasswordError(f"{path}: others can read it; set the password again")
        text = path.read_text(encoding="ascii").strip() if told.st_size <= MOST_BYTES else ""
    except FileNotFoundError:
        raise PasswordError(f"no password yet; set one with: {cure}") from None
    except (OSError, UnicodeDecodeError):
        text = ""
    if not text.startswith("scrypt:") or text.count("$") != 2:
        raise PasswordError(f"{path}: holds no password; set it again with: {cure}")
    return text


def fits(kept: str, password: str) -> bool:
    """Whether a password is the one of the hash."""
    return len(password) <= LONGEST and check_password_hash(kept, password)
