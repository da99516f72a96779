"""Sixty hostile names through every sink: nothing active, nothing broken, the name still to be read."""

from __future__ import annotations

import io
import re
from functools import cache
from html.parser import HTMLParser
from xml.etree import ElementTree

import markdown
import pypdf
import pytest
from markdown_it import MarkdownIt

from proposal.document.blocks import Document
from proposal.document.build import build
from proposal.files import write_paper
from proposal.markdown import figures_of, markdown_of
from proposal.page import POLICY, page_of
from proposal.pdf import pdf_of, printable
from proposal.words import name
from tests.proposal.hostile import NAMES, with_name

ACTIVE = {"script", "iframe", "object", "embed", "base", "form", "input", "link", "a", "img", "foreignobject", "use"}


class Reader(HTMLParser):
    """Tags, attributes and text of a page, style and pictures aside."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.text: list[str] = []
        self._inside: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(key, value or "") for key, value in attrs]
        if tag in {"style", "svg", "title"}:
            self._inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self._inside and tag == self._inside[-1]:
            self._inside.pop()

    def handle_data(self, data: str) -> None:
        if not self._inside:
            self.text.append(data)


@cache
def paper(text: str) -> Document:
    return build(with_name(text))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_there_are_sixty_different_names() -> None:
    assert len(set(NAMES)) == 60


@pytest.mark.parametrize("text", NAMES)
def test_page_holds_nothing_active(text: str) -> None:
    page = page_of(paper(text))
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert not ACTIVE & set(reader.tags)
    assert not [key for key, _ in reader.attributes if key.startswith("on") or key in {"href", "src", "xlink:href"}]
    assert reader.tags.count("meta") == 3
    assert ("content", POLICY) in reader.attributes
    assert reader.tags.count("style") == 1
    assert squeezed(name(text)) in squeezed("".join(reader.text))


@pytest.mark.parametrize("text", NAMES)
def test_page_has_the_same_skeleton_for_every_name(text: str) -> None:
    """A name that changed the tags outside the pictures would have become markup."""

    def skeleton(page: str) -> list[str]:
        reader = Reader()
        reader.feed(re.sub(r"<svg.*?</svg>", "", page, flags=re.DOTALL))
        return reader.tags

    assert skeleton(page_of(paper(text))) == skeleton(page_of(paper("Plain")))


@pytest.mark.parametrize("text", NAMES)
def test_pictures_are_well_formed_and_still(text: str) -> None:
    """By an XML parser of the standard library."""
    for figure in figures_of(paper(text)):
        root = ElementTree.fromstring(figure.svg)
        for element in root.iter():
            assert element.tag.rpartition("}")[2] not in {*ACTIVE, "image", "animate", "set"}
            assert not [key for key in element.attrib if key.startswith("on") or key.endswith("href")]


@pytest.mark.parametrize("text", NAMES)
def test_markdown_gives_no_html_link_or_foreign_picture(text: str) -> None:
    """By two general-purpose readers: Python-Markdown, and markdown-it with tables and bare addresses as links."""
    made = markdown_of(paper(text))
    tokens = MarkdownIt("gfm-like", {"linkify": False, "html": True}).parse(made)
    inner = [child for token in tokens for child in token.children or []]
    kinds = {token.type for token in [*tokens, *inner]}
    assert not kinds & {"html_block", "html_inline", "link_open", "code_inline", "fence", "code_block", "s_open", "hr"}
    pictures = [child.attrs["src"] for child in inner if child.type == "image"]
    assert pictures == [f"pictures/{name}.svg" for name in ("plan", "profile", "need", "doors", "sound", "money")]
    html = markdown.markdown(made, extensions=["tables"])
    reader = Reader()
    reader.feed(html)
    assert set(reader.tags) <= {
        "p",
        "strong",
        "h1",
        "h2",
        "ul",
        "li",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "img",
        "blockquote",
    }
    assert [value for key, value in reader.attributes if key == "src"] == pictures
    plain = MarkdownIt("gfm-like", {"linkify": False}).parse(markdown_of(paper("Plain")))
    assert [token.type for token in tokens] == [token.type for token in plain]


@pytest.mark.parametrize("text", NAMES)
def test_pdf_is_made_without_warning_and_holds_the_name_as_text(text: str) -> None:
    document = pypdf.PdfReader(io.BytesIO(pdf_of(paper(text))))
    assert "/AA" not in document.trailer["/Root"]
    assert "/OpenAction" not in document.trailer["/Root"]
    assert "/Names" not in document.trailer["/Root"] or "/JavaScript" not in document.trailer["/Root"]["/Names"]
    assert not [page for page in document.pages if "/Annots" in page]
    shown = squeezed(document.pages[0].extract_text()).replace("\u00ad", "")
    wanted = squeezed(printable(name(text)))
    assert wanted[:12] in shown


def test_file_names_never_come_from_the_house(tmp_path) -> None:
    for text in ("../../etc/hosts", "CON", "<script>"):
        written = write_paper(paper(text), tmp_path / "out")
        assert {path.name for path in (written.markdown, written.page, written.pdf)} == {
            "proposal.md",
            "proposal.html",
            "proposal.pdf",
        }
        found = {path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()}
        assert found == {
            "out/proposal.md",
            "out/proposal.html",
            "out/proposal.pdf",
            *(f"out/pictures/{name}.svg" for name in ("plan", "profile", "need", "doors", "sound", "money")),
        }
