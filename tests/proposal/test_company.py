"""Company file, payment steps, rights as dated rows, signing pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from compare.views.customer import CustomerView
from proposal.company import Company, CompanyFileError, PayStep, company_of, read_company
from proposal.document.blocks import BLANK, Bullets, Document, Heading, Lines, Notice, Schedule, Signing
from proposal.document.build import Extras, build
from proposal.document.conditions import notice_rows, notices_for, state_of
from proposal.document.terms import company_warnings, deposit_cap_usd
from proposal.markdown import markdown_of
from proposal.words import told_of
from tests.proposal.told_view import told_ranch

STEPS = (PayStep("on signing", 0.3), PayStep("units hung", 0.4), PayStep("tests passed", 0.3))


def offer(place: str = "Invented town, MA") -> CustomerView:
    view = told_ranch()
    return view.model_copy(update={"house": view.house.model_copy(update={"estimate": False, "place": place})})


def paper(view: CustomerView, company: Company | None = None) -> Document:
    return build(view, extras=Extras(company))


def under(document: Document, heading: str) -> list:
    blocks, inside = [], False
    for block in document.blocks:
        if isinstance(block, Heading):
            inside = block.text == heading
        elif inside:
            blocks.append(block)
    return blocks


def test_missing_details_are_visible_blanks_and_a_warning() -> None:
    view = offer()
    (items,) = under(paper(view), "Who we are")
    assert isinstance(items, Bullets)
    assert {item.text for item in items.items} == {BLANK}
    warnings = list(company_warnings(told_of(view), None))
    assert any("--company" in text for text in warnings)
    assert any("right to cancel" in text for text in warnings)


def test_an_offer_shows_each_step_with_its_amount() -> None:
    view = offer()
    price = view.option(view.answer.winner).facts.price_usd
    (table,) = [b for b in under(paper(view, Company(payments=STEPS)), "Payment and dates") if isinstance(b, Schedule)]
    assert [row[1] for row in table.rows] == ["30\u00a0%", "40\u00a0%", "30\u00a0%"]
    shown = [float(row[2].replace("$", "").replace(",", "")) for row in table.rows]
    assert sum(shown) == pytest.approx(price, abs=150.0)


def test_an_estimate_asks_for_nothing() -> None:
    document = paper(told_ranch(), Company(payments=STEPS))
    assert not [b for b in document.blocks if isinstance(b, Signing)]
    assert "we ask for nothing" in markdown_of(document)


def test_statement_of_the_law_stands_beside_the_signature_and_the_form_twice() -> None:
    """16 CFR 429.1: statement in immediate proximity to the signature, form in duplicate."""
    document = paper(offer(), Company(cancellation="Words of the law.", cancellation_form="Form of the law."))
    (signing,) = [b for b in document.blocks if isinstance(b, Signing)]
    assert signing.statement == "Words of the law."
    assert [b.text for b in document.blocks if isinstance(b, Notice)] == ["Form of the law."] * 2
    assert len([b for b in document.blocks if isinstance(b, Lines)]) == 2


@pytest.mark.parametrize(
    ("place", "rule"),
    [
        ("Fresno, CA", lambda price: min(0.1 * price, 1000.0)),  # California: lesser of $1,000 or 10 %
        ("Boston, MA", lambda price: price / 3.0),  # Massachusetts: one third
        ("Bangor, ME", lambda price: price / 3.0),  # Maine: one third
        ("Erie, PA", lambda price: price / 3.0),  # Pennsylvania: one third above $5,000
        ("Reno, NV", lambda price: None),  # no cap in the table
    ],
)
def test_deposit_caps_by_state(place: str, rule) -> None:
    view = offer(place)
    option = view.option(view.answer.winner)
    found = deposit_cap_usd(told_of(view), option)
    expected = rule(option.facts.price_usd)
    assert found == expected if expected is None else found == pytest.approx(expected)


def test_a_first_step_above_the_cap_is_said() -> None:
    high = (PayStep("on signing", 0.5), PayStep("tests passed", 0.5))
    note = "more than your state allows"
    assert note in markdown_of(paper(offer("Boston, MA"), Company(payments=high)))
    assert note not in markdown_of(paper(offer("Boston, MA"), Company(payments=STEPS)))


def test_every_row_of_the_law_is_dated_sourced_and_to_be_checked() -> None:
    for row in notice_rows():
        assert row["source"].strip()
        assert row["checked_on"] == "2026-11"
        assert row["lawyer_ok"] == "false"
        assert row["content"].endswith("Check locally.")


def test_rows_follow_state_year_and_kind_of_paper() -> None:
    view = offer("Boston, MA")
    ids = {row["id"] for row in notices_for(view, view.options[0])}
    assert {"US-01", "US-03", "MA-01"} <= ids
    assert not ids & {"CA-01", "ZZ-01"}
    other = offer("Reno, NV")
    assert "ZZ-01" in {row["id"] for row in notices_for(other, other.options[0])}
    estimate = told_ranch()
    assert "US-03" not in {row["id"] for row in notices_for(estimate, estimate.options[0])}


def test_state_of_a_place() -> None:
    assert [state_of(text) for text in ("Near Richmond, VA", "Richmond", "Berlin, Germany", "")] == ["VA", "", "", ""]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"nmae": "x"}, "nmae: not known"),
        ({"name": 3}, "name: write a text"),
        ({"valid_days": 0}, "valid_days: write a whole number from 1 to 365"),
        ({"valid_days": True}, "valid_days"),
        ({"payments": [{"when": "x", "share": 0.5}]}, "add up to 0.500"),
        ({"payments": [{"when": "x", "share": 2}]}, r"payments\[1\].share"),
        ({"payments": [{"when": "x"}]}, r"payments\[1\]: write when and share"),
        ({"payments": 3}, "payments: write at most"),
    ],
)
def test_a_wrong_company_file_names_the_field(data: dict[str, object], said: str) -> None:
    with pytest.raises(CompanyFileError, match=said):
        company_of(data)


def test_a_company_file_is_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "company.toml"
    path.write_text('name = "Invented Heating"\n[[payments]]\nwhen = "at the end"\nshare = 1\n', encoding="utf-8")
    company = read_company(path)
    assert company.name == "Invented Heating"
    assert company.payments == (PayStep("at the end", 1.0),)
    path.write_text("name = ", encoding="utf-8")
    with pytest.raises(CompanyFileError, match=r"company\.toml: no valid TOML"):
        read_company(path)
