"""Spanish: the same tables as in English, the same figures, its own count of how easy it reads."""

from __future__ import annotations

import re

import pytest

from compare.views.customer import CustomerView
from proposal.document.build import build
from proposal.document.conditions import rows
from proposal.markdown import markdown_of
from proposal.pdf import pdf_of
from proposal.readability import ease_of, first_page, problems, spanish_syllables
from proposal.words import words_of
from tests.proposal.told_view import told_ranch, told_two_storey

VIEWS = {"ranch": told_ranch(), "two storeys": told_two_storey()}
SHEETS_ONLY = {"sheets", "walk", "walk_colleague"}
ONLY_SPANISH = {("document", "weather_generic"), ("faults", "other")}
FIELDS = re.compile(r"\{([a-z_]+)\}")


def test_every_english_text_has_its_spanish_one() -> None:
    english, spanish = words_of("en").tables, words_of("es").tables
    for table, texts in english.items():
        if table not in SHEETS_ONLY:
            assert set(texts) - set(spanish[table]) == set(), table
    for table, texts in spanish.items():
        if table in english:
            assert {(table, key) for key in set(texts) - set(english[table])} <= ONLY_SPANISH


def test_spanish_asks_for_no_field_that_english_does_not_fill() -> None:
    english, spanish = words_of("en").tables, words_of("es").tables
    extra = {
        (table, key)
        for table, texts in spanish.items()
        for key, text in texts.items()
        if table in english and key in english[table]
        for field in FIELDS.findall(text)
        if field not in FIELDS.findall(english[table][key])
    }
    allowed = {key for key in extra if key[0] == "reasons"}
    assert extra - allowed == set()


@pytest.mark.parametrize("table", ["scope", "cautions", "care", "glossary", "notices"])
def test_tables_have_the_same_rows(table: str) -> None:
    key = "term" if table == "glossary" else "id"
    english, spanish = rows(table, "en"), rows(table, "es")
    if key == "id":
        assert [row["id"] for row in english] == [row["id"] for row in spanish]
    assert len(english) == len(spanish)


@pytest.mark.parametrize("name", VIEWS)
def test_limits_hold(name: str) -> None:
    document = build(VIEWS[name], language="es")
    assert problems(document) == ()
    assert first_page(document).ease >= 70.0


@pytest.mark.parametrize("name", VIEWS)
def test_no_english_is_left(name: str) -> None:
    text = f" {re.sub(r'[^a-záéíóúñü]+', ' ', markdown_of(build(VIEWS[name], language='es')).lower())} "
    for word in ("the", "and", "with", "your", "unit", "rooms", "bedroom", "winter", "heaters", "of"):
        left = re.findall(rf" {word} ", text)
        assert len(left) <= own_names(VIEWS[name], word), word


def own_names(view: CustomerView, word: str) -> int:
    """How often a word may stand there because the house file uses it in a name; such names stay as they are."""
    names = [view.house.name, view.house.place, *(room.name for room in view.plan.rooms)]
    return 10_000 if any(re.search(rf"\b{word}\b", name.lower()) for name in names) else 0


@pytest.mark.parametrize("name", VIEWS)
def test_same_money_as_in_english(name: str) -> None:
    money = re.compile(r"\$[\d,]+")
    english, spanish = (set(money.findall(markdown_of(build(VIEWS[name], language=code)))) for code in ("en", "es"))
    assert english == spanish


def test_pdf_is_made() -> None:
    assert pdf_of(build(VIEWS["ranch"], language="es")).startswith(b"%PDF")


def test_syllables_as_the_spelling_rules_divide_them() -> None:
    """Division by the rules of Spanish orthography (diphthong, hiatus); words counted by hand."""
    words = {"pared": 2, "baño": 2, "energía": 4, "unidad": 3, "aire": 2, "ruido": 2, "día": 2, "oír": 2, "aún": 2}
    words |= {"guía": 2, "que": 1, "pequeñas": 3, "cuarto": 2, "hoy": 1, "mayor": 2, "electricidad": 5, "cae": 2}
    assert {word: spanish_syllables(word) for word in words} == words


def test_ease_by_its_formula() -> None:
    """Fernández Huerta 1959: 206.84 - 0.60 P - 1.02 F, P syllables in 100 words, F words in a sentence."""
    assert ease_of(100, 5, 200) == pytest.approx(206.84 - 0.60 * 200 - 1.02 * 20)
