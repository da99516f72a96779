"""How easy a paper reads: grade (English) or ease (Spanish) by section, length of sentences, words that stay out.

English: grade = 0.39 words per sentence + 11.8 syllables per word - 15.59 (Kincaid and others 1975), syllables by
groups of vowels, a silent ending dropped. Spanish: ease = 206.84 - 0.60 syllables per 100 words - 1.02 words per
sentence (Fernández Huerta 1959). Headings, names of columns and blocks that the law words are not counted.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from proposal.document import blocks as b

FIRST_PAGE_EASE = 70.0
"""Fernández Huerta: 70 to 80 is rather easy, 60 to 70 normal."""
SECTION_EASE = 65.0
FIRST_PAGE_GRADE = 7.0
SECTION_GRADE = 8.0
AVERAGE_WORDS = 14.0
LONGEST_WORDS = 25
_SENTENCE_END = re.compile(r"(?<=[.!?])[\"')]*\s+(?=[A-ZÁÉÍÓÚÑ0-9$\"(¿¡])")
_WORD = re.compile(r"[^\s]*[^\W_][^\s]*")
_VOWELS = re.compile("[aeiouy]+")
_SILENT = re.compile(r"(?:[^laeiouyscxzgh]es|ed|[^aeiouyl]e|[aeiouy]le)$")
_LETTERS = re.compile("[^a-z]")


def syllables(word: str) -> int:
    """Syllables of a word by its groups of vowels; at least one, also for a number."""
    bare = _LETTERS.sub("", word.lower())
    silent = len(bare) > 3 and _SILENT.search(bare) is not None and not bare.endswith(("ted", "ded"))
    return max(1, len(_VOWELS.findall(bare)) - silent)


_SPANISH_LETTERS = re.compile("[^a-záéíóúüñ]")
_SPANISH_NUCLEUS = re.compile("[iuüy]?[aeoáéó][iuüy]?|[iuü]?[íú][iuü]?|[iuüy]+")
"""A strong vowel with the weak ones beside it, a stressed weak vowel alone, or weak vowels together."""


def spanish_syllables(word: str) -> int:
    """Syllables of a Spanish word by its nuclei: `pared` 2, `energía` 4, `aire` 2; at least one."""
    bare = _SPANISH_LETTERS.sub("", word.lower())
    bare = re.sub("([gq])u(?=[eéií])", r"\1", bare)
    bare = re.sub("y(?=[aeiouáéíóú])", "ll", bare)
    return max(1, len(_SPANISH_NUCLEUS.findall(bare)))


def words_in(text: str) -> list[str]:
    """Words and numbers of a text."""
    return _WORD.findall(text.replace("\u00a0", " "))


def sentences_in(text: str) -> list[str]:
    """Sentences of a text; a colon does not end one."""
    return [part for part in _SENTENCE_END.split(text.replace("\u00a0", " ").strip()) if words_in(part)]


def grade_of(words: int, sentences: int, syllable_count: int) -> float:
    """Flesch-Kincaid grade from counts."""
    return 0.39 * words / sentences + 11.8 * syllable_count / words - 15.59


def ease_of(words: int, sentences: int, syllable_count: int) -> float:
    """Fernández Huerta's ease of reading from counts: 100 very easy, 0 very hard."""
    return 206.84 - 60.0 * syllable_count / words - 1.02 * words / sentences


@dataclass(frozen=True, slots=True)
class Reading:
    """Counts of a piece of text."""

    name: str
    words: int
    sentences: int
    syllables: int
    longest_words: int
    longest: str
    language: str = "en"

    @property
    def score(self) -> float:
        """Grade of an English text, ease of a Spanish one."""
        return self.ease if self.language == "es" else self.grade

    @property
    def ease(self) -> float:
        """Fernández Huerta's ease."""
        return ease_of(self.words, self.sentences, self.syllables)

    def trouble(self, *, first: bool) -> str:
        """What is too hard, with the limit; empty when it reads well."""
        if self.language == "es":
            least = FIRST_PAGE_EASE if first else SECTION_EASE
            return f"has an ease of {self.ease:.0f}, at least {least:.0f}" if self.ease < least else ""
        most = FIRST_PAGE_GRADE if first else SECTION_GRADE
        return f"reads at grade {self.grade:.1f}, at most {most:.0f}" if self.grade > most else ""

    @property
    def grade(self) -> float:
        """Flesch-Kincaid grade."""
        return grade_of(self.words, self.sentences, self.syllables)

    @property
    def average_words(self) -> float:
        """Words in a sentence on average."""
        return self.words / self.sentences


