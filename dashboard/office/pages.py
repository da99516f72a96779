"""What the templates show, as plain values: the page of all quotes and the page of one."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from compare.jobs.status import Status
from compare.office.figures import kinds_sheet
from compare.office.view import OfficeOption, OfficeView, RebateLine
from dashboard.office import advice
from dashboard.office.advice import Again, Floors
from dashboard.office.bar import bar
from dashboard.office.chart import Picture, chart
from dashboard.office.discount import STEPS, Effect, effect, floor_price_usd
from dashboard.office.marks import KEYS, Mark, key_svg
from dashboard.office.quotes import LAYOUTS, Quote, layout_name
from dashboard.office.words import and_list, figure, percent, points, short, usd
from proposal.drawing.theme import Theme

Shown = dict[str, Any]
MOST_LIFETIMES = 6
CLOSED = (Status.ACCEPTED.value, Status.INSTALLED.value, Status.DECLINED.value)


@dataclass(frozen=True, slots=True)
class Desk:
    """All that the pages rest on besides the request."""

    quotes: tuple[Quote, ...]
    floors: Floors
    floor_frac: Decimal
    on: dt.date
    theme: Theme


def mark_of(option: OfficeOption, label: str = "", *, hollow: bool = False) -> Mark:
    """An option as a mark."""
    comfort, margin = option.comfort.comfort_score, advice.margin_pct(option)
    return Mark(comfort, margin, option.family, label, hollow, recommended=option.place == 1)


def keys(marks: Iterable[Mark], theme: Theme, hollow: str) -> list[tuple[str, str]]:
    """Keys of the shapes that stand in a chart, then what plum and hollow say."""
    marks = tuple(marks)
    kinds = {mark.kind for mark in marks}
    found = [(key_svg(kind, theme), words) for kind, words in KEYS if kind in kinds]
    if any(mark.recommended for mark in marks):
        found.append((key_svg("single_head", theme, recommended=True), "plum: fits its family best"))
    if any(mark.hollow for mark in marks):
        found.append((key_svg("single_head", theme, hollow=True), f"hollow: {hollow}"))
    return found


def all_quotes(desk: Desk) -> Shown:
    """The page of all quotes."""
    open_ = [quote for quote in desk.quotes if quote.is_open]
    found = advice.worth_offering(desk.quotes, desk.floors, desk.on)
    kept = advice.leave(desk.quotes, desk.floors)
    first = {one.quote.id for one in found}
    open_.sort(key=lambda quote: (quote.id not in first, quote.days_left(desk.on), quote.label))
    return {
        "headline": advice.headline(desk.quotes, found),
        "lead": advice.lead(desk.quotes, found, desk.floors),
        "chart": _quotes_chart(open_, found, desk),
        "again": [{"quote": one.quote, "name": short(one.quote.label, 40), "why": advice.why(one, desk.on)}
                  for one in found],
        "stay": {"quote": kept, "name": short(kept.label, 40), "why": advice.stay(kept)} if kept else None,
        "rows": [quote_row(quote, desk, marked=quote.id in first) for quote in open_],
        "ages": ages(open_, desk.on),
        "closed": [quote_row(quote, desk) for quote in desk.quotes if quote.job.status in CLOSED],
        "kinds": kinds(desk.quotes),
        "placeholders": next((text for quote in open_ if (text := _placeholders(quote.view))), ""),
        "broken": [(quote.label, quote.error) for quote in desk.quotes if quote.error],
    }  # fmt: skip


def _quotes_chart(open_: Sequence[Quote], found: Sequence[Again], desk: Desk) -> Shown | None:
    marks = {quote.id: mark_of(option, quote.label) for quote in open_ if (option := quote.option) is not None}
    if not marks:
        return None
    arrows = tuple((marks[one.quote.id], mark_of(one.better, hollow=True)) for one in found)
    everything = (*marks.values(), *(end for _, end in arrows))
    picture = Picture(
        "Comfort and margin after call-back risk of the open quotes",
        "Each mark is one quote; an arrow leads to the layout of the same house that would do better. "
        "The table below holds the same figures.",
        everything, arrows, desk.floors,
    )  # fmt: skip
    return {"svg": chart(picture, desk.theme), "keys": keys(everything, desk.theme, "same house, another layout")}


def quote_row(quote: Quote, desk: Desk, *, marked: bool = False) -> Shown:
    """One line of a table of quotes."""
    job, option = quote.job, quote.option
    row: Shown = {"quote": quote, "name": quote.label, "layout": quote.layout, "marked": marked,
                  "price": usd(job.price_usd), "status": job.status, "age": points(job.age_days, "day"),
                  "overdue": job.overdue}  # fmt: skip
    if option is not None:
        row |= money(option, desk.floor_frac)
    return row


def money(option: OfficeOption, floor_frac: Decimal) -> Shown:
    """The manager's figures of an option, as written."""
    margin, comfort = option.margin, option.comfort
    return {
        "direct": usd(margin.direct_usd),
        "margin": percent(margin.margin_frac),
        "day": usd(margin.profit_per_crew_day_usd),
        "days": figure(margin.crew_days, 1),
        "risk": usd(margin.expected_callback_usd),
        "left": usd(margin.risk_adjusted_usd),
        "after": percent(margin.risk_adjusted_frac),
        "contribution": usd(margin.contribution_usd),
        "comfort": figure(comfort.comfort_score),
        "cold": len(comfort.cold_rooms),
        "loudest": "" if comfort.loudest_bed_dba is None else figure(comfort.loudest_bed_dba),
        "lowest": usd(floor_price_usd(option, floor_frac)),
        "discount": percent(margin.largest_discount_frac),
        "lifetime": usd(option.lifetime.total_usd),
    }


