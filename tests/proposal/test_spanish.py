"""Spanish: the same tables as in English, the same figures, its own count of how easy it reads."""

from __future__ import annotations

import html
import re

import pytest

from compare.commands.air import designer_view_of
from compare.views.customer import CustomerView
from proposal.document.build import build
from proposal.document.conditions import rows
from proposal.drawing.airpath import air_path
from proposal.drawing.desk import desk_plan
from proposal.drawing.elevation import elevations_picture
from proposal.drawing.words import local, words_for
from proposal.extras import outside_of
from proposal.markdown import markdown_of
from proposal.pdf import pdf_of
from proposal.readability import ease_of, first_page, problems, spanish_syllables
from proposal.sheets.make import given_of, sheets_of
from proposal.sheets.trade import Trade
from proposal.words import plain, told_of, words_of
from proposal.words.phrases import GAP, phrases_of
from proposal.words.phrases import rows as phrase_rows
from tests.houses import compared
from tests.proposal.told_view import told_ranch, told_two_storey

VIEWS = {"ranch": told_ranch(), "two storeys": told_two_storey()}
ONLY_SPANISH = {("document", "weather_generic"), ("faults", "other")}
FIELDS = re.compile(r"\{([a-z_]+)\}")


def test_every_english_text_has_its_spanish_one() -> None:
    english, spanish = words_of("en").tables, words_of("es").tables
    for table, texts in english.items():
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


TABLES = ["scope", "cautions", "care", "glossary", "notices", "crew", "tests", "teach", "basis_sources"]


@pytest.mark.parametrize("table", TABLES)
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


NAMES_OF_OURS = {
    "bath ceiling drop under the loft",
    "laundry closet, upright or hung",
    "under the floor, between piers",
}
"""Spaces named in scenarios; a name typed by a person stays as it is."""


@pytest.mark.slow
@pytest.mark.parametrize(("house", "most"), [("ranch", 5), ("colonial", 1), ("cabin", 3), ("accessory_unit", 3)])
def test_every_text_of_the_designers_view_is_said_in_spanish(
    house: str, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All sheets of the first layouts on the cards of a house."""
    asked: set[str] = set()
    monkeypatch.setattr(Trade, "told", lambda trade, text: asked.add(plain(text)) or text)
    found = compared(house)
    for option in found.customer_view().cards[:most]:
        sheets_of(given_of(found, option), "es")
    unsaid = {text for text in asked if phrases_of("es").find(text) is None}
    assert len(asked) > 60
    assert unsaid - NAMES_OF_OURS == set()


def test_phrases_keep_names_and_figures() -> None:
    """By hand: gaps keep what a person typed, also where it looks like a phrase."""
    say = phrases_of("es-US").find
    assert say("from the west end of the north wall") == "desde el extremo oeste de la pared norte"
    assert say("wall head 12: larger than needed: a smaller size covers both loads") == (
        "unidad de pared 12: más grande de lo necesario: un tamaño menor cubre las dos cargas"
    )
    assert say("attic, door shut") == "attic, puerta cerrada"
    assert say("H1 fits attic") == "H1 cabe en: ático"
    assert say("0.20 in. w.c.") == "0.20 in. w.c."
    assert say("zoo") is None
    assert phrases_of("en").find("zoo") is None


def test_phrases_fill_every_gap() -> None:
    for row in phrase_rows("es"):
        names = [sorted(filter(None, (gap for match in GAP.findall(row[key]) for gap in match))) for key in row]
        assert names[0] == names[1], row


def test_units_in_spanish() -> None:
    """By hand: one foot is `pie`, compound units stay."""
    words = words_for("es")
    assert local("1 ft 6 in.", words) == "1 pie 6 pulg."
    assert local("11 ft, 0.10 in.\u00a0w.c.", words) == "11 pies, 0.10 pulg.\u00a0c.a."
    assert local("0.73 Btu/h·ft·°F, 40 ft³/min", words) == "0.73 Btu/h·ft·°F, 40 pies³/min"
    assert local("1 ft 6 in.", words_for("en")) == "1 ft 6 in."


@pytest.mark.parametrize("house", ["ranch", "colonial"])
def test_drawings_of_the_crew_are_in_spanish(house: str) -> None:
    """No English word of the same drawing's English texts is left but names and units."""
    view = designer_view_of(compared(house))
    spanish, english = words_for("es"), words_for("en")
    drawn = [elevations_picture(view, 700.0, spanish).svg, desk_plan(view, 700.0, spanish, "").svg]
    drawn += [air_path(view, zone, 880.0, spanish).svg for zone in view.zones]
    text = " ".join(html.unescape(part) for svg in drawn for part in re.findall(r">([^<>]+)</(?:text|title|desc)", svg))
    left = re.findall(r"\b(?:the|of|wall|cover|wide|damper|drain|fall|lift|line|filter|plenum|spare|boot)\b", text)
    typed = " ".join(room.name for room in view.plan.rooms)
    assert not [word for word in left if word not in typed]
    assert spanish["walls_title"] in text
    assert english["walls_title"] not in text


def test_outside_walls_stand_in_a_spanish_proposal() -> None:
    found = compared("ranch")
    told = told_of(found.customer_view(), "es")
    (outside,) = outside_of(found, told, found.customer_view().cards[0])
    assert outside.walls
    assert all("Pared" in figure.svg for figure in outside.walls)
