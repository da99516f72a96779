"""What a paper is made of: a list of blocks, the same for Markdown, the page and the PDF."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

BLANK = "________"
"""A place to write on, in every form of a paper."""

Style = Literal["body", "lead", "small", "label"]
Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 is the sentence of the paper."""

    level: Literal[1, 2, 3]
    text: str
    joined: bool = False
    """Stays on the page of what stands before it."""
    after: bool = False
    """Never stands before the part in front of it."""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Text, its beginning in bold where there is a `lead`."""

    text: str
    lead: str = ""
    style: Style = "body"
    sticky: bool = False
    """Stays on the page of what follows."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Sentences that answer, with a stroke at the left: plum for our advice, ink where there is none."""

    sentences: tuple[str, ...]
    advice: bool = True


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list; an item may begin in bold."""

    items: tuple[Paragraph, ...]
    heading: str = ""
    """A line above it that is no section of its own; """
    columns: int = 1


@dataclass(frozen=True, slots=True)
class Beside:
    """Lists beside one another."""

    lists: tuple[Bullets, ...]


@dataclass(frozen=True, slots=True)
class Columns:
    """Short paragraphs beside one another."""

    items: tuple[Paragraph, ...]


@dataclass(frozen=True, slots=True)
class FactItem:
    """A large figure and the line below it."""

    value: str
    note: str


@dataclass(frozen=True, slots=True)
class FactRow:
    """Figures side by side, below the name of a layout where there are several."""

    items: tuple[FactItem, ...]
    name: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A plain table; figures stand at the right."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: tuple[Align, ...]


@dataclass(frozen=True, slots=True)
class Schedule:
    """A table of the full width whose cells may run over several lines and that may go on overleaf, row by row."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: tuple[Align, ...]
    weights: tuple[float, ...]
    """Width of each column as a share of the others."""


@dataclass(frozen=True, slots=True)
class Ticks:
    """Things to do, each with a box to tick."""

    items: tuple[Paragraph, ...]
    columns: int = 1


@dataclass(frozen=True, slots=True)
class PhotoPlaces:
    """Frames for photographs, each with what it should show."""

    labels: tuple[str, ...]
    lead: str
    """Word before each label where no frame is drawn."""


@dataclass(frozen=True, slots=True)
class Notice:
    """Words that the law or the company fixes, in a frame; not counted as prose of ours."""

    heading: str
    text: str


@dataclass(frozen=True, slots=True)
class Lines:
    """Short labels with a line to write on."""

    labels: tuple[str, ...]
    columns: int = 2


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture as SVG, what it shows in a sentence, and its values as a table."""

    name: str
    """For the file name."""
    svg: str
    alt: str
    width_px: float
    height_px: float
    table: Table | None = None


@dataclass(frozen=True, slots=True)
class Way:
    """One layout in the table of ways."""

    figure: Figure
    name: str
    mark: str
    """`We recommend it`, or nothing."""
    note: str
    cells: tuple[str, ...]
    ours: bool


@dataclass(frozen=True, slots=True)
class Ways:
    """All layouts as a table, each with its small house."""

    caption: str
    head: tuple[str, ...]
    name_head: str
    rows: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two or three equal layouts side by side, each with its house and figures."""

    items: tuple[tuple[str, Figure, tuple[FactItem, ...]], ...]


@dataclass(frozen=True, slots=True)
class Signing:
    """Lines to sign on, with the place that the law keeps for a statement beside them."""

    parties: tuple[str, ...]
    labels: tuple[str, ...]
    statement: str


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows begins a page."""


Block = (
    Heading
    | Paragraph
    | Answer
    | Bullets
    | Beside
    | Columns
    | FactRow
    | Table
    | Figure
    | Ways
    | Pair
    | Signing
    | Schedule
    | Ticks
    | PhotoPlaces
    | Notice
    | Lines
    | PageBreak
)


@dataclass(frozen=True, slots=True)
class Document:
    """A paper: what stands on every page, and its blocks."""

    title: str
    language: str
    header_left: str
    header_right: str
    footer: str
    paper: Literal["us-letter", "a4"]
    page_words: str
    """Template with `{page}` and `{pages}`."""
    blocks: tuple[Block, ...]
    packed: bool = False
    """On paper, a part that no longer fits a page lets one of the next parts go first."""

    @property
    def headline(self) -> str:
        """The sentence of the paper: its heading of level 1."""
        return next(
            (block.text for block in self.blocks if isinstance(block, Heading) and block.level == 1), self.title
        )


def parts_of(blocks: tuple[Block, ...]) -> tuple[tuple[Block, ...], ...]:
    """Parts of a paper that stay together on a page: from one heading to the next, or from one page break to the next.

    A page break is a part of its own.
    """
    parts: list[list[Block]] = []
    for block in blocks:
        alone = isinstance(block, PageBreak)
        starts = isinstance(block, Heading) and block.level > 1 and not block.joined
        if not parts or alone or starts or isinstance(parts[-1][-1], PageBreak):
            parts.append([block])
        else:
            parts[-1].append(block)
    return tuple(tuple(part) for part in parts)
