"""Grades by section; limits of the papers of both sample houses, for every layout."""

from __future__ import annotations

import pytest

from proposal.document.blocks import Document, Heading, Paragraph, Signing
from proposal.document.build import build
from proposal.readability import (
    AVERAGE_WORDS,
    FIRST_PAGE_GRADE,
    LONGEST_WORDS,
    SECTION_GRADE,
    banned_in,
    first_page,
    grade_of,
    problems,
    reading_of,
    sections,
    sentences_in,
    syllables,
    texts_of,
)
from tests.proposal.told_view import told_ranch, told_two_storey

VIEWS = {"ranch": told_ranch(), "two storeys": told_two_storey()}
PAPERS = [(name, option) for name, view in VIEWS.items() for option in (None, *(item.id for item in view.options))]


def paper(*texts: str) -> Document:
    blocks = (Heading(1, "One wall unit is enough here."), *(Paragraph(text) for text in texts))
    return Document("A paper", "en-US", "", "", "", "us-letter", "", blocks)


def test_grade_of_the_worked_example_of_an_encyclopedia() -> None:
    """An encyclopedia's article on these tests gives 13 words, 24 syllables and grade 11.3 (from memory)."""
    text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    reading = reading_of("example", [text])
    assert (reading.words, reading.sentences, reading.syllables) == (13, 1, 24)
    assert reading.grade == pytest.approx(11.3, abs=0.05)


def test_grade_follows_the_published_formula() -> None:
    """Kincaid, Fishburne, Rogers and Chissom (1975): 0.39 words per sentence + 11.8 syllables per word - 15.59."""
    assert grade_of(100, 10, 150) == pytest.approx(3.9 + 17.7 - 15.59)


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("heat", 1), ("heated", 2), ("stayed", 1), ("vents", 1), ("bedroom", 2), ("bedrooms", 2), ("table", 2),
        ("whole", 1), ("advice", 2), ("electric", 3), ("hidden", 2), ("unit", 2), ("pillow", 2), ("69", 1), ("°F", 1),
        ("refrigerant", 4), ("needed", 2), ("comes", 1), ("sizes", 2),
    ],
)  # fmt: skip
def test_syllables_of_words_as_a_dictionary_divides_them(word: str, count: int) -> None:
    """Division of common words in any English dictionary (from memory)."""
    assert syllables(word) == count


def test_sentences_end_at_full_stops_and_not_in_hours_or_decimals() -> None:
    text = "At 6 a.m. on cold days it is 9.7 kBtu/h. The next one is short."
    assert sentences_in(text) == ["At 6 a.m. on cold days it is 9.7 kBtu/h.", "The next one is short."]


@pytest.mark.parametrize(("name", "option"), PAPERS)
def test_papers_keep_to_the_limits(name: str, option: str | None) -> None:
    """Limits: our judgement after the plain language guidance of US bodies (8th grade or below)."""
    document = build(VIEWS[name], option)
    assert problems(document) == ()
    assert first_page(document).grade <= FIRST_PAGE_GRADE
    for part in sections(document):
        assert part.grade <= SECTION_GRADE, part
        assert part.average_words <= AVERAGE_WORDS, part
        assert part.longest_words <= LONGEST_WORDS, part


def test_a_hard_paper_is_found_out() -> None:
    hard = (
        "The concealed air handler modulates its capacity so that intermittent operation below the minimum output of "
        "the compressor, which deteriorates seasonal efficiency in every season considerably, is avoided if possible."
    )
    found = "\n".join(problems(paper(hard)))
    assert "grade" in found
    assert "words a sentence" in found
    assert "sentence of" in found
    assert "'capacity'" in found


def test_banned_words_count_as_words_only() -> None:
    assert banned_in("The Load, in tons.") == ["load", "tons"]
    assert banned_in("A download of buttons, ahead of the headline and overhead.") == []
    assert banned_in("cop a SEER") == ["SEER"]


def test_words_of_the_law_are_not_counted() -> None:
    assert texts_of(Signing(("owner",), ("name",), "Notwithstanding the aforementioned")) == []


def test_every_section_of_the_paper_is_counted() -> None:
    document = build(VIEWS["ranch"])
    headings = [block.text for block in document.blocks if isinstance(block, Heading)]
    assert [part.name for part in sections(document)] == headings
