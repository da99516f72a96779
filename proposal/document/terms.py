"""Payment and dates, care, words, rights, the company, and lines to sign on where it is an offer."""

from __future__ import annotations

from collections.abc import Iterator

from compare.views.customer import OptionCard
from proposal.company import Company
from proposal.document.blocks import (
    BLANK,
    Block,
    Bullets,
    Heading,
    Lines,
    Notice,
    PageBreak,
    Paragraph,
    Schedule,
    Signing,
)
from proposal.document.closing import table
from proposal.document.conditions import notices_for, rows
from proposal.readability import texts_of
from proposal.words import Told

CAP_FRAC = {"MA-01": 1.0 / 3.0, "MD-01": 1.0 / 3.0, "ME-01": 1.0 / 3.0, "PA-01": 1.0 / 3.0, "CA-01": 0.1}
CAP_USD = {"CA-01": 1000.0}
FREE_USD = {"PA-01": 5000.0}
"""Price up to which the cap of the row does not apply."""
COMPANY_ROWS = ("name", "address", "phone", "license", "insurance", "salesperson", "registration", "date")


def _short(told: Told) -> str:
    return told.words.code.partition("-")[0]


def _say(told: Told, key: str, **parts: str) -> str:
    return told.words.say("more", key, **parts)


def deposit_cap_usd(told: Told, option: OptionCard) -> float | None:
    """Most that the table lets be asked at signing; None where it knows no cap."""
    price_usd = option.facts.price_usd
    caps = []
    for row in notices_for(told.view, option):
        key = row["id"]
        if key in CAP_FRAC and price_usd > FREE_USD.get(key, 0.0):
            caps.append(min(CAP_FRAC[key] * price_usd, CAP_USD.get(key, price_usd)))
    return min(caps, default=None)


def _steps(told: Told, option: OptionCard, company: Company) -> Schedule:
    price_usd = option.facts.price_usd
    body = [
        (step.when, told.figures.percent(step.share_frac), told.figures.usd(step.share_frac * price_usd))
        for step in company.payments
    ] or [(BLANK, BLANK, BLANK)] * 3
    head = tuple(_say(told, "pay_head").split("|"))
    return Schedule(_say(told, "pay_heading"), head, tuple(body), ("left", "right", "right"), (3.0, 1.0, 1.0))


def _dates(told: Told, company: Company) -> str:
    def shown(value: int | None) -> str:
        return BLANK if value is None else told.words.count(value)

    years = BLANK
    if company.warranty_years is not None:
        key = "pay_year_one" if company.warranty_years == 1 else "pay_year_many"
        years = _say(told, key, n=told.words.count(company.warranty_years))
    said = (
        _say(told, "pay_valid", days=BLANK if company.valid_days is None else str(company.valid_days)),
        _say(told, "pay_dates", start=shown(company.start_weeks), days=shown(company.work_days)),
        _say(told, "pay_change"),
        _say(told, "pay_house"),
        _say(told, "pay_warranty", years=years),
    )
    return " ".join(said)


def _over_cap(told: Told, option: OptionCard, company: Company) -> bool:
    cap_usd = deposit_cap_usd(told, option)
    return (
        bool(company.payments)
        and cap_usd is not None
        and (company.payments[0].share_frac * option.facts.price_usd > cap_usd + 0.5)
    )


def payment_blocks(told: Told, option: OptionCard, company: Company) -> list[Block]:
    """Payment steps and dates of an offer; for an estimate the sentence that they come with the offer."""
    heading = Heading(2, _say(told, "pay_heading"), after=True)
    if told.view.house.estimate:
        return [heading, Paragraph(_say(told, "pay_estimate"))]
    over = [Paragraph(_say(told, "pay_cap_note"), style="small")] if _over_cap(told, option, company) else []
    text = Paragraph(_say(told, "pay_text"), style="small", sticky=True)
    return [heading, text, _steps(told, option, company), *over, Paragraph(_dates(told, company), style="small")]


def care_blocks(told: Told, option: OptionCard) -> list[Block]:
    """Filters, cleaning and habits."""
    items = tuple(Paragraph(row["text"], lead=row["lead"], style="small") for row in table("care", told, option))
    return [Heading(2, _say(told, "care_heading")), Bullets(items, columns=2)]


def _everything(blocks: list[Block]) -> str:
    return " ".join(text for block in blocks for text in texts_of(block)).lower()


def glossary_blocks(told: Told, before: list[Block]) -> list[Block]:
    """Words that stand in the paper and that not everybody knows."""
    text = _everything(before).replace("\u00a0", " ")
    found = [row for row in rows("glossary", _short(told)) if any(w.lower() in text for w in row["words"].split("|"))]
    items = tuple(Paragraph(row["text"], lead=f"{row['term']}:", style="small") for row in found)
    return [Heading(2, _say(told, "glossary_heading")), Bullets(items, columns=2)] if items else []


def notice_blocks(told: Told, option: OptionCard) -> list[Block]:
    """Rights in short, with the date of the table; the law's own words come from the company."""
    plain_rows = {row["id"]: row for row in rows("notices", _short(told))}
    due = notices_for(told.view, option)
    items = tuple(
        Paragraph(plain_rows[row["id"]]["text"], lead=plain_rows[row["id"]]["lead"], style="small")
        for row in due
        if row["id"] in plain_rows
    )
    checked = max((row["checked_on"] for row in due), default="")
    text = Paragraph(_say(told, "notices_text", checked=checked), style="small", sticky=True)
    return [Heading(2, _say(told, "notices_heading")), text, Bullets(items, columns=2)]


def company_blocks(told: Told, company: Company) -> list[Block]:
    """Who offers; a visible blank for whatever was not given."""
    items = tuple(
        Paragraph(getattr(company, key) or BLANK, lead=f"{_say(told, f'company_{key}')}:", style="small")
        for key in COMPANY_ROWS
    )
    return [Heading(2, _say(told, "company_heading")), Bullets(items, columns=2)]


def signing_blocks(told: Told, company: Company) -> list[Block]:
    """Lines to sign on beside the statement of the law, and the form twice; nothing on an estimate."""
    if told.view.house.estimate:
        return []
    words = told.words
    form = company.cancellation_form or _say(told, "cancel_form_blank")
    labels = tuple(_say(told, "cancel_lines").split("|"))
    blocks: list[Block] = [
        Heading(2, words.say("document", "signing_heading")),
        Signing(
            parties=(words.say("document", "signing_you"), words.say("document", "signing_us")),
            labels=tuple(words.say("document", f"signing_{key}") for key in ("name", "signature", "date")),
            statement=company.cancellation or words.say("document", "signing_statement"),
        ),
    ]
    for number in (1, 2):
        heading = _say(told, "cancel_form", n=str(number))
        blocks += [PageBreak(), Heading(2, heading), Notice(heading, form), Lines(labels)]
    return blocks


def company_warnings(told: Told, company: Company | None) -> Iterator[str]:
    """What the company must still give, in sentences for the one who prints the paper."""
    if company is None:
        yield _say(told, "warn_no_company")
        company = Company()
    elif company.missing:
        yield _say(told, "warn_missing", fields=", ".join(company.missing))
    if not told.view.house.estimate and company.cancellation is None:
        yield _say(told, "warn_cancel")
