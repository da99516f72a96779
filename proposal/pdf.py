"""The paper as a tagged PDF: data in, no markup in between, fonts of our own, the same bytes for the same data.

The engine is told to keep to PDF/UA-1 and to fail where it cannot; any warning of it is an error here.
"""

from __future__ import annotations

import json
import re
import unicodedata
from dataclasses import fields, is_dataclass
from functools import lru_cache
from importlib.resources import as_file, files
from typing import Any

from proposal.document.blocks import Bullets, Document, Figure, Heading, parts_of
from proposal.document.pictures import PAGE_PX
from proposal.fonts import advance_widths, pdf_folder

SENTENCE_PT = 25.0
TEXT_PT = 470.0
"""Width of the text on the narrower of the two papers (A4, 210 mm less two margins of 0.85 in.), rounded down."""
MISSING = "?"
"""Stands for a character that the vendored fonts do not have."""
_KIND = re.compile(r"(?<!^)(?=[A-Z])")
_NUMBER_SPACES = "\u00a0\u202f"


class PaperError(RuntimeError):
    """The engine could not make the PDF, or warned about it."""


@lru_cache(maxsize=1)
def _glyphs() -> frozenset[str]:
    faces = advance_widths().values()
    return frozenset.intersection(*(frozenset(face) for face in faces)) | frozenset(_NUMBER_SPACES + "\n")


def printable(text: str) -> str:
    """Text in the letters that the vendored fonts have: a letter without its mark where that helps, else `?`."""
    glyphs = _glyphs()
    if all(character in glyphs for character in text):
        return text
    shown = []
    for character in unicodedata.normalize("NFC", text):
        if character in glyphs:
            shown.append(character)
            continue
        bare = "".join(part for part in unicodedata.normalize("NFKD", character) if not unicodedata.combining(part))
        shown.append(bare if bare and all(part in glyphs for part in bare) else MISSING)
    return "".join(shown)


def _halves(bullets: Bullets) -> list[list[Any]]:
    """Items of a list in as many columns as it has, of about the same length."""
    total = sum(len(item.lead) + len(item.text) + 40 for item in bullets.items)
    parts: list[list[Any]] = [[] for _ in range(bullets.columns)]
    filled = 0.0
    for item in bullets.items:
        length = len(item.lead) + len(item.text) + 40
        column = min(int((filled + length / 2) / total * bullets.columns), bullets.columns - 1)
        parts[column].append(_plain(item))
        filled += length
    return parts


def _sentence(text: str) -> str:
    """The large sentence; where it needs two lines and each of its parts fits one, it breaks behind a comma only."""
    widths = advance_widths()["literata_500"]

    def width_pt(part: str) -> float:
        return SENTENCE_PT * sum(widths.get(character, 0.6) for character in part)

    parts = text.split(", ")
    if width_pt(text) <= TEXT_PT or any(width_pt(f"{part},") > TEXT_PT for part in parts):
        return text
    return ", ".join(part.replace(" ", "\u00a0") for part in parts)


def _plain(value: object) -> Any:  # noqa: ANN401 (plain data of any depth)
    """Blocks as plain data for the template."""
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    if not is_dataclass(value):
        return value
    shown: dict[str, Any] = {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    shown["kind"] = _KIND.sub("_", type(value).__name__).lower()
    if isinstance(value, Heading) and value.level == 1:
        shown["text"] = _sentence(shown["text"])
    if isinstance(value, Bullets):
        shown["parts"] = _halves(value)
    if isinstance(value, Figure):
        shown["share"] = min(1.0, value.width_px / PAGE_PX)
    return shown


def _pairs(blocks: list[dict[str, Any]]) -> None:
    """Names for the parts of layouts that stand side by side."""
    for block in blocks:
        if block["kind"] == "pair":
            keys = ("name", "figure", "facts")
            block["items"] = [dict(zip(keys, item, strict=True)) for item in block["items"]]


def _parts(document: Document) -> list[list[dict[str, Any]]]:
    """Blocks as plain data, in the parts that stay together; all in one where nothing may change places."""
    found = parts_of(document.blocks) if document.packed else (document.blocks,)
    parts = [[_plain(block) for block in part] for part in found]
    for part in parts:
        _pairs(part)
    return parts


def data_of(document: Document) -> str:
    """The paper as JSON for the template."""
    lang, _, region = document.language.partition("-")
    own = ("title", "header_left", "header_right", "footer", "paper", "page_words", "packed")
    shown = {key: _plain(getattr(document, key)) for key in own}
    shown |= {"parts": _parts(document), "lang": lang, "region": region.lower() or None}
    return json.dumps(shown, ensure_ascii=False, sort_keys=True)


def pdf_of(document: Document) -> bytes:
    """The paper as PDF/UA-1; the same document gives the same bytes.

    Raises
    ------
    PaperError
        When the engine fails or warns.
    """
    import typst

    with as_file(files("proposal.templates") / "proposal.typ") as template:
        compiler = typst.Compiler(
            template,
            root=template.parent,
            ignore_system_fonts=True,
            font_paths=[pdf_folder()],
            sys_inputs={"data": data_of(document)},
        )
        try:
            made, warnings = compiler.compile_with_warnings(format="pdf", timestamp=0, pdf_standards="ua-1")
        except typst.TypstError as error:
            raise PaperError(f"the PDF could not be made: {error}") from error
    if warnings:
        raise PaperError("the PDF engine warned: " + "; ".join(str(warning.message) for warning in warnings))
    if not isinstance(made, bytes):
        raise PaperError("the PDF engine gave no single file")
    return made