def ages(open_: Iterable[Quote], on: dt.date) -> list[Shown]:
    """Open quotes by age, the oldest first, with the time that is left and a length for the bar (0 to 20)."""
    found = sorted(open_, key=lambda quote: (-quote.job.age_days, quote.label))
    most = max((quote.job.age_days for quote in found), default=0)
    rows = []
    for quote in found:
        left, decided = quote.days_left(on), quote.job.entry is not None and quote.job.entry.decision_on is not None
        what = "the customer decides" if decided else "the offer ends"
        told = f"{what} in {points(left, 'day')}" if left > 0 else f"{what} today" if left == 0 else ""
        rows.append({
            "quote": quote, "name": quote.label, "age": points(quote.job.age_days, "day"),
            "told": told or f"{points(-left, 'day')} past its last day", "late": left < 0,
            "length": round(20 * quote.job.age_days / most) if most else 0,
            "price": usd(quote.job.price_usd), "status": quote.job.status,
        })  # fmt: skip
    return rows


def kinds(quotes: Iterable[Quote]) -> list[Shown]:
    """What was foretold against what came, by kind of layout."""
    sheet = kinds_sheet(quote.job for quote in quotes)
    rows = [dict(zip(sheet.columns, row, strict=True)) for row in sheet.rows]
    return [
        {
            "kind": LAYOUTS.get(str(row["kind"]), str(row["kind"])),
            "installed": row["installed"],
            "hours": "" if row["mean_hours_ratio"] is None else percent(Decimal(str(row["mean_hours_ratio"])), 0),
            "foretold": figure(Decimal(str(row["foretold_callbacks_per_job"])), 2),
            "actual": figure(Decimal(str(row["actual_callbacks_per_job"])), 2),
            "foretold_usd": usd(Decimal(str(row["foretold_callbacks_usd"]))),
            "actual_usd": usd(Decimal(str(row["actual_callbacks_usd"]))),
            "within": "" if row["readings_within_frac"] is None
            else percent(Decimal(str(row["readings_within_frac"])), 0),
        }
        for row in rows
    ]  # fmt: skip


def chosen_option(quote: Quote, option_id: str) -> OfficeOption | None:
    """The option that the page looks at: the one named, else the one offered. KeyError for an unknown one."""
    if option_id and quote.view is not None:
        return quote.view.option(option_id)
    if option_id and (quote.option is None or quote.option.id != option_id):
        raise KeyError(option_id)
    return quote.option


