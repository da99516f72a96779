"""The two type families of pages and papers, shipped with the program so that no outside request is ever made.

Literata for sentences, headings and room temperatures; Figtree for labels, controls and tables. Both under the SIL Open
Font License 1.1 (texts beside this file).
"""

from __future__ import annotations

import base64
import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Face:
    """One style of a family as pages load it."""

    family: str
    weight: int
    italic: bool
    file_name: str


FACES = (
    Face("Literata", 400, italic=False, file_name="literata-400.woff2"),
    Face("Literata", 500, italic=False, file_name="literata-500.woff2"),
    Face("Literata", 600, italic=False, file_name="literata-600.woff2"),
    Face("Literata", 400, italic=True, file_name="literata-400-italic.woff2"),
    Face("Figtree", 400, italic=False, file_name="figtree-400.woff2"),
    Face("Figtree", 500, italic=False, file_name="figtree-500.woff2"),
    Face("Figtree", 600, italic=False, file_name="figtree-600.woff2"),
    Face("Figtree", 700, italic=False, file_name="figtree-700.woff2"),
)


def web_folder() -> Path:
    """Folder of the woff2 files, for a server that hands them out."""
    return Path(str(files("proposal.fonts") / "web"))


def pdf_folder() -> Path:
    """Folder of the TTF files, for the PDF engine."""
    return Path(str(files("proposal.fonts") / "pdf"))


def _rule(face: Face, source: str) -> str:
    style = "italic" if face.italic else "normal"
    return (
        f"@font-face{{font-family:'{face.family}';font-style:{style};font-weight:{face.weight};font-display:swap;"
        f"src:url({source}) format('woff2')}}"
    )


def linked_css(folder_url: str) -> str:
    """`@font-face` rules that load the files from `folder_url` (no slash at its end)."""
    return "\n".join(_rule(face, f"{folder_url}/{face.file_name}") for face in FACES)


@lru_cache(maxsize=1)
def embedded_css() -> str:
    """`@font-face` rules with the files inside, for a page that must stand alone (about 190 kB)."""
    rules = []
    for face in FACES:
        data = base64.b64encode((web_folder() / face.file_name).read_bytes()).decode("ascii")
        rules.append(_rule(face, f"data:font/woff2;base64,{data}"))
    return "\n".join(rules)


@lru_cache(maxsize=1)
def advance_widths() -> dict[str, dict[str, float]]:
    """Advance width of each character in em, by face (`figtree_500`); figures at their tabular width."""
    table: dict[str, dict[str, float]] = {}
    text = (files("proposal.fonts") / "widths.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        character = chr(int(row["code_point"]))
        for face, width in row.items():
            if face != "code_point" and width:
                table.setdefault(face, {})[character] = float(width) / 1000.0
    return table
