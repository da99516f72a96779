"""The paper as one HTML page: no script, no request to anywhere, print style and fonts inside.

Words come from the Markdown of each block and pass an allow-list; pictures are put in by this module alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from html import escape
from importlib.resources import files

from proposal.document import blocks as b
from proposal.fonts import embedded_css
from proposal.markdown import block_markdown

TAGS = {"p", "strong", "ul", "li", "h1", "h2", "h3", "blockquote", "table", "thead", "tbody", "tr", "th", "td"}
POLICY = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:"
_CSS_UNSAFE = re.compile(r"[^A-Za-z0-9 .,:]")


def clean_html(markdown_text: str) -> str:
    """Markdown as HTML that holds nothing but the allowed tags, without attributes."""
    import markdown
    import nh3

    made = markdown.markdown(markdown_text, extensions=["tables"], output_format="html")
    return nh3.clean(made, tags=TAGS, attributes={}, strip_comments=True, link_rel=None)


def _prose(block: b.Block) -> str:
    return clean_html(block_markdown(block))


def _box(kind: str, inside: Iterable[str]) -> str:
    return f'<div class="{kind}">{"".join(inside)}</div>'


def _picture(figure: b.Figure) -> str:
    share = min(100.0, 100.0 * figure.width_px / 640.0)
    picture = f'<div class="picture" style="width:{share:.4g}%">{figure.svg}</div>'
    if figure.table is None:
        return f"<figure>{picture}</figure>"
    values = f"<details><summary>{escape(figure.table.caption)}</summary>{_prose(figure.table)}</details>"
    return f"<figure>{picture}{values}</figure>"


def _paragraph(paragraph: b.Paragraph) -> str:
    return _box(paragraph.style, [_prose(paragraph)])


def _facts(items: tuple[b.FactItem, ...]) -> str:
    cells = (f'<div class="fact"><dt>{escape(item.note)}</dt><dd>{escape(item.value)}</dd></div>' for item in items)
    return f'<dl class="facts">{"".join(cells)}</dl>'


def _ways(shown: b.Ways) -> str:
    head = "".join(f'<th scope="col">{escape(title)}</th>' for title in shown.head)
    rows = []
    for way in shown.rows:
        mark = f' <span class="mark">{escape(way.mark)}</span>' if way.mark else ""
        name = f'<span class="name">{escape(way.name)}.</span>{mark}<span class="note">{escape(way.note)}</span>'
        cells = "".join(f"<td>{escape(cell)}</td>" for cell in way.cells)
        kind = ' class="ours"' if way.ours else ""
        rows.append(f'<tr{kind}><td class="house">{way.figure.svg}</td><th scope="row">{name}</th>{cells}</tr>')
    first = f'<th scope="col" colspan="2">{escape(shown.name_head)}</th>'
    body = "".join(rows)
    return (
        f'<div class="wide"><table class="ways"><caption>{escape(shown.caption)}</caption>'
        f"<thead><tr>{first}{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _pair(shown: b.Pair) -> str:
    parts = (
        f'<div class="one"><h3>{escape(name)}</h3><div class="picture">{figure.svg}</div>{_facts(facts)}</div>'
        for name, figure, facts in shown.items
    )
    return _box("pair", parts)


def _bullets(shown: b.Bullets) -> str:
    return _box("list two" if shown.columns > 1 else "list", [_prose(shown)])


def _signing(shown: b.Signing) -> str:
    parties = []
    for party in shown.parties:
        blanks = "".join(
            f'<span class="blank"></span><span class="under">{escape(label)}</span>' for label in shown.labels
        )
        parties.append(f'<div class="party"><strong>{escape(party)}</strong>{blanks}</div>')
    return _box("signing", [*parties, f'<p class="statement">{escape(shown.statement)}</p>'])


def _schedule(shown: b.Schedule) -> str:
    def row(cells: tuple[str, ...], tag: str) -> str:
        sides = zip(cells, shown.align, strict=True)
        return "".join(f'<{tag} class="{side}">{escape(cell)}</{tag}>' for cell, side in sides)

    total = sum(shown.weights)
    widths = "".join(f'<col style="width:{100.0 * weight / total:.3g}%">' for weight in shown.weights)
    head = f"<thead><tr>{row(shown.head, 'th')}</tr></thead>"
    body = "".join(f"<tr>{row(cells, 'td')}</tr>" for cells in shown.rows)
    return (
        f'<div class="wide"><table class="schedule"><caption>{escape(shown.caption)}</caption>'
        f"<colgroup>{widths}</colgroup>{head}<tbody>{body}</tbody></table></div>"
    )


def _ticks(shown: b.Ticks) -> str:
    kind = "ticks two" if shown.columns > 1 else "ticks"
    items = (
        f'<li><span class="box"></span><span><strong>{escape(item.lead)}</strong> {escape(item.text)}</span></li>'
        for item in shown.items
    )
    return f'<ul class="{kind}">{"".join(items)}</ul>'


def _photos(shown: b.PhotoPlaces) -> str:
    frames = (f'<div class="photo"><div class="frame"></div>{escape(label)}</div>' for label in shown.labels)
    return _box("photos", frames)


def _notice(shown: b.Notice) -> str:
    return _box("notice", [f"<strong>{escape(shown.heading)}</strong>", f"<p>{escape(shown.text)}</p>"])


def _lines(shown: b.Lines) -> str:
    under = (f'<span class="under">{escape(label)}</span>' for label in shown.labels)
    return _box("lines", (f'<div><span class="blank"></span>{label}</div>' for label in under))


def _block_html(block: b.Block) -> str:
    makers: dict[type, Callable[..., str]] = {
        b.Heading: _prose,
        b.Paragraph: _paragraph,
        b.Answer: lambda item: _box("answer advice" if item.advice else "answer", [_prose(item)]),
        b.Bullets: _bullets,
        b.Beside: lambda item: _box("beside", (_bullets(part) for part in item.lists)),
        b.Columns: lambda item: _box("columns", (_paragraph(part) for part in item.items)),
        b.FactRow: lambda item: _facts(item.items),
        b.Table: _prose,
        b.Figure: _picture,
        b.Ways: _ways,
        b.Pair: _pair,
        b.Signing: _signing,
        b.Schedule: _schedule,
        b.Ticks: _ticks,
        b.PhotoPlaces: _photos,
        b.Notice: _notice,
        b.Lines: _lines,
    }
    return makers[type(block)](block)


def _sheets(document: b.Document) -> list[str]:
    sheets: list[list[str]] = [[]]
    for part in b.parts_of(document.blocks):
        if isinstance(part[0], b.PageBreak):
            sheets.append([])
            continue
        made = [_block_html(block) for block in part]
        sheets[-1] += [_box("part", made)] if document.packed else made
    return [f'<section class="sheet">{"".join(parts)}</section>' for parts in sheets]


def _css(document: b.Document) -> str:
    style = (files("proposal.templates") / "proposal.css").read_text(encoding="utf-8")
    size = {"us-letter": "letter", "a4": "A4"}[document.paper]
    footer = _CSS_UNSAFE.sub(" ", document.footer)
    pages = (
        f"@page{{size:{size};margin:0.65in 0.85in 0.75in;"
        f'@bottom-left{{content:"{footer}"}}@bottom-right{{content:counter(page) " / " counter(pages)}}}}'
    )
    return f"{embedded_css()}\n{style}\n{pages}"


def page_of(document: b.Document) -> str:
    """The whole paper as a page that stands alone."""
    head = (
        f'<p class="head"><span>{escape(document.header_left)}</span><span>{escape(document.header_right)}</span></p>'
    )
    foot = f'<p class="foot">{escape(document.footer)}</p>'
    return (
        f'<!doctype html>\n<html lang="{escape(document.language)}"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        f"<title>{escape(document.title)}</title><style>{_css(document)}</style></head>"
        f'<body><main class="paper">{head}{"".join(_sheets(document))}{foot}</main></body></html>\n'
    )