def one_quote(quote: Quote, option: OfficeOption, pct: Decimal, desk: Desk) -> Shown:
    """The page of one quote, looking at one of its options."""
    view = quote.view
    options = view.options if view is not None else (option,)
    better = advice.again(quote, desk.floors)
    return {
        "quote": quote,
        "headline": _quote_headline(quote, better),
        "lead": advice.why(better, desk.on) if better else _standing(quote, desk),
        "chart": _options_chart(quote, option, options, desk),
        "rows": [option_row(quote, one, option, desk) for one in options],
        "option": option,
        "name": layout_name(option),
        "is_offered": quote.option is not None and option.id == quote.option.id,
        "discount": discount(option, pct, desk),
        "lines": option.lines,
        "groups": option.cost,
        "risks": option.risks,
        "hours": None if not (quote.is_complete and quote.job.entry) else quote.job.entry,
        "size_rules": [rule.text for rule in view.size_rules] if view is not None else [],
        "placeholders": _placeholders(view),
        "money": money(option, desk.floor_frac),
        "rebates": rebates(option),
        "paid": usd(option.paid_usd),
        "lifetime": lifetime(option),
        "lifetimes": lifetimes(options, option),
    }


def rebates(option: OfficeOption) -> list[Shown]:
    """What each dated rebate gives, or lacks."""
    return [
        {
            "name": line.programme,
            "amount": usd(line.amount_usd) if line.amount_usd else "–",
            "told": "; ".join(line.missing) or line.condition or "met",
            "lacks": bool(line.missing),
            "until": f"{line.valid_to:%b} {line.valid_to.day}, {line.valid_to.year}",
            "checked": f"{line.checked_on:%b} {line.checked_on.day}, {line.checked_on.year}",
            "step": "" if line.step_up_usd is None else _step(line),
        }
        for line in option.rebates
    ]


def _step(line: RebateLine) -> str:
    over = "" if line.step_up_oversize_ratio is None else f", {line.step_up_oversize_ratio:.1f} times the load"
    return f"units large enough cost {usd(line.step_up_usd or Decimal(0))} more{over}"


def lifetime(option: OfficeOption) -> Shown:
    """What the family spends over the horizon, part by part, in today's money."""
    cost = option.lifetime
    parts = (
        ("Price", cost.price_usd), ("Rebates", -cost.rebate_usd), ("Energy", cost.energy_usd),
        ("Cleaning", cost.cleaning_usd), ("Replaced parts", cost.replacement_usd), ("Worth left", -cost.left_usd),
    )  # fmt: skip
    return {
        "years": cost.horizon_y,
        "parts": [(name, usd(value)) for name, value in parts if round(value)],
        "total": usd(cost.total_usd),
    }


def lifetimes(options: Sequence[OfficeOption], chosen: OfficeOption) -> list[Shown]:
    """The same for every layout that is offered, the least first, with a length for the bar (0 to 20)."""
    alive = sorted((o for o in options if o.place or o.id == chosen.id), key=lambda o: o.lifetime.total_usd)
    most = max((float(o.lifetime.total_usd) for o in alive), default=0.0)
    shown = [o for place, o in enumerate(alive) if place < MOST_LIFETIMES or o.id == chosen.id]
    return [
        {
            "name": layout_name(o), "detail": o.name, "looked_at": o.id == chosen.id,
            "total": usd(o.lifetime.total_usd), "energy": usd(o.lifetime.energy_usd), "paid": usd(o.paid_usd),
            "length": round(20.0 * float(o.lifetime.total_usd) / most) if most > 0.0 else 0,
        }
        for o in shown
    ]  # fmt: skip


def _placeholders(view: OfficeView | None) -> str:
    if view is None or not view.placeholder_costs:
        return ""
    rows = points(view.placeholder_costs, "row")
    return f"{rows} of the cost book are generic placeholders: put in the company's own figures."


