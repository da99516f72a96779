"""A paper on disk: Markdown with its pictures, the page, the PDF. No file name comes from a house file."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from proposal.document.blocks import Document
from proposal.markdown import figures_of, markdown_of
from proposal.page import page_of
from proposal.pdf import pdf_of

PICTURES = "pictures"
STEM = "proposal"


@dataclass(frozen=True, slots=True)
class Written:
    """Where a paper was written."""

    markdown: Path
    page: Path
    pdf: Path
    pictures: tuple[Path, ...]


def _write(path: Path, data: bytes) -> Path:
    """Write a whole file or nothing: beside its place first, then moved there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    return path


def write_all(made: Mapping[str, bytes], folder: Path) -> tuple[Path, ...]:
    """Write files that are already made into a folder, which is made when needed."""
    return tuple(_write(folder / name, data) for name, data in made.items())


def write_paper(document: Document, folder: Path) -> Written:
    """Write Markdown, pictures, page and PDF of a paper into a folder, which is made when needed.

    All are made before the first is written, so a paper that cannot be made leaves the folder as it was.
    """
    pdf, page, text = pdf_of(document), page_of(document), markdown_of(document, PICTURES)
    pictures = tuple(
        _write(folder / PICTURES / f"{figure.name}.svg", figure.svg.encode("utf-8")) for figure in figures_of(document)
    )
    return Written(
        markdown=_write(folder / f"{STEM}.md", text.encode("utf-8")),
        page=_write(folder / f"{STEM}.html", page.encode("utf-8")),
        pdf=_write(folder / f"{STEM}.pdf", pdf),
        pictures=pictures,
    )
