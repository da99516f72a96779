"""The paper as Markdown: the source of its words. Text from outside is escaped, so that it stays text."""

from __future__ import annotations

import re
from collections.abc import Callable

from proposal.document import blocks as b
from proposal.words import plain

_MARKS = re.compile(r"[\\`*_\[\]|~]")
_LINE_START = re.compile(r"^(\s*)(#|>|\+|-|=|:)")
_NUMBERED = re.compile(r"^(\s*\d+)([.)])(?=\s|$)")
_ADDRESS = re.compile(r"(?i):(?=//)|(?<=\bwww)\.|@|(?<=mailto):")


def escaped(text: str) -> str:
    """Text that Markdown shows as it is: no markup, no raw HTML, no address that a reader would turn into a link."""
    shown = plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    shown = _MARKS.sub(lambda match: f"&#{ord(match[0])};", shown)
    shown = _ADDRESS.sub(lambda match: f"&#{ord(match[0])};", shown)
    shown = _LINE_START.sub(lambda match: f"{match[1]}&#{ord(match[2])};", shown)
    return _NUMBERED.sub(lambda match: f"{match[1]}&#{ord(match[2])};", shown)


def inline(paragraph: b.Paragraph) -> str:
    """A paragraph with its bold beginning."""
    lead = f"**{escaped(paragraph.lead.strip())}**" if paragraph.lead.strip() else ""
    return f"{lead} {escaped(paragraph.text)}".strip()


def table(head: tuple[str, ...], align: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    """A pipe table from cells that are already escaped."""
    marks = ["---:" if side == "right" else "---" for side in align]
    return "\n".join("| " + " | ".join(cells) + " |" for cells in (head, tuple(marks), *rows))


def _figure(figure: b.Figure, folder: str) -> str:
    picture = f"![{escaped(figure.alt)}]({folder}/{figure.name}.svg)"
    if figure.table is None:
        return picture
    return f"{picture}\n\n{_table(figure.table)}"


def _table(shown: b.Table | b.Schedule) -> str:
    head = tuple(escaped(cell) for cell in shown.head)
    rows = [tuple(escaped(cell) for cell in row) for row in shown.rows]
    return table(head, shown.align, rows)


def _facts(items: tuple[b.FactItem, ...]) -> str:
    return "\n".join(f"- **{escaped(item.value)}** {escaped(item.note)}" for item in items)


def _ways(shown: b.Ways) -> str:
    head = tuple(escaped(cell) for cell in (shown.name_head, *shown.head))
    rows = []
    for way in shown.rows:
        mark = f" {escaped(way.mark)}." if way.mark else ""
        rows.append((f"**{escaped(way.name)}.**{mark} {escaped(way.note)}", *(escaped(cell) for cell in way.cells)))
    return table(head, ("left", *(["right"] * len(shown.head))), rows)


def _pair(shown: b.Pair, folder: str) -> str:
    return "\n\n".join(
        f"**{escaped(name)}**\n\n{_figure(figure, folder)}\n\n{_facts(facts)}" for name, figure, facts in shown.items
    )


def _bullets(shown: b.Bullets) -> str:
    items = "\n".join(f"- {inline(item)}" for item in shown.items)
    return f"**{escaped(shown.heading)}**\n\n{items}" if shown.heading else items


def _signing(shown: b.Signing) -> str:
    blanks = ", ".join(f"{escaped(label)} ______" for label in shown.labels)
    lines = [f"**{escaped(party)}:** {blanks}" for party in shown.parties]
    return "\n\n".join((*lines, f"> **{escaped(shown.statement)}**"))


def _ticks(shown: b.Ticks) -> str:
    return "\n".join(f"- [ ] {inline(item)}" for item in shown.items)


def _photos(shown: b.PhotoPlaces) -> str:
    return "\n".join(f"- [ ] {escaped(shown.lead)} {escaped(label)}" for label in shown.labels)


def _notice(shown: b.Notice) -> str:
    return f"> **{escaped(shown.heading)}**\n>\n> {escaped(shown.text)}"


def _lines(shown: b.Lines) -> str:
    return "\n".join(f"- {escaped(label)}: {escaped(b.BLANK)}" for label in shown.labels)


def block_markdown(block: b.Block, folder: str = "pictures") -> str:
    """One block as Markdown; empty for a page break."""
    makers: dict[type, Callable[..., str]] = {
        b.Heading: lambda item: f"{'#' * item.level} {escaped(item.text)}",
        b.Paragraph: inline,
        b.Answer: lambda item: "> " + " ".join(escaped(sentence) for sentence in item.sentences),
        b.Bullets: _bullets,
        b.Beside: lambda item: "\n\n".join(_bullets(part) for part in item.lists),
        b.Columns: lambda item: "\n\n".join(inline(part) for part in item.items),
        b.FactRow: lambda item: _facts(item.items),
        b.Table: _table,
        b.Figure: lambda item: _figure(item, folder),
        b.Ways: _ways,
        b.Pair: lambda item: _pair(item, folder),
        b.Signing: _signing,
        b.Schedule: _table,
        b.Ticks: _ticks,
        b.PhotoPlaces: _photos,
        b.Notice: _notice,
        b.Lines: _lines,
        b.PageBreak: lambda _: "",
    }
    return makers[type(block)](block)


def markdown_of(document: b.Document, folder: str = "pictures") -> str:
    """The whole paper as Markdown; pictures are named as files of `folder`."""
    parts = [block_markdown(block, folder) for block in document.blocks]
    head = f"{escaped(document.header_left)}. {escaped(document.header_right)}"
    return "\n\n".join((head, *(part for part in parts if part), escaped(document.footer))) + "\n"


def figures_of(document: b.Document) -> tuple[b.Figure, ...]:
    """Every picture of the paper that the Markdown names, each once."""
    found: dict[str, b.Figure] = {}
    for block in document.blocks:
        shown = [block] if isinstance(block, b.Figure) else []
        shown += [item[1] for item in block.items] if isinstance(block, b.Pair) else []
        for figure in shown:
            found.setdefault(figure.name, figure)
    return tuple(found.values())
