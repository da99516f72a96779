"""A draft: the text as it is now, what it was before each step, and what was undone."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from compare.house.reading import decoded
from dashboard.survey.draft.edits import Edit, Raw, applied

MOST_STEPS = 80
BOM = b"\xef\xbb\xbf"


class NotReadableError(ValueError):
    """A file that is no TOML text; the message says where."""


@dataclass(frozen=True)
class Draft:
    """A house file being edited. `version` counts the steps, undone ones among them."""

    text: str
    crlf: bool = False
    bom: bool = False
    past: tuple[str, ...] = field(default=(), repr=False)
    future: tuple[str, ...] = field(default=(), repr=False)
    version: int = 0

    @cached_property
    def raw(self) -> Raw:
        """The tables of the text."""
        return tomllib.loads(self.text)

    @property
    def data(self) -> bytes:
        """The file's bytes; those that were read where nothing was changed."""
        text = self.text.replace("\n", "\r\n") if self.crlf else self.text
        return (BOM if self.bom else b"") + text.encode()

    def after(self, edits: Sequence[Edit]) -> Draft:
        """The draft after edits; itself where they change nothing. Raises `EditError`."""
        if not edits:
            return self
        text, _ = applied(self.text, self.raw, edits)
        return self.with_text(text)

    def with_text(self, text: str) -> Draft:
        """The draft with another text as its next step."""
        if text == self.text:
            return self
        past = (*self.past, self.text)[-MOST_STEPS:]
        return replace(self, text=text, past=past, future=(), version=self.version + 1)

    def undone(self) -> Draft:
        """One step back."""
        if not self.past:
            return self
        *past, text = self.past
        return replace(self, text=text, past=tuple(past), future=(self.text, *self.future), version=self.version + 1)

    def redone(self) -> Draft:
        """One undone step again."""
        if not self.future:
            return self
        text, *future = self.future
        return replace(self, text=text, past=(*self.past, self.text), future=tuple(future), version=self.version + 1)


def draft_of(data: bytes, name: str) -> Draft:
    """A draft of a file's bytes.

    Raises
    ------
    NotReadableError
        When the bytes are no TOML text.
    HouseFileError
        When they are no UTF-8 or too many.
    """
    text = decoded(data, name)
    bom = data.startswith(BOM)
    crlf = "\r\n" in text and text.count("\n") == text.count("\r\n")
    try:
        plain = text.replace("\r\n", "\n") if crlf else text
        tomllib.loads(plain)
    except tomllib.TOMLDecodeError as error:
        raise NotReadableError(f"{name} cannot be read: {error}. Mend it by hand first.") from None
    except (ValueError, RecursionError):
        raise NotReadableError(f"{name} holds something that cannot be read. Mend it by hand first.") from None
    return Draft(plain, crlf, bom)


def digest(data: bytes) -> str:
    """Digest of a file's bytes."""
    return hashlib.sha256(data).hexdigest()