def reading_of(name: str, texts: list[str], language: str = "en") -> Reading:
    """Counts of texts; each ends its last sentence, with or without a full stop.

    Raises
    ------
    ValueError
        When there is no word at all.
    """
    sentences = [sentence for text in texts for sentence in sentences_in(text)]
    if not sentences:
        raise ValueError(f"{name}: no words to read")
    count_in = spanish_syllables if language == "es" else syllables
    counts = [words_in(sentence) for sentence in sentences]
    longest = max(range(len(counts)), key=lambda index: len(counts[index]))
    return Reading(
        name=name,
        words=sum(len(count) for count in counts),
        sentences=len(counts),
        syllables=sum(count_in(word) for count in counts for word in count),
        longest_words=len(counts[longest]),
        longest=sentences[longest],
        language=language,
    )


def _paragraph(paragraph: b.Paragraph) -> str:
    return f"{paragraph.lead} {paragraph.text}".strip()


def texts_of(block: b.Block) -> list[str]:
    """The running words of a block; none for headings, plain tables and what the law words."""
    if isinstance(block, b.Paragraph):
        return [_paragraph(block)]
    if isinstance(block, b.Answer):
        return list(block.sentences)
    if isinstance(block, b.Bullets | b.Columns | b.Ticks):
        return [_paragraph(item) for item in block.items]
    if isinstance(block, b.Beside):
        return [text for part in block.lists for text in texts_of(part)]
    if isinstance(block, b.FactRow):
        return [f"{item.value} {item.note}" for item in block.items]
    if isinstance(block, b.Ways):
        return [text for row in block.rows for text in (f"{row.name}.", row.note)]
    if isinstance(block, b.Pair):
        return [f"{item.value} {item.note}" for _, _, facts in block.items for item in facts]
    return []


def language_of(document: b.Document) -> str:
    """As in `en`."""
    return document.language.partition("-")[0]


def _sections(document: b.Document) -> Iterator[tuple[str, list[str]]]:
    name, texts = "", list[str]()
    for block in document.blocks:
        if isinstance(block, b.Heading):
            if texts and name:
                yield name, texts
                texts = []
            name = block.text
        else:
            texts += texts_of(block)
    if texts:
        yield name, texts


def sections(document: b.Document) -> tuple[Reading, ...]:
    """Counts of every section, from one heading to the next; the lines above the first belong to it."""
    return tuple(reading_of(name, texts, language_of(document)) for name, texts in _sections(document))


def first_page(document: b.Document) -> Reading:
    """Counts of the first page: all before the table of ways."""
    texts: list[str] = []
    for block in document.blocks:
        if isinstance(block, b.PageBreak | b.Ways):
            break
        texts += texts_of(block)
    return reading_of("page 1", texts, language_of(document))


@cache
def banned(language: str = "en") -> dict[str, str]:
    """Words that stay out of papers for homeowners, and what to write instead."""
    text = (files(f"proposal.data.{language}") / "banned.csv").read_text(encoding="utf-8")
    return {row["word"]: row["instead"] for row in csv.DictReader(text.splitlines())}


def banned_in(text: str, language: str = "en") -> list[str]:
    """Banned words in a text; words in capitals only count as written."""
    found = []
    for word in banned(language):
        flags = 0 if word.isupper() else re.IGNORECASE
        if re.search(rf"(?<![\w-]){re.escape(word)}s?(?![\w-])", text, flags):
            found.append(word)
    return found


def _every_text(document: b.Document) -> Iterator[str]:
    for block in document.blocks:
        yield from texts_of(block)
        if isinstance(block, b.Heading):
            yield block.text
        if isinstance(block, b.Figure):
            yield block.alt


def problems(document: b.Document) -> tuple[str, ...]:
    """What breaks the limits, each with its section and its cure; empty when all is well."""
    found = []
    page = first_page(document)
    if trouble := page.trouble(first=True):
        found.append(f"page 1 {trouble}: shorten words")
    for part in sections(document):
        if trouble := part.trouble(first=False):
            found.append(f"'{part.name}' {trouble}: shorten words")
        if part.average_words > AVERAGE_WORDS:
            found.append(f"'{part.name}' has {part.average_words:.1f} words a sentence: split some")
        if part.longest_words > LONGEST_WORDS:
            found.append(f"'{part.name}' has a sentence of {part.longest_words} words: split '{part.longest[:60]}...'")
    language = language_of(document)
    for text in _every_text(document):
        found += [f"'{word}' in '{text[:60]}': write {banned(language)[word]}" for word in banned_in(text, language)]
    return tuple(found)
