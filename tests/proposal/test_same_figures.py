"""The same figures in Markdown, on the page and in the PDF, and all of them those of the view."""

from __future__ import annotations

import io
import re
from html.parser import HTMLParser

import pypdf
import pytest

from compare.units import Kind, System, from_si
from proposal.document.blocks import Document, Figure, Pair, Ways
from proposal.document.build import build
from proposal.markdown import markdown_of
from proposal.page import page_of
from proposal.pdf import pdf_of
from proposal.words import fault_clause, told_of, weak_point
from tests.houses import compared
from tests.proposal.told_view import told_ranch, told_two_storey

VIEWS = {"ranch": told_ranch(), "two storeys": told_two_storey()}
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


class Text(HTMLParser):
    """Text of a page without style, pictures and their tables."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.parts: list[str] = []
        self._skip = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._skip += tag in {"style", "svg", "details", "title"}

    def handle_endtag(self, tag: str) -> None:
        self._skip -= tag in {"style", "svg", "details", "title"}

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self.parts.append(data)


def numbers(text: str) -> list[str]:
    return NUMBER.findall(text)


def svg_numbers(document: Document) -> set[str]:
    """Numbers written inside pictures: the PDF holds their text as well."""
    found: set[str] = set()
    for block in document.blocks:
        figures = [block] if isinstance(block, Figure) else []
        figures += [row.figure for row in block.rows] if isinstance(block, Ways) else []
        figures += [item[1] for item in block.items] if isinstance(block, Pair) else []
        for figure in figures:
            found |= set(numbers(re.sub(r"<[^>]*>", " ", re.sub(r"<(title|desc)>.*?</\1>", "", figure.svg))))
    return found


def markdown_words(document: Document) -> str:
    """Markdown without pictures and the tables of their values."""
    text = markdown_of(document)
    text = re.sub(r"!\[[^\]]*\]\([^)]*\)\n\n(?:\|.*\n)+", "", text)
    text = re.sub(r"!\[[^\]]*\]\([^)]*\)", "", text)
    return re.sub(r"&#(\d+);", lambda match: chr(int(match[1])), text)


def page_words(document: Document) -> str:
    reader = Text()
    reader.feed(page_of(document))
    return " ".join(reader.parts)


def pdf_words(document: Document) -> str:
    pages = []
    for page in pypdf.PdfReader(io.BytesIO(pdf_of(document))).pages:
        text = page.extract_text()
        text = text.replace(document.header_right, "").replace(document.footer, "")
        pages.append(re.sub(r"\b\d of \d\b(?! )", "", text))
    return "\n".join(pages)


@pytest.mark.parametrize("name", VIEWS)
def test_page_and_markdown_hold_the_same_figures_as_often(name: str) -> None:
    document = build(VIEWS[name])
    assert sorted(numbers(page_words(document))) == sorted(numbers(markdown_words(document)))


def _run_together(text: str, pictures: set[str]) -> bool:
    """Whether a figure is the end of one label of a picture and the start of the next, as the extractor reads them."""
    return any(text.startswith(first) and any(n.startswith(text[len(first) :]) for n in pictures) for first in pictures)


@pytest.mark.parametrize("name", VIEWS)
def test_pdf_holds_each_figure_of_the_markdown_and_no_other(name: str) -> None:
    document = build(VIEWS[name])
    ours = set(numbers(markdown_words(document)))
    record = set(numbers(document.footer))
    found = set(numbers(pdf_words(document)))
    assert ours - found - record == set()
    pictures = svg_numbers(document)
    left = found - ours - pictures - {"1", "2", "3", "4", "5"}
    assert [text for text in left if not _run_together(text, pictures)] == []


@pytest.mark.parametrize("name", VIEWS)
def test_every_sink_holds_the_figures_of_the_view(name: str) -> None:
    """Expected texts are made here from the view's SI values, by the stated rounding, not by the words of the paper."""
    view = VIEWS[name]
    document = build(view)
    expected = []
    for card in view.cards:
        facts = view.option(card).facts
        assert facts.coldest_bedroom_c is not None
        assert facts.pillow_dba is not None
        expected += [
            f"{from_si(facts.coldest_bedroom_c, Kind.TEMPERATURE, System.US):.0f} °F",
            f"{facts.pillow_dba:.0f} dB(A)",
            f"${round(facts.price_usd, -2):,.0f}",
            f"${round(facts.bill_usd, -1):,.0f}",
        ]
    for made in (markdown_words(document), page_words(document), pdf_words(document)):
        shown = " ".join(made.replace("\u00a0", " ").split())
        assert [text for text in expected if text not in shown] == []


def test_a_changed_figure_is_noticed() -> None:
    """The check above fails when one sink differs."""
    document = build(VIEWS["ranch"])
    text = markdown_words(document).replace("$15,800", "$15,700")
    assert sorted(numbers(page_words(document))) != sorted(numbers(text))


def test_a_cold_bedroom_has_one_figure_everywhere() -> None:
    """Card, finding, answer and the terminal tell the same room by the same figure."""
    found = compared("ranch")
    told = told_of(found.customer_view())
    (lone,) = (card for card in map(told.view.option, told.view.cards) if card.family == "single_head")
    fault = next(fault for fault in lone.faults if fault.code == "cold_bedroom")
    assert fault.rooms == (lone.facts.coldest_bedroom,)
    assert lone.facts.coldest_bedroom_c is not None
    shown = told.figures.temperature(lone.facts.coldest_bedroom_c)
    index = next(room.index for room in told.view.plan.rooms if room.name == fault.rooms[0])
    assert told.figures.temperature(next(r.morning_c for r in lone.rooms if r.room == index)) == shown
    for text in (fault_clause(fault, told), weak_point(lone, told)):
        assert shown in text
    tenths = from_si(lone.facts.coldest_bedroom_c, Kind.TEMPERATURE, System.US)
    assert f"{fault.rooms[0]} is at {tenths:.1f} °F" in fault.text