def _quote_headline(quote: Quote, better: Again | None) -> str:
    option = quote.option
    assert option is not None
    left = f"{usd(option.margin.risk_adjusted_usd)} is left of {usd(option.price_usd)} after call-back risk"
    if better is None:
        return f"{left}."
    other = usd(better.better.margin.risk_adjusted_usd)
    name = "another of its kind" if better.better.family == option.family else layout_name(better.better).lower()
    return f"{left}; with {name} it would be {other}."


def _standing(quote: Quote, desk: Desk) -> str:
    option = quote.option
    assert option is not None
    place = "It fits the family best" if option.place == 1 else f"It stands at place {option.place} for the family"
    if option.place == 0:
        place = "It is left out for the family"
    cold = option.comfort.cold_rooms
    told = f" and leaves {and_list(cold)} cold on the coldest mornings." if cold else "."
    floors = "clears both floors" if desk.floors.clears(option) else "does not clear both floors"
    return f"{layout_name(option)} now. {place}{told} It {floors}."


def _options_chart(quote: Quote, chosen: OfficeOption, options: Sequence[OfficeOption], desk: Desk) -> Shown:
    offered = quote.option
    looked_at = {chosen.id, offered.id if offered is not None else ""}
    marks = []
    for option in options:
        if option.place == 0 and option.id not in looked_at:
            continue
        is_offered = offered is not None and option.id == offered.id
        label = "quoted" if is_offered else "looked at" if option.id == chosen.id else ""
        label = label or ("fits best" if option.place == 1 else "")
        marks.append(mark_of(option, label, hollow=not is_offered))
    picture = Picture(
        f"Comfort and margin after call-back risk of the layouts for {quote.label}",
        "The filled mark is the layout in the quote; layouts that are left out stand in the table only, which holds "
        "the same figures.",
        tuple(marks), (), desk.floors,
    )  # fmt: skip
    return {"svg": chart(picture, desk.theme), "keys": keys(marks, desk.theme, "could be offered instead")}


def option_row(quote: Quote, option: OfficeOption, chosen: OfficeOption, desk: Desk) -> Shown:
    """One line of the table of layouts."""
    offered = quote.option is not None and option.id == quote.option.id
    groups = {group.group: group.mid_usd for group in option.cost}
    other = sum((groups.get(name, Decimal(0)) for name in ("material", "fee", "subcontract")), Decimal(0))
    labour = sum((groups.get(name, Decimal(0)) for name in ("labour technician", "labour electrician")), Decimal(0))
    return {
        "id": option.id,
        "place": f"{option.place}" if option.place else "left out",
        "name": layout_name(option),
        "detail": option.name,
        "offered": offered,
        "looked_at": option.id == chosen.id,
        "marked": option.place == 1,
        "price": usd(option.price_usd),
        "equipment": usd(groups.get("equipment", Decimal(0))),
        "materials": usd(other),
        "labour": usd(labour),
    } | money(option, desk.floor_frac)


def discount(option: OfficeOption, pct: Decimal, desk: Desk) -> Shown:
    """The discount control with its effect."""
    after: Effect | None = effect(option, pct, desk.floor_frac)
    shown: Shown = {"pct": f"{pct.normalize():f}", "steps": [f"{step:f}" for step in STEPS], "after": None}
    if after is None:
        return shown
    largest = percent(after.largest_frac)
    if after.needs_approval:
        verdict = f"Needs approval: under the floor of {percent(after.floor_frac, 0)}."
    elif option.margin.margin_frac < after.floor_frac:
        verdict = "Under the floor before any discount."
    else:
        verdict = f"You may go to {largest}, {usd(after.floor_price_usd)}, without approval."
    return shown | {
        "after": {
            "price": usd(after.price_usd),
            "margin": percent(after.margin_frac),
            "profit": usd(after.gross_profit_usd),
            "lost": percent(after.lost_frac, 0),
            "day": usd(after.per_crew_day_usd),
            "left": usd(after.risk_adjusted_usd),
            "left_frac": percent(after.risk_adjusted_frac),
        },
        "verdict": verdict,
        "refused": after.needs_approval,
        "bar": bar(option, after, desk.theme),
    }
