"""The PDF: tagged, still, the same bytes each time; letters that the fonts lack; errors that are told."""

from __future__ import annotations

import io
import re

import pypdf
import pytest

from compare.views.customer import CustomerView
from proposal.document.blocks import Bullets, Document, Figure, Heading, Paragraph, Ways
from proposal.document.build import build
from proposal.fonts import advance_widths
from proposal.pdf import TEXT_PT, PaperError, pdf_of, printable
from tests.proposal.told_view import told_ranch, told_two_storey

POINTS = {"us-letter": (612.0, 792.0), "a4": (595.28, 841.89)}


@pytest.fixture(scope="module")
def ranch() -> Document:
    return build(told_ranch())


@pytest.fixture(scope="module")
def reader(ranch: Document) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf_of(ranch)))


def test_same_view_gives_the_same_bytes(ranch: Document) -> None:
    assert pdf_of(ranch) == pdf_of(build(told_ranch()))


def test_a_changed_view_gives_another_record_and_other_bytes(ranch: Document) -> None:
    view = told_ranch()
    changed = view.model_copy(update={"heat_load_w": view.heat_load_w + 1.0})
    other = build(changed)
    assert other.footer != ranch.footer
    assert pdf_of(other) != pdf_of(ranch)


def test_tags_title_and_language(reader: pypdf.PdfReader) -> None:
    """What PDF/UA-1 (ISO 14289-1) asks of the catalogue: marked, a structure tree, a language, a shown title."""
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert str(root["/Lang"]).lower() == "en-us"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Estimate for The sample ranch"


def _elements(node: pypdf.generic.DictionaryObject) -> list[pypdf.generic.DictionaryObject]:
    found = []
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        item = kid.get_object()
        if isinstance(item, pypdf.generic.DictionaryObject) and "/S" in item:
            found += [item, *_elements(item)]
    return found


def test_structure_tree_has_headings_tables_and_a_text_for_each_picture(
    reader: pypdf.PdfReader, ranch: Document
) -> None:
    elements = _elements(reader.trailer["/Root"]["/StructTreeRoot"])
    kinds = [str(item["/S"]) for item in elements]
    headings = [block for block in ranch.blocks if isinstance(block, Heading)]
    assert kinds.count("/H1") == sum(block.level == 1 for block in headings) == 1
    assert kinds.count("/H2") == sum(block.level == 2 for block in headings)
    assert kinds.count("/TH") >= 6
    figures = [item for item in elements if item["/S"] == "/Figure"]
    rows = next(block for block in ranch.blocks if isinstance(block, Ways)).rows
    assert len(figures) == len(rows) + sum(isinstance(block, Figure) for block in ranch.blocks)
    assert all(str(item["/Alt"]).strip() for item in figures)


def test_pages_are_few_and_of_the_right_paper(reader: pypdf.PdfReader) -> None:
    assert len(reader.pages) == 6
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(POINTS["us-letter"], abs=0.5)


def test_si_house_is_on_a4_in_celsius() -> None:
    view = told_ranch()
    house = view.house.model_copy(update={"units": "SI", "weather_error": ""})
    document = build(view.model_copy(update={"house": house}))
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(document)))
    page = reader.pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(POINTS["a4"], abs=0.5)
    text = page.extract_text().replace("\u00a0", " ")
    assert "20.6 °C" in text
    assert "°F" not in "".join(each.extract_text() for each in reader.pages)


def test_first_page_answers_alone(reader: pypdf.PdfReader) -> None:
    text = " ".join(reader.pages[0].extract_text().replace("\u00a0", " ").split())
    for said in (
        "One wall unit for the open space,",
        "69 °F",
        "24 dB(A)",
        "$15,800",
        "$710",
        "Where the mix loses:",
        "likely the best for you.",
    ):
        assert said in text
    assert "Estimate" in text
    assert text.rstrip().endswith("1 of 6")


@pytest.mark.parametrize("view", [told_ranch(), told_two_storey()], ids=["ranch", "two storeys"])
def test_nothing_runs_over_the_margins(view: CustomerView) -> None:
    """Every piece of text on every page stands inside the margins of 0.85 in. (61 pt) and the page."""
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(build(view))))
    for page in reader.pages:
        places: list[tuple[float, float]] = []

        def place(text: str, _cm: object, matrix: list[float], _font: object, _size: float, found=places) -> None:
            if text.strip():
                found.append((matrix[4], matrix[5]))

        page.extract_text(visitor_text=place)
        assert places
        assert min(x for x, _ in places) >= 0.0
        assert max(x for x, _ in places) <= 612.0 - 61.0 + 1.0
        assert min(y for _, y in places) >= -2.0


def test_only_vendored_fonts_are_used(reader: pypdf.PdfReader) -> None:
    names = set()
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            names.add(re.sub(r"^/[A-Z]{6}\+", "", font.get_object()["/BaseFont"]).partition("-")[0].lstrip("/"))
    assert {name for name in names if not name.startswith(("Literata", "Figtree"))} == set()


def test_letters_that_the_fonts_lack_are_shown_by_others() -> None:
    glyphs = set.intersection(*(set(face) for face in advance_widths().values()))
    shown = printable("Łódź naïve 東京 ﬁne ≥ 5")
    assert shown.startswith("Łódź naïve ?? fine ? 5")
    assert set(shown) <= glyphs | {"\u00a0"}


def test_missing_letter_in_a_name_does_not_stop_the_paper() -> None:
    view = told_ranch()
    house = view.house.model_copy(update={"name": "東京の家"})
    assert pdf_of(build(view.model_copy(update={"house": house})))[:5] == b"%PDF-"


def test_picture_that_is_no_picture_is_told() -> None:
    document = build(told_ranch())
    broken = Figure("x", "<svg", "x", 10.0, 10.0)
    with pytest.raises(PaperError, match="PDF could not be made"):
        pdf_of(Document("x", "en-US", "", "", "", "us-letter", "{page}", (Heading(1, "x"), broken)))
    assert document.blocks


def test_picture_without_a_text_is_refused_by_the_standard() -> None:
    blocks = (Heading(1, "x"), Paragraph("x"), Bullets((Paragraph("x"),)), Figure("x", _SQUARE, "", 10.0, 10.0))
    with pytest.raises(PaperError, match="alt"):
        pdf_of(Document("x", "en-US", "", "", "", "us-letter", "{page}", blocks))


_SQUARE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10" width="10" height="10">'
    '<rect width="9" height="9"/></svg>'
)


def test_large_sentence_breaks_behind_its_comma(ranch: Document, reader: pypdf.PdfReader) -> None:
    lines = [" ".join(line.replace("\u00a0", " ").split()) for line in reader.pages[0].extract_text().splitlines()]
    assert "One wall unit for the open space," in lines
    assert "a hidden one for the bedrooms." in lines
    assert ranch.headline == "One wall unit for the open space, a hidden one for the bedrooms."
    assert POINTS["a4"][0] - 2 * 61.2 > TEXT_PT
