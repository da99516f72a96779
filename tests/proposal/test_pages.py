"""Pages of the PDF: none half empty in the middle, no picture or table apart from its heading, parts in their order."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise

import pypdf
import pytest

from compare.views.customer import CustomerView
from proposal.document.blocks import Document, Figure, Heading, Paragraph, Schedule, Table, parts_of
from proposal.document.build import Extras, build
from proposal.extras import outside_of, with_doors
from proposal.pdf import pdf_of
from proposal.words import told_of
from tests.houses import compared
from tests.proposal.told_view import told_ranch, told_two_storey

LEAST_FILLED = 0.6
"""Of the height of the text; a page that is less full would look half empty."""
TOP_PT, BOTTOM_PT = 68.0, 61.0
"""Margins of a page (0.95 in., 0.85 in.)."""
FOOT_PT = 55.0


def in_metric(view: CustomerView) -> CustomerView:
    return view.model_copy(update={"house": view.house.model_copy(update={"units": "SI", "weather_error": ""})})


VIEWS = {
    "ranch": told_ranch(),
    "two storeys": told_two_storey(),
    "metric": in_metric(told_ranch()),
    "offer": told_ranch().model_copy(update={"house": told_ranch().house.model_copy(update={"estimate": False})}),
}
PAPERS = [(name, language) for name in VIEWS for language in ("en", "es")]


def pages_of(document: Document) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(pdf_of(document))).pages)


def lowest_pt(page: pypdf.PageObject) -> float:
    """Height of the lowest text over the footer."""
    found: list[float] = []

    def place(text: str, page_matrix: list[float], matrix: list[float], _font: object, _size: float) -> None:
        y = page_matrix[1] * matrix[4] + page_matrix[3] * matrix[5] + page_matrix[5]
        if text.strip() and y > FOOT_PT:
            found.append(y)

    page.extract_text(visitor_text=place)
    return min(found)


def filled(page: pypdf.PageObject) -> float:
    """Share of the height of the text that is used."""
    top, height = float(page.mediabox.height) - TOP_PT, float(page.mediabox.height) - TOP_PT - BOTTOM_PT
    return (top - lowest_pt(page)) / height


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text.replace("\u00a0", ""))


def check_filled(document: Document) -> None:
    pages = pages_of(document)
    forms = [place for place, page in enumerate(pages) if re.search("cop(y|ia) 1", page.extract_text())]
    shares = [round(filled(page), 2) for page in pages[: min([*forms, len(pages)]) - 1]]
    assert min(shares) >= LEAST_FILLED, shares


def told_in(part: tuple[object, ...]) -> list[str]:
    """What of a part must stand on the page of its heading: first words, ends of tables, labels of pictures."""
    said = []
    for block in part:
        if isinstance(block, Paragraph):
            said.append(f"{block.lead} {block.text}"[:30])
        elif isinstance(block, Table | Schedule):
            said += [block.rows[-1][0], block.rows[-1][-1]]
        elif isinstance(block, Figure):
            labels = re.findall(r"<text[^>]*>([^<&]{4,})</text>", block.svg)
            said += [max(labels, key=len)] if labels else []
    return said


@cache
def paper(name: str, language: str) -> tuple[Document, tuple[str, ...]]:
    """A paper and the text of its pages."""
    document = build(VIEWS[name], language=language)
    return document, tuple(squeezed(page.extract_text()) for page in pages_of(document))


@pytest.mark.parametrize(("name", "language"), PAPERS)
def test_no_page_before_the_last_is_half_empty(name: str, language: str) -> None:
    check_filled(paper(name, language)[0])


@pytest.mark.parametrize(("name", "language"), PAPERS)
def test_every_part_stands_on_the_page_of_its_heading(name: str, language: str) -> None:
    document, pages = paper(name, language)
    for part in parts_of(document.blocks):
        if isinstance(part[0], Heading):
            here = [page for page in pages if squeezed(part[0].text) in page]
            wanted = [squeezed(text) for text in told_in(part)]
            assert any(all(text in page for text in wanted) for page in here), (part[0].text, wanted)


@pytest.mark.parametrize(("name", "language"), PAPERS)
def test_what_the_price_covers_never_stands_before_the_price(name: str, language: str) -> None:
    document, pages = paper(name, language)
    text = "".join(pages)
    headings = [part[0] for part in parts_of(document.blocks) if isinstance(part[0], Heading)]
    pairs = [(one, other) for one, other in pairwise(headings) if other.after]
    assert pairs
    for before, after in pairs:
        assert text.index(squeezed(before.text)) < text.index(squeezed(after.text))


def test_parts_hold_every_block_once_and_in_order() -> None:
    document = build(told_ranch())
    parts = parts_of(document.blocks)
    assert tuple(block for part in parts for block in part) == document.blocks
    assert all(
        not isinstance(block, Heading) or block.joined or block.level == 1 for part in parts for block in part[1:]
    )


@pytest.mark.slow
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", ["ranch", "colonial", "accessory_unit"])
def test_papers_of_real_comparisons_are_filled_and_show_the_outside(name: str, language: str) -> None:
    found = compared(name)
    view = with_doors(found, found.customer_view())
    told = told_of(view, language)
    walls = outside_of(found, told)
    document = build(view, language=language, extras=Extras(walls=walls))
    check_filled(document)
    assert walls
    figures = [block.name for block in document.blocks if isinstance(block, Figure)]
    assert len(figures) == len(set(figures))
    assert {"profile", "money", "doors", "sound", "need"} <= set(figures)
